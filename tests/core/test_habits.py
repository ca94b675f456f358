"""What is usual and what can be chosen, as the page is told it: the core itself takes all of it."""

import pytest

from matside import answer
from matside.units import parse_length

FACTS = answer({"ask": "facts"})


def test_every_choice_of_the_habits_is_taken_and_what_is_usual_is_one_of_them():
    habits = FACTS["habits"]
    for name, choices in habits["choices"].items():
        assert habits["usual"][name] in choices
        for choice in choices:
            found = answer({"ask": "habits", name: choice})
            assert found["ok"] and found[name] == choice
    assert habits["choices"]["layers"] == [1, 2, 3, 4]  # more layers shift: common practice, no published source
    most = answer(
        {"ask": "strip", "piece": {"size": 4, "angle": 60}, "length": 42, "layers": habits["choices"]["layers"][-1]}
    )
    assert most["cautions"] == []


@pytest.mark.parametrize(
    ("habit", "field"),
    [
        ({"mat": 0}, "mat"),
        ({"mat": "a yard"}, "mat"),
        ({"hand": "both"}, "hand"),
        ({"layers": 13}, "layers"),
        ({"lay": 1}, "lay"),
    ],
)
def test_a_habit_that_the_guide_would_refuse_is_refused(habit, field):
    found = answer({"ask": "habits", **habit})
    assert (found["ok"], found["error"]["field"]) == (False, field)
    guide = answer({"ask": "guide", "piece": {"size": 4, "angle": 60}, "cloth": {"length": 20, "width": 18}, **habit})
    assert guide["error"] == found["error"]


@pytest.mark.parametrize("units", ["in", "cm"])
def test_every_placing_that_is_offered_is_taken_from_fine_to_rough(units):
    placings = FACTS["drift"]["placings"][units]
    lengths = [parse_length(text, "placing") for text in placings.values()]
    assert list(placings) == ["fine", "usual", "rough"] and lengths == sorted(lengths)
    assert all(
        answer({"ask": "check", "piece": {"size": 2, "angle": 60}, "placing": text})["ok"] for text in placings.values()
    )


def test_what_is_usual_of_the_drift_is_what_the_core_takes_when_nobody_says():
    usual = FACTS["drift"]["usual"]
    piece = {"size": 4, "angle": 60}
    placing = FACTS["drift"]["placings"]["in"][usual["placing"]]
    told = answer(
        {"ask": "check", "piece": piece, "placing": placing, "tolerance": usual["tolerance"], "across": usual["across"]}
    )
    assert told["expected"] == answer({"ask": "check", "piece": piece, "placing": 1 / 32})["expected"]


@pytest.mark.parametrize(("text", "inches"), [("7 1/2", 7.5), ("3½ in", 3.5), ("10 cm", 10 / 2.54), (8, 8)])
def test_a_length_is_read(text, inches):
    assert answer({"ask": "length", "length": text})["length"] == pytest.approx(inches)


def test_what_is_no_length_is_refused_at_its_field():
    for given in ("wide", 0, None, []):
        assert answer({"ask": "length", "length": given})["error"]["field"] == "length"
