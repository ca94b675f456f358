"""Which size is the largest that a basket surely gives."""

from collections.abc import Callable, Iterator

from ..plan.basket import BasketCloth
from ..plan.meter import Work
from .outdone import outdoes
from .trial import Trial

#: Steps that one size may take at first; the double whenever all that are left have been tried.
SHARE = 20_000


class SizeSearch:
    """The largest size, resumable: `sure` is the number of the largest that the plan gives so far, `trial` its plan.

    `needs_at` gives (by `yield from`) what a size needs, None beyond the last that can be. `undecided` are larger sizes
    that are neither given nor ruled out. Every other larger one is ruled out: its pieces have more area than all the
    cloth, or the plan proved it, or it asks for all that such a one does. Sizes beyond the last are not looked at."""

    def __init__(self, needs_at: Callable[[int], Iterator[None]], cloths: list[BasketCloth], grain: str, work: int):
        self._needs_at = needs_at
        self._cloths = cloths
        self._grain = grain
        self._work = work
        self._trials: dict[int, Trial] = {}
        self._spent = 0
        self._share = SHARE
        self.sure: int | None = None
        self.undecided: list[int] = []
        #: Whether every size that may be had was held against the basket once.
        self.settled = False

    @property
    def trial(self) -> Trial | None:
        """The largest sure size with its plan."""
        return None if self.sure is None else self._trials[self.sure]

    @property
    def steps(self) -> int:
        """Steps of work so far."""
        return self._spent + sum(trial.steps for trial in self._trials.values())

    def run(self) -> Iterator[None]:
        """A quick look for a size that is sure, then every larger one that may be had, each
        within its share of the work.
        """
        beyond = yield from self._beyond()
        self.undecided = list(range(beyond))
        yield from self._quick(beyond)
        yield from self._round()
        self.settled = True
        if self.trial:
            yield from self.trial.improve(SHARE)

    def go_on(self) -> Iterator[None]:
        """Tries the undecided sizes again and again, each time for longer, until none is left or the work is done."""
        while self.undecided and self.steps < self._work:
            self._share *= 2
            yield from self._round()
        if self.trial:
            yield from self.trial.improve(max(0, self._work - self.steps))

    def _beyond(self) -> Work[int]:
        """The first size with more area than all the cloth, returned by `yield from`; larger ones have more still."""
        area = float(sum(cloth.length * cloth.width * cloth.count for cloth in self._cloths))
        low, high = 0, 1  # sizes below `low` fit by their area; `high` − 1 may not
        while (yield from self._fits(high - 1, area)):
            low, high = high, max(high + 1, high * 5 // 4)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if (yield from self._fits(middle - 1, area)) else (low, middle)
        return low

    def _fits(self, number: int, area: float) -> Work[bool]:
        needs = yield from self._needs_at(number)
        return needs is not None and sum(need.shape.area * need.need for need in needs) <= area * (1 + 1e-9)

    def _quick(self, beyond: int) -> Iterator[None]:
        """Halves its way to a size that a first plan gives already."""
        low, high = -1, beyond
        while high - low > 1:
            middle = (low + high) // 2
            trial = yield from self._trial(middle)
            yield from trial.look()
            yield from self._learn(middle)
            low, high = (middle, high) if trial.verdict else (low, middle)

    def _round(self) -> Iterator[None]:
        """Tries every undecided size once, from the middle of those that are left: what one
        shows decides others with it.
        """
        tried: set[int] = set()
        while left := [number for number in self.undecided if number not in tried]:
            if self.steps >= self._work and self.sure is not None:
                return
            number = left[len(left) // 2]
            tried.add(number)
            trial = yield from self._trial(number)
            yield from trial.go_on(self._share)
            yield from self._learn(number)

    def _trial(self, number: int) -> Work[Trial]:
        if number not in self._trials:
            needs = yield from self._needs_at(number)
            self._trials[number] = Trial(needs, self._cloths, self._grain)
        return self._trials[number]

    def _learn(self, number: int) -> Iterator[None]:
        """Keeps what a trial has shown, and lets go of trials that nothing hangs on any more."""
        verdict = self._trials[number].verdict
        if verdict and (self.sure is None or number > self.sure):
            self.sure = number
            self.undecided = [other for other in self.undecided if other > number]
        if verdict is False:
            yield from self._rule_out(number)
        for other in [other for other in self._trials if other != self.sure and other not in self.undecided]:
            self._spent += self._trials.pop(other).steps

    def _rule_out(self, number: int) -> Iterator[None]:
        less = self._trials[number].planner.needs
        for other in [other for other in self.undecided if other >= number]:
            more = yield from self._needs_at(other)
            if other == number or outdoes(more, less):
                self.undecided.remove(other)
        yield
