"""The best plan by another road: every pattern that a cloth can be cut to, and OR-Tools' CP-SAT to choose among them.

Nothing here is the core's but its shapes' measures (strip width, starter waste, advance, area). The cutting rule is
read anew: a cloth whole or divided once, each part in parallel strips all one way, each strip of one kind."""

import math

import numpy as np
from ortools.sat.python import cp_model

HAIR = 1e-9
SCALE = 100_000  # areas of pieces as whole numbers: to a hundred-thousandth of a square inch


def best_plan(shapes, needs: list[int], cloths: list[tuple[int, int, int]], seconds: float = 60) -> tuple[float, int]:
    """Least missing area, and the least area of cloths opened for that; `cloths` are (length,
    width, count), whole inches.
    """
    kinds = [(float(s.size), s.starter_waste, s.advance, need) for s, need in zip(shapes, needs)]
    areas = [shape.area for shape in shapes]
    model, made, used = cp_model.CpModel(), [], []
    per_kind = [[] for _ in kinds]
    for length, width, count in cloths:
        patterns = patterns_of(length, width, kinds)
        chosen = [model.new_int_var(0, count, "") for _ in patterns]
        model.add(sum(chosen) <= count)
        used += [(variable, length * width) for variable in chosen]
        for variable, pattern in zip(chosen, patterns):
            for terms, pieces in zip(per_kind, pattern):
                terms.append(int(pieces) * variable)
    for need, terms in zip(needs, per_kind):
        made.append(model.new_int_var(0, need, ""))
        model.add(made[-1] <= sum(terms))
    opened = sum(area * variable for variable, area in used)
    beyond = sum(length * width * count for length, width, count in cloths) + 1
    model.maximize(sum(round(area * SCALE) * pieces for area, pieces in zip(areas, made)) * beyond - opened)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    if solver.solve(model) != cp_model.OPTIMAL:
        raise RuntimeError("CP-SAT did not finish: take a smaller instance")
    missing = sum(area * (need - solver.value(pieces)) for area, need, pieces in zip(areas, needs, made))
    return missing, sum(area * solver.value(variable) for variable, area in used)


def patterns_of(length: float, width: float, kinds) -> list[tuple[int, ...]]:
    """What one cloth can give, as pieces of each kind, without what another pattern exceeds."""
    found = {*_rectangle(length, width, kinds), *_rectangle(width, length, kinds)}
    for side, across in ((length, width), (width, length)):
        for at in _places(side, kinds):
            # The first part's strips run up to the division; the other part's run either way.
            first = _rectangle(at, across, kinds)
            for second in (_rectangle(side - at, across, kinds), _rectangle(across, side - at, kinds)):
                found |= {
                    tuple(min(a + b, kind[3]) for a, b, kind in zip(one, other, kinds))
                    for one in first
                    for other in second
                }
        # A part with strips along the division takes what the other, cut the same way, leaves: no place of its own.
    return _undominated(found)


def _places(side: float, kinds) -> list[float]:
    """Where a division can matter: where a whole number of pieces of some kind just fits."""
    reached = {waste + n * advance for _, waste, advance, need in kinds for n in range(1, need + 1)}
    return sorted(at for at in reached if at < side - HAIR)


def _rectangle(run: float, breadth: float, kinds) -> list[tuple[int, ...]]:
    """All full ways to fill a breadth with strips of this run, as pieces of each kind, up to the needs."""
    gives = [max(0, math.floor((run - waste + HAIR) / advance)) for _, waste, advance, _ in kinds]
    most = [-(-need // give) if give else 0 for give, (_, _, _, need) in zip(gives, kinds)]
    found: set[tuple[int, ...]] = set()

    def fill(k: int, room: float, made: tuple[int, ...]) -> None:
        if k == len(kinds):
            found.add(made)
            return
        size, _, _, need = kinds[k]
        for strips in range(min(most[k], math.floor((room + HAIR) / size)) + 1):
            fill(k + 1, room - strips * size, (*made, min(need, strips * gives[k])))

    if breadth > 0:
        fill(0, breadth, ())
    return _undominated(found)


def _undominated(found: set[tuple[int, ...]]) -> list[tuple[int, ...]]:
    rest = np.array(sorted(found, key=lambda made: -sum(made)), dtype=np.int64)
    kept = []
    while len(rest):
        kept.append(tuple(int(n) for n in rest[0]))
        rest = rest[1:][~np.all(rest[1:] <= rest[0], axis=1)]
    return kept
