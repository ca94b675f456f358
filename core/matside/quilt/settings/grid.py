"""The grid: diamonds of one direction, edge to edge or with sashing between them."""

from collections.abc import Iterator

from ..outlines.polygons import rhombus
from .setting import Extent, Setting, Unit, staggered
from .tilings import Measures, Tile, Tiling


def grid(size: float, angle: float, sash: float = 0.0) -> Setting:
    """Standing diamonds of a finished size and sharp angle, with sashing of a finished width between them.

    With sashing each diamond sits in a cell that is larger by half the sashing all round; a filled edge runs through
    the middle of the crossings, so that its halves and quarters are those of the diamond itself.

    >>> round(grid(3.5, 60).finished("filled", 5, 5)[1], 6)
    35.0
    """
    cell, piece = Measures(size + sash, angle), Measures(size, angle)
    corner, points = (-cell.short / 2, -cell.long / 2), (-piece.short / 2, -piece.long / 2)
    short_by = (piece.short - cell.short, piece.long - cell.long)
    extents = {"pointed": Extent(points, short_by), "trimmed": Extent(corner), "filled": Extent(corner)}
    return Setting("grid", tiling(cell), (cell.short, cell.long), extents, grid_units, scale=size / (size + sash))


def tiling(cell: Measures) -> Tiling:
    """Two diamonds a period, the second half a period on both ways.

    >>> len(tiling(Measures(1, 60)).tiles)
    2
    """
    across, down = cell.short, cell.long
    outline = rhombus((across / 2, down / 2), (across / 2, -down / 2))
    tiles = (Tile(0, 0.0, 0.0, 0, 0), Tile(0, across / 2, down / 2, 1, 1))
    return Tiling((outline,), tiles, across, down, 2, 2)


def grid_units(columns: int, rows: int) -> Iterator[Unit]:
    """c × r diamonds point to point and the (c − 1) × (r − 1) between them.

    >>> len(list(grid_units(5, 5)))
    41
    """
    return (unit for unit in staggered(columns, 2 * rows - 1) if columns > 1 or unit[0] % 2 == 0)
