"""Settings as tilings: the pieces of one period, repeated across and down.

Everything is in finished measures. A tiling is drawn "standing"; a lying one is the same with x and y swapped.
A **unit** is what repeats as a whole: one diamond of a grid or a zigzag row, one star, one hexagon, one block.
"""

import math
from dataclasses import dataclass
from typing import NamedTuple

from ... import angles
from ...shapes import Outline

#: Added to the turn of the diamonds that lie between stars. A multiple of 3, so that their direction can still be told.
JOINING = 12


class Tile(NamedTuple):
    """One piece of a period: its shape's number, its centre, and the row and column of the unit it belongs to.

    `other` is set on a diamond that joins two units: the row and column of the second one, counted from the first.
    `joins` says that a diamond lies between stars and not in one."""

    shape: int
    x: float
    y: float
    row: int
    column: int
    kind: str = "diamond"
    other: tuple[int, int] | None = None
    joins: bool = False

    @property
    def turn(self) -> int:
        """A number for the direction the tile lies in."""
        return self.shape + (JOINING if self.joins else 0)


@dataclass(frozen=True, slots=True)
class Tiling:
    """Shapes about their own centres, the tiles of one period, and the period's width and height in inches.

    `rows` and `columns` say by how much a tile's row and column grow from one period to the next.
    """

    shapes: tuple[Outline, ...]
    tiles: tuple[Tile, ...]
    width: float
    height: float
    rows: int
    columns: int


@dataclass(frozen=True, slots=True)
class Measures:
    """A diamond's finished measures, in inches, from its size and its sharp angle in degrees.

    >>> found = Measures(3.5, 60)
    >>> round(found.edge, 4), round(found.short, 4), round(found.long, 4)
    (4.0415, 4.0415, 7.0)
    """

    size: float
    angle: float

    @property
    def edge(self) -> float:
        """Length of an edge: size / sin(angle)."""
        return self.size / angles.sin(self.angle)

    @property
    def short(self) -> float:
        """Point to point between the blunt corners: size / cos(angle / 2)."""
        return self.size / math.cos(math.radians(self.angle) / 2)

    @property
    def long(self) -> float:
        """Point to point between the sharp corners: size / sin(angle / 2)."""
        return self.size / angles.sin(self.angle / 2)

    @property
    def slant(self) -> float:
        """How far a slanted edge leans along a straight one: size · cot(angle)."""
        return self.size * angles.cot(self.angle)
