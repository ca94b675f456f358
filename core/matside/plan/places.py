"""The cloths of a set one after another, most worth first: what is hopeless at a place, and how the last two are cut.

At prices that prove a bound, whatever a cutting falls short of the bound splits up exactly: what each cloth's
pattern is worth less than the best, what is made beyond the need, and what is missing at weight less price. The loss
of a cutting so far is the first two of these.
"""

from .meter import Work
from .patterns import Pattern
from .prices import Book, Prices
from .problem import dot, less

_MOST_PRICES = 7
#: Branches for the last cloth but one, when the last two are cut for just what the others leave.
_MOST_FOR_LAST_TWO = 1_000
_MOST_FOR_LAST = 500
_MOST_PATTERNS = 30

Needs = tuple[int, ...]
#: Which sort of cloth, how it is cut, and how many cloths are cut so.
Cutting = list[tuple[int, Pattern, int]]


class Places:
    """The order of the cloths, and bounds for what those from each place on can still give."""

    def __init__(self, book: Book, opened: tuple[int, ...], needs: Needs, prices: Prices):
        self.problem = book.problem
        self.needs = needs
        self.prices = prices.prices
        self.worths = prices.worths
        by_worth = sorted((sort for sort, number in enumerate(opened) if number), key=lambda s: -self.worths[s])
        self.order = [sort for sort in by_worth for _ in range(opened[sort])]
        self.bound = dot(self.prices, needs) - sum(self.worths[sort] for sort in self.order)
        self.exact = True
        others = [p for p in book.complete(opened) if p is not prices]
        self._bounds = [(p.prices, self._suffix(p)) for p in [prices, *others[:1], *others[1:][-_MOST_PRICES:]]]
        self._ends: dict[tuple[int, Needs], Pattern | None] = {}

    def _suffix(self, prices: Prices) -> list[float]:
        sums = [0.0]
        for sort in reversed(self.order):
            sums.append(sums[-1] + prices.worths[sort])
        return sums[::-1]

    def hopeless(self, place: int, needs: Needs, allowed: float) -> bool:
        """Whether the cloths from this place on are known to leave more than `allowed` missing."""
        for prices, worths in self._bounds:  # noqa: SIM110 (asked so often that a generator would be felt)
            if dot(prices, needs) - worths[place] > allowed:
                return True
        return False

    def near(self, sort: int, gap: float, *most_branches: int) -> Work[tuple[list[tuple[float, Needs, Pattern]], bool]]:
        """The sort's patterns within the gap, as (short of the best by, pieces, pattern), and whether these are all."""
        worth = self.worths[sort]
        found, complete = yield from self.problem.sorts[sort].patterns.near(self.prices, worth - gap, *most_branches)
        return [(worth - had, pattern.made, pattern) for had, pattern in found], complete

    def last(self, needs: Needs, allowed: float) -> Pattern | None:
        """How the last cloth is best cut for what the others leave, if no more than `allowed` is missing then."""
        key = (self.order[-1], needs)
        if key not in self._ends:
            wanted = self.problem.missing(needs) - allowed
            best = self.problem.sorts[key[0]].patterns.best(self.problem.weights, needs, wanted - 1.0)
            self.exact = self.exact and (best.most < wanted or best.most <= best.worth)
            self._ends[key] = best.pattern
        return self._ends[key]

    def last_but_one(self, needs: Needs, allowed: float) -> Work[list[Pattern]]:
        """The ways to cut the last cloth but one that may let the last one give the rest."""
        sort, weights, sorts = self.order[-2], self.problem.weights, self.problem.sorts
        rest = sorts[self.order[-1]].patterns.best(weights, needs).most
        least = max(1.0, dot(weights, needs) - rest - allowed)
        found, _ = yield from sorts[sort].patterns.near_for(weights, needs, least, _MOST_FOR_LAST_TWO)
        return [pattern for _, pattern in found[:_MOST_PATTERNS]]

    def finish(self, needs: Needs, allowed: float) -> Work[Cutting | None]:
        """Patterns for the last two cloths that leave no more than `allowed` missing, or None."""
        sort, last = self.order[-2:]
        for pattern in (yield from self.last_but_one(needs, allowed)):
            left = less(needs, pattern.made)
            if self.problem.missing(left) <= allowed:
                return [(sort, pattern, 1)]
            if not self.hopeless(len(self.order) - 1, left, allowed):
                wanted = self.problem.missing(left) - allowed
                best = self.problem.sorts[last].patterns.best(self.problem.weights, left, wanted - 1.0, _MOST_FOR_LAST)
                if best.pattern:
                    return [(sort, pattern, 1), (last, best.pattern, 1)]
        return None
