"""The order of ruler ways, criterion by criterion, over placements made by hand.

Common practice, no published source: what is better is said at the head of `matside/rulers/ranking.py`."""

from itertools import pairwise
from types import SimpleNamespace

import pytest

from matside import answer
from matside.rulers.ranking import _rank

#: What is better in one thing only, the thing that counts most first: (better, worse).
CRITERIA = {
    "not by two marks": ({"kind": "mark_and_angle"}, {"kind": "two_marks"}),
    "one ruler": ({"rulers": ("a",)}, {"rulers": ("a", "b")}),
    "kind": ({"kind": "both_lines"}, {"kind": "measure_only"}),
    "a line there": ({"between_ticks": False}, {"between_ticks": True}),
    "face up": ({"turned_over": False}, {"turned_over": True}),
    "easy to see": ({"hard_to_see": False}, {"hard_to_see": True}),
    "not slid": ({"slide": None}, {"slide": 2.0}),
    "long overlap": ({"overlap": 4.0}, {"overlap": 3.0}),
    "covers the piece": ({"covers_piece": True}, {"covers_piece": False}),
    "long edge": ({"edge": "long"}, {"edge": "short"}),
    "line on the near edge": ({"laid_on": "near_edge"}, {"laid_on": "far_edge"}),
    "passes the cloth by an inch": ({"over": (1.0, 1.0)}, {"over": (0.5, 0.5)}),
    "and by little more": ({"over": (1.5, 1.5)}, {"over": (3.0, 3.0)}),
    "names": ({"rulers": ("a",)}, {"rulers": ("b",)}),
}
KINDS = ("both_lines", "corner_and_angle", "angle_line", "measure_only", "mark_and_angle", "two_marks")
USUAL = {
    "kind": "measure_only", "rulers": ("a",), "between_ticks": False, "turned_over": False, "hard_to_see": False, "slide": None, "overlap": 4.0,
    "covers_piece": True, "edge": "long", "laid_on": "near_edge", "over": (1.0, 1.0),
}  # fmt: skip


def placed(**what) -> SimpleNamespace:
    """All that is asked of a placement when it is ranked."""
    one = SimpleNamespace(**{**USUAL, **what})
    one.seats = [SimpleNamespace(laid=SimpleNamespace(edge=one.edge)) for _ in one.rulers]
    one.line = SimpleNamespace(hard_to_see=one.hard_to_see)
    one.hold = SimpleNamespace(laid_on=one.laid_on)
    return one


@pytest.mark.parametrize("criterion", CRITERIA)
def test_what_is_better_in_one_thing_comes_first(criterion):
    better, worse = CRITERIA[criterion]
    assert _rank(placed(**better)) < _rank(placed(**worse))


@pytest.mark.parametrize(("first", "second"), [*pairwise(CRITERIA)])
def test_what_is_better_in_the_earlier_thing_comes_first_though_it_is_worse_in_the_next(first, second):
    (better, worse), (good, bad) = CRITERIA[first], CRITERIA[second]
    one, other = {**bad, **better}, {**good, **worse}
    if first == "not by two marks":
        one, other = {**one, "rulers": ("a", "b")}, {**other, "rulers": ("a",)}
    assert _rank(placed(**one)) < _rank(placed(**other))


@pytest.mark.parametrize(("better", "worse"), [*pairwise(KINDS)])
def test_the_kinds_of_way_in_their_order(better, worse):
    assert _rank(placed(kind=better)) < _rank(placed(kind=worse))


def test_without_an_angle_line_nothing_is_hard_to_see_or_held_at_the_far_edge():
    plain = placed()
    plain.line = plain.hold = None
    assert _rank(plain) == _rank(placed())


@pytest.mark.parametrize(("long", "told"), [(2.9, False), (3.0, True), (3.1, True)])
def test_a_line_is_called_longer_when_it_is_by_half(long, told):
    ruler = {"width": 6, "length": 24}
    first, second = (
        {**ruler, "name": name, "angles": [{"degrees": 60, "from": "long", "at": 6, "line_length": length, **more}]}
        for name, length, more in (("short", 2, {}), ("long", long, {"hard_to_see": True}))
    )
    starter = answer({"ask": "rulers", "piece": {"size": 4, "angle": 60}, "rulers": [first, second]})["starter"]
    assert [(way["rulers"], way["overlap"]) for way in starter[:2]] == [
        (["short"], pytest.approx(2)),
        (["long"], pytest.approx(long)),
    ]
    assert ("more_exact_longer_line" in starter[1]["notes"]) == told


@pytest.mark.parametrize(("size", "error", "good"), [(8, 0.233, True), ("4 7/8", 0.253, False)])
def test_marks_are_good_enough_up_to_a_quarter_of_a_degree(size, error, good):
    plain = {"name": "plain", "width": 6, "length": 24, "tick": "1/8"}
    marks = answer({"ask": "rulers", "piece": {"size": size, "angle": 70}, "rulers": [plain]})["two_marks"]
    assert marks["angle_error"] == pytest.approx(error, abs=5e-4)
    assert marks["good_enough"] == good


def test_no_second_ruler_is_laid_beside_one_that_is_as_wide_as_the_piece():
    rulers = [{"name": "a", "width": 2, "length": 12}, {"name": "b", "width": 3, "length": 24}]
    found = answer({"ask": "rulers", "piece": {"size": 2, "angle": 30}, "rulers": rulers})
    assert [way["rulers"] for way in found["following"] if way["kind"] == "measure_only"] == [["a"], ["b"]]
