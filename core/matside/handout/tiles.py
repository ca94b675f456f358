"""A template that is larger than a page, in tiles that overlap and are joined by lines and letters."""

import math
from dataclasses import dataclass

from ..quilt.outlines.polygons import Box, area, clipped, sides, transposed
from ..shapes import Outline, Point, Segment
from ..units import SAME
from .templates import Template, arrow

#: Inches that two tiles have in common.
OVERLAP = 0.5
#: So many tiles each way are taped together; what is larger is measured and cut. Common practice, no published source.
MOST = 4
#: One for each of the at most 24 joins of 4 × 4 tiles.
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
#: Inches of the little cross that lies on its like when two tiles are joined.
_CROSS = 0.2


@dataclass(frozen=True, slots=True)
class Join:
    """A line that lies on its like on the neighbor: its letter, its two ends, and the cross on it."""

    letter: str
    line: Segment
    at: Point

    @property
    def cross(self) -> Segment:
        """The stroke across the line."""
        x, y = self.at
        upright = self.line[0][0] == self.line[1][0]
        dx, dy = (_CROSS / 2, 0.0) if upright else (0.0, _CROSS / 2)
        return (x - dx, y - dy), (x + dx, y + dy)


@dataclass(frozen=True, slots=True)
class Tile:
    """What one page has of a template: its row and column, and its window in the template's own coordinates."""

    row: int
    column: int
    window: Box
    joins: tuple[Join, ...] = ()


def spans(length: float, room: float) -> list[tuple[float, float]]:
    """Where tiles begin and end along a side: each as long as there is room, the last as long as is left.

    >>> spans(4, 5), spans(9, 5)
    ([(0.0, 4)], [(0.0, 5.0), (4.5, 9)])
    """
    if length <= room + SAME:
        return [(0.0, length)]
    step = room - OVERLAP
    count = math.ceil((length - OVERLAP - SAME) / step)
    return [(k * step, min(length, k * step + room)) for k in range(count)]


def tiled(outline: Outline, size: tuple[float, float], room: tuple[float, float]) -> list[Tile]:
    """The tiles of a convex outline (`size` is its width and height); those that have nothing of it are left out.

    >>> square = ((0, 0), (9, 0), (9, 4), (0, 4))
    >>> [(tile.window, [join.letter for join in tile.joins]) for tile in tiled(square, (9, 4), (5, 5))]
    [((0.0, 0.0, 5.0, 4), ['A']), ((4.5, 0.0, 9, 4), ['A'])]
    """
    columns, rows = spans(size[0], room[0]), spans(size[1], room[1])
    windows = {
        (row, column): (left, top, right, bottom)
        for row, (top, bottom) in enumerate(rows)
        for column, (left, right) in enumerate(columns)
        if _shows(outline, (left, top, right, bottom))
    }
    joins = _joins(windows)
    return [
        Tile(row, column, window, tuple(join for between, join in joins.items() if (row, column) in between))
        for (row, column), window in windows.items()
    ]


def _shows(outline: Outline, window: Box) -> bool:
    inside = clipped(outline, window)
    return len(inside) > 2 and area(inside) > SAME


def _joins(windows: dict[tuple[int, int], Box]) -> dict[tuple, Join]:
    """A join for every two neighbors, lettered in their order."""
    pairs = [
        (place, beside)
        for place in windows
        for beside in ((place[0], place[1] + 1), (place[0] + 1, place[1]))
        if beside in windows
    ]
    return {pair: _join(letter, windows[pair[0]], windows[pair[1]]) for letter, pair in zip(_LETTERS, pairs)}


def _join(letter: str, first: Box, second: Box) -> Join:
    """Through the middle of what the two have in common, along its longer side."""
    left, top = max(first[0], second[0]), max(first[1], second[1])
    right, bottom = min(first[2], second[2]), min(first[3], second[3])
    middle = ((left + right) / 2, (top + bottom) / 2)
    if first[1] == second[1]:
        return Join(letter, ((middle[0], top), (middle[0], bottom)), middle)
    return Join(letter, ((left, middle[1]), (right, middle[1])), middle)


def within(side: Segment, window: Box) -> Segment | None:
    """The part of a line that lies in a window; None where there is none.

    >>> within(((0, 0), (4, 4)), (1, 0, 9, 3)), within(((0, 0), (4, 0)), (1, 1, 2, 2))
    (((1.0, 1.0), (3.0, 3.0)), None)
    """
    (x, y), (u, v) = side
    least, most = 0.0, 1.0
    for start, end, low, high in ((x, u, window[0], window[2]), (y, v, window[1], window[3])):
        if abs(end - start) <= SAME:
            if not low - SAME <= start <= high + SAME:
                return None
            continue
        one, other = (low - start) / (end - start), (high - start) / (end - start)
        least, most = max(least, min(one, other)), min(most, max(one, other))
    if most - least <= SAME:
        return None
    return (x + least * (u - x), y + least * (v - y)), (x + most * (u - x), y + most * (v - y))


def shown(outline: Outline, window: Box) -> list[Segment]:
    """What of an outline's edges lies in a window."""
    return [part for side in sides(outline) if (part := within(side, window))]


def grain_in(template: Template, window: Box) -> Segment | None:
    """The grain arrow of a tile, clear of what it shares with others; None where there is no room for one."""
    if template.grain is None:
        return None
    left, top, right, bottom = window
    inner = (left + OVERLAP, top + OVERLAP, right - OVERLAP, bottom - OVERLAP)
    there = clipped(template.seam or template.cut, inner)
    if len(there) < 3 or area(there) < OVERLAP**2:
        return None
    (_, y), (_, v) = template.grain
    if y == v:
        return arrow(there)
    return tuple((x, y) for y, x in arrow(transposed(there)))
