"""Counts of several devices, joined by the page's own modules under Node, without a page.

That a set of growing sequences joins in any order, any number of times: Shapiro, Preguiça, Baquero, Zawirski, “A
comprehensive study of convergent and commutative replicated data types”, INRIA RR-7506, 2011. The totals are held against
every act played through `folding.py`, the reading of the guide's table in Python; shares against all ways to share out.
"""

import json
import subprocess
from collections import Counter
from functools import cache
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import examples
from folding import State, advance
from matside.guide.table import TABLE
from steps.places import tool
from test_copies import told
from test_fold import halved_and_joined, scripts

HERE = Path(__file__).parent


def fixed(number: int, more: int):
    """The same examples in every run."""
    return settings(derandomize=True, deadline=None, database=None, max_examples=examples(number, more))


def ran(dist: Path, *what: object, **given: object):
    """What the page's own modules make of it, see joining.mjs."""
    (app,) = dist.glob("app-*")
    asked = json.dumps({"app": app.as_uri(), "table": TABLE, **given})
    command = [tool("node"), "--no-warnings", HERE / "joining.mjs", *map(str, what)]
    done = subprocess.run(command, input=asked, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


# --- Histories ------------------------------------------------------------------------------------------------------


@cache
def small() -> dict:
    """A script of diamonds, cut short so that a log comes to its end, with all that the page asks of one."""
    whole = scripts()[0]
    steps = [*whole["steps"][:26], whole["steps"][-1]]
    return {**told(whole), "scenes": whole["scenes"][:1], "steps": [{**step, "scene": 0} for step in steps]}


def by_kind(script: dict, state: State) -> Counter:
    """(kind, counter) → n, of a state."""
    found = Counter()
    kinds = {piece["id"]: piece for piece in script["pieces"]}
    for (_, strip), tally in state.tallies.items():
        if strip is None or (kind := script["strips"][strip]["piece"]).endswith("/joined"):
            continue
        as_strips = kinds[kind].get("counted") is False
        found[kind, "made"] += tally["aside" if as_strips else "made"]
        found[kind, "spoiled"] += tally["spoiled"]
        found[kind, "lost"] += tally["lost"]
    return found


def replayed(script: dict, logs: list[list[dict]]) -> dict[str, dict[str, int]]:
    """Every act of every log, once: what each gave, by its mark, but for those that some undo names."""
    gave, undone = {}, set()
    for log in logs:
        trail = [State()]
        for event in log:
            if event["event"] == "undo":
                undone |= set(event["undoes"])
                del trail[-event.get("n", 1) :]
                continue
            trail.append(advance([script], trail[-1], event))
            after, before = (by_kind(script, state) for state in (trail[-1], trail[-2]))
            after.subtract(before)
            assert gave.setdefault(event["mark"], after) == after
    totals = Counter()
    for mark, counts in gave.items():
        if mark not in undone:
            totals.update(counts)
    found = {}
    for (kind, counter), n in totals.items():
        if n:
            found.setdefault(kind, {})[counter] = n
    return found


@pytest.mark.parametrize("script", [small(), told(halved_and_joined())], ids=["diamonds", "joined"])
def test_what_devices_report_comes_to_every_act_once(dist: Path, script: dict):
    worlds = ran(dist, "worlds", 1, examples(20, 100), scripts=[script])
    for world in worlds:
        assert world["totals"] == replayed(script, world["logs"])
        assert world["unlike"] == []
    made = [sum(kind.get("made", 0) for kind in world["totals"].values()) for world in worlds]
    assert sum(n > 3 for n in made) > len(worlds) / 2
    named = [event for world in worlds for log in world["logs"] for event in log if "device" in event]
    assert len(named) > len(worlds)
    assert max(world["devices"] for world in worlds) > 3


def test_joining_is_commutative_associative_and_idempotent(dist: Path):
    assert ran(dist, "algebra", 1, examples(3000, 30)) == []


# --- Reports --------------------------------------------------------------------------------------------------------


def report(**change) -> dict:
    """A report as somebody shows it."""
    one = {"id": "a-1", "device": "phone-2", "length": 9, "at": 1_700_000_000_000, "counts": {"piece 1": {"made": 5}}}
    sequences = [{**one, "undone": [2], "back": [{"id": "b", "at": 3, "counts": {"piece 1": {"made": 1}}}]}]
    return {"matside_report": 1, "plan": "plan", "who": "Ann", "device": "phone-2", "sequences": sequences, **change}


def one(**change) -> dict:
    """A report with one thing in its sequence changed."""
    return report(sequences=[{**report()["sequences"][0], **change}])


def counts(**kinds) -> dict:
    """A report that counts so."""
    return one(counts=kinds)


LONG = "x" * 201
REFUSED = {
    "foreign": [None, 7, "x", "{", "", "null", [], {}, {"matside": 2, "sittings": []}],
    "newer": [report(matside_report=2)],
    "other_plan": [report(plan="another")],
    "large": [json.dumps(report(who="x" * 1_000_001))],
    "damaged": [
        *(report(matside_report=form) for form in ("1", 0, None, 1.5, -1)),
        *(report(plan=plan) for plan in ("", 7, LONG, None)),
        *(report(who=who) for who in (7, LONG, None, {})),
        *(report(device=name) for name in ("", "a b", "<b>", "x" * 61, "__proto__", "constructor", 7, None)),
        *(report(sequences=all_) for all_ in (None, {}, "x", [None], [[]], [7], report()["sequences"] * 2)),
        report(sequences=[{**report()["sequences"][0], "id": f"n{i}"} for i in range(501)]),
        *(one(id=name) for name in ("", "__proto__", "toString", "x" * 61, "é", 7, None)),
        *(one(length=n) for n in (0, -1, 1.5, "9", 1_000_001, None, 1e308, [9])),
        *(one(at=n) for n in (-1, "now", None, 1e300, 0.5)),
        *(one(undone=places) for places in ([-1], [9], [1, 1], ["1"], [0.5], {}, "12", None)),
        *(one(back=taken) for taken in ([None], [{}], {}, [{"id": "b", "at": -1, "counts": {}}])),
        one(back=[{"id": "b", "at": 1, "counts": {}}] * 2),
        *(counts(**{kind: {"made": 1}}) for kind in ("__proto__", "constructor", "toString", "", LONG)),
        *(counts(kind=numbers) for numbers in (None, 7, [], {"made": "5"}, {"made": 0.5}, {"made": None})),
        *(counts(kind={name: n}) for name in ("made", "spoiled", "lost") for n in (1_000_001, -1_000_001)),
        counts(**{f"kind {i}": {"made": 1} for i in range(61)}),
        *(one(counts=each) for each in (None, [], "x")),
        json.dumps(report()).replace('{"made": 5}', '{"made": 1e999}'),
    ],
}


def test_a_report_that_is_not_one_changes_nothing_and_says_why(dist: Path):
    cases = [(code, each) for code, all_ in REFUSED.items() for each in all_]
    found = ran(dist, "reports", plan="plan", reports=[each for _, each in cases])
    wrong = [(case, came) for case, came in zip(cases, found) if came != case[0]]
    assert wrong == []


def test_a_report_that_is_one_is_taken(dist: Path):
    fine = [report(), report(more=1), report(sequences=[]), report(who=""), json.dumps(report()), one(device=None)]
    fine += [one(undone=[], back=[]), counts(kind={"lost": -3, "other": "x"}), counts(**{"diamond/a/2": {}})]
    assert ran(dist, "reports", plan="plan", reports=fine) == ["taken"] * len(fine)


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=9),
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=9), inside, max_size=3),
    max_leaves=5,
)


