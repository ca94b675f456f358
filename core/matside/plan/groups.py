"""Needs and cloths split into groups that have nothing to do with each other, such as
fabrics; each is searched by itself.

The least missing and the least opened of all together is the sum over the groups.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial

from ..cloth import fits
from ..strips import pieces_in
from .basket import BasketCloth, Need
from .meter import Meter, Work
from .patterns import Patterns
from .problem import Problem, Sort
from .ways import PLACES_AT_ONCE, Divider, WeightedKind

#: Places of a division that are looked at one by one: so many for a cloth, and fewer where cloths and kinds are many.
_MOST_PLACES = 600
_FEWEST_PLACES = 8
_PLACES_IN_ALL = 60_000


@dataclass(frozen=True, slots=True)
class Group:
    """Numbers of the needs and of the cloths that belong together."""

    needs: tuple[int, ...]
    cloths: tuple[int, ...]


@dataclass(slots=True)
class Built:
    """A group made ready for the search; `members` are the numbers of the cloths of each of the problem's sorts."""

    group: Group
    problem: Problem
    members: list[list[int]]


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked: needs with the weights of their pieces, cloths, the grain; areas of
    cloths as multiples of 1/quantum.

    `heaviness` is what the pieces of one whole multiple would weigh.
    """

    needs: list[Need]
    weights: list[float]
    cloths: list[BasketCloth]
    grain: str
    quantum: int
    heaviness: float
    #: The sides that strips may run along, of cloths by number, where these are fewer than the grain allows.
    sides: Mapping[int, tuple[str, ...]] = field(default_factory=dict)

    def sides_of(self, number: int) -> tuple[str, ...]:
        """The sides that the strips of a cloth may run along."""
        return self.sides.get(number, self.cloths[number].sides(self.grain))

    def kind(self, number: int) -> WeightedKind:
        """A need as the search knows it."""
        need, shape = self.needs[number], self.needs[number].shape
        return WeightedKind(float(shape.size), shape.starter_waste, shape.advance, self.weights[number], need.need)

    def most(self, number: int, kind: WeightedKind, need: Need) -> int:
        """The most pieces of a kind, which is a need's, that one undivided cloth gives, none above the need."""
        most, cloth = 0, self.cloths[number]
        for along in cloth.sides_for(need, self.sides_of(number)):
            run, across = (cloth.length, cloth.width) if along == "length" else (cloth.width, cloth.length)
            strips = fits(across, kind.size)
            most = max(most, strips and strips * pieces_in(kind, run))
        return min(most, kind.need)


def groups(task: Task) -> Work[list[Group]]:
    """All groups of needs that some cloth can give a piece of, with all cloths that can, in the order of the needs.

    Yields after every bit of work.
    """
    found: list[tuple[set[int], set[int]]] = []
    for number, need in enumerate(task.needs):
        kind = task.kind(number)
        able = {
            c for c, cloth in enumerate(task.cloths) if cloth.count and cloth.takes(need) and task.most(c, kind, need)
        }
        if able:
            touching = [group for group in found if group[1] & able]
            found = [group for group in found if group not in touching]
            found.append(({number}.union(*(g[0] for g in touching)), able.union(*(g[1] for g in touching))))
        yield
    return [Group(*group) for group in sorted((tuple(sorted(n)), tuple(sorted(c))) for n, c in found)]


def build(group: Group, task: Task) -> Work[Built]:
    """The group's problem: cloths that are alike are one sort."""
    meter = Meter()
    kinds = [task.kind(n) for n in group.needs]
    alike = _alike(group, task)
    places = _PLACES_IN_ALL // (len(alike) * len(kinds))
    divider = Divider(kinds, max(_FEWEST_PLACES, min(_MOST_PLACES, places)))
    sorts, members = [], []
    for (length, width, allowed, sides), numbers in alike.items():
        needs = [task.needs[n] for n in group.needs]
        any_way = [any(may) for may in zip(*allowed)]
        most = tuple(task.most(numbers[0], *pair) if may else 0 for *pair, may in zip(kinds, needs, any_way))
        make = partial(_patterns, divider, kinds, meter, float(length), float(width), allowed, sides)
        count = min(sum(task.cloths[c].count for c in numbers), _most_used(kinds, most))
        sorts.append(Sort(make, int(length * width * task.quantum), count, most))
        members.append(numbers)
        meter.add(len(kinds))
        yield from meter.pause()
    return Built(group, Problem(kinds, sorts, meter, task.heaviness), members)


def _patterns(divider: Divider, kinds, meter: Meter, length, width, allowed, sides) -> Work[Patterns]:
    """All that can be cut from a cloth."""
    finding, patterns = divider.find(length, width, allowed, sides), Patterns(kinds, [], meter)
    while True:
        try:
            next(finding)
        except StopIteration as end:
            yield from patterns.add(end.value)
            return patterns
        meter.add(PLACES_AT_ONCE * (6 + len(kinds)) // 3)
        yield from meter.pause()


def _alike(group: Group, task: Task) -> dict[tuple, list[int]]:
    """The group's cloths by size, by the needs that they may serve along each side, and by the sides that strips may
    run along."""
    found: dict[tuple, list[int]] = {}
    for c in group.cloths:
        cloth = task.cloths[c]
        sides = task.sides_of(c)
        allowed = tuple(tuple(_may(cloth, task.needs[n], side) for n in group.needs) for side in sides)
        found.setdefault((cloth.length, cloth.width, allowed, sides), []).append(c)
    return found


def _may(cloth: BasketCloth, need: Need, side: str) -> bool:
    return cloth.takes(need) and bool(cloth.sides_for(need, (side,)))


def _most_used(kinds: list[WeightedKind], most: tuple[int, ...]) -> int:
    """As many cloths as give everything that such cloths can give, each of them one kind only: no plan needs more."""
    return sum(-(-kind.need // number) for kind, number in zip(kinds, most) if number)
