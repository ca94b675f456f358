"""Many cloths of few sorts: the whole basket as one programme, rounded in several dives."""

from collections.abc import Iterator

from .anew import fill_up
from .branching import Branching, near
from .prices import Searched, mixture
from .programme import Programme
from .rounding import Dive
from .searching import Searching, Starts

_MOST_DIVES = 6
#: Branching has no limit of its own: it ends with the work, or where it takes too much memory.
_EFFORT = 10**12


class Alike:
    """Searches for the least weight missing, then for the least area that misses no more; what
    it finds goes to the search.
    """

    def __init__(self, search: Searching, start: Starts):
        self.search = search
        self.problem = search.problem
        self.start = start

    def run(self) -> Iterator[None]:
        """Searches until it is proved that no plan is better, or there is nothing left to try."""
        if self.search.missing > self.search.least_missing:
            yield from self._aim("missing")
        if not self.search.proven:
            yield from self._aim("area")

    def _aim(self, aim: str) -> Iterator[None]:
        mixed = yield from mixture(self.search.book, self.problem.counts, aim, float("inf"), self.search.missing)
        self.search.learn_bounds()
        for skip in range(_MOST_DIVES):
            if self._is_settled(aim):
                return
            dive = Dive(self.search.book, mixed.programme, skip)
            yield from dive.run()
            yield from fill_up(self.search, dive.kept, dive.parts, self.start)
        if not self._is_settled(aim):
            yield from self._branch(aim, mixed.programme)

    def _branch(self, aim: str, programme: Programme) -> Iterator[None]:
        search = self.search
        goal = (lambda: int(search.missing) - 1) if aim == "missing" else (lambda: search.areas.before(search.area))
        # What a restricted search hands over meanwhile may miss less and open more: nothing is
        # known of sets beyond this area.
        before = search.area
        listed = yield from near(search.book, programme, goal())
        if listed is None:
            return
        branching = Branching(listed, goal, search.take)
        yield from branching.run(self.problem.meter.steps + _EFFORT)
        if branching.complete and aim == "missing":
            search.least_missing = max(search.least_missing, search.missing)
            search.book.searched.append(Searched(self.problem.counts, search.missing - 1.0))
        elif branching.complete and programme.allowed >= search.missing:
            area = min(search.area, before)
            search.least_area = max(search.least_area, area)
            search.book.searched.append(Searched(self.problem.counts, search.missing, area))

    def _is_settled(self, aim: str) -> bool:
        return self.search.missing <= self.search.least_missing if aim == "missing" else self.search.proven
