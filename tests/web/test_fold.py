"""The page's folding of logs against the core's: the same state, or the same event refused; and the counts that it shows.

Hypothesis makes the logs; all of them run through the page's own modules in one Node process.
"""

import json
import subprocess
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.places import tool

import matside
from matside.guide.fold import Illegal, State, advance, fold
from matside.guide.table import TABLE

HERE = Path(__file__).parent
EVENTS = sorted({event for rules in TABLE["rules"].values() for event in rules} | {"undo"})
FIXED = settings(derandomize=True, deadline=None, database=None, max_examples=300)


@cache
def scripts() -> tuple[dict, ...]:
    """Guides of one layer and of several, with folds, with a division, and with triangles of two kinds of cut."""
    diamond = {"shape": "diamond", "size": 4, "angle": 60}
    requests = [
        {"piece": diamond, "cloth": {"kind": "fat_quarter"}},
        {"piece": diamond, "cloth": {"kind": "fat_quarter"}, "layers": 3},
        {"piece": {**diamond, "size": 5}, "cloth": {"length": 24, "width": 27}, "layers": 2},
        {"piece": {"shape": "half-diamond", "size": 3, "angle": 60}, "cloth": {"kind": "yardage"}, "way": "along_width"},
    ]
    return tuple(matside.answer({"ask": "guide", **request})["script"] for request in requests)


anything = st.fixed_dictionaries(
    {"event": st.sampled_from([*EVENTS, "no such event"])},
    optional={"n": st.sampled_from([-100, -1, 0, 1, 2, 4, 1.5, 100_001]), "script": st.integers(-1, 4), "step": st.sampled_from([-1, 0, 9, 1000])},
)


@st.composite
def logs(draw) -> list[dict]:
    """A log as it comes about at a mat: runs of cuts, with what happens in between; one in three ends with some event that may
    have no place."""
    trail, log = [State()], []
    for _ in range(draw(st.integers(0, 12))):
        for event in [{"event": "cut"}] * draw(st.integers(0, 9)) + [draw(happening(trail))]:
            if goes_on(trail, event):
                log.append(event)
    return [*log, draw(anything)] if draw(st.integers(0, 2)) == 0 else log


@st.composite
def happening(draw, trail: list[State]) -> dict:
    """Something that has its place now: any rule of the step at hand, with a number within its limits; or an undo."""
    rules = TABLE["rules"][step_of(trail[-1])["do"]]
    name = draw(st.sampled_from([*sorted(rules), "undo"]))
    if name == "switch":
        script = draw(st.integers(0, len(scripts()) - 1))
        return {"event": name, "script": script, "step": draw(st.integers(0, len(scripts()[script]["steps"]) - 1)), "keep": draw(st.booleans())}
    if "n" in rules.get(name, {}):
        return {"event": name, "n": draw(st.integers(-3, 4) if name == "recount" else st.integers(1, 3))}
    return {"event": name, **draw(st.sampled_from([{}, {"n": 2}]))} if name == "undo" else {"event": name}


def step_of(state: State) -> dict:
    return scripts()[state.script]["steps"][state.step]


def goes_on(trail: list[State], event: dict) -> bool:
    """Takes the event into the trail; whether it has its place there."""
    times = event.get("n", 1)
    try:
        if event["event"] != "undo":
            trail.append(advance(scripts(), trail[-1], event))
            return True
    except Illegal:
        return False
    if not isinstance(times, int) or not 1 <= times < len(trail):
        return False
    del trail[-times:]
    return True


@cache
def many_logs() -> list[list[dict]]:
    """All the logs, made once."""
    made: list[list[dict]] = []

    @FIXED
    @given(logs())
    def make(log):
        made.append(log)

    make()
    return made + edges()


def edges() -> list[list[dict]]:
    """Every event with every kind of number, at steps of every sort."""
    does = [step["do"] for step in scripts()[0]["steps"]]
    before = [[{"event": "cut"}] * does.index(do) for do in ("press", "lay", "piece", "recheck", "strip_done", "done")]
    numbers = [{}, *({"n": n} for n in (-100, -1, 0, 1, 1.5, 2, 3, 4, 100_001))]
    return [[*log, {"event": event, **n}] for log in before for event in [*EVENTS, "no such event"] for n in numbers]


