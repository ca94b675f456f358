"""The fewest strips, then the fewest divisions, of all plans that miss and open no more than the best one.

Where the sets of cloths that such a plan may open are few, and what it may miss can be made up in few ways, each of
them is a programme of its own, whose fractions hide less; else there is one for all of them."""

from collections.abc import Iterator
from math import floor

from .branching import Branching
from .cases import cases
from .meter import Work
from .patterns import Costs, Pattern
from .places import Cutting
from .searching import Searching
from .strip_programme import STRIP, StripProgramme, division_cost
from .tidy import neatest, strip_count, tidied, trimmed

_MOST_ROUNDS = 200
_FEW_BRANCHES = 1_000
_MOST_BRANCHES = 100_000
_TIMES_MORE = 10
_MOST_PATTERNS = 2_000
_MOST_LISTED = 60_000
#: Patterns are listed by what they lose of the pieces where they keep so much of them.
_MUCH = 0.7
#: With so many cases open none is split any more.
_MOST_OPEN = 60
#: Steps of the search among the patterns that came up, before all that matter are listed.
_EFFORT = 60_000
#: Steps of the search among all patterns that matter, before the case is split.
_LONG_EFFORT = 1_500_000
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
        yield from programme.mend()
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

    def split(self) -> list["Case"]:
        """Two cases that share all cuttings of this one among them, by the number of strips of a
        kind; none where these are whole.
        """
        fraction = self.programme.fraction()
        if not fraction:
            return []
        (place, value), cases = fraction, []
        low, high = self.programme.simplex.low[place], self.programme.simplex.high[place]
        for bounds in ((low, float(floor(value))), (floor(value) + 1.0, high)):
            case = Case(self.programme.copy())
            case.least, case.branches = self.least, self.branches
            case.programme.simplex.bound(place, *bounds)
            cases.append(case)
        return cases

    def near(self, goal: int, search: Searching) -> Work[StripProgramme | None]:
        """The programme of all patterns that a cutting which reaches the goal may be made of; None
        when they are too many to list.

        They are listed by what they lose of the pieces, where little can be lost, or else by their strips.
        """
        root, problem = self.programme, self.programme.problem
        prices = root.prices()
        gains = {sort: gain for sort, gain, _ in (yield from root.seek(prices, _MOST_BRANCHES))}
        spare = root.largest * goal - root.base(prices) + sum(root.opened[sort] * gain for sort, gain in gains.items())
        known = search.book.tightest(root.opened)
        room = search.missing - known.missing(search.problem, root.opened)
        least = {sort: known.worths[sort] - room for sort in root.sorts}
        found = None
        if all(least[sort] > _MUCH * known.worths[sort] for sort in root.sorts):
            found = yield from self._listed(known.prices, least, Costs((0.0,) * len(problem.needs), 0.0))
        if found is None:
            least = {
                sort: -(-(gain - spare + prices.area * problem.sorts[sort].area) // root.largest)
                for sort, gain in gains.items()
            }
            found = yield from self._listed(tuple(map(float, prices.pieces)), least, root.costs(prices))
        if found is None:
            return None
        listed = StripProgramme(problem, root.opened, root.allowed, root.area, in_whole=True)
        listed.restrict(root)
        for sort, pattern in found:
            if gains[sort] - root.gain(prices, sort, pattern) <= spare and not search.book.loses(
                sort, pattern.made, root.opened, search.missing
            ):
                listed.take(sort, pattern)
        return listed if len(listed.columns) <= _MOST_PATTERNS else None

    def _listed(self, prices, least: dict[int, float], costs: Costs) -> Work[list[tuple[int, Pattern]] | None]:
        """All patterns that are worth so much, by sort; None when they are too many."""
        found, problem = [], self.programme.problem
        for sort, worth in least.items():
            patterns = problem.sorts[sort].patterns
            near, complete = yield from patterns.near_for(prices, problem.needs, float(worth), _MOST_LISTED, costs)
            if not complete:
                return None
            found += [(sort, pattern) for _, pattern in near]
        return found


class Fewest:
    """Looks for the fewest strips of a search's plan, among all plans that miss and open as little."""

    def __init__(self, search: Searching):
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
        """Searches until nothing is better, or nothing is left to try."""
        yield from self.neaten()
        if self._cutting and len(self.problem.sorts) <= _MOST_SORTS:
            yield from self._search()

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
        for case in sorted(open_cases, key=lambda case: case.least):
            yield from self._glance(case)
        for case in sorted(open_cases, key=lambda case: case.least):
            yield from self._settle(case, _LONG_EFFORT)
        yield from self._split(open_cases)

    def _split(self, open_cases: list[Case]) -> Iterator[None]:
        """Splits the case that may be best, again and again, until in none of them can anything be better."""
        settled: list[Case] = []
        while True:
            open_cases = [case for case in open_cases if case.least < self.cost]
            self._learn(open_cases + settled)
            if not open_cases:
                return
            case = min(open_cases, key=lambda case: case.least)
            open_cases.remove(case)
            children = case.split() if len(open_cases) < _MOST_OPEN else []
            if not children:
                yield from self._glance(case)
                yield from self._settle(case, 10**12)
                settled.append(case)
            for child in children:
                yield from child.price(self._goal())
                open_cases.append(child)

    def _glance(self, case: Case) -> Iterator[None]:
        """Searches a case among the patterns that came up."""
        if case.least < self.cost:
            yield from self._branch(case.programme.copy(), _EFFORT)

    def _settle(self, case: Case, effort: int) -> Iterator[None]:
        """Searches a case among all patterns that matter, if they can be listed."""
        if case.least < self.cost:
            listed = yield from case.near(self._goal(), self.search)
            if listed and (yield from self._branch(listed, effort)):
                case.least = self.cost

    def _learn(self, open_cases: list[Case]) -> None:
        # All divisions together cost less than half a strip.
        least = min([self.cost, *(case.least for case in open_cases)])
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
        problem, cutting = self.problem, trimmed(self.problem, cutting)
        reached = problem.missing(problem.left(cutting)), problem.area(problem.opened(cutting))
        # What is better still is left to the search itself, or less work would find at its end
        # what more of it passes by.
        if reached == (self.search.missing, self.search.area) and self._cost(cutting) < self.cost:
            self._cutting = list(cutting)

    def _known(self) -> Work[list[tuple[int, Pattern]]]:
        """Patterns of the plan, as they are and with as few strips as they can be cut with."""
        found = [(sort, pattern) for sort, pattern, _ in [*self.search.cutting, *self.cutting]]
        for sort, pattern in list(found):
            neat = yield from neatest(self.problem.sorts[sort].patterns, pattern.made)
            if neat:
                found.append((sort, neat))
        return found

    def _branch(self, programme: StripProgramme, effort: int) -> Work[bool]:
        """Branches on a programme's patterns; whether all of their cuttings were searched."""
        branching = Branching(programme, self._goal, self.offer)
        yield from branching.run(self.problem.meter.steps + effort)
        return branching.complete
