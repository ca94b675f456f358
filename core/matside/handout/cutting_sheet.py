"""The cutting sheet: all that the guide says of a whole job, condensed so that it can be printed and cut from.

Nothing is worked out here: rows, counts, cautions and pictures are those of the script (`guide.script`)."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from ..guide.job import ClothWork, Job
from .cloth_drawing import cloth_drawing
from .condensing import SERIAL, Check, Node, Row, Turns, alike, on_strip, rows_of, strips_of, together
from .sheet_pictures import Pictures

#: Steps whose long sentence at the mat speaks of what is on the screen: paper has one of its own for them.
ON_PAPER = frozenset(
    {
        "measure",
        "measure_strip",
        "check_edge",
        "end_check",
        "recheck",
        "finish",
        "finish_angled",
        "finish_angled_mirrored",
        "finish_parallel",
        "finish_parallel_mirrored",
    }
)
_FINISHING = ("join", "finish")


def cutting_sheet(job: Job, script: dict) -> dict:
    """The sheet for a job and its script, as plain data; lengths in inches.

    `cloths` are told in cutting order; those that are cut alike are told once, with `times`. Each has its `drawing`,
    its `rows`, and what one of them `gives` by kind; `swap`, the step that takes up the next cloth, comes before each
    of them, but not before the first cloth of the sheet. A row has the `boxes` to tick, one for each step that it
    stands for, or it has `rows` of its own that are gone through so many `times`: strips that are cut alike, with
    their `strip`. A row's `picture` is a number from 1 on; the first row that has it says which of the `scenes` it is,
    and what of that (`over`, `at`, `next`), in the others `scene` is None. Strips to be joined come last, in
    `finishing`. `totals` count all pieces by kind.
    """
    return _Sheet(job, script).told()


@dataclass(frozen=True, slots=True)
class _Cloths:
    """So many cloths that are cut alike: what the script lists of them, what is done to take one up, and their rows."""

    work: ClothWork
    told: dict
    swap: Row | None
    rows: tuple[Node, ...]
    times: int = 1

    def same(self, other: "_Cloths") -> bool:
        return self.told == other.told and [alike(row) for row in self.rows] == [alike(row) for row in other.rows]

    def and_(self, other: "_Cloths") -> "_Cloths":
        """One cloth more that is cut alike."""
        swap = replace(other.swap, boxes=other.swap.boxes + (self.swap.boxes if self.swap else 0))
        return replace(self, swap=swap, rows=together(self.rows, other.rows), times=self.times + other.times)


class _Sheet:
    def __init__(self, job: Job, script: dict):
        self.job, self.script = job, script
        self.pictures = Pictures(script["scenes"])
        self.kinds = [strip["piece"] for strip in script["strips"]]

    def told(self) -> dict:
        steps = self.script["steps"]
        cloths = list(self._alike(step for step in steps if step["do"] not in (*_FINISHING, "done")))
        finishing = rows_of([step for step in steps if step["do"] in _FINISHING], self.kinds)
        done = rows_of(steps[-1:])
        rows = [*(row for cloth in cloths for row in (cloth.swap, *cloth.rows) if row), *finishing, *done]
        totals = _given(finishing)
        for cloth in cloths:
            totals.update({kind: cloth.times * count for kind, count in _given(cloth.rows).items()})
        return {
            "hand": self.script["hand"],
            "lay": self.script["lay"],
            "cautions": list(dict.fromkeys(code for row in rows for code in _cautions(row))),
            "pieces": self.script["pieces"],
            "cloths": [self._cloth(cloth) for cloth in cloths],
            "finishing": [self._told(row) for row in finishing],
            "done": self._told(done[0]),
            "totals": dict(totals),
            "scenes": self.pictures.shown,
        }

    def _alike(self, steps: Iterable[dict]) -> Iterator[_Cloths]:
        """The cloths one after another, those that are cut alike together."""
        last = None
        for number, own in groupby(steps, key=lambda step: step["cloth"]):
            cloth = self._one(number, list(own))
            if last and last.same(cloth):
                last = last.and_(cloth)
                continue
            if last:
                yield last
            last = cloth
        if last:
            yield last

    def _one(self, number: int, steps: list[dict]) -> _Cloths:
        swap = _row_of([step for step in steps if step["do"] == "swap"])
        before = rows_of([step for step in steps if step["do"] != "swap" and not on_strip(step)])
        strips = strips_of([step for step in steps if on_strip(step)], self.script["strips"])
        return _Cloths(self.job.cloths[number], self.script["cloths"][number], swap, (*before, *strips))

    # --- As plain data

    def _cloth(self, cloth: _Cloths) -> dict:
        return {
            **cloth.told,
            "times": cloth.times,
            "swap": self._told(cloth.swap) if cloth.swap else None,
            "drawing": cloth_drawing(cloth.work, self.script["hand"]),
            "rows": [self._told(row) for row in cloth.rows],
            "gives": dict(_given(cloth.rows)),
        }

    def _told(self, node: Node) -> dict:
        return self._turns(node) if isinstance(node, Turns) else self._row(node)

    def _turns(self, turns: Turns) -> dict:
        strip = turns.strip and {
            **{name: turns.strip[name] for name in ("piece", "size", "run", "layers", "grain", "pile")},
            "gives": turns.strip["planned"],
        }
        rows = [self._told(row) for row in turns.rows]
        return {"times": turns.times, "strip": strip, "rows": rows, "check": self._check(turns.check)}

    def _check(self, check: Check | None) -> dict | None:
        return check and {**self._row(replace(check.row, boxes=1)), "each": check.each, "once": check.once}

    def _row(self, row: Row) -> dict:
        step = row.step
        return {
            "do": step["do"],
            "say": step["say"],
            "short": f"guide.{step['say']}.short",
            "long": f"sheet.long.{step['say']}" if step["say"] in ON_PAPER else f"guide.{step['say']}.long",
            "values": {name: value for name, value in step["values"].items() if name not in SERIAL},
            "hands": _hands(row),
            "cautions": list(row.cautions),
            "piece": row.piece,
            "boxes": row.boxes,
            "gives": row.gives,
            **self.pictures.of(row),
        }


def _row_of(steps: list[dict]) -> Row | None:
    return next(iter(rows_of(steps)), None)


def _hands(row: Row) -> list[dict]:
    """What is said between the short and the long sentence: which ruler is taken up, how rulers are held and slid."""
    ruler, way = row.step["values"].get("ruler"), row.step["values"].get("way") or {}
    taken = [{"say": "mat.take_ruler", "values": {"ruler": ruler}}] if ruler and row.other_ruler else []
    more = [code for code in (*way.get("held", ()), way.get("slid")) if code]
    return [*taken, *({"say": f"rulers.{code['say']}", "values": code} for code in more)]


def _cautions(node: Node) -> Iterator[str]:
    """The cautions of a row and of the rows in it, in their order."""
    if isinstance(node, Row):
        yield from node.cautions
        return
    for row in node.rows:
        yield from _cautions(row)
    if node.check:
        yield from node.check.row.cautions


def _given(nodes: Iterable[Node]) -> Counter[str]:
    """Pieces that rows give, by kind."""
    found: Counter[str] = Counter()
    for node in nodes:
        if isinstance(node, Row):
            if node.gives:
                found[node.piece] += node.boxes * node.gives
        else:
            found.update({kind: node.times * count for kind, count in _given(node.rows).items()})
    return found
