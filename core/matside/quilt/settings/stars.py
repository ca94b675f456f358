"""Six-pointed stars of 60° diamonds, joined by single diamonds or by three-diamond hexagons."""

import math

from ...shapes import Point
from ..outlines.polygons import rhombus
from .setting import Extent, Setting, staggered
from .tilings import Measures, Tile, Tiling

JOINED_BY = ("diamonds", "hexagons")


def stars(size: float, joined_by: str = "diamonds") -> Setting:
    """Stars of 60° diamonds of a finished size.

    Joined by "diamonds", one diamond lies between every two neighbours (three more for each star); joined by
    "hexagons", stars touch at their points and three diamonds close every gap (six more for each star).

    >>> tuple(round(length, 4) for length in stars(3.5).finished("pointed", 1, 1))
    (12.1244, 14.0)
    """
    edge = Measures(size, 60).edge
    return _joined_by_diamonds(edge) if joined_by == "diamonds" else _joined_by_hexagons(edge)


def _joined_by_diamonds(edge: float) -> Setting:
    across, down = 3 * edge, 1.5 * math.sqrt(3) * edge
    whole = Extent((-across / 2, -math.sqrt(3) * edge), (0.0, math.sqrt(3) / 2 * edge))
    spokes = _spokes(edge, 0)
    shapes = tuple(rhombus(spokes[k], spokes[k + 1]) for k in range(3))
    # The short diagonal of a joining diamond lies along a spoke; the next two spokes are its edges.
    joints = ((0, (0, 2)), (1, (1, 1)), (2, (1, -1)))
    joining = [
        Tile((k + 1) % 3, 1.5 * spokes[k][0], 1.5 * spokes[k][1], 0, 0, other=other, joins=True) for k, other in joints
    ]
    tiling = _twice(shapes, [*_star(spokes), *joining], across, down)
    return Setting("stars", tiling, (across, down), dict.fromkeys(("pointed", "trimmed", "filled"), whole), staggered)


def _joined_by_hexagons(edge: float) -> Setting:
    across, down = 2 * math.sqrt(3) * edge, 3 * edge
    spokes = _spokes(edge, 30)
    shapes = tuple(rhombus(spokes[k], spokes[k + 1]) for k in range(3))
    closing = [Tile((k + 1) % 3, 1.5 * spokes[k][0], 1.5 * spokes[k][1], 0, 0, joins=True) for k in range(6)]
    flat = Extent((-across / 2, -1.5 * edge))
    extents = {"pointed": Extent((-across / 2, -2 * edge), (0.0, edge)), "trimmed": flat, "filled": flat}
    tiling = _twice(shapes, [*_star(spokes), *closing], across, down)
    return Setting("stars", tiling, (across, down), extents, staggered)


def _spokes(edge: float, first: int) -> list[Point]:
    """Seven edges from a star's middle, 60° apart, the last the same as the first."""
    turns = [math.radians(first + 60 * k) for k in range(7)]
    return [(edge * math.cos(turn), edge * math.sin(turn)) for turn in turns]


def _star(spokes: list[Point]) -> list[Tile]:
    pairs = enumerate(zip(spokes, spokes[1:], strict=False))
    return [Tile(k % 3, (u[0] + v[0]) / 2, (u[1] + v[1]) / 2, 0, 0) for k, (u, v) in pairs]


def _twice(shapes, tiles: list[Tile], across: float, down: float) -> Tiling:
    """The tiles of one star and of the star half a step on in the next row."""
    moved = [tile._replace(x=tile.x + across / 2, y=tile.y + down, row=1, column=1) for tile in tiles]
    return Tiling(shapes, (*tiles, *moved), across, 2 * down, 2, 2)