@pytest.fixture(scope="module")
def folded(dist) -> list[tuple[list[dict], dict]]:
    """Every log with what the page makes of it."""
    return list(zip(many_logs(), through_the_page(dist, many_logs()), strict=True))


def through_the_page(dist: Path, made: list[list[dict]]) -> list[dict]:
    """What the page's own modules make of the logs."""
    (app,) = dist.glob("app-*")
    asked = {"app": app.as_uri(), "table": TABLE, "logs": [{"scripts": scripts(), "events": log} for log in made]}
    done = subprocess.run([tool("node"), "--no-warnings", HERE / "folding.mjs"], input=json.dumps(asked), capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def in_the_core(log: list[dict]) -> dict:
    """What the core makes of a log: its state at the end as the page writes it, or the event that it refuses."""
    try:
        return {"state": as_the_page_writes(fold(scripts(), log))}
    except Illegal:
        return {"refused": next(i for i in range(len(log)) if not accepted(log[: i + 1]))}


def accepted(log: list[dict]) -> bool:
    try:
        fold(scripts(), log)
    except Illegal:
        return False
    return True


def as_the_page_writes(state: State) -> dict:
    tallies = {f"{script}:{strip}": tally for (script, strip), tally in state.tallies.items()}
    return {"script": state.script, "step": state.step, "tallies": tallies, "stopped": state.stopped}


def test_page_and_core_come_to_the_same_state_or_refuse_the_same_event(folded):
    for log, found in folded:
        expected = in_the_core(log)
        assert {name: found[name] for name in expected} == expected, log


def test_the_logs_are_worth_it(folded):
    """Some are refused, and many run long, through every kind of event and over the end of strips."""
    whole = [log for log, found in folded if "state" in found]
    assert len(whole) > 150
    assert len(folded) - len(whole) > 50
    assert {event["event"] for log in whole for event in log} == set(EVENTS)
    assert max(found["counts"]["strip"] for _, found in folded if "state" in found) > 2


def test_what_is_expected_is_what_cutting_on_to_the_end_makes(folded):
    for log, found in folded:
        if "state" in found:
            assert found["counts"]["all"] == at_the_end(log).total("made"), log
            assert found["counts"]["total"] == fold(scripts(), log).total("made")


def at_the_end(log: list[dict]) -> State:
    """The state when from here on every cut goes well."""
    state = fold(scripts(), log)
    while scripts()[state.script]["steps"][state.step]["do"] != "done":
        state = advance(scripts(), state, {"event": "cut"})
    return state


def test_no_count_is_shown_below_nothing_and_none_above_what_the_strip_will_give(folded):
    for log, found in folded:
        if "state" in found:
            assert 0 <= found["counts"]["made"] <= found["counts"]["of"], log
            assert 0 <= found["counts"]["total"] <= found["counts"]["all"], log


def test_piles_hold_what_is_counted_of_this_script(folded):
    for log, found in folded:
        if "state" in found and not any(event["event"] == "switch" for event in log):
            assert sum(pile["made"] for pile in found["piles"]) == found["counts"]["total"], log
            assert sum(pile["of"] for pile in found["piles"]) == found["counts"]["all"], log


def test_what_an_event_would_make_of_the_counts_is_what_it_makes_and_changes_nothing(folded):
    for log, found in folded:
        if "state" in found:
            assert found["still"] == found["counts"]
            for event, effect in found["effects"].items():
                after = [*log, {"event": event, "n": 1}]
                assert (effect is not None) == accepted(after), after
                if effect:
                    numbers = (at_the_end(after).total("made"), fold(scripts(), after).total("made"), fold(scripts(), after).total("spoiled"))
                    assert (effect["all"], effect["total"], effect["spoiled"]) == numbers, after


def test_a_log_that_differs_is_noticed(dist):
    """The comparison itself can fail: one more cut gives another state."""
    (found,) = through_the_page(dist, [[{"event": "cut"}]])
    assert found["state"] != in_the_core([{"event": "cut"}, {"event": "cut"}])["state"]
