"""The page's folding of logs against the core's: the same state, or the same event refused;
and the counts that it shows.

Hypothesis makes the logs; all of them run through the page's own modules in one Node process.
"""

import json
import subprocess
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import matside
from amounts import examples
from folding import Illegal, State, advance, fold
from matside.guide.table import TABLE
from steps.places import tool

HERE = Path(__file__).parent
EVENTS = sorted({event for rules in TABLE["rules"].values() for event in rules} | {"undo"})
FIXED = settings(derandomize=True, deadline=None, database=None, max_examples=examples(150, 2))


@cache
def scripts() -> tuple[dict, ...]:
    """Guides of one layer and of several, with folds, with a division, with triangles of two kinds of cut, with
    rectangles that are halved, and with strips that are joined later."""
    diamond = {"shape": "diamond", "size": 4, "angle": 60}
    requests = [
        {"piece": diamond, "cloth": {"kind": "fat_quarter"}},
        {"piece": diamond, "cloth": {"kind": "fat_quarter"}, "layers": 3},
        {"piece": {**diamond, "size": 5}, "cloth": {"length": 24, "width": 27}, "layers": 2},
        {
            "piece": {"shape": "half-diamond", "size": 3, "angle": 60},
            "cloth": {"kind": "yardage"},
            "way": "along_width",
        },
    ]
    return (*(matside.answer({"ask": "guide", **request})["script"] for request in requests), halved_and_joined())


def halved_and_joined() -> dict:
    """A strip of rectangles that are halved two at a time, and two strips that are joined for two pieces."""
    does = [
        *[
            ("press", 0, 0),
            ("place", 0, 0),
            ("measure", 0, 0),
            ("check_edge", 0, 0),
            ("half_turn", 0, 0),
            ("take_part", 0, 0),
            ("strip", 0, 0),
        ],
        *[
            ("lay", 0, 0),
            ("end", 0, 0),
            ("piece", 0, 0),
            ("piece", 0, 0),
            ("halve", 0, 4),
            ("piece", 0, 0),
            ("halve", 0, 2),
            ("strip_done", 0, 0),
        ],
        *[
            ("lay", 1, 0),
            ("piece", 1, 2),
            ("strip_done", 1, 0),
            ("join", 1, 0),
            ("finish", 1, 1),
            ("finish", 1, 1),
            ("done", 1, 0),
        ],
    ]
    kinds = [{"id": "half", "counted": True}, {"id": "sash/joined", "counted": False}, {"id": "sash", "counted": True}]
    strips = [{"cloth": 0, "piece": "half", "pile": "lengthwise"}, {"cloth": 0, "piece": "sash/joined", "pile": None}]
    steps = [{"do": do, "strip": strip, "gives": gives, "cloth": 0, "values": {}} for do, strip, gives in does]
    return {"pieces": kinds, "cloths": [{"id": "cloth"}], "strips": strips, "steps": steps}


anything = st.fixed_dictionaries(
    {"event": st.sampled_from([*EVENTS, "no such event"])},
    optional={
        "n": st.sampled_from([-100, -1, 0, 1, 2, 4, 1.5, 100_001]),
        "script": st.integers(-1, 5),
        "step": st.sampled_from([-1, 0, 9, 1000]),
    },
)


@st.composite
def logs(draw) -> list[dict]:
    """A log as it comes about at a mat: runs of cuts, with what happens in between; one in three ends with some
    event that may have no place."""
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
        return {
            "event": name,
            "script": script,
            "step": draw(st.integers(0, len(scripts()[script]["steps"]) - 1)),
            "keep": draw(st.booleans()),
        }
    if "n" in rules.get(name, {}):
        return {"event": name, "n": draw(st.integers(-3, 4) if name.startswith("recount") else st.integers(1, 3))}
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
    firsts = [
        [{"event": "cut"}] * at
        for at in first_of(scripts()[0], "press", "lay", "piece", "recheck", "strip_done", "done")
    ]
    there = {"event": "switch", "script": len(scripts()) - 1, "step": 0}
    joined = [
        [there, *[{"event": "cut"}] * at]
        for at in first_of(scripts()[-1], "place", "end", "piece", "halve", "strip_done", "join", "finish", "done")
    ]
    before = [*firsts, *joined]
    numbers = [{}, *({"n": n} for n in (-100, -2, -1, 0, 1, 1.5, 2, 3, 4, 100_001))]
    return [[*log, {"event": event, **n}] for log in before for event in [*EVENTS, "no such event"] for n in numbers]


def first_of(script: dict, *does: str) -> list[int]:
    """Where the first step is that does each of these."""
    return [[step["do"] for step in script["steps"]].index(do) for do in does]


@pytest.fixture(scope="module")
def folded(dist) -> list[tuple[list[dict], dict]]:
    """Every log with what the page makes of it."""
    return list(zip(many_logs(), through_the_page(dist, many_logs()), strict=True))


