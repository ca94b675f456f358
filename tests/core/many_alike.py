"""Many like cloths, and their best plan by another road: every pattern with its strips written out,
and OR-Tools' CP-SAT to choose.

A pattern is a row of whole numbers: the pieces of each kind, up to the need, and last how many strips
they take, negative, so that more is better in every place. The cutting rule is read anew, as in
`all_patterns`, which counts no strips."""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass
from time import process_time

import numpy as np
from ortools.sat.python import cp_model

from all_patterns import HAIR, SCALE
from matside.fields import Fields
from matside.pieces import read_piece

BASKETS = 200
CUTS = [(18, 21), (9, 42), (9, 21), (10, 10), (18, 42), (18, 20), (13.5, 42), (36, 42)]
SIZES = [2, 2.5, 3, 3.5, 4, 4.5, 5, 6]
_QUARTERS = 4  # sides come in halves of an inch, so areas in quarters of a square inch
_MOST_PAIRS = 4_000_000
_MOST_ROWS = 200_000
_MOST_KEPT = 60_000


class Unfinished(Exception):
    """The patterns are too many, or the time is over."""


@dataclass(frozen=True, slots=True)
class Best:
    """What was proved in time: missing and opened area in square inches, strips; None where
    the time was over before.
    """

    missing: float | None = None
    opened: float | None = None
    strips: int | None = None
    seconds: float = 0.0