def test_whatever_stands_anywhere_in_a_report_it_is_taken_whole_or_refused(dist: Path):
    made = []

    @fixed(40, 75)
    @given(anything, st.data())
    def change(value, data):
        holder = changed = json.loads(json.dumps(report()))
        while True:
            key = data.draw(st.sampled_from(sorted(holder) if isinstance(holder, dict) else range(len(holder))))
            if not isinstance(holder[key], dict | list) or not holder[key] or data.draw(st.booleans()):
                break
            holder = holder[key]
        holder[key] = value
        made.append(changed)

    change()
    found = Counter(ran(dist, "reports", plan="plan", reports=made))
    assert found.keys() <= {"taken", "damaged", "foreign", "other_plan", "newer"} and found["damaged"] > 9


# --- Shares ---------------------------------------------------------------------------------------------------------

strip = st.fixed_dictionaries({"piece": st.sampled_from(["one", "two"]), "count": st.integers(1, 9)})
layout = st.fixed_dictionaries(
    {
        "cloth": st.just("cloth"),
        "times": st.integers(1, 4),
        "division": st.sampled_from([None, {"at": 3}]),
        "strips": st.lists(strip, min_size=1, max_size=3),
    }
)
case = st.fixed_dictionaries(
    {
        "layouts": st.lists(layout, min_size=1, max_size=4),
        "people": st.integers(1, 4).map(lambda n: [f"Person {i}" for i in range(n)]),
        "how": st.sampled_from(
            [
                {"way": "cloth"},
                {"way": "strip"},
                {"way": "strip", "whole": ["two"]},
                {"way": "kit"},
                {"way": "kit", "kits": 7},
            ]
        ),
        "pieces": st.lists(st.integers(0, 50), min_size=2, max_size=2).map(
            lambda needs: [{"id": name, "need": need} for name, need in zip(("one", "two"), needs)]
        ),
    }
)


