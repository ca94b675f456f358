"""How large: targets, columns and rows, and the pieces at hand."""

import itertools
import math
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matside import answer
from matside.fields import Fields
from matside.quilt.reading import read_quilt
from matside.quilt.size.having import Growth
from matside.quilt.size.sizes import SIZES

SETTINGS = [("grid", 60), ("grid", 45), ("zigzag", 60), ("hexagons", 60), ("stars", 60), ("eight_pointed", 45)]
INCHES = st.floats(30, 120).map(lambda length: round(length, 2))


def quilt(**fields):
    return answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, "drawing": False, **fields})


@given(
    INCHES,
    INCHES,
    st.sampled_from(SETTINGS),
    st.sampled_from(["filled", "trimmed"]),
    st.sampled_from(["standing", "lying"]),
)
@settings(max_examples=20, derandomize=True, deadline=None)
def test_never_fewer_pieces_than_the_area_needs(width, height, setting, edge, orientation):
    if setting[0] == "eight_pointed":
        edge = "filled"
    piece = {"size": 4, "angle": setting[1]}
    found = quilt(setting=setting[0], piece=piece, edge=edge, orientation=orientation, width=width, height=height)
    size = found["finished"]
    assert size["width"] >= width - 1e-9 and size["height"] >= height - 1e-9
    assert found["pieced_area"] >= size["width"] * size["height"] - 1e-6
    per_diamond = found["piece"]["finished_size"] * found["piece"]["finished_edge"]
    if edge == "trimmed":
        assert found["pieces"]["diamond"] >= size["width"] * size["height"] / per_diamond


@given(
    INCHES,
    INCHES,
    st.floats(0, 20),
    st.floats(0, 20),
    st.sampled_from(SETTINGS),
    st.sampled_from(["filled", "pointed"]),
)
@settings(max_examples=20, derandomize=True, deadline=None)
def test_a_larger_target_never_needs_fewer(width, height, wider, higher, setting, edge):
    fields = {
        "setting": setting[0],
        "piece": {"size": 4, "angle": setting[1]},
        "edge": "filled" if setting[0] == "eight_pointed" else edge,
    }
    small = quilt(**fields, target={"width": width, "height": height})
    large = quilt(**fields, target={"width": width + wider, "height": height + higher})
    assert small["pieces"]["diamond"] <= large["pieces"]["diamond"]


@pytest.mark.parametrize("fit", ["at_least", "nearest", "at_most"])
def test_fits_are_what_they_say(fit):
    # A column of 4 in diamonds standing is 3.5 / cos 30° = 4.0415 in wide, a row 3.5 / sin 30° = 7 in high.
    found = quilt(target={"width": 50, "height": 65}, fit=fit)
    columns = {"at_least": 13, "nearest": 12, "at_most": 12}[fit]
    rows = {"at_least": 10, "nearest": 9, "at_most": 9}[fit]
    assert (found["columns"], found["rows"]) == (columns, rows)
    assert found["finished"]["width"] == pytest.approx(columns * 3.5 / math.cos(math.radians(30)))
    assert found["finished"]["height"] == pytest.approx(rows * 7)


def test_a_target_that_is_met_exactly_takes_no_extra_column():
    exact = 5 * 3.5 / math.cos(math.radians(30))
    assert quilt(target={"width": exact, "height": 35})["columns"] == 5
    assert quilt(target={"width": exact, "height": 35})["rows"] == 5


def test_borders_are_part_of_the_target():
    with_borders = quilt(target={"width": 50, "height": 65}, borders=[{"width": 1}, {"width": 4}])
    without = quilt(target={"width": 40, "height": 55})
    assert with_borders["patchwork"] == without["finished"]
    assert with_borders["finished"] == {side: length + 10 for side, length in without["finished"].items()}


def test_lying_is_standing_turned_round():
    standing, lying = quilt(width=50, height=65), quilt(width=65, height=50, orientation="lying")
    assert (standing["columns"], standing["rows"]) == (lying["rows"], lying["columns"])
    assert standing["pieces"]["side_half"] == lying["pieces"]["end_half"]
    assert standing["finished"]["width"] == lying["finished"]["height"]


def test_41_diamonds_make_five_by_five():
    found = quilt(have=41)
    assert (found["columns"], found["rows"], found["pieces"]["diamond"]) == (5, 5, 41)
    assert all(other["diamonds"] <= 41 for other in found["could_be"])


@pytest.mark.parametrize("setting", SETTINGS)
@pytest.mark.parametrize("have", [12, 41, 100, 333])
def test_what_is_at_hand_is_never_exceeded_and_best_used(setting, have):
    fields = {"setting": setting[0], "piece": {"size": 4, "angle": setting[1]}, "have": have}
    found = quilt(**fields)
    best = found["pieces"]["diamond"]
    assert best <= have
    growth = Growth(built(setting), "filled")
    # By going through every column and row: nothing of a shape up to twice as long as wide uses more.
    for columns in range(1, 40):
        for rows in range(1, 40):
            other = growth.diamonds(columns, rows)
            width, height = built(setting).finished("filled", columns, rows)
            if other <= have and max(width, height) <= 2 * min(width, height):
                assert other <= best


