"""The search for one group of kinds and cloths that depend on each other.

First the least weight of missing pieces with all cloths at hand; then the least area of cloth that still misses no
more; in the end, where neither is proved, parts of the plan are planned anew. The best plan so far and the bounds are
there at any moment.
"""

from collections.abc import Iterator
from functools import partial

from .alike import Alike
from .anew import improve, round_off
from .beam import beam, dive
from .fewest import Fewest
from .fit import MOST_CLOTHS, Fit
from .greedy import greedy
from .opened import Areas, least_area
from .opening import MOST_SORTS, Opening
from .places import Cutting
from .prices import Book, Mixture, mixture
from .problem import Problem
from .tidy import needed, trimmed

_EFFORTS = (3_000, 20_000, 150_000, 10**12)
#: How far up from what is proved missing towards what is found missing a goal is set.
_GOALS = (0.0, 0.3, 1.0)


class Search:
    """`cutting` is the best so far, `left` what it leaves needed, `missing` the weight of that, `area` what it opens.

    `begun` says that a first plan is there. A search of a `part` of a problem does not split it further. No plan misses
    less than `least_missing`, and none that misses as little as this one opens less than `least_area`."""

    def __init__(self, problem: Problem, part: bool = False):
        self.problem = problem
        self._part = part
        self.book = Book(problem)
        self.cutting: Cutting = []
        self.left = problem.needs
        self.missing = problem.total
        self.area = 0
        self.least_missing = max(0.0, problem.total - problem.weight_of(problem.area(problem.counts)))
        self.least_area = 0
        self.begun = False
        self._areas: Areas | None = None
        self.fewest = Fewest(self)

    @property
    def proven(self) -> bool:
        """Whether no plan does better."""
        return self.missing <= self.least_missing and self.area <= self.least_area

    @property
    def areas(self) -> Areas:
        """The areas that sets of cloths have, no more than the best plan opens."""
        if self._areas is None or self._areas.most < self.area:
            self._areas = Areas([(sort.area, sort.count) for sort in self.problem.sorts], self.area)
        return self._areas

    @property
    def opened(self) -> int:
        """How many cloths the best cutting opens."""
        return sum(times for _, _, times in self.cutting)

    def run(self) -> Iterator[None]:
        """Searches until it is proved that no plan is better; whoever runs it may stop at any yield."""
        yield from self._first()
        if not self._part and self.opened > MOST_CLOTHS and len(self.problem.sorts) <= MOST_SORTS:
            yield from Alike(self, partial(Search, part=True)).run()
        if self.missing > self.least_missing:
            yield from self._miss_less()
        if self.area > self.least_area:
            yield from self._open_less()
        if not self.proven and not self._part:
            yield from improve(self, partial(Search, part=True))

    def take(self, cutting: Cutting) -> None:
        """Keeps the cutting if it is better than the best so far."""
        problem, cutting = self.problem, needed(self.problem, cutting)
        left = problem.left(cutting)
        missing, area = problem.missing(left), problem.area(problem.opened(cutting))
        if (missing, area) < (self.missing, self.area):
            self.cutting, self.missing, self.area, self.left = list(cutting), missing, area, left
            if self.begun:
                self._bound_area()

    def _bound_area(self) -> None:
        made = self.problem.area_of(self.problem.total - self.missing)
        least = max(self.least_area, made, least_area(self.book, self.missing))
        self.least_area = min(self.area, self.areas.after(least))

    def _first(self) -> Iterator[None]:
        cutting: Cutting = []
        for _ in greedy(self.problem, cutting):
            self.take(cutting)
            yield
        self.take(cutting)
        self.begun = True
        for sort, pattern, _ in cutting:
            self.book.patterns[sort].setdefault(pattern.made, pattern)
        yield from self.book.look(self.problem.weights, self.problem.counts)
        self._prove_missing(self.book.missing(self.problem.counts))
        self._bound_area()

    def go_on_from(self, cutting: Cutting) -> Iterator[None]:
        """Takes over a cutting that is known to be possible, if it is better, without the
        strips that it does not need.
        """
        self.take(trimmed(self.problem, cutting))
        for sort, pattern, _ in self.cutting:
            self.book.patterns[sort].setdefault(pattern.made, pattern)
        yield

    def put_in_place(self, cutting: Cutting) -> None:
        """Takes over a cutting that is known to be possible, whether or not it is better, just as it is."""
        self.missing = self.area = float("inf")
        self.take(cutting)

    def learn_bounds(self) -> None:
        """What all known prices prove."""
        self._prove_missing(self.book.missing(self.problem.counts))
        self._bound_area()

    def _prove_missing(self, weight: float) -> None:
        self.least_missing = max(self.least_missing, weight)

    def _miss_less(self) -> Iterator[None]:
        """Tries goals between what is proved and what is found, the boldest first: bold ones fail or succeed fast."""
        if sum(self.problem.counts) > MOST_CLOTHS and len(self.problem.sorts) <= MOST_SORTS and not self._part:
            mixed = yield from mixture(self.book, self.problem.counts, "missing", float("inf"))
            self._prove_missing(self.book.missing(self.problem.counts))
            yield from self.round_off(mixed)
        fits: dict[tuple[float, bool], Fit] = {}
        for effort in _EFFORTS:
            for boldness in _GOALS:
                goal = self.least_missing + (self.missing - 1.0 - self.least_missing) * boldness // 1.0
                key = goal, boldness == 1.0
                fit = fits[key] = fits.get(key) or Fit(self.book, self.problem.counts, *key)
                if not fit.looks:
                    yield from fit.glance((beam, dive))
                yield from fit.attempt(effort)
                self._learn(fit, goal)
                if self.missing <= self.least_missing:
                    return

    def _learn(self, fit: Fit, goal: float) -> None:
        self._prove_missing(self.book.missing(self.problem.counts))
        if fit.found:
            self.take(fit.found)
        if fit.settled and fit.improve and fit.found:
            self._prove_missing(self.missing)
        if fit.settled and not fit.found:
            self._prove_missing(goal + 1.0)

    def _open_less(self) -> Iterator[None]:
        opening = Opening(self)
        for _ in opening.run():
            self.least_area = max(self.least_area, opening.least)
            yield
        self._bound_area()
        self.least_area = max(self.least_area, opening.least)

    def round_off(self, mixed: Mixture) -> Iterator[None]:
        """Takes whole cloths from a mixture and searches for the rest; a search of a part does not."""
        if not self._part:
            yield from round_off(self, mixed, partial(Search, part=True))
