"""The three edges: left pointed, trimmed straight, and filled with halves and quarters."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ...shapes import Outline
from ...units import SAME
from ..outlines.polygons import Box, bounds, clipped, moved, overlaps, scaled
from .patchwork import Patch, Patchwork
from .phase import fewest
from .setting import Pair, Setting, Unit
from .tilings import Tile, Tiling

Placed = tuple[Tile, float, float, int, int]
CutSides = tuple[bool, bool, bool, bool]


@dataclass(frozen=True, slots=True)
class Lay:
    """How a setting is laid: the edge, with columns and rows, or (trimmed) with a finished size
    and the shift of the tiling.

    What goes between the pieces is laid the same way as the pieces themselves.
    """

    edge: str
    columns: int = 0
    rows: int = 0
    width: float = 0.0
    height: float = 0.0
    allowance: float = 0.0
    shift: Pair = (0.0, 0.0)

    def place(self, setting: Setting) -> Patchwork:
        """The patchwork of a setting laid this way."""
        if self.edge == "trimmed":
            return trimmed(setting, self)
        return (pointed if self.edge == "pointed" else filled)(setting, self.columns, self.rows)


def pointed(setting: Setting, columns: int, rows: int) -> Patchwork:
    """Whole units only; the outer points stay.

    >>> from .grid import grid
    >>> pointed(grid(3.5, 60), 5, 5).counts()
    {'diamond': 41}
    """
    left, top = setting.extent("pointed").corner
    placed = _tiles_of(set(setting.units(columns, rows)), setting.tiling)
    patches = [
        Patch(tile.kind, tile.shape, x - left, y - top, row, column, tile.turn) for tile, x, y, row, column in placed
    ]
    return _patchwork(setting, setting.finished("pointed", columns, rows), patches)


def filled(setting: Setting, columns: int, rows: int) -> Patchwork:
    """A straight edge along lines that cut the tiles in halves, and in quarters at the corners.

    >>> from .grid import grid
    >>> filled(grid(3.5, 60), 5, 5).counts() == {"diamond": 41, "side_half": 8, "end_half": 8, "corner_quarter": 4}
    True
    """
    left, top = setting.extent("filled").corner
    width, height = setting.finished("filled", columns, rows)
    return _patchwork(setting, (width, height), *_cut_to(setting.tiling, (left, top, left + width, top + height)))


def fewest_trimmed(setting: Setting, width: float, height: float, allowance: float = 0.0) -> Lay:
    """A straight edge round a finished area, with the seam allowance round it, the tiling laid so
    that fewest tiles are needed.

    >>> from .grid import grid
    >>> fewest_trimmed(grid(1.0, 90), 2 ** 0.5, 2 ** 0.5).place(grid(1.0, 90)).counts()
    {'diamond': 4}
    """
    outlines = tuple(scaled(outline, setting.scale) for outline in setting.tiling.shapes)
    shift = fewest(setting.tiling, outlines, width + 2 * allowance, height + 2 * allowance)
    return Lay("trimmed", width=width, height=height, allowance=allowance, shift=shift)


def trimmed(setting: Setting, lay: Lay) -> Patchwork:
    """Whole tiles under the finished area and the seam allowance round it."""
    outlines = tuple(scaled(outline, setting.scale) for outline in setting.tiling.shapes)
    right, down = lay.shift
    far = (lay.width + 2 * lay.allowance - right, lay.height + 2 * lay.allowance - down)
    over = tiles_over(setting.tiling, (-right, -down, *far), outlines)
    move = (right - lay.allowance, down - lay.allowance)
    patches = [
        Patch(tile.kind, tile.shape, x + move[0], y + move[1], row, column, tile.turn)
        for tile, x, y, row, column in over
    ]
    return _patchwork(setting, (lay.width, lay.height), patches)


def tiles_over(tiling: Tiling, box: Box, outlines: tuple[Outline, ...]) -> Iterator[Placed]:
    """The tiles that lie over some of the box, each with its centre, row and column; tiles
    take their form from `outlines`.

    >>> from .grid import tiling
    >>> from .tilings import Measures
    >>> diamonds = tiling(Measures(1, 60))
    >>> len(list(tiles_over(diamonds, (-0.1, -0.1, 0.1, 0.1), diamonds.shapes)))
    1
    """
    for tile in tiling.tiles:
        outline = outlines[tile.shape]
        left, top, right, bottom = bounds(outline)
        for j in _reach(tiling.height, box[1] - bottom - tile.y, box[3] - top - tile.y):
            y = tile.y + j * tiling.height
            for i in _reach(tiling.width, box[0] - right - tile.x, box[2] - left - tile.x):
                x = tile.x + i * tiling.width
                inside = _inside((x + left, y + top, x + right, y + bottom), box)
                if inside or overlaps(moved(outline, x, y), box):
                    yield tile, x, y, tile.row + j * tiling.rows, tile.column + i * tiling.columns


def _tiles_of(units: set[Unit], tiling: Tiling) -> Iterator[Placed]:
    """The tiles of the units, and those that join two of them."""
    by_place: dict[Unit, list[Tile]] = {}
    for tile in tiling.tiles:
        by_place.setdefault((tile.row, tile.column), []).append(tile)
    for row, column in sorted(units):
        place = (row % tiling.rows, column % tiling.columns)
        j, i = (row - place[0]) // tiling.rows, (column - place[1]) // tiling.columns
        for tile in by_place[place]:
            if tile.other is None or (row + tile.other[0], column + tile.other[1]) in units:
                yield tile, tile.x + i * tiling.width, tile.y + j * tiling.height, row, column


def _cut_to(tiling: Tiling, box: Box) -> tuple[list[Patch], tuple[Outline, ...]]:
    """Patches cut by the box, and the shapes they have."""
    shapes: dict[tuple[int, CutSides], Outline] = {(n, (False,) * 4): shape for n, shape in enumerate(tiling.shapes)}
    numbers = {key: number for number, key in enumerate(shapes)}
    extents = [bounds(shape) for shape in tiling.shapes]
    patches = []
    for tile, x, y, row, column in tiles_over(tiling, box, tiling.shapes):
        cut = _cut_by(extents[tile.shape], x, y, box)
        key = (tile.shape, cut)
        if key not in shapes:
            numbers[key], shapes[key] = len(shapes), _part(tiling.shapes[tile.shape], cut)
        patches.append(Patch(_kind(tile.kind, cut), numbers[key], x - box[0], y - box[1], row, column, tile.turn))
    return patches, tuple(shapes.values())


def _cut_by(extent: Box, x: float, y: float, box: Box) -> CutSides:
    """Which sides of the box run through a tile of an extent at x, y: left, top, right, bottom."""
    low = (extent[0] + x < box[0] - SAME, extent[1] + y < box[1] - SAME)
    return (*low, extent[2] + x > box[2] + SAME, extent[3] + y > box[3] + SAME)


def _part(outline: Outline, cut: CutSides) -> Outline:
    """What a cut through the middle leaves of an outline."""
    left, top, right, bottom = cut
    low = (0.0 if left else -math.inf, 0.0 if top else -math.inf)
    return clipped(outline, (*low, 0.0 if right else math.inf, 0.0 if bottom else math.inf))


def _kind(whole: str, cut: CutSides) -> str:
    sideways, endways = cut[0] or cut[2], cut[1] or cut[3]
    prefix = "" if whole == "diamond" else f"{whole}_"
    if sideways and endways:
        return f"{prefix}corner_quarter"
    return f"{prefix}side_half" if sideways else f"{prefix}end_half" if endways else whole


def _inside(small: Box, box: Box) -> bool:
    return small[0] >= box[0] and small[1] >= box[1] and small[2] <= box[2] and small[3] <= box[3]


def _reach(period: float, low: float, high: float) -> range:
    """The whole numbers n with low < n · period < high, nearly."""
    return range(math.floor(low / period), math.ceil(high / period) + 1)


def _patchwork(setting: Setting, finished: Pair, patches: list[Patch], cells: tuple[Outline, ...] = ()) -> Patchwork:
    cells = cells or setting.tiling.shapes
    shapes = cells if setting.scale == 1.0 else tuple(scaled(cell, setting.scale) for cell in cells)
    ordered = sorted(patches, key=lambda patch: (patch.row, patch.column))
    return Patchwork(*finished, shapes, cells, tuple(ordered))
