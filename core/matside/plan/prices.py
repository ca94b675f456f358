"""Prices for pieces that prove how little can be reached with given cloths.

For any prices of 0 up to a piece's weight, the pieces that a set of cloths leaves missing weigh at least
prices · needs − Σ (the most one cloth of the set is worth at these prices). Weak for most prices and very good for
the right ones, which are the dual solution of the linear programme that lets cloths be cut into fractions of
patterns. Its columns, the patterns, are made as they are wanted.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from .patterns import Pattern
from .problem import Problem, dot
from .simplex import Simplex

_MOST_ROUNDS = 40
_MOST_EXCHANGES = 400
_MOST_BRANCHES = 1000
_TINY = 1e-9


@dataclass(slots=True)
class Prices:
    """Whole-number prices of the kinds, and the most that a cloth of a sort is worth, for the sorts looked at."""

    prices: tuple[float, ...]
    worths: dict[int, float] = field(default_factory=dict)

    def missing(self, problem: Problem, opened: tuple[int, ...]) -> float:
        """The weight that these cloths leave missing at least; 0 when a sort among them has not been looked at."""
        worth = 0.0
        for sort, number in enumerate(opened):
            if number:
                if sort not in self.worths:
                    return 0.0
                worth += number * self.worths[sort]
        return dot(self.prices, problem.needs) - worth

    def tightness(self, problem: Problem, opened: tuple[int, ...]) -> float:
        """The share of what these cloths are worth that is needed; of those that prove no lack, the best prices have most."""
        worth = sum(number * self.worths[sort] for sort, number in enumerate(opened) if number)
        return dot(self.prices, problem.needs) / worth if worth else 0.0


class Book:
    """All prices that were looked at in a search, and every pattern that was found best at some of them."""

    def __init__(self, problem: Problem):
        self.problem = problem
        self.patterns: list[dict[tuple[int, ...], Pattern]] = [{} for _ in problem.sorts]
        self.prices: dict[tuple[float, ...], Prices] = {}

    def look(self, prices: tuple[float, ...], opened: tuple[int, ...]) -> Iterator[None]:
        """The prices with the worths of all sorts that are opened (returned by `yield from`)."""
        known = self.prices.setdefault(prices, Prices(prices))
        for sort, number in enumerate(opened):
            if number and sort not in known.worths:
                # What is known already is a start that all other patterns have to exceed.
                least = max((dot(prices, made) for made in self.patterns[sort]), default=-1.0)
                best = self.problem.sorts[sort].patterns.best(prices, self.problem.needs, least, _MOST_BRANCHES)
                known.worths[sort] = best.most
                if best.pattern:
                    self.patterns[sort].setdefault(best.pattern.made, best.pattern)
                yield from self.problem.meter.pause()
        return known

    def complete(self, opened: tuple[int, ...]) -> list[Prices]:
        """The known prices, not all 0, at which all sorts among these cloths have been looked at."""
        wanted = {sort for sort, number in enumerate(opened) if number}
        return [prices for prices in self.prices.values() if wanted <= prices.worths.keys() and any(prices.prices)]

    def tightest(self, opened: tuple[int, ...]) -> Prices:
        """Of the known prices those at which most of what these cloths are worth is needed."""
        return max(self.complete(opened), key=lambda prices: prices.tightness(self.problem, opened))

    def missing(self, opened: tuple[int, ...]) -> float:
        """The best bound that all known prices give for these cloths."""
        bounds = (prices.missing(self.problem, opened) for prices in self.prices.values())
        return max(0.0, max(bounds, default=0.0))


@dataclass(slots=True)
class Mixture:
    """A solution of the linear programme: the best prices that came up, and how often each pattern is cut."""

    prices: Prices
    missing: float
    mixed: list[tuple[int, tuple[int, ...], float]]


def mixture(book: Book, opened: tuple[int, ...], aim: str, enough: float) -> Iterator[None]:
    """The linear programme for these cloths, by column generation; stops once more than `enough` is proved missing.

    Aim "missing" asks for the least weight missing; aim "area" asks for the least cloth with nothing missing.
    Returns a `Mixture` (by `yield from`).
    """
    programme = _Programme(book, opened, aim)
    best, best_rating, bound, prices = None, 0.0, 0.0, None
    for _ in range(_MOST_ROUNDS):
        yield from programme.optimise()
        before, prices = prices, (yield from book.look(programme.whole_prices(), opened))
        if prices is before:
            break
        found = prices.missing(book.problem, opened)
        rating = found if aim == "missing" else prices.tightness(book.problem, opened)
        if best is None or rating > best_rating:
            best, best_rating = prices, rating
        bound = max(bound, found)
        if bound > enough or not programme.improves(prices):
            break
    return Mixture(best, bound, programme.mixed())


class _Programme:
    """Rows: each kind is made or missing; each sort of cloth is used no more often than it is there."""

    def __init__(self, book: Book, opened: tuple[int, ...], aim: str):
        problem = self.problem = book.problem
        self.book = book
        self.sorts = [sort for sort, number in enumerate(opened) if number]
        self.kinds = range(len(problem.needs))
        heaviest = max(problem.weights)
        if aim == "missing":
            self.cut_costs = {sort: 0.0 for sort in self.sorts}
            self.unit = heaviest
        else:
            largest = max(problem.sorts[sort].area for sort in self.sorts)
            self.cut_costs = {sort: problem.sorts[sort].area / largest for sort in self.sorts}
            self.unit = None
        penalty = 1.0 if aim == "missing" else self._penalty(heaviest)
        self.lack_costs = [weight / heaviest * penalty for weight in problem.weights]
        rights = [float(need) for need in problem.needs] + [float(opened[sort]) for sort in self.sorts]
        names = [("lack", k) for k in self.kinds] + [("spare", sort) for sort in self.sorts]
        self.simplex = Simplex(rights, self.lack_costs + [0.0] * len(self.sorts), names)

    def _penalty(self, heaviest: float) -> float:
        """More than any piece could cost in cloth, so that nothing is missing where nothing need be."""
        singles = (
            self.cut_costs[sort] / most / (weight / heaviest)
            for sort in self.sorts
            for most, weight in zip(self.problem.sorts[sort].most, self.problem.weights)
            if most
        )
        return 4.0 * max(singles, default=1.0)

    def optimise(self) -> Iterator[None]:
        """Exchanges columns until none of the known ones helps."""
        for _ in range(_MOST_EXCHANGES):
            column = self._most_helpful(self.simplex.prices())
            self.problem.meter.add(len(self.simplex.costs) + sum(len(self.book.patterns[s]) for s in self.sorts) // 4)
            yield from self.problem.meter.pause()
            if column is None or not self.simplex.enter(*column):
                return

    def _most_helpful(self, duals):
        kinds = len(self.kinds)
        prices, best, column = duals[:kinds], -_TINY, None
        for row, sort in enumerate(self.sorts, kinds):
            cost, rent = self.cut_costs[sort], duals[row]
            if -rent < best:
                best, column = -rent, (("spare", sort), 0.0, [(row, 1.0)])
            for made in self.book.patterns[sort]:
                gain = cost - dot(prices, made) - rent
                if gain < best:
                    entries = [(k, float(number)) for k, number in enumerate(made) if number]
                    best, column = gain, (("cut", sort, made), cost, [*entries, (row, 1.0)])
        for k in self.kinds:
            if prices[k] < best:
                best, column = prices[k], (("over", k), 0.0, [(k, -1.0)])
            if self.lack_costs[k] - prices[k] < best:
                best, column = self.lack_costs[k] - prices[k], (("lack", k), self.lack_costs[k], [(k, 1.0)])
        return column

    def whole_prices(self) -> tuple[float, ...]:
        """The programme's prices in weights: whole numbers, none above a piece's own weight."""
        duals = [max(0.0, price) for price in self.simplex.prices()[: len(self.kinds)]]
        weights = self.problem.weights
        self.scale = self.unit or 1.0 / max(_TINY * _TINY, max(d / w for d, w in zip(duals, weights)))
        return tuple(float(min(round(d * self.scale), w)) for d, w in zip(duals, weights))

    def improves(self, prices: Prices) -> bool:
        """Whether some pattern found at these prices helps, so that another round is worth its while."""
        duals = self.simplex.prices()
        rows = enumerate(self.sorts, len(self.kinds))
        return any(prices.worths[s] / self.scale > self.cut_costs[s] - duals[row] + 1e-7 for row, s in rows)

    def mixed(self) -> list[tuple[int, tuple[int, ...], float]]:
        """The patterns of the present solution: sort, pieces made, and how often (a fraction as well)."""
        pairs = zip(self.simplex.names, self.simplex.values)
        return [(name[1], name[2], value) for name, value in pairs if name[0] == "cut" and value > _TINY]
