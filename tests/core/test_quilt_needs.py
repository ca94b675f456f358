"""What a quilt needs from a basket, against a second count: from the cut list, and joins laid end to end one by one."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matside import answer

QUILTS = {
    "filled": {},
    "zigzag": {"setting": "zigzag", "rows": 5},
    "zigzag sashed": {"setting": "zigzag", "rows": 3, "sashing": {"width": 1}},
    "sashed": {"sashing": {"width": 1}},
    "sashed lying": {"sashing": {"width": 1}, "orientation": "lying"},
    "sashed pointed": {"sashing": {"width": 1}, "edge": "pointed"},
    "cornerstones": {"sashing": {"width": 1, "style": "cornerstones"}},
    "borders": {"borders": [{"width": 1}, {"width": 4, "corners": "mitred"}], "binding": {}, "backing": {}},
    "bias": {"binding": {"grain": "bias"}},
    "stars": {"setting": "stars", "binding": {"join": "square"}},
}
NARROW = {"length": 18, "width": 20}


def quilt(**fields):
    return {"piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4, **fields}


def asked(fields, **more):
    found = answer({"ask": "quilt_needs", "quilt": fields, **more})
    assert found["ok"], found["error"]
    return found


def cloths_of(fields, **cloth):
    """One such cloth of every fabric of the quilt."""
    return [{"fabric": fabric["id"], **cloth} for fabric in answer({"ask": "quilt", **fields})["fabrics"]]


def strips_for(total, run, takes):
    """Strips laid end to end one after the other, each join taking its share, until they are long enough."""
    count, length = 1, run
    while length < total - 1e-7:
        count, length = count + 1, length + run - takes
    return count


def long_of(entry):
    """The strip that one piece takes by itself."""
    if entry["shape"] == "rectangle":
        return entry["length"]
    angle = math.radians(entry["angle"])
    return entry["size"] / math.tan(angle) + entry["across"] / math.sin(angle)


@pytest.mark.parametrize("run", [42, 20, 12])
@pytest.mark.parametrize("name", QUILTS)
def test_everything_on_the_cut_list_is_needed_whole_or_as_strips_to_be_joined(name, run):
    fields = quilt(**QUILTS[name])
    found, told = asked(fields, usable_width=run), answer({"ask": "quilt", **fields})
    needs = {need["id"]: need for need in found["needs"]}
    assert needs.keys() - {"binding"} == {entry["id"] for entry in told["cut"]}
    for entry in told["cut"]:
        need, counts = needs[entry["id"]], found["counts"][entry["id"]]
        assert (need["fabric"], need["size"], counts["pieces"]) == (entry["fabric"], entry["size"], entry["count"])
        fits = entry["shape"] not in ("rectangle", "parallelogram") or long_of(entry) <= run + 1e-9
        if fits:
            assert need["need"] == entry["need"] and need["shape"] == entry["shape"]
            assert need.get("halved") == entry.get("each_way") and counts["each"] == (2 if "each_way" in entry else 1)
        else:
            joined = need["joined"]
            assert (need["shape"], need["length"], counts["each"]) == ("rectangle", run, 0)
            assert need["need"] == strips_for(entry["need"] * long_of(entry), run, 0.5)
            assert (joined["length"], joined["need"], joined["takes"]) == (
                pytest.approx(long_of(entry)),
                entry["need"],
                0.5,
            )


@pytest.mark.parametrize("cloth", [NARROW, {"length": 9, "width": 42}])
@pytest.mark.parametrize("name", QUILTS)
def test_the_pieces_are_as_many_as_the_quilt_says(name, cloth):
    fields = quilt(**QUILTS[name])
    found = asked(fields, cloths=cloths_of(fields, **cloth))
    assert found["pieces"] == sum(answer({"ask": "quilt", **fields})["pieces"].values())
    joined = [need for need in found["needs"] if found["counts"][need["id"]]["each"] == 0]
    assert found["strips"] == sum(need["need"] for need in joined)
    assert all(need["length"] == cloth["width"] for need in joined)


@pytest.mark.parametrize("name", ["sashed", "sashed lying", "sashed pointed", "borders", "cornerstones"])
def test_the_ends_and_the_lean_go_on_to_what_is_finished_later(name):
    fields = quilt(**QUILTS[name])
    found, told = asked(fields, usable_width=20), answer({"ask": "quilt", **fields})
    needs = {need["id"]: need for need in found["needs"]}
    seen = set()
    for entry in told["cut"]:
        need, joined = needs[entry["id"]], needs[entry["id"]].get("joined")
        if entry["shape"] == "parallelogram" and not joined:
            assert need["mirrored"] == entry["mirrored"]
        elif entry["shape"] == "parallelogram":
            assert (joined["ends"], joined["parallel"], joined["mirrored"]) == ([60, 60], True, entry["mirrored"])
        elif "ends" in entry:
            assert {name: joined[name] for name in ("ends", "parallel", "mirrored")} == {
                name: entry[name] for name in ("ends", "parallel", "mirrored")
            }
            assert "mirrored" not in need
        elif joined:
            assert joined["ends"] is None
        # Whole strips with slanted ends are finished one by one: as long, and as many, as they are cut.
        if "ends" in entry and entry["length"] <= 20:
            assert (joined["length"], joined["need"], joined["takes"]) == (need["length"], need["need"], 0)
        seen.add((entry["shape"], bool(joined)))
    assert len(seen) > 1


def test_corner_quarters_are_two_rectangles_for_four():
    found = asked(quilt())
    corner = next(need for need in found["needs"] if need["id"].startswith("corner_quarter"))
    assert (corner["shape"], corner["need"], corner["halved"]) == ("rectangle", 2, [1, 1])
    assert found["counts"][corner["id"]] == {"pieces": 4, "each": 2}


def test_a_binding_is_strips_once_round_and_none_of_the_quilts_pieces():
    fields = quilt(binding={}, fabrics=[{"id": "a"}])
    told = answer({"ask": "quilt", **fields})["binding"]
    found = asked(fields, cloths=[{"fabric": "binding", **NARROW}])
    binding = next(need for need in found["needs"] if need["id"] == "binding")
    assert (binding["length"], binding["need"]) == (20, strips_for(told["length"], 20, 2.5))
    assert binding["joined"] == {"length": told["length"], "need": 1, "ends": None, "takes": 2.5, "counted": False}
    assert found["counts"]["binding"] == {"pieces": 0, "each": 0}


def test_what_does_not_come_from_a_basket_is_told():
    assert asked(quilt(binding={"grain": "bias"}, backing={}))["not_cut"] == ["binding", "backing"]
    assert asked(quilt(binding={}, backing={}))["not_cut"] == ["backing"]
    # No strip can be joined that is shorter than what a join takes.
    assert asked(quilt(binding={}), cloths=[{"fabric": "binding", "length": 9, "width": 2}])["not_cut"] == ["binding"]


@pytest.mark.parametrize(
    ("cloth", "more", "run"),
    [
        (NARROW | {"selvage": "length"}, {}, 20),
        (NARROW | {"selvage": "length"}, {"grain": "crosswise"}, 20),
        (NARROW | {"selvage": "length"}, {"grain": "lengthwise"}, 18),
        (NARROW | {"selvage": "length", "one_way": True}, {}, 18),
        ({"length": 18}, {}, 30),  # its other side is not told yet
    ],
)
def test_strips_are_as_long_as_the_cloth_lets_them_run(cloth, more, run):
    cloths = (
        [{"fabric": "binding", "length": 9, "width": 12}, {"fabric": "binding", **cloth}]
        if "width" in cloth
        else [{"fabric": "binding", **cloth}]
    )
    for order in (cloths, cloths[::-1]):
        found = asked(quilt(binding={}), cloths=order, usable_width=30, **more)
        assert next(need["length"] for need in found["needs"] if need["id"] == "binding") == run


@pytest.mark.parametrize("name", QUILTS)
def test_buying_joins_the_same_strips(name):
    fields = quilt(**QUILTS[name])
    lines = answer({"ask": "buying", "quilt": fields, "usable_width": 20, "straighten": 0})["fabrics"]
    bought = {
        next(iter(strips["gives"])): strips["times"] for line in lines for strips in line["strips"] if strips["joined"]
    }
    found = asked(fields, usable_width=20)
    assert {need["id"]: need["need"] for need in found["needs"] if found["counts"][need["id"]]["each"] == 0} == bought
    assert {name for line in lines for name in line["each"]} == {
        need["id"] for need in found["needs"] if "halved" in need
    }


def test_a_plan_keeps_both_leans_of_one_shape_apart():
    found = asked(quilt(setting="zigzag", rows=5))
    cloths = [{"id": "c", "length": 42, "width": 42, "fabric": "patchwork"}]
    plan = answer({"ask": "plan", "pieces": found["needs"], "cloths": cloths})
    assert plan["made"] == {need["id"]: need["need"] for need in found["needs"]}
    leans = [need for need in found["needs"] if need["shape"] == "diamond"]
    assert [(need["need"], need.get("mirrored", False)) for need in leans] == [(9, False), (6, True)]
    laid = {strip["piece"] for layout in plan["layouts"] for strip in layout["strips"]}
    assert {need["id"] for need in leans} <= laid
    guide = answer({"ask": "guide", "pieces": found["needs"], "cloths": cloths, "layouts": plan["layouts"]})
    assert guide["ok"], guide


@pytest.mark.parametrize(
    ("request_", "field"),
    [
        ({}, "quilt"),
        ({"quilt": quilt(piece={"size": 4, "angle": 6})}, "quilt.piece.angle"),
        ({"quilt": quilt(edge="round")}, "quilt.edge"),
        ({"quilt": quilt(setting="zigzag", piece={"size": 4, "angle": 85})}, "quilt.edge"),
        ({"quilt": quilt(), "cloths": [{"fabric": "a", "length": 9, "width": "4x"}]}, "cloths[0].width"),
        ({"quilt": quilt(), "cloths": 7}, "cloths"),
        ({"quilt": quilt(), "grain": "any old"}, "grain"),
        ({"quilt": quilt(), "usable_width": 0}, "usable_width"),
    ],
)
def test_what_is_wrong_is_refused_at_its_field(request_, field):
    found = answer({"ask": "quilt_needs", **request_})
    assert (found["ok"], found["error"]["field"]) == (False, field)


@given(
    st.fractions(9, 60, max_denominator=8),
    st.integers(1, 6),
    st.integers(1, 6),
    st.sampled_from(["butted", "mitred"]),
    st.booleans(),
)
@settings(max_examples=40, derandomize=True, deadline=None, database=None)
def test_joined_strips_are_enough_and_one_fewer_is_not(run, columns, rows, corners, lying):
    fields = quilt(
        columns=columns,
        rows=rows,
        borders=[{"width": 3, "corners": corners}],
        binding={},
        sashing={"width": Fraction(3, 4).__float__()},
    )
    fields |= {"orientation": "lying" if lying else "standing"}
    found = asked(fields, usable_width=float(run))
    for need in found["needs"]:
        if found["counts"][need["id"]]["each"] == 0:
            joined, count = need["joined"], need["need"]
            long = [n * need["length"] - (n - 1) * joined["takes"] for n in (count - 1, count)]
            assert long[1] >= joined["length"] * joined["need"] - 1e-6
            assert count == 1 or long[0] < joined["length"] * joined["need"]
