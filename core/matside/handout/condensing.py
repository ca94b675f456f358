"""Steps of a script that are alike, told once: rows with a box for each, and rows that are gone through several times.

What differs within a row is only how far along one is (`SERIAL`). Cautions of steps alike are put together, and a
check of the angle becomes a note that says after which pieces it is due."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from itertools import groupby, takewhile

from ..guide.table import TABLE

#: Values of a step that tell how far along one is; a row stands for several steps and has none of them.
SERIAL = frozenset({"k", "length_left", "other_ruler", "due"})
#: The longest cycle of steps that is told as one: a piece, and what is done to it on several layers.
_LONGEST_CYCLE = 4


@dataclass(frozen=True, slots=True)
class Row:
    """Steps alike, one after another: the first of them, and how many. `piece` is the kind of the strip they are on;
    `other_ruler` says that a ruler is taken up for one of them."""

    step: dict
    key: str
    piece: str | None = None
    boxes: int = 1
    cautions: tuple[str, ...] = ()
    other_ruler: bool = False

    @property
    def gives(self) -> int:
        """Pieces that each of the steps frees."""
        return self.step["gives"] if _frees(self.step["do"]) else 0

    def and_(self, other: "Row") -> "Row":
        """With what else is due at steps alike, in another row."""
        cautions = tuple(dict.fromkeys((*self.cautions, *other.cautions)))
        return replace(self, cautions=cautions, other_ruler=self.other_ruler or other.other_ruler)


@dataclass(frozen=True, slots=True)
class Check:
    """A check within a strip: after which of its pieces it is due in `each`, and `once` more, in the first of all."""

    row: Row
    each: tuple[int, ...]
    once: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Turns:
    """Rows that are gone through so many `times`; `strip` is the script's strip where it is strips that are alike."""

    rows: tuple["Row | Turns", ...]
    times: int = 1
    strip: dict | None = None
    check: Check | None = None

    def and_(self, other: "Turns") -> "Turns":
        """With what else is due in rows alike; a check that is due once is due in the first."""
        check = self.check
        if check and other.check:
            check = replace(check, row=check.row.and_(other.check.row))
        return replace(self, rows=together(self.rows, other.rows), check=check)


Node = Row | Turns


def together(ours: Sequence[Node], theirs: Sequence[Node]) -> tuple[Node, ...]:
    """Rows alike, with all that is due at either."""
    return tuple(one.and_(other) for one, other in zip(ours, theirs))


def alike(node: Node) -> tuple:
    """What nodes alike have in common: all but what is due at some of them only."""
    if isinstance(node, Row):
        return node.key, node.boxes
    return tuple(map(alike, node.rows)), node.times, _sort(node.strip), node.check.each if node.check else ()


def rows_of(steps: Iterable[dict], pieces: Sequence[str] = ()) -> tuple[Node, ...]:
    """Steps as rows; `pieces` are the kinds of the script's strips, where the steps are on strips.

    >>> same = {"do": "turn", "say": "turn", "scene": 0, "over": "turn", "cut": 0, "gives": 0, "cautions": []}
    >>> steps = [{**same, "values": {"at": at, "k": k}} for k, at in enumerate("aabaab")]
    >>> [(turns.times, [row.boxes for row in turns.rows]) for turns in rows_of(steps)]
    [(2, [2, 1])]
    """
    rows = [_row(step, pieces[step["strip"]] if pieces else None) for step in steps]
    return tuple(_in_turns([_boxed(list(found)) for _, found in groupby(rows, key=lambda row: row.key)]))


def _row(step: dict, piece: str | None) -> Row:
    values = {name: value for name, value in sorted(step["values"].items()) if name not in SERIAL}
    same = [step[name] for name in ("do", "say", "scene", "over", "cut", "gives")]
    other_ruler = bool(step["values"].get("other_ruler"))
    return Row(step, repr((same, piece, values)), piece, 1, tuple(step["cautions"]), other_ruler)


def _boxed(rows: list[Row]) -> Row:
    return replace(reduce(Row.and_, rows), boxes=len(rows))


def _in_turns(rows: list[Row]) -> Iterator[Node]:
    """Rows in which what comes again and again, by turns, is told once."""
    at = 0
    while at < len(rows):
        cycle, times = next(_cycles(rows, at), (1, 1))
        if times > 1:
            turns = [rows[k : k + cycle] for k in range(at, at + cycle * times, cycle)]
            yield Turns(reduce(together, turns), times)
        else:
            yield rows[at]
        at += cycle * times


def _cycles(rows: list[Row], at: int) -> Iterator[tuple[int, int]]:
    """What comes at least twice from there on: how many rows, how often; the shortest first."""
    keys = [alike(row) for row in rows[at:]]
    for cycle in range(2, _LONGEST_CYCLE + 1):
        turns = range(cycle, len(keys) - cycle + 1, cycle)
        times = 1 + sum(1 for _ in takewhile(lambda k: keys[k : k + cycle] == keys[:cycle], turns))  # noqa: B023
        if times > 1:
            yield cycle, times


# --- Strips -----------------------------------------------------------------------------------------------------------


def strips_of(steps: Iterable[dict], strips: Sequence[dict]) -> tuple[Turns, ...]:
    """The steps on strips, one strip (or stack) after another; those that are cut alike are told once."""
    found: list[Turns] = []
    for number, own in groupby(steps, key=lambda step: step["strip"]):
        strip = _strip(list(own), strips[number], [strip["piece"] for strip in strips])
        if found and alike(found[-1]) == alike(replace(strip, times=found[-1].times)):
            found[-1] = replace(found[-1].and_(strip), times=found[-1].times + 1)
        else:
            found.append(strip)
    return tuple(found)


def _strip(steps: list[dict], strip: dict, pieces: list[str]) -> Turns:
    checks = [(k, step) for k, step in _after_pieces(steps) if step["do"] == "recheck"]
    rows = rows_of([step for step in steps if step["do"] != "recheck"], pieces)
    if not checks:
        return Turns(rows, strip=strip)
    each, once = (
        tuple(k for k, step in checks if (step["values"]["due"] == "every") == all_) for all_ in (True, False)
    )
    row = _boxed([_row(step, strip["piece"]) for _, step in checks])
    return Turns(rows, strip=strip, check=Check(row, each, once))


def _after_pieces(steps: list[dict]) -> Iterator[tuple[int, dict]]:
    """Each step with how many pieces were cut off the strip before it."""
    cut = 0
    for step in steps:
        yield cut, step
        cut += step["do"] == "piece"


def _sort(strip: dict | None) -> str:
    """What strips alike have in common."""
    return repr({name: value for name, value in (strip or {}).items() if name not in ("cloth", "number", "of")})


def on_strip(step: dict) -> bool:
    """Whether a step is one of those on a strip that gives pieces."""
    return "wrong_width" in TABLE["rules"][step["do"]]


def _frees(do: str) -> bool:
    return "made" in TABLE["rules"][do]["cut"].get("tally", {}) if "cut" in TABLE["rules"][do] else False