@cache
def built(setting):
    fields = {"setting": setting[0], "piece": {"size": 4, "angle": setting[1]}, "columns": 1, "rows": 1}
    return read_quilt(Fields(fields)).geometry.built()


@pytest.mark.parametrize("setting", SETTINGS)
@pytest.mark.parametrize(("columns", "rows"), [(1, 9), (2, 7), (5, 6), (7, 3), (6, 11)])
@pytest.mark.parametrize("edge", ["filled", "pointed"])
def test_diamonds_counted_by_growth_are_those_that_are_placed(setting, columns, rows, edge):
    if setting[0] == "eight_pointed" and edge == "pointed":
        return
    fields = {
        "setting": setting[0],
        "piece": {"size": 4, "angle": setting[1]},
        "columns": columns,
        "rows": rows,
        "edge": edge,
    }
    assert Growth(built(setting), edge).diamonds(columns, rows) == quilt(**fields)["pieces"]["diamond"]


def test_trimmed_quilts_use_what_is_at_hand_to_half_an_inch():
    found = quilt(have=41, edge="trimmed")
    size = found["finished"]["width"]
    assert size == found["finished"]["height"] and found["pieces"]["diamond"] <= 41
    assert quilt(width=size + 0.5, height=size + 0.5, edge="trimmed")["pieces"]["diamond"] > 41


def test_near_sizes_are_offered():
    found = quilt(columns=5, rows=5)
    others = [(other["columns"], other["rows"], other["diamonds"]) for other in found["could_be"]]
    assert others == [(4, 5, 32), (5, 4, 32), (6, 5, 50), (5, 6, 50)]


@pytest.mark.parametrize("orientation", ["standing", "lying"])
def test_near_sizes_are_those_that_the_quilt_would_have_with_its_borders(orientation):
    fields = {"borders": [{"width": 3}, {"width": "1 1/2 in", "corners": "mitered"}], "orientation": orientation}
    for other in quilt(columns=5, rows=4, **fields)["could_be"]:
        made = quilt(columns=other["columns"], rows=other["rows"], **fields)
        assert other["finished"] == pytest.approx(made["finished"])
        assert other["patchwork"] == pytest.approx(made["patchwork"])


def test_usual_sizes_are_marked_with_their_source():
    found = {size["code"]: size for size in answer({"ask": "quilt_sizes"})["sizes"]}
    assert {size["source"] for size in found.values()} == {"common_practice"}
    assert {"baby", "lap", "wall", "queen"} <= found.keys()


def test_no_size_is_for_the_inside_of_a_crib_and_the_old_name_of_the_babys_is_still_read():
    assert not any("crib" in size["code"] for size in answer({"ask": "quilt_sizes"})["sizes"])
    named = [quilt(target={"size": size}, edge="trimmed")["finished"] for size in ("crib", "baby")]
    assert named == [{"width": 36, "height": 52}] * 2
    inside = quilt(target={"size": "crib_interior"})["error"]
    assert (inside["field"], inside["code"]) == ("target.size", "choice")


def test_a_bed_has_its_drop_at_both_sides_and_the_foot():
    bed = SIZES["queen"]
    found = quilt(target={"size": "queen", "drop": 10}, edge="trimmed")
    assert found["finished"] == {"width": float(bed.width) + 20, "height": float(bed.height) + 10}


def test_every_choice_that_is_offered_can_be_made_and_no_other_edge():
    choices = answer({"ask": "quilt_choices"})
    assert [setting["code"] for setting in choices["settings"]] == [
        "grid",
        "zigzag",
        "hexagons",
        "stars",
        "eight_pointed",
    ]
    for setting in choices["settings"]:
        fields = {
            "setting": setting["code"],
            "piece": {"size": 4, "angle": setting["angle"] or 60},
            "columns": 2,
            "rows": 2,
        }
        possible = [edge for edge in ("filled", "pointed", "trimmed") if quilt(**fields, edge=edge)["ok"]]
        assert possible == setting["edges"]
        assert quilt(**fields, sashing={"width": 1})["ok"] == setting["sashing"]
    others = {"orientation": "orientations", "joined_by": "joined_by", "fit": "fits"}
    for field, name in others.items():
        assert all(quilt(target={"width": 50, "height": 50}, **{field: choice})["ok"] for choice in choices[name])


def test_whatever_can_be_chosen_for_a_setting_is_possible():
    """A form offers just what `quilt_choices` lists: each setting with each of its edges, at its angle, is a quilt."""
    choices = answer({"ask": "quilt_choices"})
    for setting in choices["settings"]:
        for edge, orientation in itertools.product(setting["edges"], choices["orientations"]):
            for joined_by in setting["joined_by"] or [None]:
                asked = {"setting": setting["code"], "edge": edge, "orientation": orientation, "drawing": False}
                piece = {"size": 4, "angle": setting["angle"] or 45}
                found = answer(
                    {"ask": "quilt", "piece": piece, "columns": 4, "rows": 4, "joined_by": joined_by, **asked}
                )
                assert found["ok"], (asked, found)
