"""Whether given cloths can give all that is wanted, or all but so much: found, or proved impossible.

A glance at the prices that are known; then prices made for just these cloths, which often prove it impossible; a
closer look at those; then a search through the cuttings that lose little, and in the end through all that could do.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from .beam import beam
from .descent import Descent
from .meter import Work
from .places import Cutting, Places
from .prices import Book, Prices, Searched, mixture
from .problem import dot, less

#: With more cloths than this, those that the linear programme cuts alike are taken from it as they are.
MOST_CLOTHS = 18
#: With more sorts of cloth than this the linear programme takes too long.
_MOST_SORTS = 80


@dataclass(frozen=True, slots=True)
class Stage:
    """What an attempt does next: "price" (makes prices of its own), "look" (a quick look), or "search" within a part of
    the gap that may be spent.
    """

    kind: str
    part: float = 0.0


_PRICE, _LOOK, _ALL = Stage("price"), Stage("look"), Stage("search", 1.0)
_STAGES = (_PRICE, _LOOK, Stage("search", 0.1), Stage("search", 0.4), _ALL)
#: With so few cloths, or so little that can be lost (a share of what the needs are worth), all of
#: the gap is soon searched.
_FEW_CLOTHS = 3
_STAGES_FOR_FEW = (_PRICE, _LOOK, Stage("search", 0.1), _ALL)
_LITTLE = 0.008
#: Steps that a search of so little may go on beyond an attempt's effort: it mostly ends, and a bound waits for it.
_LITTLE_EFFORT = 20_000


class Fit:
    """Looks for a cutting of so many cloths of each sort that leaves no more than `allowed` (a weight) missing.

    With `improve` it goes on from each one found to a better one. `found` is the last one and `missing` its weight;
    `settled` says that there is nothing more to find: it is found, or proved impossible. `tries` counts attempts, and
    `looks` is 0 before any quick look, 1 after a glance and 2 after a closer look.
    """

    def __init__(self, book: Book, opened: tuple[int, ...], allowed: float, improve: bool = False):
        self.book = book
        self.problem = book.problem
        self.set = opened
        self.opened = opened
        self.needs = book.problem.needs
        self.allowed = allowed
        self.improve = improve
        self.found: Cutting | None = None
        self.missing = 0.0
        self.settled = False
        self.tries = 0
        self.looks = 0
        self._last_step = 0
        self._prices: Prices | None = None
        self._fixed: Cutting = []
        self._stages = self._planned()

    @property
    def spent(self) -> bool:
        """Whether nothing is left to try."""
        return self.settled or not self._stages

    def glance(self, looks=(beam,)) -> Iterator[None]:
        """Quick looks at the best prices that are known."""
        self.looks = max(1, self.looks)
        self._settle_by_prices()
        for look in looks if sum(self.opened) <= MOST_CLOTHS else ():
            if not self.spent:
                yield from self._look(look)

    def look_closer(self) -> Iterator[None]:
        """A quick look at prices of its own."""
        self.looks = 2
        self._settle_by_prices()
        while not self.spent and self._stages[0].kind != "search":
            yield from self._stage(self._stages[0])
            self._stages = self._stages[1:]

    def attempt(self, effort: int) -> Iterator[None]:
        """Goes on where the last attempt stopped, to the end of the stage in which `effort` steps are spent."""
        self.tries += 1
        self._last_step = self.problem.meter.steps + effort
        self._settle_by_prices()
        while not self.spent and self.problem.meter.steps < self._last_step:
            if (yield from self._stage(self._stages[0])):
                self._stages = self._stages[1:]

    def _settle_by_prices(self) -> None:
        # All of the set: prices weigh all needs, those of the cloths that are fixed as well.
        self.settled = self.settled or self.book.missing(self.set) > self.allowed

    def _planned(self) -> tuple[Stage, ...]:
        number = sum(self.opened)
        if sum(1 for n in self.opened if n) > _MOST_SORTS:
            return ()
        if number > _FEW_CLOTHS:
            return _STAGES
        return _STAGES_FOR_FEW if number > 1 else (_ALL,)

    def _stage(self, stage: Stage) -> Work[bool]:
        """Does a stage; returns whether it came to its end."""
        if stage.kind == "price":
            yield from self._price()
            return True
        if stage.kind == "look":
            yield from self._look(beam)
            return True
        places = self._places()
        if len(places.order) < 2 and stage != _ALL:
            return True
        if places.prices and self.allowed - places.bound < _LITTLE * dot(places.prices, places.needs):
            stage = _ALL
            self._stages = (stage,)
            self._last_step += _LITTLE_EFFORT
        return (yield from self._descend(places, stage.part, self._last_step))

    def _places(self) -> Places:
        return Places(self.book, self.opened, self.needs, self._prices or self.book.tightest(self.opened))

    def _look(self, look) -> Iterator[None]:
        places = self._places()
        cutting = (yield from look(places, self.allowed)) if len(places.order) > 1 else None
        if cutting is not None:
            self._offer(cutting, self._missing(cutting))

    def _descend(self, places: Places, part: float, last_step: int) -> Work[bool]:
        if not places.order:
            if self.problem.missing(self.needs) <= self.allowed:
                self._offer([], self.problem.missing(self.needs))
            self.settled = not self._fixed
            self._note_searched()
            return True
        descent = Descent(places, self.allowed, part == 1.0 or len(places.order) <= _FEW_CLOTHS, self._offer)
        ended = yield from descent.run((self.allowed - places.bound) * part, last_step)
        if part == 1.0 and ended and descent.complete and places.exact and not self._fixed:
            self.settled = True
            self._note_searched()
        return ended

    def _note_searched(self) -> None:
        if self.settled and (self.found is None or self.missing > self.allowed):
            self.book.searched.append(Searched(self.set, self.allowed))

    def _offer(self, cutting: Cutting, missing: float) -> float | None:
        """Keeps a cutting; what is allowed for the next one, None when no other is wanted."""
        self.found, self.missing = [*self._fixed, *cutting], missing
        if self.improve and missing > 0:
            self.allowed = missing - 1.0
            return self.allowed
        self.settled = True
        return None

    def _missing(self, cutting: Cutting) -> float:
        needs = self.needs
        for _, pattern, _ in cutting:
            needs = less(needs, pattern.made)
        return self.problem.missing(needs)

    def _price(self) -> Iterator[None]:
        """Finds prices that bound well for these cloths; settles the matter when they prove too much missing."""
        for aim in ("missing", "area") if self.allowed > 0 else ("area",):
            mixed = yield from mixture(self.book, self.opened, aim, self.allowed)
            if mixed.missing > self.allowed:
                self.settled = True
                return
            if mixed.missing > 0:
                break
        self._prices = mixed.prices
        if sum(self.opened) > MOST_CLOTHS:
            self._fix(mixed.mixed)

    def _fix(self, mixed) -> None:
        """Takes over whole cloths from the mixture, so that few are left to decide."""
        left = list(self.opened)
        for sort, pattern, times in mixed:
            whole = int(times + 1e-6)
            if whole:
                self._fixed.append((sort, pattern, whole))
                self.needs = less(self.needs, tuple(whole * number for number in pattern.made))
                left[sort] -= whole
        self.opened = tuple(left)
