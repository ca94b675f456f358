"""The search for one group of kinds and cloths that depend on each other.

First the least weight of missing pieces with all cloths at hand; then the least area of cloth that still misses no
more. Sets of cloths are tried in the order of their area: each is proved impossible, or cut, or put off until more
effort is spent on it. The best plan so far and the bounds are there at any moment.
"""

from collections.abc import Iterator

from .fit import Cutting, Fit
from .greedy import greedy
from .opened import sets
from .prices import Book, mixture
from .problem import Problem

_EFFORTS = (3_000, 20_000, 150_000, 10**12)
#: How far up from what is proved missing towards what is found missing a goal is set.
_GOALS = (0.0, 0.3, 1.0)
_MOST_SETS = 3_000


class Search:
    """`cutting` is the best so far, `missing` its weight, `area` what it opens; `least_missing` and `least_area` bound."""

    def __init__(self, problem: Problem):
        self.problem = problem
        self.book = Book(problem)
        self.cutting: Cutting = []
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
        yield from self.book.look(self.problem.weights, self.problem.counts)
        self.least_missing = self.book.missing(self.problem.counts)
        cutting: Cutting = []
        for _ in greedy(self.problem, cutting):
            self._take(cutting)
            yield
        self._take(cutting)

    def _take(self, cutting: Cutting) -> None:
        made = [sum(numbers) for numbers in zip(*(pattern.made for _, pattern in cutting))]
        left = tuple(max(0, need - done) for need, done in zip(self.problem.needs, made or [0] * len(self.problem.needs)))
        missing, area = self.problem.missing(left), sum(self.problem.sorts[sort].area for sort, _ in cutting)
        if (missing, area) < (self.missing, self.area):
            self.cutting, self.missing, self.area = list(cutting), missing, area

    def _miss_less(self) -> Iterator[None]:
        """Tries goals between what is proved and what is found, the boldest first: bold ones fail or succeed fast."""
        for effort in _EFFORTS:
            for boldness in _GOALS:
                goal = self.least_missing + (self.missing - 1.0 - self.least_missing) * boldness // 1.0
                fit = Fit(self.book, self.problem.counts, goal, improve=boldness == 1.0)
                yield from fit.attempt(effort)
                self.least_missing = max(self.least_missing, self.book.missing(self.problem.counts))
                if fit.found:
                    self._take(fit.found)
                    if fit.settled and fit.improve:
                        self.least_missing = self.missing
                elif fit.settled:
                    self.least_missing = max(self.least_missing, goal + 1.0)
                if self.missing <= self.least_missing:
                    return

    def _open_less(self) -> Iterator[None]:
        waiting, complete = yield from sets(self.book, self.area, self.missing, 200)
        if not complete:
            yield from mixture(self.book, self.problem.counts, "area", float("inf"))
            waiting, complete = yield from sets(self.book, self.area, self.missing, _MOST_SETS)
        fits = [(area, Fit(self.book, opened, self.missing)) for area, opened in waiting]
        for effort in _EFFORTS:
            put_off = []
            bold = 0.5
            for area, fit in fits:
                if area >= self.area:
                    break
                if fit.settled:
                    continue
                if complete and not put_off:
                    self.least_area = area
                yield from self._attempt(fit, effort)
                if not fit.settled:
                    put_off.append((area, fit))
                    if bold < 0.95:
                        target = area + (self.area - area) * bold
                        for other, bolder in fits:
                            if target <= other < self.area and not bolder.settled and bolder.last_step == 0 or (target <= other < self.area and not bolder.settled and bolder.effort < effort):
                                yield from self._attempt(bolder, 1 if effort == _EFFORTS[0] else effort)
                                bolder.effort = effort
                                bold = 0.5 if bolder.found else (1 + bold) / 2
                                break
            fits = [item for item in put_off if item[0] < self.area]
            if not fits:
                break
        if complete and not fits:
            self.least_area = self.area

    def _attempt(self, fit, effort):
        yield from fit.attempt(effort)
        if fit.found:
            self._take(fit.found)
