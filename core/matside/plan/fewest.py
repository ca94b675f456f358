"""The fewest strips, then the fewest divisions, of all plans that miss and open no more than the best one.

Where the sets of cloths that such a plan may open are few, and what it may miss can be made up in few ways, each of them is
a programme of its own, whose fractions hide less; else there is one for all of them.
"""

from collections.abc import Iterator

from .branching import Branching
from .cases import cases
from .places import Cutting
from .strip_programme import STRIP, StripProgramme, division_cost
from .tidy import neatest, strip_count, tidied

_MOST_ROUNDS = 200
_FEW_BRANCHES = 1_000
_MOST_BRANCHES = 100_000
_TIMES_MORE = 10
_MOST_PATTERNS = 2_000
_MOST_LISTED = 60_000
#: Steps of the search among the patterns that came up, before all that matter are listed.
_EFFORT = 60_000
#: With more sorts of cloth than this the programme takes too long.
_MOST_SORTS = 40


class Case:
    """One programme, the cost that no cutting of it goes below, and whether it was searched in full."""

    def __init__(self, programme: StripProgramme):
        self.programme = programme
        self.least = STRIP * sum(programme.least)
        self.branches = _FEW_BRANCHES

    def price(self, enough: int) -> Iterator[None]:
        """Column generation; raises `least`, and stops where it exceeds `enough`."""
        programme = self.programme
        for _ in range(_MOST_ROUNDS):
            yield from programme.optimise()
            prices = programme.prices()
            found = yield from programme.seek(prices, self.branches)
            gained = sum(programme.opened[sort] * gain for sort, gain, _ in found)
            self.least = max(self.least, -(-(programme.base(prices) - gained) // programme.largest))
            if self.least > enough:
                return
            new = [programme.take(sort, pattern) for sort, gain, pattern in found if pattern and gain]
            if not any(new):
                if self.branches >= _MOST_BRANCHES or self.least >= programme.value * (1 - 1e-7):
                    return
                self.branches *= _TIMES_MORE

    def near(self, goal: int, search) -> Iterator[None]:
        """The programme of all patterns that a cutting which reaches the goal may be made of; None when they are too many to list.

        Patterns that lose more than may be missing, at any prices that are known, are none of them.
        """
        root, problem = self.programme, self.programme.problem
        prices = root.prices()
        costs, pieces = root.costs(prices), tuple(map(float, prices.pieces))
        found = yield from root.seek(prices, _MOST_BRANCHES)
        spare = root.largest * goal - root.base(prices) + sum(root.opened[sort] * gain for sort, gain, _ in found)
        listed = StripProgramme(problem, root.opened, root.allowed, root.area, in_whole=True)
        for sort, gain, _ in found:
            least = -(-(gain - spare + prices.area * problem.sorts[sort].area) // root.largest)
            patterns = problem.sorts[sort].patterns
            near, complete = yield from patterns.near_for(pieces, problem.needs, float(least), _MOST_LISTED, costs)
            near = [pattern for _, pattern in near if not search.book.loses(sort, pattern.made, root.opened, search.missing)]
            if not complete or len(listed.columns) + len(near) > _MOST_PATTERNS:
                return None
            for pattern in near:
                listed.take(sort, pattern)
        return listed


class Fewest:
    """Looks for the fewest strips of a search's plan, among all plans that miss and open as little."""

    def __init__(self, search):
        self.search = search
        self.problem = search.problem
        self._division = division_cost(search.problem)
        self._reached: tuple[float, int] | None = None
        self._cutting: Cutting = []
        self._bound = 0

    @property
    def cutting(self) -> Cutting:
        """The best so far of those that are as good as the search's; the search's own before `neaten`."""
        return self._cutting if self._is_fresh else self.search.cutting

    @property
    def bound(self) -> int:
        """No plan that misses and opens as little as the search's takes fewer strips."""
        return self._bound if self._is_fresh else 0

    @property
    def _is_fresh(self) -> bool:
        return self._reached == (self.search.missing, self.search.area)

    @property
    def strips(self) -> int:
        """Strips of the best cutting so far."""
        return strip_count(self.cutting)

    @property
    def proven(self) -> bool:
        """Whether no plan takes fewer strips."""
        return self.strips <= self.bound

    def neaten(self) -> Iterator[None]:
        """Cuts the search's plan with fewer strips, soon and with no proof."""
        if not self._is_fresh:
            reached, cutting = (self.search.missing, self.search.area), self.search.cutting
            cutting = yield from tidied(self.problem, cutting)
            if reached == (self.search.missing, self.search.area):
                self._reached, self._cutting, self._bound = reached, list(self.search.cutting), 0
                self.offer(cutting)

    def run(self) -> Iterator[None]:
        """Searches until nothing is better, or nothing is left to try; anew where it comes upon a better plan."""
        while True:
            yield from self.neaten()
            reached = self._reached
            if self._cutting and len(self.problem.sorts) <= _MOST_SORTS:
                yield from self._search()
            if reached == self._reached:
                return

    def _search(self) -> Iterator[None]:
        open_cases = [Case(programme) for programme in (yield from cases(self.search))]
        self._learn(open_cases)
        known = yield from self._known()
        for case in open_cases:
            if case.least < self.cost:
                for sort, pattern in known:
                    if sort in case.programme.row:
                        case.programme.take(sort, pattern)
                yield from case.price(self._goal())
        self._learn(open_cases)
        for settle in (self._glance, self._settle):
            for case in sorted(open_cases, key=lambda case: case.least):
                if case.least < self.cost:
                    yield from settle(case)
                    self._learn(open_cases)

    def _glance(self, case: Case) -> Iterator[None]:
        """Searches a case among the patterns that came up."""
        yield from self._branch(case.programme.copy(), _EFFORT)

    def _settle(self, case: Case) -> Iterator[None]:
        """Searches a case among all patterns that matter."""
        listed = yield from case.near(self._goal(), self.search)
        if listed and (yield from self._branch(listed, 10**12)):
            case.least = self.cost

    def _learn(self, open_cases: list[Case]) -> None:
        # All divisions together cost less than half a strip.
        least = min(case.least for case in open_cases)
        self._bound = max(self._bound, -(-(least - STRIP // 2) // STRIP))

    @property
    def cost(self) -> int:
        """Strips and divisions of the best cutting so far, as one number."""
        return self._cost(self.cutting)

    def _cost(self, cutting: Cutting) -> int:
        sorts = self.problem.sorts
        divided = sum(times for sort, pattern, times in cutting if sorts[sort].patterns.ways[pattern.way].division)
        return STRIP * strip_count(cutting) + self._division * divided

    def _goal(self) -> int:
        """A better cutting takes a division less at least."""
        return self.cost - self._division

    def offer(self, cutting: Cutting) -> None:
        """Keeps a cutting that is as good as the plan and takes fewer strips."""
        problem = self.problem
        reached = problem.missing(problem.left(cutting)), problem.area(problem.opened(cutting))
        if reached < (self.search.missing, self.search.area):
            self.search.take(cutting)
            self._reached, self._cutting, self._bound = reached, list(cutting), 0
        elif reached == (self.search.missing, self.search.area) and self._cost(cutting) < self.cost:
            self._cutting = list(cutting)

    def _known(self) -> Iterator[None]:
        """Patterns of the plan, as they are and with as few strips as they can be cut with (by `yield from`)."""
        found = [(sort, pattern) for sort, pattern, _ in [*self.search.cutting, *self.cutting]]
        for sort, pattern in list(found):
            neat = yield from neatest(self.problem.sorts[sort].patterns, pattern.made)
            if neat:
                found.append((sort, neat))
        return found

    def _branch(self, programme: StripProgramme, effort: int) -> Iterator[None]:
        """Branches on a programme's patterns; whether all of their cuttings were searched (by `yield from`)."""
        branching = Branching(programme, self._goal, self.offer)
        yield from branching.run(self.problem.meter.steps + effort)
        return branching.complete
