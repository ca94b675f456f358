"""A small revised simplex method for linear programmes whose columns are made as they are wanted.

Minimise cost · x over x ≥ 0 with A x = b, b ≥ 0, where the first basis is one of unit columns. The caller finds the
column that would help most at the present prices and hands it over; `enter` exchanges it for one of the basis.
"""

_TINY = 1e-9


class Simplex:
    """The basis: for each row the column in it with its cost and value, and the inverse of the basis' matrix."""

    def __init__(self, right: list[float], costs: list[float], names: list):
        size = len(right)
        self.values = list(right)
        self.costs = list(costs)
        self.names = list(names)
        self._inverse = [[1.0 if i == j else 0.0 for j in range(size)] for i in range(size)]

    def prices(self) -> list[float]:
        """What one more of each row's right side would cost."""
        size = len(self.costs)
        found = [0.0] * size
        for cost, row in zip(self.costs, self._inverse):
            if cost:
                for j in range(size):
                    found[j] += cost * row[j]
        return found

    @property
    def cost(self) -> float:
        """Cost of the present solution."""
        return sum(cost * value for cost, value in zip(self.costs, self.values))

    def enter(self, name, cost: float, column: list[tuple[int, float]]) -> bool:
        """Brings a column (row, number; the others 0) into the basis; False when it may grow without end."""
        inverse = self._inverse
        change = [sum(row[i] * number for i, number in column) for row in inverse]
        least, leaving = None, -1
        for i, step in enumerate(change):
            if step > _TINY:
                ratio = self.values[i] / step
                if least is None or ratio < least:
                    least, leaving = ratio, i
        if leaving < 0:
            return False
        self._exchange(leaving, least, change)
        self.names[leaving], self.costs[leaving], self.values[leaving] = name, cost, least
        return True

    def _exchange(self, leaving: int, least: float, change: list[float]) -> None:
        inverse, pivot = self._inverse, change[leaving]
        pivot_row = inverse[leaving] = [number / pivot for number in inverse[leaving]]
        for i, step in enumerate(change):
            if i != leaving and step:
                self.values[i] = max(0.0, self.values[i] - step * least)
                inverse[i] = [x - step * y for x, y in zip(inverse[i], pivot_row)]
