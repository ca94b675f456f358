"""One size held against the basket."""

from collections.abc import Iterator

from ..plan.basket import BasketCloth, Need
from ..plan.planning import Planner

#: The planner's own budget; how long it may go on is settled here.
_NO_END = 10**12
#: Square inches below which nothing is missing: far below any piece, far above float noise.
_NOTHING = 1e-6
_END = object()


class Trial:
    """Whether a basket gives all that is needed: `verdict` is True or False where the plan has
    shown it, None as long as not.

    >>> from fractions import Fraction
    >>> from ..shapes import Diamond
    >>> small = Need("d", Diamond(Fraction(7, 2), Fraction(60)), 15)
    >>> trial = Trial([small], [BasketCloth("q", Fraction(15), Fraction(23), 1)], "any")
    >>> for _ in trial.go_on(1000):
    ...     pass
    >>> trial.verdict
    True
    """

    def __init__(self, needs: list[Need], cloths: list[BasketCloth], grain: str):
        self.planner = Planner(needs, cloths, grain, _NO_END)
        self._run = self.planner.run()
        self.over = False

    @property
    def steps(self) -> int:
        """Steps of work so far."""
        return self.planner.steps

    @property
    def verdict(self) -> bool | None:
        """True: a plan is found in which nothing is missing. False: it is proved that there is none."""
        if self.planner.reached()[0] <= _NOTHING:
            return True
        return False if self.planner.bound()[0] > _NOTHING else None

    def go_on(self, work: int) -> Iterator[None]:
        """Searches until the verdict is there, so many more steps are done, or there is nothing left to search."""
        until = self.steps + work
        while self.verdict is None and not self.over and self.steps < until:
            yield from self._step()

    def look(self) -> Iterator[None]:
        """Searches until a first plan from the whole basket is there, or the verdict before that."""
        while self.verdict is None and not self.over and not self.planner.begun:
            yield from self._step()

    def improve(self, work: int) -> Iterator[None]:
        """Searches for a plan that opens less, as `go_on` does."""
        until = self.steps + work
        while not self.planner.proven and not self.over and self.steps < until:
            yield from self._step()

    def _step(self) -> Iterator[None]:
        if next(self._run, _END) is _END:
            self.over = True
        yield
