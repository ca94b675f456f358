"""The linear programme for the fewest strips, and then the fewest divisions, of plans that miss
and open no more than one does.

Besides the rows of every programme over patterns: no more area is opened; no fewer strips of a kind are cut than the
longest strips would take, a bound in whole numbers that fractions of strips would go below."""

from dataclasses import dataclass

from .meter import Work
from .patterns import Costs, Pattern
from .problem import Problem, dot
from .programme import Master
from .simplex import INFINITE

#: A strip's cost in whole numbers; divisions cost so little that all of them together weigh less than half a strip.
STRIP = 2**30
#: What is nearer to a whole number than this is one.
_HAIR = 1e-6


def division_cost(problem: Problem) -> int:
    """A division's cost: all of them together weigh less than half a strip."""
    return STRIP // (2 * (1 + sum(problem.counts)))


@dataclass(frozen=True, slots=True)
class StripPrices:
    """The programme's prices in parts of a strip: of a piece and of a strip of each kind, of an
    area and of what is missing.
    """

    pieces: tuple[int, ...]
    strips: tuple[int, ...]
    area: int
    missing: int


class StripProgramme(Master):
    """`whole` are the columns of strips and of missing pieces by kind, each of which has a bound of its own. For so
    many cloths of each sort; `allowed` is the weight that may be missing, `area` what may be opened of them.
    """

    def __init__(self, problem: Problem, opened: tuple[int, ...], allowed: float, area: int, in_whole: bool = False):
        super().__init__(problem, opened)
        self.allowed = allowed
        self.area = area
        self.division = division_cost(problem)
        self.unit = float(STRIP)
        self.least = self._fewest_of_kinds()
        after = len(self.kinds) + len(self.sorts)
        self._missing_row, self._area_row = (after, after + 1) if allowed > 0 else (-1, after)
        self._strip_row = {kind: row for row, kind in enumerate(self.kinds, self._area_row + 1)}
        dear = float(max(1, sum(self.least))) * (1000.0 if in_whole else 10.0)
        rights = [allowed / self.heaviest] * (allowed > 0) + [area / self.largest] + list(map(float, self.least))
        costs = [dear] * len(self.kinds) + [0.0] * (self._area_row + 1 - len(self.kinds)) + [dear] * len(self.least)
        self._begin(rights, costs)
        self._beyond = {kind: self._add([(row, -1.0)], 0.0) for kind, row in self._strip_row.items()}
        self.whole = list(self._beyond.values())
        self._lack: list[int] = []
        for kind, share in zip(self.kinds, self.shares if allowed > 0 else ()):
            self._lack.append(self._add([(kind, 1.0), (self._missing_row, share)], 0.0))
            self.simplex.bound(self._lack[-1], 0.0, float(allowed // problem.weights[kind]))
        self.whole += self._lack
        self.sums += self.whole

    def _fewest_of_kinds(self) -> list[int]:
        """As many strips of each kind as the pieces that may not be missing take in the longest strips."""
        longest = [0] * len(self.kinds)
        for sort in self.sorts:
            longest = [max(a, b) for a, b in zip(longest, self.problem.sorts[sort].patterns.most_of_a_strip)]
        missing = [int(self.allowed // weight) for weight in self.problem.weights]
        return [
            -(-max(0, need - lack) // most) if most else 0
            for need, most, lack in zip(self.problem.needs, longest, missing)
        ]

    def restrict(self, other: "StripProgramme") -> None:
        """Takes over another one's bounds for the strips of a kind and the pieces missing."""
        for place, like in zip(self.whole, other.whole):
            self.simplex.bound(place, other.simplex.low[like], other.simplex.high[like])

    def fraction(self) -> tuple[int, float] | None:
        """Strips or missing pieces of a kind that are not a whole number in the present solution: column
        and value; the farthest off.
        """
        used = self.simplex.solution()
        values = [(place, used.get(place, 0.0)) for place in self.whole]
        place, value = max(values, key=lambda item: abs(item[1] - round(item[1])))
        return (place, value) if abs(value - round(value)) > _HAIR else None

    def key(self, pattern: Pattern) -> tuple:
        """What tells a pattern from others of its sort: what it makes, and its strips."""
        return pattern.made, pattern.way, pattern.strips

    def entries(self, sort: int, pattern: Pattern) -> list[tuple[int, float]]:
        """A pattern's area, and its strips by kind."""
        strips = [(self._strip_row[kind], float(count)) for _, kind, count in pattern.strips]
        return [(self._area_row, self.problem.sorts[sort].area / self.largest), *strips]

    def cost_of(self, sort: int, pattern: Pattern | None = None) -> float:
        """What a pattern costs, in strips."""
        return self.paid(sort, pattern) / STRIP

    def paid(self, sort: int, pattern: Pattern) -> int:
        """The same in whole numbers."""
        divided = self.problem.sorts[sort].patterns.ways[pattern.way].division is not None
        return STRIP * sum(count for _, _, count in pattern.strips) + (self.division if divided else 0)

    def prices(self) -> StripPrices:
        """The prices of the present solution in whole numbers."""
        duals = self.simplex.prices()
        missing = round(max(0.0, -duals[self._missing_row]) * STRIP) if self.allowed > 0 else 0
        pieces = tuple([round(max(0.0, price) * STRIP) for price in duals[: len(self.kinds)]])
        strips = tuple([round(self._price_of_strip(kind, duals) * STRIP) for kind in self.kinds])
        return StripPrices(pieces, strips, round(max(0.0, -duals[self._area_row]) * STRIP), missing)

    def _price_of_strip(self, kind: int, duals: list[float]) -> float:
        """Below 0 only where there is a most for the strips of a kind."""
        price = duals[self._strip_row[kind]]
        return price if self.simplex.high[self._beyond[kind]] < INFINITE else max(0.0, price)

    def _strips_within(self, kind: int, price: int) -> int:
        """As many strips of a kind as the present bounds allow, the most at a price below 0 and otherwise the least."""
        bounds = self.simplex.high if price < 0 else self.simplex.low
        return self.least[kind] + int(bounds[self._beyond[kind]])

    def base(self, prices: StripPrices) -> int:
        """What all the rows together are worth at the prices, times the largest area."""
        strips = sum(price * self._strips_within(kind, price) for kind, price in enumerate(prices.strips) if price)
        least = (
            self.largest * (dot(prices.pieces, self.problem.needs) + strips + self._saved(prices))
            - prices.area * self.area
        )
        return least - self.largest * int(-(-prices.missing * self.allowed // self.heaviest))

    def _saved(self, prices: StripPrices) -> int:
        """What missing pieces cost at least: below 0 where they save more than they cost."""
        total, simplex = 0, self.simplex
        for kind, place in enumerate(self._lack):
            cost = int(prices.missing * self.problem.weights[kind] // self.heaviest) - prices.pieces[kind]
            total += cost * int(simplex.high[place] if cost < 0 else simplex.low[place])
        return total

    def proved(self) -> int:
        """The least cost within the present bounds and with these patterns only: exact, by weak duality."""
        prices = self.prices()
        gained = self.most_gained(lambda sort, pattern: self.gain(prices, sort, pattern))
        return -(-(self.base(prices) - gained) // self.largest)

    def gain(self, prices: StripPrices, sort: int, pattern: Pattern) -> int:
        """What a cloth gains, cut by a pattern, times the largest area."""
        strips = sum(count * prices.strips[kind] for _, kind, count in pattern.strips)
        gain = dot(prices.pieces, pattern.made) + strips - self.paid(sort, pattern)
        return self.largest * gain - prices.area * self.problem.sorts[sort].area

    def costs(self, prices: StripPrices) -> Costs:
        """What strips and a division cost beside what the rows of the strips give for them."""
        return Costs(tuple(float(STRIP - price) for price in prices.strips), float(self.division))

    def seek(self, prices: StripPrices, most_branches: int) -> Work[list[tuple[int, int, Pattern | None]]]:
        """For each sort the most that a cloth gains, and the pattern that gains it where it is
        found.
        """
        found = []
        for sort in self.sorts:
            patterns, costs = self.problem.sorts[sort].patterns, self.costs(prices)
            best = yield from patterns.seek(
                tuple(map(float, prices.pieces)), self.problem.needs, -1.0, most_branches, costs
            )
            gained = self.largest * int(best.most) - prices.area * self.problem.sorts[sort].area
            found.append((sort, max(0, gained), best.pattern))
            yield from self.problem.meter.pause()
        return found
