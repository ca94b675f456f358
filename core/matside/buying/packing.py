"""Packing lengths into as few boxes as the longest-first rule finds, many alike at a time."""

from collections.abc import Iterable
from typing import NamedTuple

from ..units import SAME


class Part(NamedTuple):
    """So many parts alike, and the length of each."""

    length: float
    count: int = 1


class Boxes(NamedTuple):
    """So many boxes alike, and the room left in each."""

    room: float
    many: int

    def fit(self, part: Part) -> int:
        """How many of the parts still go into one box."""
        return int((self.room + SAME) // part.length)

    def with_parts(self, part: Part, each: int, many: int) -> "Boxes":
        """So many of these boxes with so many parts more in each."""
        return Boxes(self.room - each * part.length, many)


def filled(parts: Iterable[Part], room: float) -> int:
    """How many boxes of a length the parts take, the longest first, each put into the first box with room for it.

    No part may be longer than a box.

    >>> filled([Part(8.0, 3), Part(4.0)], 20.0)
    2
    """
    boxes: list[Boxes] = []
    for part in sorted(parts, key=lambda part: -part.length):
        boxes, left = _into(boxes, part)
        boxes += _filled_anew(part._replace(count=left), room)
    return sum(one.many for one in boxes)


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
        found += [boxes._replace(many=untouched)] if untouched else []
        left -= placed
    return found, left


def _filled_anew(part: Part, room: float) -> list[Boxes]:
    empty = Boxes(room, 1)
    full, rest = divmod(part.count, empty.fit(part))
    found = [empty.with_parts(part, empty.fit(part), full)] if full else []
    return found + ([empty.with_parts(part, rest, 1)] if rest else [])
