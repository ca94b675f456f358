"""Boxes laid on pages in shelves: the highest first, left to right, then on a new shelf, then on a new page."""

from collections.abc import Sequence
from typing import NamedTuple

from ..units import SAME

#: Inches between one box and the next.
GAP = 0.2


class Place(NamedTuple):
    """A page by its number, and where the box's upper left corner lies in the room there."""

    page: int
    x: float
    y: float


def packed(boxes: Sequence[tuple[float, float]], room: tuple[float, float]) -> list[Place]:
    """A place for every box (width, height) in pages with so much room, in the order of the boxes.

    No box may be larger than the room.

    >>> packed([(2, 1), (3, 2), (5, 1)], (5.2, 4))
    [Place(page=0, x=3.2, y=0.0), Place(page=0, x=0.0, y=0.0), Place(page=0, x=0.0, y=2.2)]
    """
    found: dict[int, Place] = {}
    page, x, y, shelf = 0, 0.0, 0.0, 0.0
    for number in sorted(range(len(boxes)), key=lambda box: -boxes[box][1]):
        width, height = boxes[number]
        if x and x + width > room[0] + SAME:
            x, y, shelf = 0.0, y + shelf + GAP, 0.0
        if y and y + height > room[1] + SAME:
            page, x, y, shelf = page + 1, 0.0, 0.0, 0.0
        found[number] = Place(page, x, y)
        x, shelf = x + width + GAP, max(shelf, height)
    return [found[number] for number in range(len(boxes))]
