"""Sashing between the diamonds of a grid, as placed pieces of their own, in finished measures.

Every strip ends in a slant. In the style "strips" short ones lie between neighbours in a row that rises
to the right, and long ones between those rows; in the style "cornerstones" all are short, and small
diamonds lie where they cross."""

import math
from collections.abc import Iterator
from dataclasses import replace

from ...shapes import Outline, Point
from ..outlines.polygons import clipped, moved, rhombus
from .edges import Lay
from .patchwork import Patch, Patchwork, joined
from .setting import Setting
from .tilings import Measures, Tile, Tiling

STYLES = ("strips", "cornerstones")
#: The numbers of the two short strips' shapes: along the edges of a standing diamond that rise to
#: the right, and that fall.
RISING, FALLING = 0, 1


def grid_sashing(setting: Setting, angle: float, sash: float, style: str, lay: Lay) -> Patchwork:
    """The sashing of a grid that is laid as `lay` says: kinds "sash", "sash_long" and "cornerstone" (with halves).

    In the style "strips", `sash` pieces lie along the falling edges only; a long strip takes in the crossings.

    >>> from .grid import grid
    >>> found = grid_sashing(grid(3.5, 60, 1), 60, 1, "cornerstones", Lay("filled", 5, 5))
    >>> found.counts() == {"sash": 100, "cornerstone": 40, "cornerstone_side_half": 10, "cornerstone_end_half": 10}
    True
    """
    measures = _measures(setting, angle)
    short = lay.place(replace(setting, tiling=_short_tiling(setting, measures, sash), scale=1.0))
    stones = _stones(setting, measures, sash, lay)
    if style == "cornerstones":
        return joined([short, stones])
    return _with_long_strips(short, stones, measures, sash, lay)


def rising(angle: float) -> Point:
    """Unit vector along the edges of a standing diamond that rise to the right (y runs down).

    >>> tuple(round(part, 4) for part in rising(90))
    (0.7071, -0.7071)
    """
    half = math.radians(angle) / 2
    return math.sin(half), -math.cos(half)


def _measures(setting: Setting, angle: float) -> Measures:
    """Of the diamond itself: what sashing leaves of its cell."""
    return Measures(setting.step[0] * setting.scale * math.cos(math.radians(angle) / 2), angle)


def _along(piece: Measures, sash: float) -> tuple[Point, Point]:
    """Unit vectors along the rising and the falling edges, each as long as the diamond's edge
    and as the sashing's end.
    """
    x, y = rising(piece.angle)
    return (x, y), (x, -y)


def _short_tiling(setting: Setting, piece: Measures, sash: float) -> Tiling:
    """Strips between a diamond and its neighbours to the lower and to the upper right."""
    up, down = _along(piece, sash)
    end = Measures(sash, piece.angle).edge
    on_rising = rhombus(_times(up, piece.edge), _times(down, end))
    on_falling = rhombus(_times(down, piece.edge), _times(up, end))
    right, low = setting.step[0] / 4, setting.step[1] / 4
    lower = Tile(RISING, right, low, 0, 0, "sash", (1, 1))
    upper = Tile(FALLING, right, -low, 0, 0, "sash", (-1, 1))
    return replace(setting.tiling, shapes=(on_rising, on_falling), tiles=_both(setting, [lower, upper]))


def _stones(setting: Setting, piece: Measures, sash: float, lay: Lay) -> Patchwork:
    """The crossings: each lies to the right of a diamond."""
    up, down = _along(piece, sash)
    end = Measures(sash, piece.angle).edge
    stone = rhombus(_times(up, end), _times(down, end))
    crossing = Tile(0, setting.step[0] / 2, 0.0, 0, 0, "cornerstone")
    whole = replace(
        setting, tiling=replace(setting.tiling, shapes=(stone,), tiles=_both(setting, [crossing])), scale=1.0
    )
    found = lay.place(whole)
    if lay.edge != "pointed":
        return found
    units = set(setting.units(lay.columns, lay.rows))
    return replace(found, patches=tuple(_pointed_stones(units, setting)))


def _pointed_stones(units: set, setting: Setting) -> Iterator[Patch]:
    """The crossings with diamonds on at least three sides."""
    left, top = setting.extents["pointed"].corner
    for row, column in sorted({(row, column + aside) for row, column in units for aside in (-1, 1)}):
        around = ((row, column - 1), (row, column + 1), (row - 1, column), (row + 1, column))
        if sum(unit in units for unit in around) >= 3:
            x, y = column * setting.step[0] / 2 - left, row * setting.step[1] / 2 - top
            yield Patch("cornerstone", 0, x, y, row, column - 1)


def _with_long_strips(short: Patchwork, stones: Patchwork, piece: Measures, sash: float, lay: Lay) -> Patchwork:
    """The strips along rising edges and the crossings between them run together into long strips."""
    kept = [patch for patch in short.patches if patch.shape == FALLING]
    lines: dict[int, list[tuple[Patch, float]]] = {}
    end = Measures(sash, piece.angle).edge
    for part, half in ((short, piece.edge / 2), (stones, end / 2)):
        for patch in part.patches:
            if part is stones or patch.shape == RISING:
                lines.setdefault(patch.row + patch.column, []).append((patch, half))
    box = (0.0, 0.0, short.width, short.height) if lay.edge == "filled" else None
    long = [(line, _long(parts, piece, end, box)) for line, parts in sorted(lines.items())]
    shapes = tuple(outline for _, outline in long)
    patches = tuple(Patch("sash_long", number, 0.0, 0.0, line, 0) for number, (line, _) in enumerate(long))
    return joined([replace(short, patches=tuple(kept)), replace(short, shapes=shapes, cells=shapes, patches=patches)])


def _long(parts: list[tuple[Patch, float]], piece: Measures, end: float, box) -> Outline:
    """One strip over all parts of a line; a filled edge cuts it off."""
    up, down = _along(piece, 0.0)
    first = parts[0][0]
    # Parts of a line differ by multiples of the rising vector only, so that x alone tells how far along it they lie.
    low = min((patch.x - first.x) / up[0] - half for patch, half in parts)
    high = max((patch.x - first.x) / up[0] + half for patch, half in parts)
    middle = (low + high) / 2
    strip = moved(
        rhombus(_times(up, high - low), _times(down, end)), first.x + middle * up[0], first.y + middle * up[1]
    )
    return clipped(strip, box) if box else strip


def _both(setting: Setting, tiles: list[Tile]) -> tuple[Tile, ...]:
    """The tiles beside both diamonds of a period."""
    right, down = setting.step[0] / 2, setting.step[1] / 2
    return (*tiles, *(tile._replace(x=tile.x + right, y=tile.y + down, row=1, column=1) for tile in tiles))


def _times(vector: Point, length: float) -> Point:
    return vector[0] * length, vector[1] * length
