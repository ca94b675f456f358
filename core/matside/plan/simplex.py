"""A small revised simplex method with bounds, for linear programmes whose columns are made as they are wanted.

Minimise cost · x over A x = b, b ≥ 0, with bounds on every x. The first columns, one for each row, are unit columns and
make up the first basis. More columns may come at any time, and bounds may change at any time: `improve` goes on to a
lower cost, `mend` finds the way back inside the bounds. Both do one exchange of columns at a time, so that whoever
calls them can give way in between."""

from copy import copy
from operator import mul

INFINITE = float("inf")
_TINY = 1e-9
#: A smaller pivot is taken only where there is no other: it may be nothing but an error of the floats.
_SMALL = 1e-7
#: How far a value may lie outside its bounds, and what a column must gain at least to be taken.
_OUTSIDE = 1e-7
_GAIN = 1e-7
#: Exchanges until the inverse is worked out anew, so that errors do not add up.
_MOST_EXCHANGES = 60


class Simplex:
    """Columns with their costs and bounds; `basis` holds a column for each row, with its value in `values`.

    A column outside the basis stands at one of its bounds, `at`.
    """

    def __init__(self, right: list[float], costs: list[float]):
        size = self.size = len(right)
        self.right = list(right)
        self.columns: list[tuple[float, ...]] = []
        self.costs: list[float] = []
        self.low: list[float] = []
        self.high: list[float] = []
        self.at: list[float] = []
        self.is_basic: list[bool] = []
        for row, cost in enumerate(costs):
            self.add(tuple([float(row == i) for i in range(size)]), cost)
        self.is_basic = [True] * size
        self.basis = list(range(size))
        self.values = list(right)
        self._inverse = [list(column) for column in self.columns]
        self._exchanges = 0

    def copy(self) -> "Simplex":
        """The same programme at the same point, to be changed without changing this one."""
        other = self.fork()
        other.columns, other.costs = list(self.columns), list(self.costs)
        return other

    def fork(self) -> "Simplex":
        """The same, but of the same columns: no more may be added to either."""
        other = copy(self)
        for name in ("low", "high", "at", "is_basic", "basis", "values"):
            setattr(other, name, list(getattr(self, name)))
        # Rows are never changed in place.
        other._inverse = list(self._inverse)
        return other

    def add(self, column: tuple[float, ...], cost: float, high: float = INFINITE) -> int:
        """Takes in a column, used 0 times, with a number for each row; its place among the columns."""
        self.columns.append(column)
        self.costs.append(cost)
        self.low.append(0.0)
        self.high.append(high)
        self.at.append(0.0)
        self.is_basic.append(False)
        return len(self.columns) - 1

    def prices(self) -> list[float]:
        """What one more of each row's right side would cost."""
        costs = [self.costs[j] for j in self.basis]
        return [sum(map(mul, costs, column)) for column in zip(*self._inverse)]

    @property
    def cost(self) -> float:
        """The cost of the present solution."""
        basic = sum(self.costs[j] * value for j, value in zip(self.basis, self.values))
        return basic + sum(cost * at for cost, at, basic in zip(self.costs, self.at, self.is_basic) if at and not basic)

    def solution(self) -> dict[int, float]:
        """How often each column is used, of those that are."""
        found = {j: at for j, (at, basic) in enumerate(zip(self.at, self.is_basic)) if at and not basic}
        found.update((j, value) for j, value in zip(self.basis, self.values) if value > _OUTSIDE)
        return found

    def bound(self, column: int, low: float, high: float) -> None:
        """Changes the bounds of a column; the present solution may lie outside them then, until it is mended."""
        self.low[column], self.high[column] = low, high
        if not self.is_basic[column]:
            self._move(column, min(max(self.at[column], low), high))

    def _move(self, column: int, to: float) -> None:
        by = to - self.at[column]
        if by:
            self.at[column] = to
            self.values = [value - by * step for value, step in zip(self.values, self._change(column))]

    def _change(self, column: int) -> list[float]:
        numbers = self.columns[column]
        return [sum(map(mul, row, numbers)) for row in self._inverse]

    def improve(self) -> bool:
        """From a solution within all bounds one exchange to a cheaper one; False when no known column helps."""
        prices, best, entering, up = self.prices(), _GAIN, -1, True
        at, low, high, costs = self.at, self.low, self.high, self.costs
        for j, numbers in enumerate(self.columns):
            if not self.is_basic[j]:
                gain = sum(map(mul, prices, numbers)) - costs[j]
                if gain > best and at[j] < high[j]:
                    best, entering, up = gain, j, True
                elif -gain > best and at[j] > low[j]:
                    best, entering, up = -gain, j, False
        return entering >= 0 and self._enter(entering, 1.0 if up else -1.0)

    def _enter(self, j: int, sign: float) -> bool:
        """Moves a column up or down from its bound until another one is at its own; False when
        it may move without end.
        """
        change = self._change(j)
        step, leaving, largest = self.high[j] - self.low[j], -1, 0.0
        for i, by in enumerate(change):
            room = self._room(i, sign * by)
            # Of columns that leave at the same step the one with the largest number is safest.
            if room < step - _TINY or room <= step + _TINY and abs(by) > largest:
                step, leaving, largest = min(room, step), i, abs(by)
        if step == INFINITE:
            return False
        if leaving < 0:
            self._move(j, self.at[j] + sign * step)
            return True
        out = self.basis[leaving]
        self.values = [value - sign * step * by for value, by in zip(self.values, change)]
        self._exchange(
            leaving,
            j,
            self.at[j] + sign * step,
            self.low[out] if sign * change[leaving] > 0 else self.high[out],
            change,
        )
        return True

    def _room(self, row: int, fall: float) -> float:
        """How many steps, each of which lowers a row's value by `fall`, lead to its bound."""
        if fall > _SMALL:
            return max(0.0, self.values[row] - self.low[self.basis[row]]) / fall
        if fall < -_SMALL and self.high[self.basis[row]] < INFINITE:
            return max(0.0, self.high[self.basis[row]] - self.values[row]) / -fall
        return INFINITE

    def mend(self) -> bool | None:
        """From prices at which no column helps one exchange back towards the bounds.

        False when all is inside them, None when nothing ever can be.
        """
        row, low = self._worst()
        if row < 0:
            return False
        entering = self._mending(self._inverse[row], -1.0 if low else 1.0)
        if entering < 0:
            return None
        change, out = self._change(entering), self.basis[row]
        to = self.low[out] if low else self.high[out]
        step = (self.values[row] - to) / change[row]
        self.values = [value - step * by for value, by in zip(self.values, change)]
        self._exchange(row, entering, self.at[entering] + step, to, change)
        return True

    def _worst(self) -> tuple[int, bool]:
        """The row whose value lies farthest outside its bounds, and whether below; row -1 when none does."""
        row, worst, below = -1, _OUTSIDE, True
        for i, (j, value) in enumerate(zip(self.basis, self.values)):
            if self.low[j] - value > worst:
                row, worst, below = i, self.low[j] - value, True
            elif value - self.high[j] > worst:
                row, worst, below = i, value - self.high[j], False
        return row, below

    def _mending(self, line: list[float], sign: float) -> int:
        """The column that brings a row back at the least cost, -1 when none does."""
        safe = self._cheapest(line, sign, _SMALL)
        return safe if safe >= 0 else self._cheapest(line, sign, _TINY)

    def _cheapest(self, line: list[float], sign: float, smallest: float) -> int:
        prices, least, entering, largest = self.prices(), INFINITE, -1, 0.0
        for j, numbers in enumerate(self.columns):
            if self.is_basic[j] or self.low[j] == self.high[j]:
                continue
            step = sign * sum(map(mul, line, numbers))
            if step > smallest if self.at[j] == self.low[j] else step < -smallest:
                ratio = abs(self.costs[j] - sum(map(mul, prices, numbers))) / abs(step)
                if ratio < least - _TINY or ratio <= least + _TINY and abs(step) > largest:
                    least, entering, largest = min(ratio, least), j, abs(step)
        return entering

    def _exchange(self, row: int, j: int, value: float, out_at: float, change: list[float]) -> None:
        """Puts a column with its value into the basis instead of that of a row, which goes to a bound."""
        out = self.basis[row]
        self.is_basic[out], self.at[out] = False, out_at
        self.is_basic[j] = True
        self.basis[row], self.values[row] = j, value
        inverse, pivot = self._inverse, change[row]
        pivot_row = inverse[row] = [number / pivot for number in inverse[row]]
        for i, by in enumerate(change):
            if i != row and by:
                inverse[i] = [x - by * y for x, y in zip(inverse[i], pivot_row)]
        self._exchanges += 1
        if self._exchanges > _MOST_EXCHANGES:
            self._refresh()

    def _refresh(self) -> None:
        """Works the inverse and the values out anew; from the unit columns where errors have made the basis useless."""
        self._exchanges = 0
        inverse = _inverse([[self.columns[j][i] for j in self.basis] for i in range(self.size)])
        if inverse is None:
            self._stand_at_bounds()
            inverse = [list(column) for column in self.columns[: self.size]]
        self._inverse = inverse
        right = list(self.right)
        for column, at, basic in zip(self.columns, self.at, self.is_basic):
            if at and not basic:
                right = [number - at * step for number, step in zip(right, column)]
        self.values = [sum(map(mul, row, right)) for row in self._inverse]

    def _stand_at_bounds(self) -> None:
        """Puts the unit columns into the basis, and every other one at its lower bound."""
        self.at = list(self.low)
        self.basis = list(range(self.size))
        self.is_basic = [j < self.size for j in range(len(self.columns))]


def _inverse(matrix: list[list[float]]) -> list[list[float]] | None:
    """The inverse, by elimination with the largest pivot of each column; None when there is none."""
    size = len(matrix)
    rows = [[*row, *(float(i == k) for k in range(size))] for i, row in enumerate(matrix)]
    for c in range(size):
        largest = max(range(c, size), key=lambda i: abs(rows[i][c]))
        rows[c], rows[largest] = rows[largest], rows[c]
        pivot = rows[c][c]
        if abs(pivot) < _TINY:
            return None
        top = rows[c] = [number / pivot for number in rows[c]]
        for i in range(size):
            factor = rows[i][c]
            if i != c and factor:
                rows[i] = [x - factor * y for x, y in zip(rows[i], top)]
    return [row[size:] for row in rows]
