"""The same choice among all patterns as in `all_patterns`, by another solver: HiGHS, which knows CP-SAT's
ways as little as the core's.
"""

import highspy
import numpy as np

from all_patterns import patterns_of

_SLACK = 1e-5  # square inches: what the second step may miss beyond the first
_EXACT = {
    "mip_rel_gap": 0.0,
    "mip_abs_gap": 1e-6,
    "mip_feasibility_tolerance": 1e-9,
    "primal_feasibility_tolerance": 1e-9,
}


def best_plan_by_highs(
    shapes, needs: list[int], cloths: list[tuple[int, int, int]], seconds: float = 60
) -> tuple[float, float]:
    """Least missing area, and the least area of cloths opened for that; `cloths` are (length, width, count)."""
    kinds = [(float(s.size), s.starter_waste, s.advance, need) for s, need in zip(shapes, needs)]
    sorts = [patterns_of(length, width, kinds) for length, width, _ in cloths]
    columns = [(number, pattern) for number, patterns in enumerate(sorts) for pattern in patterns]
    areas = np.array([shape.area for shape in shapes])
    # Columns: how often each pattern is cut, then the pieces of each kind that are missing.
    chosen, kinds_missing = len(columns), len(needs)
    matrix = np.zeros((len(needs) + len(cloths) + 1, chosen + kinds_missing))
    for j, (number, pattern) in enumerate(columns):
        matrix[: len(needs), j] = pattern
        matrix[len(needs) + number, j] = 1
    matrix[: len(needs), chosen:] = np.eye(kinds_missing)
    matrix[-1, chosen:] = areas
    missing = np.concatenate([np.zeros(chosen), areas])
    opened = np.concatenate([[cloths[number][0] * cloths[number][1] for number, _ in columns], np.zeros(kinds_missing)])
    most = np.array([cloths[number][2] for number, _ in columns] + list(needs), dtype=float)
    lower = np.array([*map(float, needs), *[-highspy.kHighsInf] * (len(cloths) + 1)])
    upper = np.array([*[highspy.kHighsInf] * len(needs), *[float(count) for *_, count in cloths], highspy.kHighsInf])
    least = _least(missing, matrix, lower, upper, most, seconds)
    upper[-1] = least + _SLACK
    return least, _least(opened, matrix, lower, upper, most, seconds)


def _least(costs, matrix, lower, upper, most, seconds: float) -> float:
    """The least cost of whole numbers from 0 to `most` each, with rows from lower to upper."""
    programme = highspy.HighsLp()
    rows, programme.num_col_ = matrix.shape
    programme.num_row_ = rows
    programme.col_cost_, programme.col_lower_, programme.col_upper_ = costs, np.zeros(len(costs)), most
    programme.row_lower_, programme.row_upper_ = lower, upper
    programme.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    across = matrix.T
    filled = across != 0
    programme.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    programme.a_matrix_.start_ = np.concatenate([[0], np.cumsum(filled.sum(axis=1))]).astype(np.int32)
    programme.a_matrix_.index_ = np.nonzero(filled)[1].astype(np.int32)
    programme.a_matrix_.value_ = across[filled]
    solver = highspy.Highs()
    for name, value in {"output_flag": False, "threads": 1, "time_limit": float(seconds), **_EXACT}.items():
        solver.setOptionValue(name, value)
    solver.passModel(programme)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError("HiGHS did not finish: take a smaller instance")
    return solver.getInfo().objective_function_value