def basket(seed: int) -> dict:
    """Up to 60 cloths of up to four sorts, and up to eight kinds that are needed, from one seed."""
    rng = random.Random(seed)
    sides = rng.sample(CUTS, rng.randint(1, 4))
    left, cloths = 60, []
    for i, (length, width) in enumerate(sides):
        count = rng.randint(4, max(4, left // (len(sides) - i)))
        left -= count
        cloths.append({"id": str(i), "length": length, "width": width, "count": count})
    return {"ask": "plan", "cloths": cloths, "pieces": [_piece(rng, i) for i in range(rng.randint(1, 8))]}


def _piece(rng: random.Random, number: int) -> dict:
    shape = rng.choice(["diamond", "diamond", "diamond", "half-diamond", "rectangle"])
    made = {"id": f"p{number}", "shape": shape, "size": rng.choice(SIZES), "need": rng.randint(10, 260)}
    return {
        **made,
        **({"length": rng.randint(3, 18)} if shape == "rectangle" else {"angle": rng.choice([60, 60, 45, 30])}),
    }


def best_plan(request: dict, seconds: float = 60, strips_too: bool = True) -> Best:
    """Least missing, then least opened, then fewest strips: as far as that is proved in so many seconds,
    patterns and model included.

    Seconds are the processor's, but for CP-SAT's own share, which it takes by the clock on the wall.
    """
    begun = process_time()
    left = lambda: seconds - (process_time() - begun)  # noqa: E731
    try:
        model, aims = _model(request, lambda: left() > 0)
    except Unfinished:
        return Best(seconds=process_time() - begun)
    proved = []
    for aim in aims if strips_too else aims[:-1]:
        model.minimize(aim)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.max_time_in_seconds = max(0.001, left())
        if solver.solve(model) != cp_model.OPTIMAL:
            break
        proved.append(round(solver.objective_value))
        model.add(aim <= proved[-1])
    missing, opened, strips = [*proved, None, None, None][:3]
    return Best(
        None if missing is None else missing / SCALE,
        None if opened is None else opened / _QUARTERS,
        strips,
        process_time() - begun,
    )


def _model(request: dict, in_time: Callable[[], bool]):
    """The choice among all patterns, and what it is to make least, in this order."""
    shapes = [read_piece(Fields(piece)) for piece in request["pieces"]]
    needs = [piece["need"] for piece in request["pieces"]]
    kinds = [(float(shape.size), shape.starter_waste, shape.advance, need) for shape, need in zip(shapes, needs)]
    model, opened, strips = cp_model.CpModel(), [], []
    per_kind = [[] for _ in kinds]
    for cloth in request["cloths"]:
        rows = patterns(cloth["length"], cloth["width"], kinds, in_time, cloth.get("one_way", False))
        chosen = [model.new_int_var(0, cloth["count"], "") for _ in rows]
        model.add(sum(chosen) <= cloth["count"])
        opened.append(round(_QUARTERS * cloth["length"] * cloth["width"]) * sum(chosen))
        strips += [-int(row[-1]) * variable for variable, row in zip(chosen, rows)]
        for k, terms in enumerate(per_kind):
            terms += [int(row[k]) * variable for variable, row in zip(chosen, rows) if row[k]]
    missing = 0
    for shape, need, terms in zip(shapes, needs, per_kind):
        made = model.new_int_var(0, need, "")
        model.add(made <= sum(terms))
        missing += round(shape.area * SCALE) * (need - made)
    return model, (missing, sum(opened), sum(strips))


def patterns(
    length: float, width: float, kinds, in_time: Callable[[], bool] = lambda: True, one_way: bool = False
) -> np.ndarray:
    """All ways to cut one cloth that no other one exceeds, whole or divided once; one way: with
    strips along its length only.
    """
    parts = _Parts(kinds, in_time)
    most = np.array([*(need for *_, need in kinds), 0])
    ways = [(length, width)] if one_way else [(length, width), (width, length)]
    found = [part for part in (parts.rows(*way) for way in ways) if part is not None]
    seen = set()
    for side, across in ways:
        for at in _places(side, kinds):
            first = parts.rows(at, across)
            for second in (parts.rows(side - at, across), None if one_way else parts.rows(across, side - at)):
                if first is None or second is None or (id(first), id(second)) in seen:
                    continue
                seen.add((id(first), id(second)))
                if len(first) * len(second) > _MOST_PAIRS:
                    raise Unfinished
                both = (first[:, None, :] + second[None, :, :]).reshape(-1, len(most))
                found.append(_undominated(np.minimum(both, most), in_time))
    return _undominated(np.concatenate(found), in_time) if found else np.zeros((0, len(most)), dtype=np.int64)


def _places(side: float, kinds) -> list[float]:
    """Where a division can matter: where a whole number of pieces of some kind just fits."""
    reached = {waste + n * advance for _, waste, advance, need in kinds for n in range(1, need + 1)}
    return sorted(at for at in reached if at < side - HAIR)


class _Parts:
    """The ways to fill a rectangle with strips of one run, kept by what matters of it."""

    def __init__(self, kinds, in_time: Callable[[], bool]) -> None:
        self._kinds, self._in_time, self._kept = kinds, in_time, {}

    def rows(self, run: float, breadth: float) -> np.ndarray | None:
        """None where nothing fits."""
        if run <= 0 or breadth <= 0:
            return None
        gives = tuple(
            min(need, max(0, math.floor((run - waste + HAIR) / advance))) for _, waste, advance, need in self._kinds
        )
        if (gives, breadth) not in self._kept:
            self._kept[gives, breadth] = (
                _undominated(self._filled(gives, breadth), self._in_time) if any(gives) else None
            )
        return self._kept[gives, breadth]

    def _filled(self, gives: tuple[int, ...], breadth: float) -> np.ndarray:
        rows, room = np.zeros((1, len(gives) + 1), dtype=np.int64), np.array([breadth + HAIR])
        for k, (size, _, _, need) in enumerate(self._kinds):
            if gives[k]:
                rows, room = self._with_strips(rows, room, k, size, need, gives[k])
        return rows

    def _with_strips(
        self, rows: np.ndarray, room: np.ndarray, k: int, size: float, need: int, give: int
    ) -> tuple[np.ndarray, np.ndarray]:
        """Every row with 0, 1, 2 … strips of a kind more, as long as there is room and need for them."""
        all_rows, all_rooms = [], []
        for strips in range(-(-need // give) + 1):
            fit = room >= strips * size
            more = rows[fit]
            more[:, k] = min(need, strips * give)
            more[:, -1] -= strips
            all_rows.append(more)
            all_rooms.append(room[fit] - strips * size)
        if sum(map(len, all_rows)) > _MOST_ROWS or not self._in_time():
            raise Unfinished
        return np.concatenate(all_rows), np.concatenate(all_rooms)


def _undominated(rows: np.ndarray, in_time: Callable[[], bool]) -> np.ndarray:
    """The rows that no other one equals or exceeds in every place."""
    rows = np.unique(rows, axis=0)
    rest = rows[np.argsort(-rows.sum(axis=1), kind="stable")]  # what exceeds a row has a greater sum: it comes first
    kept = []
    while len(rest):
        kept.append(rest[0])
        rest = rest[1:][~np.all(rest[1:] <= rest[0], axis=1)]
        if len(kept) > _MOST_KEPT or not in_time():
            raise Unfinished
    return np.array(kept)
