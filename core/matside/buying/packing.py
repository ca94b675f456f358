"""Packing lengths into as few boxes as the longest-first rule finds, many alike at a time."""

from collections.abc import Iterable
from typing import NamedTuple

from ..units import SAME


class Lot(NamedTuple):
    """A lot of lengths alike: how long each is, and how many."""

    length: float
    count: int = 1


class Boxes(NamedTuple):
    """So many boxes alike, and the room left in each."""

    room: float
    many: int

    def fit(self, lot: Lot) -> int:
        """How many of a lot still go into one box."""
        return int((self.room + SAME) // lot.length)

    def with_some(self, lot: Lot, each: int, many: int) -> "Boxes":
        """So many of these boxes with so many of a lot more in each."""
        return Boxes(self.room - each * lot.length, many)


def filled(lots: Iterable[Lot], room: float) -> int:
    """How many boxes of a length the lots take, the longest first, each put into the first box with room for it.

    None may be longer than a box.

    >>> filled([Lot(8.0, 3), Lot(4.0)], 20.0)
    2
    """
    boxes: list[Boxes] = []
    for lot in sorted(lots, key=lambda lot: -lot.length):
        boxes, left = _into(boxes, lot)
        boxes += _filled_anew(lot._replace(count=left), room)
    return sum(one.many for one in boxes)


def _into(begun: list[Boxes], lot: Lot) -> tuple[list[Boxes], int]:
    """The boxes with as many of the lot as they have room for, in the same order, and how many are left."""
    found, left = [], lot.count
    for boxes in begun:
        each = boxes.fit(lot)
        placed = min(left, each * boxes.many)
        full, rest = divmod(placed, each) if each else (0, 0)
        found += [boxes.with_some(lot, each, full)] if full else []
        found += [boxes.with_some(lot, rest, 1)] if rest else []
        untouched = boxes.many - full - bool(rest)
        found += [boxes._replace(many=untouched)] if untouched else []
        left -= placed
    return found, left


def _filled_anew(lot: Lot, room: float) -> list[Boxes]:
    empty = Boxes(room, 1)
    full, rest = divmod(lot.count, empty.fit(lot))
    found = [empty.with_some(lot, empty.fit(lot), full)] if full else []
    return found + ([empty.with_some(lot, rest, 1)] if rest else [])
