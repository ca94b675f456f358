"""Made-up input, a sample of it: no exception, no number that is none, an end in bounded time.
A million of each by --long.
"""

import pytest

from fuzzing import Failure, door, lengths, run_door, run_lengths, verdict
from fuzzing.requests import valid_requests
from matside import answer
from matside.asks import ASKS

SEED = 11


def test_a_sample_of_made_up_requests_is_answered_or_refused():
    assert run_door(SEED, 0, 400) == []


def test_a_sample_of_made_up_lengths_is_read_or_refused():
    assert run_lengths(SEED, 0, 2000) == []


@pytest.mark.long
@pytest.mark.parametrize("part", range(10))
def test_a_million_made_up_requests_are_answered_or_refused(part):
    assert run_door(SEED, 100_000 * part, 100_000) == []


@pytest.mark.long
def test_a_million_made_up_lengths_are_read_or_refused():
    assert run_lengths(SEED, 0, 1_000_000) == []


def test_what_requests_are_made_from_is_valid_and_is_of_every_ask():
    assert {request["ask"] for request in valid_requests()} == set(ASKS)
    refused = [(request, found["error"]) for request in valid_requests() if not (found := answer(request))["ok"]]
    assert refused == []


def test_a_case_is_the_same_whatever_came_before_it():
    alone = [door.made_up(door.Random(f"door 3 {number}")) for number in (7, 8)]
    assert repr(alone) == repr([door.made_up(door.Random(f"door 3 {number}")) for number in range(9)][7:])


# --- The judge has to be seen at work -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "broken, what",
    [
        (lambda request: 1 / 0, "ZeroDivisionError"),
        (lambda request: {"ok": True, "pieces": float("nan")}, "holds nan"),
        (lambda request: {"ok": True, "pieces": [float("-inf")]}, "holds -inf"),
        (lambda request: {"ok": True, "pieces": (4,)}, "holds a tuple"),
        (lambda request: {"ok": True, 4: 4}, "a name that is no text"),
        (lambda request: {"ok": True, "pieces": 10**5000}, "past every float"),
        (lambda request: {"pieces": 4}, "neither ok nor refused"),
        (lambda request: {"ok": False, "error": {}}, "another form"),
        (
            lambda request: {"ok": False, "error": {"field": "", "code": "", "values": {}, "message": ""}},
            "says nothing",
        ),
    ],
)
def test_every_fault_of_an_answer_is_found_and_told_with_its_request(monkeypatch, broken, what):
    monkeypatch.setattr(door, "answer", broken)
    failures = run_door(SEED, 40, 3)
    assert [failure.number for failure in failures] == [40, 41, 42]
    assert all(isinstance(failure, Failure) and what in failure.what for failure in failures)
    assert what in str(failures[0]) and "number 40" in str(failures[0])


def test_what_never_ends_is_found(monkeypatch):
    def endless(request):
        while True:
            pass

    monkeypatch.setattr(verdict, "LONGEST", 0.05)
    monkeypatch.setattr(door, "answer", endless)
    assert "not done after" in run_door(SEED, 0, 1)[0].what


def test_a_length_that_is_read_past_its_limits_is_found(monkeypatch):
    monkeypatch.setattr(lengths, "SHORTEST", 1)
    assert any("read as" in failure.what for failure in run_lengths(SEED, 0, 300))


# --- What was found once ------------------------------------------------------------------------------------------

PIECE = {"shape": "diamond", "size": 4, "angle": 60}
PLAN = {"ask": "plan", "cloths": [{"id": "a", "length": 18, "width": 20}], "pieces": [{"id": "d", **PIECE, "need": 9}]}
GUIDE = {**PLAN, "ask": "guide", "layouts": [
    {"cloth": "a", "strips": [{"x": 0, "y": 0, "along": "length", "run": 18, "size": 4, "piece": "d", "count": 3}]}]}  # fmt: skip


@pytest.mark.parametrize("tiny", [1e-8, 5e-324, "1/1001"])
@pytest.mark.parametrize(
    "request_with, field",
    [
        (
            lambda tiny: {"ask": "check", "piece": PIECE, "measured": {"edge": 4, "short_diagonal": tiny}},
            "measured.short_diagonal",
        ),
        (
            lambda tiny: {"ask": "check", "piece": PIECE, "measured": {"edge": tiny, "long_diagonal": 4}},
            "measured.edge",
        ),
        (lambda tiny: {**PLAN, "cloths": [{"id": "a", "length": tiny, "width": 20}]}, "cloths[0].length"),
        (
            lambda tiny: {
                "ask": "rulers",
                "piece": PIECE,
                "rulers": [{"name": "r", "width": 6, "length": 24, "tick": tiny}],
            },
            "rulers[0].tick",
        ),
    ],
)
def test_what_is_too_short_to_be_measured_is_refused_at_its_field(request_with, field, tiny):
    error = answer(request_with(tiny))["error"]
    assert (error["field"], error["code"]) == (field, "length_too_small")
    assert "0.001" in error["message"]


def test_whole_numbers_past_every_float_are_refused():
    shrunk = {"ask": "buying", "pieces": PLAN["pieces"], "shrink": {"length": 10**400}}
    assert answer(shrunk)["error"]["field"] == "shrink.length"
    assert answer({**GUIDE, "promised": {"d": 10**400}})["error"]["field"] == "promised.d"
    assert answer({**GUIDE, "promised": {"d": 3}})["script"]["promised"] == {"d": 3}


def test_what_the_request_only_brings_along_is_written_out_too():
    replan = {
        "ask": "replan",
        "guide": {**GUIDE, "note": 10**400},
        "done": {"cloth": 0, "whole": True},
        "change": {"what": "lost"},
    }
    assert answer(replan)["error"]["code"] == "request_value"
    assert answer({**replan, "guide": {**GUIDE, "note": 10**300}})["guide"]["note"] == 10**300


def test_a_piece_that_brings_a_number_of_thousands_of_digits_along_is_refused_as_a_whole():
    guide = {**GUIDE, "pieces": [{**PLAN["pieces"][0], "note": 10**5000}]}
    replan = {"ask": "replan", "guide": guide, "done": {"cloth": 0, "whole": True}, "change": {"what": "lost"}}
    assert answer(replan)["error"]["code"] == "request_value"
    assert answer({**replan, "ask": "replan_cloths"})["ok"]


def test_a_list_of_cloths_that_a_guide_for_one_cloth_does_not_read_is_not_read_when_it_is_planned_anew_either():
    guide = {
        "ask": "guide",
        "piece": PIECE,
        "cloth": {"kind": "fat_quarter", "count": 3, "id": "q"},
        "way": "along_width",
    }
    change = {"what": "another_size", "length": 15, "width": 19, "id": "y"}
    replan = {"ask": "replan", "done": {"cloth": 1, "whole": True}, "change": change, "work": 2_000}
    plain = answer({**replan, "guide": guide})
    assert plain["ok"]
    assert answer({**replan, "guide": {**guide, "cloths": "16.0 in."}}) == plain


def test_a_failure_with_a_number_of_thousands_of_digits_can_be_told():
    assert "a number of 16610 bits" in repr(Failure(3, {"need": [10**5000]}, "broke"))
