"""Least squares for a handful of unknowns: Gauss–Newton steps, damped (Levenberg–Marquardt) where they overshoot."""

from collections.abc import Callable

Matrix = list[list[float]]
Misses = Callable[[list[float]], tuple[list[float], Matrix]]

MOST_STEPS = 200
#: Where even steps of this share of the unknowns lead no lower, it is the lowest.
STILL = 1e-12


def least_squares(misses: Misses, start: list[float], lowest: float, highest: float) -> tuple[list[float], Matrix]:
    """The unknowns with the least sum of squared misses, and the slopes there.

    `misses` gives the misses and their slopes. All unknowns stay above `lowest`, the last (an angle) below `highest`.
    It always ends: after `MOST_STEPS` steps with the best so far.

    >>> line = lambda unknowns: ([unknowns[0] + 1.0 - 3.0, unknowns[0] + 1.0 - 4.0], [[1.0], [1.0]])
    >>> round(least_squares(line, [1.0], 0.0, 10.0)[0][0], 9)
    2.5
    """
    here, damping = start, 1e-6
    left, slopes = misses(here)
    for _ in range(MOST_STEPS):
        step = _step(left, slopes, damping)
        if step is not None:
            there = _kept_inside(here, step, lowest, highest)
            found = misses(there)
            if _squares(found[0]) < _squares(left):
                here, (left, slopes), damping = there, found, damping / 10
                continue
            if max(map(abs, step)) <= STILL * max(map(abs, here)):
                break
        damping = damping * 10
    return here, slopes


def inverse(matrix: Matrix) -> Matrix | None:
    """The inverse of a small matrix by elimination with the largest pivot; None where there is none.

    >>> inverse([[2.0, 0.0], [0.0, 4.0]])
    [[0.5, 0.0], [0.0, 0.25]]
    >>> inverse([[1.0, 1.0], [1.0, 1.0]]) is None
    True
    """
    size = len(matrix)
    rows = [list(row) + [float(i == j) for j in range(size)] for i, row in enumerate(matrix)]
    for i in range(size):
        pivot = max(range(i, size), key=lambda r: abs(rows[r][i]))
        if abs(rows[pivot][i]) < 1e-300:
            return None
        rows[i], rows[pivot] = rows[pivot], rows[i]
        rows[i] = [value / rows[i][i] for value in rows[i]]
        for r in range(size):
            if r != i:
                rows[r] = [value - rows[r][i] * top for value, top in zip(rows[r], rows[i])]
    return [row[size:] for row in rows]


def _step(left: list[float], slopes: Matrix, damping: float) -> list[float] | None:
    """The damped step: −(JᵀJ + damping · its diagonal)⁻¹ Jᵀ · misses."""
    count = len(slopes[0])
    squares = [[sum(row[i] * row[j] for row in slopes) for j in range(count)] for i in range(count)]
    for i in range(count):
        squares[i][i] *= 1 + damping
    turned = inverse(squares)
    pull = [sum(row[i] * miss for row, miss in zip(slopes, left)) for i in range(count)]
    return turned and [-sum(a * b for a, b in zip(row, pull)) for row in turned]


def _kept_inside(here: list[float], step: list[float], lowest: float, highest: float) -> list[float]:
    """The step halved until every unknown stays inside."""
    for _ in range(60):
        there = [a + b for a, b in zip(here, step)]
        if min(there) > lowest and there[-1] < highest:
            return there
        step = [part / 2 for part in step]
    return here


def _squares(values: list[float]) -> float:
    return sum(value * value for value in values)
