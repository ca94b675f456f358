"""Packing lengths into as few boxes as the longest-first rule finds, many alike at a time."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from ..units import SAME


class Part(NamedTuple):
    """So many parts alike: the length of each, its name, how many pieces it stands for."""

    length: float
    name: str = ""
    count: int = 1
    pieces: int = 1


@dataclass(slots=True)
class Boxes:
    """So many boxes filled alike: the room left in each, and how many pieces of each name it holds."""

    room: float
    gives: dict[str, int]
    many: int

    def fit(self, part: Part) -> int:
        """How many of the parts still go into one box."""
        return int((self.room + SAME) // part.length)

    def with_parts(self, part: Part, each: int, many: int) -> "Boxes":
        """So many of these boxes with so many parts more in each."""
        gives = {**self.gives, part.name: self.gives.get(part.name, 0) + each * part.pieces}
        return Boxes(self.room - each * part.length, gives, many)


def packed(parts: Iterable[Part], room: float, begun: Iterable[Boxes] = ()) -> list[Boxes]:
    """Boxes of a length that hold all parts, the longest parts first, each into the first box with room for it.

    `begun` are boxes that already hold something. No part may be longer than a box.

    >>> [(boxes.gives, boxes.many) for boxes in packed([Part(8.0, "a", 3), Part(4.0, "b", 1)], 20.0)]
    [({'a': 2, 'b': 1}, 1), ({'a': 1}, 1)]
    """
    boxes = list(begun)
    for part in sorted(parts, key=lambda part: -part.length):
        boxes, left = _into(boxes, part)
        boxes += _filled_anew(part._replace(count=left), room)
    return boxes


def filled(parts: Iterable[Part], room: float) -> int:
    """How many boxes the parts take.

    >>> filled([Part(8.0, count=3), Part(4.0)], 20.0)
    2
    """
    return sum(boxes.many for boxes in packed(parts, room))


def _into(begun: list[Boxes], part: Part) -> tuple[list[Boxes], int]:
    """The boxes with as many of the parts as they have room for, in the same order, and how many parts are left."""
    found, left = [], part.count
    for boxes in begun:
        each = boxes.fit(part)
        placed = min(left, each * boxes.many)
        full, rest = divmod(placed, each) if each else (0, 0)
        found += [boxes.with_parts(part, each, full)] if full else []
        found += [boxes.with_parts(part, rest, 1)] if rest else []
        untouched = boxes.many - full - bool(rest)
        found += [Boxes(boxes.room, boxes.gives, untouched)] if untouched else []
        left -= placed
    return found, left


def _filled_anew(part: Part, room: float) -> list[Boxes]:
    empty = Boxes(room, {}, 1)
    full, rest = divmod(part.count, empty.fit(part))
    found = [empty.with_parts(part, empty.fit(part), full)] if full else []
    return found + ([empty.with_parts(part, rest, 1)] if rest else [])
