"""Folding a log of events through the table: the reading of `table.py` that the page's own folding is checked against.

A state is a frozen value, so that an illegal event cannot leave half a change behind.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from .table import TABLE

COUNTERS = ("made", "spoiled", "lost")


class Illegal(ValueError):
    """An event that the table has no rule for at this step, or whose `n` is outside its limits."""


@dataclass(frozen=True, slots=True)
class State:
    """Where a sitting stands: script and step (by index), and the counters of every strip touched, by (script, strip)."""

    script: int = 0
    step: int = 0
    tallies: dict = field(default_factory=dict)
    stopped: bool = False

    def total(self, counter: str) -> int:
        """A counter over all strips."""
        return sum(tally[counter] for tally in self.tallies.values())


def fold(scripts: list[dict], events: Iterable[dict], table: dict = TABLE) -> State:
    """The state after a log of events; raises `Illegal` at the first event that the table has no rule for.

    >>> script = {"steps": [{"do": "piece", "strip": 0, "gives": 2}, {"do": "done", "strip": 0}]}
    >>> fold([script], [{"event": "cut"}]).total("made")
    2
    >>> fold([script], [{"event": "cut"}, {"event": "undo"}]).total("made")
    0
    """
    trail = [State()]
    for event in events:
        if event["event"] == "undo":
            _undo(trail, event.get("n", 1))
        else:
            trail.append(advance(scripts, trail[-1], event, table))
    return trail[-1]


def _undo(trail: list[State], times: int) -> None:
    if not isinstance(times, int) or not 1 <= times < len(trail):
        raise Illegal(f"there is nothing to undo {times} times")
    del trail[-times:]


def advance(scripts: list[dict], state: State, event: dict, table: dict = TABLE) -> State:
    """The state after one event (undo excepted)."""
    step = scripts[state.script]["steps"][state.step]
    rule = table["rules"][step["do"]].get(event["event"])
    if rule is None:
        raise Illegal(f"{event['event']} has no place at the step {step['do']}")
    _check_n(rule, event, scripts, state)
    tallied = _tallied(rule, event, state, step)
    script, index = _went(rule["go"], event, scripts, state)
    if "carries" in rule and event.get(rule["carries"]):
        tallied = _carried(tallied, state.script, script)
    return replace(state, script=script, step=index, tallies=tallied, stopped=rule.get("stopped", False))


def _check_n(rule: dict, event: dict, scripts: list[dict], state: State) -> None:
    if "n" not in rule:
        return
    n, (least, most) = event.get("n"), (_limit(limit, scripts, state) for limit in rule["n"])
    if not isinstance(n, int) or not least <= n <= most:
        raise Illegal(f"{event['event']} of {n} is outside {least} to {most}")


def _limit(limit: int | str, scripts: list[dict], state: State) -> int:
    steps = scripts[state.script]["steps"]
    step = steps[state.step]
    if isinstance(limit, int):
        return limit
    if limit == "gives":
        return step["gives"]
    if limit == "strip_made":
        return _tally(state, step)["made"]
    if limit == "minus_made":
        return -state.total("made")
    if limit == "ahead":
        return sum(1 for other in steps[state.step :] if other["do"] == "piece" and other["strip"] == step["strip"])
    return 100_000


def _tally(state: State, step: dict) -> dict:
    return state.tallies.get((state.script, step.get("strip")), dict.fromkeys(COUNTERS, 0))


def _tallied(rule: dict, event: dict, state: State, step: dict) -> dict:
    if "tally" not in rule:
        return state.tallies
    n, gives = event.get("n", 0), step.get("gives", 0)
    terms = {"one": 1, "gives": gives, "n": n, "n_gives": n * gives}
    tally = dict(_tally(state, step))
    for counter, factors in rule["tally"].items():
        tally[counter] += sum(factor * terms[term] for term, factor in factors.items())
    return {**state.tallies, (state.script, step.get("strip")): tally}


def _carried(tallies: dict, old: int, new: int) -> dict:
    """The counters of one script's strips moved to another script; all others stay."""
    return {(new if script == old else script, strip): tally for (script, strip), tally in tallies.items()}


def _went(go, event: dict, scripts: list[dict], state: State) -> tuple[int, int]:
    if go == "stay":
        return state.script, state.step
    if go == "next":
        return state.script, state.step + 1
    if go == "script":
        return _named(event, scripts)
    return state.script, _past(go["past"], event["n"], scripts[state.script]["steps"], state.step)


def _named(event: dict, scripts: list[dict]) -> tuple[int, int]:
    script, step = event.get("script"), event.get("step", 0)
    if script not in range(len(scripts)) or step not in range(len(scripts[script]["steps"])):
        raise Illegal(f"there is no step {step} of a script {script}")
    return script, step


def _past(kind: str, times: int, steps: list[dict], index: int) -> int:
    strip = steps[index]["strip"]
    while times and steps[index]["strip"] == strip:
        times -= steps[index]["do"] == kind
        index += 1
    return index
