"""Folding a log of events through the guide's table: the reading that the page's own folding is checked against.

A state is a frozen value, so that an illegal event cannot leave half a change behind.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from matside.guide.table import TABLE

COUNTERS = ("made", "spoiled", "lost", "aside")


class Illegal(ValueError):
    """An event that the table has no rule for at this step, or whose `n` is outside its limits."""


@dataclass(frozen=True, slots=True)
class State:
    """Where a sitting stands: script and step (by index), and the counters of every strip
    touched, by (script, strip).
    """

    script: int = 0
    step: int = 0
    tallies: dict = field(default_factory=dict)
    stopped: bool = False

    def total(self, counter: str) -> int:
        """A counter over all strips."""
        return sum(tally[counter] for tally in self.tallies.values())


def fold_log(scripts: list[dict], events: Iterable[dict], table: dict = TABLE) -> State:
    """The state after a log of events; raises `Illegal` at the first event that the table has no rule for.

    >>> script = {"steps": [{"do": "piece", "strip": 0, "gives": 2}, {"do": "done", "strip": 0}]}
    >>> fold_log([script], [{"event": "cut"}]).total("made")
    2
    >>> fold_log([script], [{"event": "cut"}, {"event": "undo"}]).total("made")
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
    at = _At(scripts, state, rule, table)
    at.check_n(event)
    script, index = at.went(event)
    tallied = at.tallied(event, index)
    if "carries" in rule and event.get(rule["carries"]):
        tallied = _carried(tallied, state.script, script)
    return replace(state, script=script, step=index, tallies=tallied, stopped=rule.get("stopped", False))


@dataclass(frozen=True, slots=True)
class _At:
    """One rule at one state: what it may carry, where it leads and what it adds."""

    scripts: list[dict]
    state: State
    rule: dict
    table: dict

    @property
    def steps(self) -> list[dict]:
        return self.scripts[self.state.script]["steps"]

    @property
    def step(self) -> dict:
        return self.steps[self.state.step]

    def check_n(self, event: dict) -> None:
        if "n" not in self.rule:
            return
        n, (least, most) = event.get("n"), (self._limit(limit) for limit in self.rule["n"])
        if not isinstance(n, int) or not least <= n <= most:
            raise Illegal(f"{event['event']} of {n} is outside {least} to {most}")

    def _limit(self, limit: int | str) -> int:
        if isinstance(limit, int):
            return limit
        if limit == "gives":
            return self.step["gives"]
        if limit == "strip_made":
            return self._made
        if limit == "minus_made":
            return -self.state.total("made")
        if limit == "ahead":
            return sum(1 for other in self.steps[self.state.step :] if other["do"] == "piece" and self._here(other))
        if limit == "behind":
            return -self._behind()
        if limit == "many":
            return 100_000
        raise Illegal(f"there is no limit called {limit}")

    def _behind(self) -> int:
        """How many piece steps back one can go."""
        back = [i for i in range(self.state.step) if self.steps[i]["do"] == "piece" and self._here(self.steps[i])]
        return sum(1 for index in back if self._made + self._passed(index) >= 0)

    def _here(self, step: dict) -> bool:
        return step.get("strip") == self.step.get("strip")

    def went(self, event: dict) -> tuple[int, int]:
        go, state = self.rule["go"], self.state
        if go == "script":
            return _named(event, self.scripts)
        if isinstance(go, dict):
            return state.script, self._within(go, event)
        return state.script, state.step + (go == "next")

    def _within(self, go: dict, event: dict) -> int:
        if "to" in go:
            return self._to(go["to"])
        if event["n"] < 0:
            return self._back(go["along"], -event["n"])
        return self._past(go.get("past") or go["along"], event["n"])

    def _past(self, kind: str, times: int) -> int:
        index = self.state.step
        while times and self._here(self.steps[index]):
            times -= self.steps[index]["do"] == kind
            index += 1
        return index

    def _back(self, kind: str, times: int) -> int:
        index = self.state.step
        while times:
            index -= 1
            times -= self.steps[index]["do"] == kind
        return index

    def _to(self, kind: str) -> int:
        index = self.state.step
        while self.steps[index]["do"] != kind and self._here(self.steps[index + 1]):
            index += 1
        return index

    def tallied(self, event: dict, index: int) -> dict:
        """The counters after the event, which leads to the step `index`."""
        state, step = self.state, self.step
        if "tally" not in self.rule:
            return state.tallies
        terms = {"gives": step.get("gives", 0), "n": event.get("n", 0), "strip_made": max(0, self._made)}
        terms["passed"] = self._passed(index) if isinstance(self.rule["go"], dict) else 0
        tally = dict(self._tally)
        for counter, factors in self.rule["tally"].items():
            tally[self._counter if counter == "made" else counter] += sum(
                factor * terms[term] for term, factor in factors.items()
            )
        return {**state.tallies, (state.script, step.get("strip")): tally}

    def _passed(self, index: int) -> int:
        """Pieces that the steps between this one and another free, below 0 where that one is before."""
        first, last = sorted((self.state.step, index))
        freed = sum(step["gives"] for step in self.steps[first:last] if self._frees(step))
        return freed if index > self.state.step else -freed

    def _frees(self, step: dict) -> bool:
        return "made" in self.table["rules"][step["do"]].get("cut", {}).get("tally", {})

    @property
    def _tally(self) -> dict:
        return self.state.tallies.get((self.state.script, self.step.get("strip")), dict.fromkeys(COUNTERS, 0))

    @property
    def _made(self) -> int:
        return self._tally[self._counter]

    @property
    def _counter(self) -> str:
        """Where what is made here is counted: strips that are joined later are no pieces yet."""
        return "made" if self.rule.get("whole") or is_counted(self.scripts[self.state.script], self.step) else "aside"


def is_counted(script: dict, step: dict) -> bool:
    """Whether the pieces of the strip at hand count as pieces of the whole."""
    strips, strip = script.get("strips", ()), step.get("strip")
    if strip not in range(len(strips)):
        return True
    return next((kind.get("counted", True) for kind in script["pieces"] if kind["id"] == strips[strip]["piece"]), True)


def _carried(tallies: dict, old: int, new: int) -> dict:
    """The counters of one script's strips moved to another script; all others stay."""
    return {(new if script == old else script, strip): tally for (script, strip), tally in tallies.items()}


def _named(event: dict, scripts: list[dict]) -> tuple[int, int]:
    script, step = event.get("script"), event.get("step", 0)
    if script not in range(len(scripts)) or step not in range(len(scripts[script]["steps"])):
        raise Illegal(f"there is no step {step} of a script {script}")
    return script, step
