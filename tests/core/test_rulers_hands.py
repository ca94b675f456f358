"""The left hand is the right hand's mirror image, wherever the ruler's lines lean both ways."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely.affinity import scale

from ruler_bench import NOISE, asked, cases

FIXED = settings(derandomize=True, deadline=None, database=None, max_examples=80)
STEPS = ("strip", "starter", "following", "following_back")
#: What has no hand: all that a way says in words and numbers.
WORDS = (
    "step", "kind", "rulers", "cut_edge", "turned_over", "angle_line", "measure", "measure_on", "mark_along", "mark", "checks_angle",
    "covers_piece", "turn", "check", "notes",
)  # fmt: skip
NUMBERS = ("over", "overlap", "slide")


@FIXED
@given(cases(leans=("both", None)))
def test_the_mirrored_hand_gives_the_mirrored_way(case):
    right, left = (asked(*case, hand=hand) for hand in ("right", "left"))
    for step in STEPS:
        assert len(left[step]) == len(right[step])
        for ours, theirs in zip(right[step], left[step], strict=True):
            assert {name: close(ours[name]) for name in WORDS} == {name: close(theirs[name]) for name in WORDS}
            assert [ours[name] for name in NUMBERS] == [pytest.approx(theirs[name], abs=NOISE) for name in NUMBERS]
            same_picture(ours["drawing"], theirs["drawing"])
    for said in ("two_marks", "left_out", "lacking"):
        assert close(left[said]) == close(right[said])


def close(value):
    """Numbers to nine digits: mirrored sums differ in their last bit."""
    if isinstance(value, dict):
        return {name: close(inside) for name, inside in value.items()}
    if isinstance(value, list):
        return [close(inside) for inside in value]
    return round(value, 9) if isinstance(value, float) else value


def same_picture(ours: dict, theirs: dict) -> None:
    for name in ("cut", "edge", "angle_line", "measure_line"):
        assert (ours[name] is None) == (theirs[name] is None)
        if ours[name]:
            assert [(-x, y) for x, y in ours[name]] == [pytest.approx(point, abs=NOISE) for point in theirs[name]]
    for one, other in zip(ours["rulers"], theirs["rulers"], strict=True):
        flipped = scale(Polygon(one["outline"]), xfact=-1, origin=(0, 0))
        assert flipped.exterior.hausdorff_distance(LineString(Polygon(other["outline"]).exterior)) < NOISE


@pytest.mark.parametrize("reads_through, kinds", [(True, {"angle_line"}), (False, set())])
def test_a_line_that_leans_one_way_serves_the_other_hand_only_turned_over(reads_through, kinds):
    lines = [{"degrees": 60, "from": "long", "at": 6, "lean": "left"}]
    ruler = {"name": "r", "width": 6, "length": 24, "angles": lines, "reads_through": reads_through}
    piece = {"shape": "diamond", "size": 4, "angle": 60}
    right, left = (asked(piece, [ruler], hand) for hand in ("right", "left"))
    assert [way["turned_over"] for way in right["starter"] if way["angle_line"]] == [False]
    assert {way["kind"] for way in left["starter"] if way["angle_line"]} == kinds
    assert all(way["turned_over"] for way in left["starter"] if way["angle_line"])
    assert ("leans_other_way" in {item["reason"] for item in left["left_out"]}) == (not reads_through)


@FIXED
@given(cases(), st.sampled_from(("left", "right")))
def test_the_best_comes_first(case, hand):
    found = asked(*case, hand=hand)
    for step in STEPS:
        ranks = [rank(way) for way in found[step]]
        assert ranks == sorted(ranks)


def rank(way: dict) -> tuple:
    """One ruler before two; both lines, then a measure line, then a mark; two marks last of all."""
    order = {
        "both_lines": 0,
        "corner_and_angle": 0,
        "angle_line": 0,
        "measure_only": 1,
        "mark_and_angle": 2,
        "two_marks": 0,
    }
    return (way["kind"] == "two_marks", len(way["rulers"]), order[way["kind"]])
