"""The three edges: left pointed, trimmed straight, and filled with halves and quarters."""

import math
from collections.abc import Iterator

from ..shapes import Outline
from ..units import SAME
from .patchwork import Patch, Patchwork
from .phase import fewest
from .polygons import Box, bounds, clipped, moved, overlaps, scaled
from .settings import Pair, Setting, Unit
from .tilings import Tile, Tiling

Placed = tuple[Tile, float, float, int, int]
Cut = tuple[bool, bool, bool, bool]


def pointed(setting: Setting, columns: int, rows: int, edge: str = "pointed") -> Patchwork:
    """Whole units only; the outer points stay.

    >>> from .grid import grid
    >>> pointed(grid(3.5, 60), 5, 5).counts()
    {'diamond': 41}
    """
    left, top = setting.extent(edge).corner
    placed = _tiles_of(set(setting.units(columns, rows)), setting.tiling)
    patches = [Patch(tile.kind, tile.shape, x - left, y - top, row, column) for tile, x, y, row, column in placed]
    return _patchwork(setting, setting.finished(edge, columns, rows), patches)


def filled(setting: Setting, columns: int, rows: int) -> Patchwork:
    """A straight edge along lines that cut the tiles in halves, and in quarters at the corners.

    >>> from .grid import grid
    >>> filled(grid(3.5, 60), 5, 5).counts() == {"diamond": 41, "side_half": 8, "end_half": 8, "corner_quarter": 4}
    True
    """
    left, top = setting.extent("filled").corner
    width, height = setting.finished("filled", columns, rows)
    return _patchwork(setting, (width, height), *_cut_to(setting.tiling, (left, top, left + width, top + height)))


def trimmed(setting: Setting, width: float, height: float, allowance: float = 0.0) -> Patchwork:
    """Whole tiles under a finished area and the seam allowance round it, the tiling laid so that fewest are needed.

    >>> from .grid import grid
    >>> trimmed(grid(1.0, 90), 2 ** 0.5, 2 ** 0.5).counts()
    {'diamond': 4}
    """
    outlines = tuple(scaled(outline, setting.scale) for outline in setting.tiling.shapes)
    whole = (width + 2 * allowance, height + 2 * allowance)
    right, down = fewest(setting.tiling, outlines, *whole)
    over = tiles_over(setting.tiling, (-right, -down, whole[0] - right, whole[1] - down), outlines)
    move = (right - allowance, down - allowance)
    patches = [Patch(tile.kind, tile.shape, x + move[0], y + move[1], row, column) for tile, x, y, row, column in over]
    return _patchwork(setting, (width, height), patches)


def tiles_over(tiling: Tiling, box: Box, outlines: tuple[Outline, ...]) -> Iterator[Placed]:
    """The tiles that lie over some of the box, each with its centre, row and column; tiles take their form from `outlines`.

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
    shapes: dict[tuple[int, Cut], Outline] = {(n, (False,) * 4): shape for n, shape in enumerate(tiling.shapes)}
    numbers = {key: number for number, key in enumerate(shapes)}
    patches = []
    for tile, x, y, row, column in tiles_over(tiling, box, tiling.shapes):
        cut = _cut_by(bounds(moved(tiling.shapes[tile.shape], x, y)), box)
        key = (tile.shape, cut)
        if key not in shapes:
            numbers[key], shapes[key] = len(shapes), _part(tiling.shapes[tile.shape], cut)
        patches.append(Patch(_kind(tile.kind, cut), numbers[key], x - box[0], y - box[1], row, column))
    return patches, tuple(shapes.values())


def _cut_by(outline: Box, box: Box) -> Cut:
    """Which sides of the box run through the outline: left, top, right, bottom."""
    low = (outline[0] < box[0] - SAME, outline[1] < box[1] - SAME)
    return (*low, outline[2] > box[2] + SAME, outline[3] > box[3] + SAME)


def _part(outline: Outline, cut: Cut) -> Outline:
    """What a cut through the middle leaves of an outline."""
    left, top, right, bottom = cut
    low = (0.0 if left else -math.inf, 0.0 if top else -math.inf)
    return clipped(outline, (*low, 0.0 if right else math.inf, 0.0 if bottom else math.inf))


def _kind(whole: str, cut: Cut) -> str:
    sideways, endways = cut[0] or cut[2], cut[1] or cut[3]
    if sideways and endways:
        return "corner_quarter"
    return "side_half" if sideways else "end_half" if endways else whole


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