def work(layout: dict) -> int:
    """How many cuts a cloth takes."""
    return bool(layout["division"]) + sum(1 + strip["count"] for strip in layout["strips"])


def test_everything_is_given_once_and_no_one_has_a_third_more_than_must_be(dist: Path):
    """The bound of giving the longest first: R. L. Graham, “Bounds on multiprocessing timing anomalies”, 1969."""
    cases = []

    @fixed(100, 10)
    @given(case)
    def collect(one):
        cases.append(one)

    collect()
    for one, shares in zip(cases, ran(dist, "shares", cases=cases)):
        assert [share["who"] for share in shares] == one["people"]
        items = [json.dumps(item, sort_keys=True) for share in shares for item in share["items"]]
        kits = one["how"].get("kits", len(one["people"]))
        if one["how"]["way"] == "kit":
            wanted = [{"kit": kit, "of": kits} for kit in range(kits)]
            given_out = Counter({piece["id"]: piece["need"] for piece in one["pieces"]})
            assert max(len(s["items"]) for s in shares) - min(len(s["items"]) for s in shares) <= 1
        else:
            wanted = [
                {"layout": i, "time": time} for i, each in enumerate(one["layouts"]) for time in range(each["times"])
            ]
            if one["how"]["way"] == "strip":
                strips = {i: range(len(each["strips"])) for i, each in enumerate(one["layouts"])}
                wanted = [{**cloth, "strip": k} for cloth in wanted for k in strips[cloth["layout"]]]
                joined_in_one_hand(one, shares)
            given_out = Counter()
            for each in one["layouts"]:
                for cut in each["strips"]:
                    given_out[cut["piece"]] += cut["count"] * each["times"]
            is_even(one, shares)
        assert Counter(items) == Counter(json.dumps(item, sort_keys=True) for item in wanted)
        assert sum((Counter(share["pieces"]) for share in shares), Counter()) == +given_out
        if one["how"]["way"] == "cloth":
            for share in shares:
                here_and_elsewhere(one, share)


def works_of(one: dict) -> list[int]:
    """The work of everything that is given out whole."""
    cloths = [each for each in one["layouts"] for _ in range(each["times"])]
    if one["how"]["way"] == "cloth":
        return [work(each) for each in cloths]
    strips = [strip for each in cloths for strip in each["strips"]]
    whole = one["how"].get("whole", [])
    together = [sum(1 + strip["count"] for strip in strips if strip["piece"] == kind) for kind in whole]
    return [1 + strip["count"] for strip in strips if strip["piece"] not in whole] + [n for n in together if n]


def joined_in_one_hand(one: dict, shares: list[dict]) -> None:
    """Strips that are joined later all go to one person."""
    for kind in one["how"].get("whole", []):
        having = {
            share["who"]
            for share in shares
            for item in share["items"]
            if one["layouts"][item["layout"]]["strips"][item["strip"]]["piece"] == kind
        }
        assert len(having) <= 1


def is_even(one: dict, shares: list[dict]) -> None:
    """No one has more work than 4/3 of the best there is, where there are few enough ways to try them all."""
    works = works_of(one)
    people = len(one["people"])
    assert sum(share["work"] for share in shares) == sum(works)
    if people ** len(works) > 4096:
        return
    best = min(
        max(sum(n for n, who in zip(works, dealt) if who == person) for person in range(people))
        for dealt in product(range(people), repeat=len(works))
    )
    assert 3 * max(share["work"] for share in shares) <= 4 * best


def here_and_elsewhere(one: dict, share: dict) -> None:
    """What is cut here and what is cut elsewhere are the plan, no cloth more or less."""
    here, skipped = share["here"]["layouts"], share["here"]["skipped"]
    mine = sum(each["times"] for place, each in enumerate(here) if place not in skipped)
    assert mine == len(share["items"])
    assert sum(each["times"] for each in here) == sum(each["times"] for each in one["layouts"])
    assert all(each["times"] > 0 for each in here)
