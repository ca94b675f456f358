"""Three-diamond hexagons: three 60° diamonds round a point make a hexagon, and the hexagons lie like honeycomb."""

import math

from ..outlines.polygons import rhombus
from .setting import Extent, Setting, staggered
from .tilings import Measures, Tile, Tiling


def hexagons(size: float) -> Setting:
    """Hexagons standing on a point, of 60° diamonds of a finished size.

    A filled edge runs through the hexagons' middles at the sides and through the long diagonals of
    the lying diamonds at the ends.

    >>> setting = hexagons(3.5)
    >>> tuple(round(length, 4) for length in setting.finished("pointed", 2, 2))
    (14.0, 14.1451)
    """
    edge = Measures(size, 60).edge
    across, down = math.sqrt(3) * edge, 1.5 * edge
    flat = Extent((-across / 2, -edge / 2))
    extents = {"pointed": Extent((-across / 2, -edge), (0.0, edge / 2)), "trimmed": flat, "filled": flat}
    return Setting("hexagons", tiling(edge), (across, down), extents, staggered)


def tiling(edge: float) -> Tiling:
    """Two hexagons a period, the second half a hexagon to the right and in the next row.

    >>> len(tiling(1.0).tiles)
    6
    """
    across = math.sqrt(3) * edge
    a, b, upright = (across / 2, edge / 2), (-across / 2, edge / 2), (0.0, edge)
    shapes = (rhombus(a, b), rhombus(a, upright), rhombus(b, upright))
    middles = ((0.0, -edge / 2), (-across / 4, edge / 4), (across / 4, edge / 4))
    first = [Tile(shape, x, y, 0, 0) for shape, (x, y) in enumerate(middles)]
    second = [Tile(shape, x + across / 2, y + 1.5 * edge, 1, 1) for shape, (x, y) in enumerate(middles)]
    return Tiling(shapes, (*first, *second), across, 3 * edge, 2, 2)