def through_the_page(dist: Path, made: list[list[dict]], written: tuple[dict, ...] | None = None) -> list[dict]:
    """What the page's own modules make of the logs."""
    (app,) = dist.glob("app-*")
    asked = {"app": app.as_uri(), "table": TABLE, "scripts": written or scripts(), "logs": made}
    done = subprocess.run(
        [tool("node"), "--no-warnings", HERE / "folding.mjs"], input=json.dumps(asked), capture_output=True, text=True
    )
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


def events_after(folded, name: str) -> list[tuple[State, State, dict]]:
    """The states before and after every standing event of a name that ends a log, and the event."""
    ends = [log for log, found in folded if "state" in found and log and log[-1]["event"] == name]
    return [(fold(scripts(), log[:-1]), fold(scripts(), log), log[-1]) for log in ends]


def test_a_tap_that_was_missed_or_one_too_many_leaves_what_is_expected_as_it_was(folded):
    """The strip gives what it gives: only where it stands in the strip was told wrong."""
    found = events_after(folded, "recount_strip")
    assert {event["n"] > 0 for _, _, event in found if event["n"]} == {True, False}
    for before, after, event in found:
        assert expected(before) == expected(after), event
        assert (after.step > before.step) == (event["n"] > 0)
        assert step_of(before)["strip"] == step_of(after)["strip"]
        assert all(tally["aside"] >= 0 for tally in after.tallies.values())


def expected(state: State) -> int:
    """What is made when from here on every cut goes well."""
    while step_of(state)["do"] != "done":
        state = advance(scripts(), state, {"event": "cut"})
    return state.total("made")


def test_a_strip_of_the_wrong_width_counts_for_nothing_with_what_was_counted_of_it(folded):
    found = events_after(folded, "wrong_width")
    assert any(step_of(before)["do"] == "piece" and made_of(before) > 0 for before, _, _ in found)
    for before, after, _ in found:
        assert step_of(after)["do"] == "strip_done"
        assert made_of(after) == min(0, made_of(before))
        assert after.total("made") == before.total("made") - max(0, made_of(before))


def made_of(state: State) -> int:
    """What is counted of the strip at hand, strips that are joined later left aside."""
    return state.tallies.get((state.script, step_of(state)["strip"]), {"made": 0})["made"]


def test_strips_that_are_joined_later_are_no_pieces_until_they_are_whole(dist):
    """By hand: six halves of three rectangles; two strips in a pile without a total; then two whole pieces."""
    there = {"event": "switch", "script": len(scripts()) - 1, "step": 0}
    (finish,) = first_of(scripts()[-1], "finish")
    cuts = [{"event": "cut"}]
    begun, halved, cut, ended = through_the_page(dist, [[there, *cuts * n] for n in (0, 14, finish, finish + 2)])
    assert [(found["counts"]["total"], found["counts"]["all"]) for found in (begun, halved, cut, ended)] == [
        (0, 8),
        (6, 8),
        (6, 8),
        (8, 8),
    ]
    assert piles_of(cut) == [("half", True, 6, 6), ("sash/joined", False, 2, 2), ("sash", True, 0, 2)]
    assert piles_of(ended) == [("half", True, 6, 6), ("sash/joined", False, 2, 2), ("sash", True, 2, 2)]


def piles_of(found: dict) -> list[tuple]:
    ours = {kind["id"] for kind in halved_and_joined()["pieces"]}
    return [
        (pile["piece"]["id"], pile["counted"], pile["made"], pile["of"])
        for pile in found["piles"]
        if pile["piece"]["id"] in ours
    ]


def test_each_grain_has_its_own_pile_where_the_script_tells_them_apart(dist):
    script = json.loads(json.dumps(scripts()[0]))
    for strip, pile in zip(
        script["strips"], ["lengthwise", "lengthwise", "crosswise", "crosswise", "crosswise"], strict=True
    ):
        strip["pile"] = pile
    (found,) = through_the_page(dist, [[]], (script,))
    assert [(pile["pile"], pile["made"], pile["of"]) for pile in found["piles"]] == [
        ("lengthwise", 0, 6),
        ("crosswise", 0, 9),
    ]


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
            whole = [pile for pile in found["piles"] if pile["counted"]]
            assert sum(pile["made"] for pile in whole) == found["counts"]["total"], log
            assert sum(pile["of"] for pile in whole) == found["counts"]["all"], log


def test_what_an_event_would_make_of_the_counts_is_what_it_makes_and_changes_nothing(folded):
    for log, found in folded:
        if "state" in found:
            assert found["still"] == found["counts"]
            for event, effect in found["effects"].items():
                after = [*log, {"event": event, "n": 1}]
                assert (effect is not None) == accepted(after), after
                if effect:
                    numbers = (
                        at_the_end(after).total("made"),
                        fold(scripts(), after).total("made"),
                        fold(scripts(), after).total("spoiled"),
                    )
                    assert (effect["all"], effect["total"], effect["spoiled"]) == numbers, after


def test_a_log_that_differs_is_noticed(dist):
    """The comparison itself can fail: one more cut gives another state."""
    (found,) = through_the_page(dist, [[{"event": "cut"}]])
    assert found["state"] != in_the_core([{"event": "cut"}, {"event": "cut"}])["state"]
