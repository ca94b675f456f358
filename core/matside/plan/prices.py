"""Prices for pieces that prove how little can be reached with given cloths.

For any prices of 0 up to a piece's weight, the pieces that a set of cloths leaves missing weigh at least
prices · needs − Σ (the most one cloth of the set is worth at these prices). Weak for most prices and very good for
the right ones, which are the dual solution of the linear programme that lets cloths be cut into fractions of
patterns. Its columns, the patterns, are made as they are wanted.
"""

from dataclasses import dataclass, field

from .meter import Work
from .patterns import Pattern
from .problem import Problem, dot
from .programme import Programme

_MOST_ROUNDS = 300
#: Branches of a look at prices: few at first, and more of them once those bring nothing new.
FEW_BRANCHES = 1_000
_MOST_BRANCHES = 100_000
_TIMES_MORE = 10
EXACT = float("inf")


@dataclass(slots=True)
class Prices:
    """Whole-number prices of the kinds, and the most that a cloth of a sort is worth, for the sorts looked at."""

    prices: tuple[float, ...]
    worths: dict[int, float] = field(default_factory=dict)
    #: The branches after which the search for a worth gave up, or EXACT where it did not.
    tried: dict[int, float] = field(default_factory=dict)

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
        """The share of what these cloths are worth that is needed; of those that prove no
        lack, the best prices have most.
        """
        worth = sum(number * self.worths[sort] for sort, number in enumerate(opened) if number)
        return dot(self.prices, problem.needs) / worth if worth else 0.0


@dataclass(frozen=True, slots=True)
class Searched:
    """What was searched in full: no cutting of at most these cloths, of less area than `below`,
    misses as little as `allowed`.
    """

    opened: tuple[int, ...]
    allowed: float
    below: int | None = None


class Book:
    """All prices that were looked at in a search, every pattern that was found best at some of them,
    and what was searched in full.
    """

    def __init__(self, problem: Problem):
        self.problem = problem
        self.patterns: list[dict[tuple[int, ...], Pattern]] = [{} for _ in problem.sorts]
        self.prices: dict[tuple[float, ...], Prices] = {}
        self.searched: list[Searched] = []

    def look(
        self, prices: tuple[float, ...], opened: tuple[int, ...], most_branches: int = FEW_BRANCHES
    ) -> Work[Prices]:
        """The prices with the worths of all sorts that are opened.

        A worth is exact, or the search for it gave up after so many branches and it is a bound.
        """
        known = self.prices.setdefault(prices, Prices(prices))
        for sort, number in enumerate(opened):
            if number and known.tried.get(sort, 0) < most_branches:
                # What is known already is a start that all other patterns have to exceed.
                least = max((dot(prices, made) for made in self.patterns[sort]), default=-1.0)
                patterns = yield from self.problem.sorts[sort].ready()
                best = yield from patterns.seek(prices, self.problem.needs, least, most_branches)
                known.worths[sort] = min(best.most, known.worths.get(sort, best.most))
                known.tried[sort] = most_branches if best.most > best.worth else EXACT
                for pattern in (best.pattern, *best.others) if best.pattern else ():
                    self.patterns[sort].setdefault(pattern.made, pattern)
                yield from self.problem.meter.pause()
        return known

    @property
    def size(self) -> int:
        """How many patterns are known."""
        return sum(map(len, self.patterns))

    def complete(self, opened: tuple[int, ...]) -> list[Prices]:
        """The known prices, not all 0, at which all sorts among these cloths have been looked at."""
        wanted = {sort for sort, number in enumerate(opened) if number}
        return [prices for prices in self.prices.values() if wanted <= prices.worths.keys() and any(prices.prices)]

    def loses(self, sort: int, made: tuple[int, ...], opened: tuple[int, ...], allowed: float) -> bool:
        """Whether more than `allowed` is missing for certain where one of these cloths is cut
        so, by any of the known prices.
        """
        for prices in self.complete(opened):
            least = prices.missing(self.problem, opened)
            if least + prices.worths[sort] - dot(prices.prices, made) > allowed:
                return True
        return False

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
    programme: Programme

    @property
    def mixed(self) -> list[tuple[int, Pattern, float]]:
        """Sort, pattern, and how often it is cut (a fraction as well)."""
        return self.programme.mixed()


def mixture(book: Book, opened: tuple[int, ...], aim: str, enough: float, allowed: float = 0.0) -> Work[Mixture]:
    """The linear programme for these cloths, by column generation; stops once more than `enough` is proved missing.

    Aim "missing" asks for the least weight missing; aim "area" asks for the least cloth with no more than `allowed`
    missing. Returns a `Mixture`."""
    programme = Programme(book.problem, opened, aim, allowed)
    best, best_rating, bound = None, 0.0, 0.0
    for _ in range(_MOST_ROUNDS):
        for sort in programme.sorts:
            for pattern in book.patterns[sort].values():
                programme.take(sort, pattern)
        yield from programme.optimise()
        prices, is_new = yield from _look_closely(book, programme)
        found = prices.missing(book.problem, opened)
        rating = found if aim == "missing" else prices.tightness(book.problem, opened)
        if best is None or rating > best_rating:
            best, best_rating = prices, rating
        bound = max(bound, found)
        if bound > enough or not is_new or not programme.improves(prices.worths):
            break
    return Mixture(best, bound, programme)


def _look_closely(book: Book, programme: Programme) -> Work[tuple[Prices, bool]]:
    """The prices of the programme's solution, and whether they brought a new pattern.

    They are looked at as closely as it takes for one, or until it is sure that there is none that helps.
    """
    prices, branches, before = programme.whole_prices(), FEW_BRANCHES, book.size
    while True:
        found = yield from book.look(prices, programme.opened, branches)
        branches *= _TIMES_MORE
        if book.size > before:
            return found, True
        if branches > _MOST_BRANCHES or not programme.improves(found.worths):
            return found, False
