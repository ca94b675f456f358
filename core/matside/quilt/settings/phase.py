"""Where to lay a tiling under a straight trimmed edge so that fewest tiles are needed.

The number of tiles over an open box depends only on the tiling's shift, and changes only where a tile's outermost
point meets a side of the box or a corner of the box meets an edge of a tile. Tiles that only touch do not count,
so the least number is found at a crossing of two such lines of shifts: all crossings are tried.
"""

import math
from collections.abc import Iterator

from ...shapes import Outline, Point, Segment
from ...units import SAME
from ..outlines.polygons import bounds, clipped, sides
from .setting import Pair
from .tilings import Tiling


def fewest(tiling: Tiling, outlines: tuple[Outline, ...], width: float, height: float) -> Pair:
    """The shift (to the right, down) of the tiling at which fewest tiles lie over the box (0, 0, width, height).

    Among equals the first shift, in order of its two numbers, is taken.

    >>> from .grid import tiling
    >>> from .tilings import Measures
    >>> squares = tiling(Measures(1, 90))
    >>> tiles_needed(squares, squares.shapes, 2 ** 0.5, 2 ** 0.5, fewest(squares, squares.shapes, 2 ** 0.5, 2 ** 0.5))
    4
    """
    # A tiling with units set off by half a step is the same again half a period on.
    half = tiling.height / 2 if tiling.columns == 2 else tiling.height
    shifts = sorted(shift for shift in set(_crossings(tiling, outlines, width, height)) if shift[1] <= half + SAME)
    return min(shifts, key=lambda shift: tiles_needed(tiling, outlines, width, height, shift))


def tiles_needed(tiling: Tiling, outlines: tuple[Outline, ...], width: float, height: float, shift: Pair) -> int:
    """How many tiles lie over the box (0, 0, width, height) when the tiling is shifted."""
    return sum(
        _needed(outlines[tile.shape], tiling, width, height, (tile.x + shift[0], tile.y + shift[1]))
        for tile in tiling.tiles
    )


def _needed(outline: Outline, tiling: Tiling, width: float, height: float, place: Point) -> int:
    """How many of one tile of the period, by rows: those wholly beside the box are all alike."""
    left, top, right, bottom = bounds(outline)
    first, last = _between(-place[1] - bottom, height - place[1] - top, tiling.height)
    inner_first, inner_last = _within(-place[1] - top, height - place[1] - bottom, tiling.height)
    inner = max(0, inner_last - inner_first + 1)
    total = inner * _across(left, right, width, place[0], tiling.width) if inner else 0
    for row in range(first, last + 1):
        if not (inner and inner_first <= row <= inner_last):
            y = place[1] + row * tiling.height
            part = bounds(clipped(outline, (-math.inf, -y, math.inf, height - y)))
            total += _across(part[0], part[2], width, place[0], tiling.width)
    return total


def _across(left: float, right: float, width: float, x: float, period: float) -> int:
    first, last = _between(-x - right, width - x - left, period)
    return max(0, last - first + 1)


def _between(low: float, high: float, period: float) -> tuple[int, int]:
    """First and last whole number n with low < n · period < high."""
    return math.floor((low + SAME) / period) + 1, math.ceil((high - SAME) / period) - 1


def _within(low: float, high: float, period: float) -> tuple[int, int]:
    """First and last whole number n with low ≤ n · period ≤ high."""
    return math.ceil((low - SAME) / period), math.floor((high + SAME) / period)


def _crossings(tiling: Tiling, outlines: tuple[Outline, ...], width: float, height: float) -> Iterator[Pair]:
    """Where the lines of shifts at which the number may change meet, within one period."""
    xs = _levels(tiling, outlines, 0, width, tiling.width)
    ys = _levels(tiling, outlines, 1, height, tiling.height)
    lines = _lines(tiling, outlines, width, height)
    yield from ((x, y) for x in xs for y in ys)
    for number, line in enumerate(lines):
        yield from ((x, y) for x in xs if (y := _height_at(line, x)) is not None)
        yield from ((x, y) for y in ys if (x := _height_at((line[0][::-1], line[1][::-1]), y)) is not None)
        yield from (point for other in lines[:number] if (point := _meeting(line, other)))


def _levels(tiling: Tiling, outlines: tuple[Outline, ...], axis: int, reach: float, period: float) -> list[float]:
    """The shifts at which a tile's outermost point meets the near or the far side of the box."""
    found = set()
    for tile in tiling.tiles:
        box = bounds(outlines[tile.shape])
        place = (tile.x, tile.y)[axis]
        found |= {_tidy((-place - box[axis + 2]) % period), _tidy((reach - place - box[axis]) % period)}
    return sorted(found)


def _lines(tiling: Tiling, outlines: tuple[Outline, ...], width: float, height: float) -> list[Segment]:
    """The shifts at which a corner of the box lies on a slanted edge of a tile, each brought
    near to the first period.
    """
    found = set()
    for tile in tiling.tiles:
        slanted = [
            side for side in sides(outlines[tile.shape]) if all(abs(side[0][k] - side[1][k]) > SAME for k in (0, 1))
        ]
        for corner in ((0.0, 0.0), (width, 0.0), (0.0, height), (width, height)):
            for side in slanted:
                line = sorted((corner[0] - x - tile.x, corner[1] - y - tile.y) for x, y in side)
                found |= set(_copies((line[0], line[1]), tiling))
    return sorted(found)


def _copies(line: Segment, tiling: Tiling) -> Iterator[Segment]:
    """The line moved by whole periods, wherever that touches the first period."""
    (x, y), (u, v) = line
    for i in range(math.ceil(-u / tiling.width), math.floor(-x / tiling.width) + 2):
        for j in range(math.ceil(-max(y, v) / tiling.height), math.floor(-min(y, v) / tiling.height) + 2):
            dx, dy = i * tiling.width, j * tiling.height
            yield (_tidy(x + dx), _tidy(y + dy)), (_tidy(u + dx), _tidy(v + dy))


def _height_at(line: Segment, x: float) -> float | None:
    """The line's y at x; none where it does not reach."""
    (a, b), (c, d) = line
    if not min(a, c) - SAME <= x <= max(a, c) + SAME:
        return None
    return _tidy(b + (d - b) * (x - a) / (c - a))


def _meeting(first: Segment, second: Segment) -> Pair | None:
    """Where two lines cross; none when they are parallel or end before."""
    (a, b), (c, d) = first
    (e, f), (g, h) = second
    if max(a, e) > min(c, g) + SAME:
        return None
    slope, other = (d - b) / (c - a), (h - f) / (g - e)
    if abs(slope - other) < SAME:
        return None
    x = (f - b + slope * a - other * e) / (slope - other)
    if not max(a, e) - SAME <= x <= min(c, g) + SAME:
        return None
    return _tidy(x), _tidy(b + slope * (x - a))


def _tidy(value: float) -> float:
    """Rounded a little below `SAME`, so that one crossing found twice is tried once."""
    return round(value, 10)
