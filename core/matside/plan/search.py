"""The search for one group of kinds and cloths that depend on each other.

First the least weight of missing pieces with all cloths at hand; then the least area of cloth that still misses no
more. Sets of cloths are tried in the order of their area: each is proved impossible, or cut, or put off until more
effort is spent on it. The best plan so far and the bounds are there at any moment.
"""

from collections.abc import Iterator

from .fit import Fit
from .greedy import greedy
from .opened import least_area, neighbours, sets
from .places import Cutting
from .prices import Book, mixture
from .problem import Problem

_EFFORTS = (3_000, 20_000, 150_000, 10**12)
#: How far up from what is proved missing towards what is found missing a goal is set.
_GOALS = (0.0, 0.3, 1.0)
_FEW_SETS = 60
_MOST_SETS = 5_000
_MOST_SORTS = 40


class Search:
    """`cutting` is the best so far, `missing` its weight, `area` what it opens; `least_missing` and `least_area` bound."""

    def __init__(self, problem: Problem):
        self.problem = problem
        self.book = Book(problem)
        self.cutting: Cutting = []
        self.left = problem.needs
        self.missing = problem.total
        self.area = 0
        self.least_missing = 0.0
        self.least_area = 0

    @property
    def proven(self) -> bool:
        """Whether no plan does better."""
        return self.missing <= self.least_missing and self.area <= self.least_area

    def run(self) -> Iterator[None]:
        """Searches until it is proved that no plan is better; whoever runs it may stop at any yield."""
        yield from self._first()
        if self.missing > self.least_missing:
            yield from self._miss_less()
        yield from self._open_less()

    def _first(self) -> Iterator[None]:
        cutting: Cutting = []
        for _ in greedy(self.problem, cutting):
            self._take(cutting)
            yield
        self._take(cutting)
        yield from self.book.look(self.problem.weights, self.problem.counts)
        self.least_missing = self.book.missing(self.problem.counts)

    def _take(self, cutting: Cutting) -> None:
        problem, left = self.problem, self.problem.left(cutting)
        missing, area = problem.missing(left), problem.area(problem.opened(cutting))
        if (missing, area) < (self.missing, self.area):
            self.cutting, self.missing, self.area, self.left = list(cutting), missing, area, left
            self.least_area = max(self.least_area, least_area(self.book, self.missing))

    def _miss_less(self) -> Iterator[None]:
        """Tries goals between what is proved and what is found, the boldest first: bold ones fail or succeed fast."""
        fits: dict[tuple[float, bool], Fit] = {}
        for effort in _EFFORTS:
            for boldness in _GOALS:
                goal = self.least_missing + (self.missing - 1.0 - self.least_missing) * boldness // 1.0
                key = goal, boldness == 1.0
                fit = fits[key] = fits.get(key) or Fit(self.book, self.problem.counts, *key)
                yield from fit.attempt(effort)
                self.least_missing = max(self.least_missing, self.book.missing(self.problem.counts))
                if fit.found:
                    self._take(fit.found)
                if fit.settled:
                    proved = self.missing if fit.found else goal + 1.0
                    self.least_missing = max(self.least_missing, proved if not fit.found or fit.improve else 0.0)
                if self.missing <= self.least_missing:
                    return

    def _open_less(self) -> Iterator[None]:
        self.least_area = max(self.least_area, least_area(self.book, self.missing))
        waiting, complete = yield from sets(self.book, self.area, self.missing, _FEW_SETS)
        if len(waiting) > 2 and len(self.problem.sorts) <= _MOST_SORTS:
            yield from mixture(self.book, self.problem.counts, "area", float("inf"))
            self.least_area = max(self.least_area, least_area(self.book, self.missing))
            waiting, complete = yield from sets(self.book, self.area, self.missing, _MOST_SETS)
        fits = [(area, Fit(self.book, opened, self.missing)) for area, opened in waiting]
        if fits:
            best = self.book.tightest(self.problem.counts)
            for _, f in fits: f.room = -best.missing(self.problem, f.opened)
        for effort in _EFFORTS:
            yield from self._climb(fits, effort, complete)
            fits = [(area, fit) for area, fit in fits if area < self.area and not fit.settled]
            if not fits:
                break
        if complete and not fits:
            self.least_area = self.area

    def _climb(self, fits, effort: int, complete: bool) -> Iterator[None]:
        """Tries the sets in the order of their area; from each that must be put off, leaps to larger ones."""
        lowest = None
        if len(fits) > 8:
            yield from self._leap(fits, fits[0][0], effort)
        for area, fit in fits:
            if area >= self.area:
                break
            if complete and lowest is None:
                self.least_area = max(self.least_area, area)
            yield from self._attempt(fit, effort)
            if not fit.settled:
                lowest = area if lowest is None else lowest
                yield from self._leap(fits, area, effort)

    def _leap(self, fits, area, effort):
        share = 0.3
        while share < 0.95:
            limit = area + (self.area - area) * share
            tries = min((f.tries for _,f in fits), default=0)
            some = [(f.room, i) for i, (a, f) in enumerate(fits) if area < a <= limit and a<self.area and not f.settled and f.tries == tries]
            if not some:
                share = (1+share)/2
                continue
            fit = fits[max(some)[1]][1]
            yield from self._attempt(fit, 1)
            share = 0.3 if fit.found else (1 + share) / 2

    def _attempt(self, fit, effort):
        yield from fit.attempt(effort)
        if fit.found:
            self._take(fit.found)
