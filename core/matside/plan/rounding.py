"""From fractions of patterns to whole cloths: dives into the linear programme.

The patterns that the programme uses most nearly a whole number of times more are rounded up, one after another, and the
programme is solved anew for what is still needed, with patterns made for just that. Where few cloths are left to
decide, they are searched in full."""

from collections.abc import Iterator
from math import floor

from .meter import Work
from .places import Cutting
from .problem import less
from .programme import Column, Programme
from .simplex import INFINITE

#: With no more cloths than this in fractions the rest is searched.
_FEW_CLOTHS = 3
#: From this fraction on, several patterns are rounded up at once.
_NEARLY_WHOLE = 0.85
_HAIR = 1e-6
#: New patterns are made so many times after a rounding, each with so many branches looked at.
_MOST_ROUNDS = 3
_BRANCHES = 1_000


class Dive:
    """One way down from a programme's solution, which stays as it is.

    `skip` says how many of the best choices are passed over at first, so that one dive differs from another.
    """

    def __init__(self, book, programme: Programme, skip: int = 0):
        self.book = book
        self.problem = book.problem
        self.programme = programme.copy()
        self.skip = skip
        self.kept: Cutting = []
        self.parts: set[int] = set()

    def run(self) -> Iterator[None]:
        """Leaves in `kept` what is cut for certain; what is lacking then should come from
        sorts among `parts` above all.
        """
        going = True
        while going:
            fractions = self._keep_whole()
            self.parts = {column.sort for _, column in fractions} or self.parts
            going = sum(fraction for fraction, _ in fractions) > _FEW_CLOTHS and (yield from self._round_up(fractions))

    def _keep_whole(self) -> list[tuple[float, Column]]:
        """Keeps what is cut a whole number of times; what is above that, and of which pattern, the largest first."""
        simplex, fractions = self.programme.simplex, []
        used = simplex.solution()
        for column in self.programme.columns:
            value = used.get(column.place, 0.0)
            whole = floor(value + _HAIR)
            if whole > simplex.low[column.place]:
                simplex.bound(column.place, float(whole), INFINITE)
            if value - whole > _HAIR:
                fractions.append((value - whole, column))
        self.kept = self.programme.lows()
        return sorted(fractions, key=lambda item: -item[0])

    def _round_up(self, fractions: list[tuple[float, Column]]) -> Work[bool]:
        """Rounds up and solves anew; False when there are no cloths for it."""
        first, self.skip = self.skip % len(fractions), self.skip // len(fractions)
        chosen = [
            fractions[first],
            *(item for item in fractions if item[0] >= _NEARLY_WHOLE and item is not fractions[first]),
        ]
        for _, column in chosen:
            self.programme.simplex.bound(column.place, self.programme.simplex.low[column.place] + 1.0, INFINITE)
        if not (yield from self.programme.mend()):
            return False
        for _ in range(_MOST_ROUNDS):
            if not (yield from self._make_patterns()):
                break
            yield from self.programme.optimise()
        return True

    def _make_patterns(self) -> Work[bool]:
        """Looks for patterns that help with what is still needed; whether there were any."""
        needs, left = self.problem.needs, list(self.programme.opened)
        for sort, pattern, times in self.programme.lows():
            needs = less(needs, tuple([times * made for made in pattern.made]))
            left[sort] -= times
        prices, found = self.programme.whole_prices(), False
        for sort in self.programme.sorts:
            if left[sort] > 0 and any(prices):
                least = self.programme.least_worth(sort)
                best = self.problem.sorts[sort].patterns.best(prices, needs, max(0.0, least), _BRANCHES)
                yield from self.problem.meter.pause()
                if best.pattern and self.programme.take(sort, best.pattern):
                    self.book.patterns[sort].setdefault(best.pattern.made, best.pattern)
                    found = True
        return found
