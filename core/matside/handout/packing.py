"""Boxes laid on pages in shelves: left to right, then on a new shelf, then on a new page."""

from collections.abc import Iterable
from typing import NamedTuple

from ..units import SAME

#: Inches between one box and the next.
GAP = 0.2


class Place(NamedTuple):
    """A page by its number, and where the box's upper left corner lies in the room there."""

    page: int
    x: float
    y: float


def packed(boxes: Iterable[tuple[float, float]], room: tuple[float, float]) -> list[Place]:
    """A place for every box (width, height) in pages with so much room; the highest first waste the least.

    No box may be larger than the room.

    >>> packed([(3, 2), (2, 1), (5, 1)], (5.2, 4))
    [Place(page=0, x=0.0, y=0.0), Place(page=0, x=3.2, y=0.0), Place(page=0, x=0.0, y=2.2)]
    """
    found: list[Place] = []
    page, x, y, shelf = 0, 0.0, 0.0, 0.0
    for width, height in boxes:
        if x and x + width > room[0] + SAME:
            x, y, shelf = 0.0, y + shelf + GAP, 0.0
        if y + height > room[1] + SAME:
            page, x, y, shelf = page + 1, 0.0, 0.0, 0.0
        found.append(Place(page, x, y))
        x, shelf = x + width + GAP, max(shelf, height)
    return found
