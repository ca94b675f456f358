"""The ways to divide one cloth that are worth a look: one rectangle, or two, each cut into strips all one way.

A division may lie anywhere, but only few places matter. Where the first rectangle's strips run up to the division,
it may as well lie where one of them just holds its last piece: everything short of that is waste which the other
rectangle can use. Two rectangles whose strips all run along the division give nothing that the undivided cloth does
not give. So the places are the lengths that some whole number of pieces needs, and there are only so many.
"""

from dataclasses import dataclass

from ..cloth import OTHER
from ..strips import needed_length, pieces_in
from ..units import SAME
from .meter import Work, drained

#: Places of a division that are looked at before it gives way.
PLACES_AT_ONCE = 16
#: For each side that strips may run along, which kinds may be cut from them.
Allowed = tuple[tuple[bool, ...], ...]


@dataclass(frozen=True)
class WeightedKind:
    """A kind of piece as the search knows it: strip width, starter waste and advance in inches, weight and need."""

    size: float
    starter_waste: float
    advance: float
    weight: float
    need: int


@dataclass(frozen=True, slots=True)
class PartYield:
    """A part of a cloth: the side its strips run along, their run, its breadth, and what one strip of each kind gives.

    `gives` is 0 for a kind that cannot be cut here, and never more than the kind's need.
    """

    along: str
    run: float
    breadth: float
    gives: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Partition:
    """One or two parts of a cloth, and the division between them: the side that it divides and how far along, or None.

    `real` is False for what no division gives but several together cannot beat: good for a bound, not for cutting.
    """

    parts: tuple[PartYield, ...]
    division: tuple[str, float] | None = None
    real: bool = True


class Divider:
    """Finds the ways for the cloths of one search; what a run gives is worked out once."""

    def __init__(self, kinds: list[WeightedKind], most_places: int):
        self.kinds = kinds
        self.most_places = most_places
        self._given: dict[tuple, tuple[int, ...]] = {}

    def ways(self, length: float, width: float, allowed: Allowed, sides: tuple[str, ...]) -> list[Partition]:
        """All ways worth a look for a cloth, its strips running only along `sides` and of the kinds that are `allowed`
        along each of them."""
        return drained(self.find(length, width, allowed, sides))

    def find(self, length: float, width: float, allowed: Allowed, sides: tuple[str, ...]) -> Work[list[Partition]]:
        """The same, giving way after every few places of a division."""
        found: list[Partition] = []
        by_side = dict(zip(sides, allowed))
        for along in sides:
            found += yield from self._along(length, width, along, by_side)
        return found

    def _along(self, length, width, along, by_side) -> Work[list[Partition]]:
        """The undivided way along a side, and those that divide that side with the first part's strips along it."""
        run, breadth = (length, width) if along == "length" else (width, length)
        allowed = by_side[along]
        whole = self._part(along, run, breadth, allowed)
        if not any(whole.gives):
            return []
        places = self._places(run, allowed)
        yield
        found = [Partition((whole,))]
        found += yield from self._both_along(run, breadth, along, allowed, places)
        if OTHER[along] in by_side:
            found += yield from self._one_each_way(run, breadth, along, by_side, places)
        return found

    def _both_along(self, run, breadth, along, allowed, places) -> Work[list[Partition]]:
        half = [pair for pair in places if pair[0] <= run / 2 + SAME]
        found: dict[tuple, Partition] = {}
        for number, (low, at) in enumerate(half):
            first = self._part(along, at, breadth, allowed)
            second = self._part(along, run - low, breadth, allowed)
            # Of divisions that leave the second part the same, the last gives the first part most.
            found[second.gives, low == at] = Partition((first, second), (along, at), low == at)
            if number % PLACES_AT_ONCE == PLACES_AT_ONCE - 1:
                yield
        return list(found.values())

    def _one_each_way(self, run, breadth, along, by_side, places) -> Work[list[Partition]]:
        across = self._part(OTHER[along], breadth, run, by_side[OTHER[along]])
        if not any(across.gives):
            return []
        narrowest = min(kind.size for kind, gives in zip(self.kinds, across.gives) if gives)
        found = []
        for number, (low, at) in enumerate(places):
            if run - low >= narrowest - SAME:
                first = self._part(along, at, breadth, by_side[along])
                second = PartYield(across.along, breadth, run - low, across.gives)
                found.append(Partition((first, second), (along, at), low == at))
            if number % PLACES_AT_ONCE == PLACES_AT_ONCE - 1:
                yield
        return found

    def _part(self, along: str, run: float, breadth: float, allowed: tuple[bool, ...]) -> PartYield:
        key = (run, allowed)
        gives = self._given.get(key)
        if gives is None:
            gives = self._given[key] = tuple(
                min(kind.need, pieces_in(kind, run)) if may else 0 for kind, may in zip(self.kinds, allowed)
            )
        return PartYield(along, run, breadth, gives)

    def _places(self, run: float, allowed) -> list[tuple[float, float]]:
        """Where a division may lie, as pairs: the second part starts at the first, the first part ends at the second.

        The two are the same, but where there are too many places: then pairs of neighbours stand for those between.
        """
        key = (run, allowed, "places")
        if key not in self._given:
            used = [kind for kind, may in zip(self.kinds, allowed) if may]
            most = [min(kind.need, pieces_in(kind, run)) for kind in used]
            if sum(most) <= self.most_places:
                self._given[key] = [(at, at) for at in _distinct(used, most)]
            else:
                self._given[key] = self._thinned(run, used)
        return self._given[key]

    def _thinned(self, run, used) -> list[tuple[float, float]]:
        spots = (run * k / self.most_places for k in range(1, self.most_places + 1))
        snapped = {max(needed_length(kind, pieces_in(kind, spot)) for kind in used) for spot in spots}
        chosen = sorted(snapped - {0.0})
        return [(at, at) for at in chosen] + list(zip([0.0, *chosen], chosen))


def _distinct(kinds, most) -> list[float]:
    """The lengths that whole numbers of pieces need, ascending; of lengths that are the same, the longest."""
    lengths = sorted(needed_length(kind, n + 1) for kind, last in zip(kinds, most) for n in range(last))
    return [at for at, following in zip(lengths, [*lengths[1:], float("inf")]) if following - at > SAME]
