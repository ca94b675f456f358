"""The least cloth to open: sets of cloths tried in the order of their area, with leaps to sets that look promising."""

from collections.abc import Iterator

from .fit import Fit
from .meter import Work
from .opened import Opened, neighbours, sets
from .prices import Mixture, mixture
from .searching import Searching

#: Steps of a set's attempts, one after another.
_EFFORTS = (3_000, 20_000, 150_000, 10**12)
#: An attempt at a set makes way for other sets that lie higher by this share of the way up to the best plan.
_WAY = 0.15
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


class Opening:
    """Searches for cuttings that miss as little as the search's best and open less; each one found goes to the search.

    `least` is an area that no such cutting goes below; `complete` says that all sets of cloths of less area are known.
    """

    def __init__(self, search: Searching):
        self.search = search
        self.book = search.book
        self.problem = search.problem
        self.missing = search.missing
        self.least = search.least_area
        self.complete = False
        #: Sets of less area are known; what is handed over meanwhile may miss less and open more than that.
        self._below = search.area
        self._fits: list[tuple[int, Fit]] = []
        self._rooms: dict[Opened, float] = {}
        self._share = _LEAP

    def run(self) -> Iterator[None]:
        """Searches until all sets are settled, or all that can be done for them is done."""
        mixed = yield from self._find_sets()
        if not self.complete:
            if mixed:
                yield from self.search.round_off(mixed)
            yield from self._step_down()
            return
        yield from self._climb(_EFFORTS)
        if not self._fits:
            self.least = max(self.least, min(self.search.area, self._below))

    def _find_sets(self) -> Work[Mixture]:
        """Finds all sets that might do, if they are not too many; returns the mixture of all
        cloths if it was needed.
        """
        found, self.complete = yield from sets(self.book, self._below, self.missing, _FEW_SETS)
        mixed: Mixture | None = None
        if len(found) > 2 and len(self.problem.sorts) <= MOST_SORTS:
            mixed = yield from mixture(self.book, self.problem.counts, "area", float("inf"))
            self._below = min(self._below, self.search.area)
            found, self.complete = yield from sets(self.book, self._below, self.missing, _MOST_SETS)
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
                yield from self._climb((effort,))

    def _climb(self, efforts: tuple[int, ...]) -> Iterator[None]:
        """Tries sets until all are settled or have had `efforts`, half of the work for low
        ones and half for leaps up.
        """
        spent = {self._lowest: 0, self._leap: 0}
        while open_fits := [item for item in self._keep_open() if item[1].tries < len(efforts) and not item[1].spent]:
            choose = min(spent, key=spent.get)
            fit, before = choose(open_fits), self.problem.meter.steps
            yield from self._try(fit, efforts, choose == self._leap)
            # A set that is settled at a glance costs next to nothing, but to choose it all of them were looked at.
            self.problem.meter.add(1 + len(open_fits) // 8)
            yield from self.problem.meter.pause()
            spent[choose] += self.problem.meter.steps - before

    def _try(self, fit: Fit, efforts: tuple[int, ...], leap: bool) -> Iterator[None]:
        """An attempt at a set; a leap takes quick looks first, and the next one goes higher
        unless this one succeeds.
        """
        if leap and fit.looks < 2:
            yield from fit.look_closer() if fit.looks else fit.glance()
        else:
            yield from fit.attempt(efforts[fit.tries])
        if leap:
            self._share = _LEAP if fit.found else (1 + self._share) / 2
        if fit.found:
            self.search.take(fit.found)

    def _keep_open(self) -> list[tuple[int, Fit]]:
        """The sets that are not settled and smaller than the best plan; none of those known can do below the first."""
        self._fits = [
            (area, fit) for area, fit in self._fits if self.least <= area < self.search.area and not fit.settled
        ]
        if self.complete and self._fits:
            self.least = max(self.least, self._fits[0][0])
        return self._fits

    def _lowest(self, fits: list[tuple[int, Fit]]) -> Fit:
        """The lowest of these sets, where one that was tried makes way for others above it."""
        height = self.search.area - self.least
        return min(fits, key=lambda item: (item[0] - self.least) / height + _WAY * item[1].tries)[1]

    def _leap(self, fits: list[tuple[int, Fit]]) -> Fit:
        """Of the sets up to some area that had the fewest looks and tries, the roomiest."""
        looks = min(fit.looks + fit.tries for _, fit in fits)
        fresh = [(area, fit) for area, fit in fits if fit.looks + fit.tries == looks]
        if self._share > _LONGEST_LEAP:
            self._share = _LEAP
        limit = self.least + (self.search.area - self.least) * self._share
        below = [fit for area, fit in fresh if area <= limit] or [fresh[0][1]]
        return max(below, key=lambda fit: self._rooms[fit.set])
