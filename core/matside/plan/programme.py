"""The linear programme that lets cloths be cut into fractions of patterns, its columns made as they are wanted.

Rows: each kind is made or missing; each sort of cloth is used no more often than it is there; where some may be missing
and the aim is another, no more than that. Its prices prove bounds in whole numbers, whatever the floats it reckons in.
"""

from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass

from .meter import Work
from .patterns import Pattern
from .problem import Problem, dot
from .simplex import INFINITE, Simplex

TINY = 1e-9
#: What a pattern has to gain at least.
_HELPS = 1e-7
#: What is missing beyond what may be costs so many times more than anything could in cloth.
_DEAR = 4.0
#: Prices that prove a bound are taken to such a part of a weight.
_FINE = 4096
#: A way back that is longer than this, and longer than there are columns, is going round in circles.
_MOST_EXCHANGES = 500


@dataclass(slots=True)
class Column:
    """A pattern in the programme: its sort, and where its column stands."""

    sort: int
    pattern: Pattern
    place: int


class Master:
    """What programmes over patterns have in common: columns, how they are taken in, and how a solution is read."""

    def __init__(self, problem: Problem, opened: tuple[int, ...]):
        self.problem = problem
        self.opened = opened
        self.sorts = [sort for sort, number in enumerate(opened) if number]
        self.kinds = range(len(problem.needs))
        self.heaviest = max(problem.weights)
        self.shares = [weight / self.heaviest for weight in problem.weights]
        self.largest = max((problem.sorts[sort].area for sort in self.sorts), default=1)
        self.row = {sort: row for row, sort in enumerate(self.sorts, len(self.kinds))}
        self.columns: list[Column] = []
        self._places: dict[tuple, int] = {}
        #: What one in the programme's cost stands for.
        self.unit = 1.0
        #: Columns that are whole where the patterns are: cloths that are spared of each sort, and others.
        self.sums = list(self.row.values())

    def _begin(self, rights: list[float], costs: list[float]) -> None:
        """The rows: first those of the kinds, each made or missing, then those of the sorts, and others behind them."""
        before = [float(need) for need in self.problem.needs] + [float(self.opened[sort]) for sort in self.sorts]
        self.simplex = Simplex(before + rights, costs)
        for kind in self.kinds:
            self._add([(kind, -1.0)], 0.0)

    def _add(self, entries: list[tuple[int, float]], cost: float) -> int:
        numbers = [0.0] * self.simplex.size
        for row, number in entries:
            numbers[row] += number
        return self.simplex.add(tuple(numbers), cost)

    def copy(self):
        """The same programme at the same point, to be changed without changing this one."""
        other = copy(self)
        other.simplex = self.simplex.copy()
        other.columns, other._places = list(self.columns), dict(self._places)
        return other

    def fork(self):
        """The same of the same patterns: none may be taken in any more."""
        other = copy(self)
        other.simplex = self.simplex.fork()
        return other

    def take(self, sort: int, pattern: Pattern) -> bool:
        """Takes in a pattern; whether it is new."""
        key = sort, self.key(pattern)
        if key in self._places:
            return False
        entries = [(k, float(number)) for k, number in enumerate(pattern.made) if number]
        place = self._add([*entries, (self.row[sort], 1.0), *self.entries(sort, pattern)], self.cost_of(sort, pattern))
        self._places[key] = place
        self.columns.append(Column(sort, pattern, place))
        return True

    def key(self, pattern: Pattern) -> tuple:
        """What tells a pattern from others of its sort."""
        return pattern.made

    def entries(self, sort: int, pattern: Pattern) -> list[tuple[int, float]]:
        """A pattern's numbers in the other rows."""
        return []

    def cost_of(self, sort: int, pattern: Pattern | None = None) -> float:
        """What a cloth of a sort costs, cut by a pattern."""
        raise NotImplementedError

    def proved(self) -> int:
        """What the objective is at least, within the present bounds and with these patterns
        only: exact, by weak duality.
        """
        raise NotImplementedError

    def optimise(self) -> Iterator[None]:
        """Exchanges columns until none of the known ones helps."""
        while self.simplex.improve():
            yield from self._pause()

    def mend(self) -> Work[bool | None]:
        """Finds the way back inside bounds that were changed; whether there is one, None where floats
        do not tell.
        """
        for _ in range(_MOST_EXCHANGES + len(self.simplex.columns)):
            exchanged = self.simplex.mend()
            if not exchanged:
                return exchanged is False
            yield from self._pause()
        return None

    def _pause(self) -> Iterator[None]:
        size = self.simplex.size
        self.problem.meter.add(1 + (len(self.simplex.columns) + size) * (10 + size) // 60)
        yield from self.problem.meter.pause()

    @property
    def value(self) -> float:
        """The cost of the present solution, in the objective's unit."""
        return self.simplex.cost * self.unit

    def mixed(self) -> list[tuple[int, Pattern, float]]:
        """The patterns of the present solution: sort, pattern, and how often (a fraction as well)."""
        used = self.simplex.solution()
        return [
            (column.sort, column.pattern, used[column.place])
            for column in self.columns
            if used.get(column.place, 0.0) > TINY
        ]

    def lows(self) -> list[tuple[int, Pattern, int]]:
        """The patterns that have to be cut, and how often at least."""
        lows = ((column, int(self.simplex.low[column.place])) for column in self.columns)
        return [(column.sort, column.pattern, low) for column, low in lows if low]

    def most_gained(self, gain_of) -> int:
        """The most that cloths gain within the present bounds, where a cloth of a sort cut by
        a pattern gains `gain_of` it.
        """
        gains: dict[int, list[tuple[int, int, float]]] = {sort: [] for sort in self.sorts}
        simplex = self.simplex
        for column in self.columns:
            bounds = int(simplex.low[column.place]), simplex.high[column.place]
            gains[column.sort].append((gain_of(column.sort, column.pattern), *bounds))
        return sum(_most(found, *self._numbers(sort)) for sort, found in gains.items())

    def _numbers(self, sort: int) -> tuple[int, int]:
        """How many cloths of a sort may be cut at least and at most, by the bounds of those that are spared."""
        spare = self.row[sort]
        spared_at_most = self.simplex.high[spare]
        least = 0 if spared_at_most == INFINITE else max(0, self.opened[sort] - int(spared_at_most))
        return least, self.opened[sort] - int(self.simplex.low[spare])


class Programme(Master):
    """Aim "missing" asks for the least weight missing; aim "area" for the least cloth with no
    more than `allowed` missing.

    For solutions `in_whole` numbers a single piece that must not be missing costs more than all cloths.
    """

    def __init__(
        self, problem: Problem, opened: tuple[int, ...], aim: str, allowed: float = 0.0, in_whole: bool = False
    ):
        super().__init__(problem, opened)
        self.aim = aim
        self.allowed = allowed if aim != "missing" else 0.0
        self.unit = self.heaviest if aim == "missing" else float(self.largest)
        self.scale = 0.0
        penalty = 1.0 if aim == "missing" else self._penalty(in_whole)
        costs = [penalty * share for share in self.shares] + [0.0] * len(self.sorts)
        if self.allowed <= 0:
            self._begin([], costs)
            return
        self._begin([self.allowed / self.heaviest], [*costs, 0.0])
        for kind, share in zip(self.kinds, self.shares):
            self._add([(kind, 1.0), (len(costs), share)], 0.0)

    def cost_of(self, sort: int, pattern: Pattern | None = None) -> float:
        """What a cloth of a sort costs: its area, as a share of the largest."""
        return 0.0 if self.aim == "missing" else self.problem.sorts[sort].area / self.largest

    def _penalty(self, in_whole: bool) -> float:
        """More than any piece could cost in cloth, so that nothing is missing where nothing need be."""
        if in_whole:
            return (
                _DEAR * sum(number * self.cost_of(sort) for sort, number in enumerate(self.opened)) / min(self.shares)
            )
        singles = (
            self.cost_of(sort) / most / share
            for sort in self.sorts
            for most, share in zip(self.problem.sorts[sort].most, self.shares)
            if most
        )
        return _DEAR * max(singles, default=1.0)

    def whole_prices(self) -> tuple[float, ...]:
        """The programme's prices in weights: whole numbers, none above a piece's own weight."""
        duals = [max(0.0, price) for price in self.simplex.prices()[: len(self.kinds)]]
        weights = self.problem.weights
        dearest = max(d / w for d, w in zip(duals, weights))
        self.scale = self.heaviest if self.aim == "missing" else 1.0 / max(TINY * TINY, dearest)
        return tuple(float(min(round(d * self.scale), w)) for d, w in zip(duals, weights))

    def improves(self, worths: dict[int, float]) -> bool:
        """Whether some pattern found at these prices helps, so that another round is worth its while."""
        return any(worths[sort] > self.least_worth(sort) for sort in self.sorts)

    def least_worth(self, sort: int) -> float:
        """What a pattern must be worth more than at the whole prices, so that it helps."""
        return (self.cost_of(sort) - self.simplex.prices()[self.row[sort]] + _HELPS) * self.scale

    def proved(self) -> int:
        """The least missing, or the least area, within the present bounds and with these patterns
        only: exact, by weak duality.
        """
        prices = self._fine_prices()
        of_area = 0 if self.aim == "missing" else round(self.scale * _FINE)
        of_weight = 1 if self.aim == "missing" else self.largest
        least = of_weight * (dot(prices, self.problem.needs) - _FINE * int(self.allowed))
        areas = [of_area * sort.area for sort in self.problem.sorts]
        least -= self.most_gained(lambda sort, pattern: of_weight * dot(prices, pattern.made) - areas[sort])
        return -(-least // (_FINE if self.aim == "missing" else of_area)) if least > 0 else 0

    def _fine_prices(self) -> list[int]:
        """The programme's prices in small parts of a weight."""
        self.whole_prices()
        duals = [max(0.0, price) * self.scale * _FINE for price in self.simplex.prices()[: len(self.kinds)]]
        return [min(round(d), int(w) * _FINE) for d, w in zip(duals, self.problem.weights)]


def _most(found: list[tuple[int, int, float]], at_least: int, at_most: int) -> int:
    """The most that so many cloths gain, each pattern (gain, low, high) cut within its bounds."""
    total = sum(gain * low for gain, low, _ in found)
    number = sum(low for _, low, _ in found)
    for gain, low, high in sorted(found, reverse=True):
        wanted = at_most if gain > 0 else at_least
        more = int(min(high - low, max(0, wanted - number)))
        total += gain * more
        number += more
    return total
