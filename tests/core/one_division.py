"""The most area out of one cloth of a one-way print by another road: every division by itself,
and CP-SAT to fill both parts.

No patterns are written out, so that fifty kinds can be compared.
"""

from ortools.sat.python import cp_model

Kind = tuple[int, int, int]  # the width of a strip, the length of a piece, how many are needed


def most_area(length: int, width: int, kinds: list[Kind], seconds: float = 60) -> int:
    """The largest area of rectangles from strips along the length, whole or divided once;
    RuntimeError if that takes too long.
    """
    best = 0
    for gives in _undominated({_gives(at, length, kinds) for at in _places(length, kinds)}):
        best = max(best, _filled(gives, width, kinds, min(best + 1, length * width), seconds))
    return best


def _places(length: int, kinds: list[Kind]) -> set[int]:
    """Where a division can matter: where a whole number of pieces just fits; the whole length is a part as well."""
    return {length} | {n * piece for _, piece, need in kinds for n in range(1, need + 1) if n * piece < length}


def _gives(at: int, length: int, kinds: list[Kind]) -> tuple[int, ...]:
    """What a strip of each kind gives in both parts, up to the need, the larger part first."""
    parts = sorted((at, length - at), reverse=True)
    return tuple(min(need, part // piece) for part in parts for _, piece, need in kinds)


def _undominated(found: set[tuple[int, ...]]) -> list[tuple[int, ...]]:
    return [
        one
        for one in sorted(found, reverse=True)
        if not any(one != other and all(a <= b for a, b in zip(one, other)) for other in found)
    ]


def _filled(gives: tuple[int, ...], width: int, kinds: list[Kind], least: int, seconds: float) -> int:
    """The largest area of at least so much; 0 if there is none."""
    model, area, breadths = cp_model.CpModel(), 0, [0, 0]
    for k, (size, piece, need) in enumerate(kinds):
        pieces = 0
        for part in (0, 1):
            give = gives[part * len(kinds) + k]
            if give and size <= width:
                strips = model.new_int_var(0, min(-(-need // give), width // size), "")
                breadths[part] += size * strips
                pieces += give * strips
        made = model.new_int_var(0, need, "")
        model.add(made <= pieces)
        area += size * piece * made
    for breadth in breadths:
        model.add(breadth <= width)
    model.add(area >= least)
    model.maximize(area)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.INFEASIBLE):
        raise RuntimeError("CP-SAT did not finish")
    return round(solver.objective_value) if status == cp_model.OPTIMAL else 0
