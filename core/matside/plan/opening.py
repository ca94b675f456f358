"""The least cloth to open: sets of cloths tried in the order of their area, with leaps to sets that look promising."""

from collections.abc import Iterator

from .fit import Fit
from .opened import Opened, neighbours, sets
from .prices import Mixture, mixture

_EFFORTS = (3_000, 20_000, 150_000, 10**12)
_FEW_SETS = 60
_MOST_SETS = 5_000
#: With more sorts of cloth than this the linear programme over all of them takes too long.
MOST_SORTS = 120
#: Sets next to the best one are tried where it has no more cloths than this, of no more sorts.
_MOST_CLOTHS = 20
_MOST_SORTS_BESIDE = 40
#: A leap goes so far up from the smallest set towards the best plan; half of the rest further each time it fails.
_LEAP = 0.3
_LONGEST_LEAP = 0.95
_ENOUGH_TO_LEAP = 8


class Opening:
    """Searches for cuttings that miss as little as the search's best and open less; each one found goes to the search.

    `least` is an area that no such cutting goes below; `complete` says that all sets of cloths of less area are known.
    """

    def __init__(self, search):
        self.search = search
        self.book = search.book
        self.problem = search.problem
        self.missing = search.missing
        self.least = search.least_area
        self.complete = False
        self._fits: list[tuple[int, Fit]] = []
        self._rooms: dict[Opened, float] = {}

    def run(self) -> Iterator[None]:
        """Searches until all sets are settled, or all that can be done for them is done."""
        mixed = yield from self._find_sets()
        if not self.complete:
            if mixed:
                yield from self.search.round_off(mixed)
            yield from self._step_down()
            return
        for effort in _EFFORTS:
            yield from self._climb(effort)
            self._fits = [(area, fit) for area, fit in self._fits if area < self.search.area and not fit.settled]
            if not self._fits:
                self.least = self.search.area
                return

    def _find_sets(self) -> Iterator[None]:
        """Finds all sets that might do, if they are not too many; returns the mixture of all cloths if it was needed."""
        found, self.complete = yield from sets(self.book, self.search.area, self.missing, _FEW_SETS)
        mixed: Mixture | None = None
        if len(found) > 2 and len(self.problem.sorts) <= MOST_SORTS:
            mixed = yield from mixture(self.book, self.problem.counts, "area", float("inf"))
            found, self.complete = yield from sets(self.book, self.search.area, self.missing, _MOST_SETS)
        self._start(found)
        return mixed

    def _start(self, found: list[tuple[int, Opened]]) -> None:
        """Makes ready for these sets; each one's room is what it is worth beyond the needs, at the tightest prices."""
        prices = self.book.tightest(self.problem.counts)
        self._fits = [(area, Fit(self.book, opened, self.missing)) for area, opened in found]
        self._rooms = {opened: -prices.missing(self.problem, opened) for _, opened in found}

    def _step_down(self) -> Iterator[None]:
        """From the best set to sets next to it that are smaller, as long as one of them will do."""
        for effort in _EFFORTS[:-1]:
            before = None
            while before != self.search.area:
                before, best = self.search.area, self.problem.opened(self.search.cutting)
                if sum(best) > _MOST_CLOTHS or len(best) > _MOST_SORTS_BESIDE:
                    return
                beside = neighbours(self.book, best, self.least)
                self._start([(area, opened) for area, opened in beside if self.book.missing(opened) <= self.missing])
                yield from self._climb(effort)

    def _climb(self, effort: int) -> Iterator[None]:
        """Tries the sets in the order of their area, and leaps up from each that is not settled."""
        lowest = None
        if len(self._fits) > _ENOUGH_TO_LEAP:
            yield from self._leap(self._fits[0][0])
        for area, fit in self._fits:
            if area >= self.search.area:
                break
            if lowest is None and self.complete:
                self.least = max(self.least, area)
            yield from self._attempt(fit, effort)
            if not fit.settled:
                lowest = area if lowest is None else lowest
                yield from self._leap(area)

    def _leap(self, start: int) -> Iterator[None]:
        """Tries the roomiest of the sets up to some area, one stage of its search; from success it leaps again."""
        share = _LEAP
        while share < _LONGEST_LEAP:
            fit = self._roomiest(start, start + (self.search.area - start) * share)
            if fit:
                yield from self._attempt(fit, 1)
            share = _LEAP if fit and fit.found else (1 + share) / 2

    def _roomiest(self, start: int, limit: float) -> Fit | None:
        tries = min((fit.tries for _, fit in self._fits), default=0)
        fits = [
            (self._rooms[fit.set], i)
            for i, (area, fit) in enumerate(self._fits)
            if start < area <= limit and area < self.search.area and not fit.settled and fit.tries == tries
        ]
        return self._fits[max(fits)[1]][1] if fits else None

    def _attempt(self, fit: Fit, effort: int) -> Iterator[None]:
        yield from fit.attempt(effort)
        if fit.found:
            self.search.take(fit.found)
