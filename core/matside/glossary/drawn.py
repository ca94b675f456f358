"""Boxes, lines and circles of the glossary's pictures, in inches, y up."""

import math
from collections.abc import Iterable

from ..shapes import Point

#: Corners of a circle: enough to look round as small as it is drawn.
_CORNERS = 24


def shape(role: str, points: Iterable[Point]) -> dict:
    """A line or an area, by its role."""
    return {"role": role, "points": list(points)}


def box(role: str, left: float, low: float, right: float, high: float) -> dict:
    """An upright box.

    >>> box("cloth", 0, 0, 2, 1)["points"]
    [(0, 0), (2, 0), (2, 1), (0, 1)]
    """
    return shape(role, [(left, low), (right, low), (right, high), (left, high)])


def line(role: str, x: float, y: float, to_x: float, to_y: float) -> dict:
    """A straight line."""
    return shape(role, [(x, y), (to_x, to_y)])


def arrow(role: str, x: float, y: float, to_x: float, to_y: float, head: float = 1.0) -> list[dict]:
    """A line with an open head at its end, `head` long."""
    way = math.atan2(to_y - y, to_x - x)
    wings = [(to_x - head * math.cos(way + turn), to_y - head * math.sin(way + turn)) for turn in (-0.5, 0.5)]
    return [line(role, x, y, to_x, to_y), shape(role, [wings[0], (to_x, to_y), wings[1]])]


def circle(role: str, x: float, y: float, radius: float) -> dict:
    """A round area."""
    turns = [2 * math.pi * corner / _CORNERS for corner in range(_CORNERS)]
    return shape(role, [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns])


def moved(points: Iterable[Point], right: float, up: float = 0.0) -> list[Point]:
    """The same points elsewhere.

    >>> moved([(0, 0), (1, 2)], 3, 1)
    [(3, 1), (4, 3)]
    """
    return [(x + right, y + up) for x, y in points]


def toward(points: Iterable[Point], middle: Point, share: float) -> list[Point]:
    """The same points with their distance from a middle shrunk to a share of it.

    >>> toward([(4, 0)], (0, 0), 0.5)
    [(2.0, 0.0)]
    """
    return [(middle[0] + (x - middle[0]) * share, middle[1] + (y - middle[1]) * share) for x, y in points]


def view(shapes: list[dict]) -> list[float]:
    """The box around shapes with a rim for the width of lines: [x, y, width, height].

    >>> view([box("cloth", 0, 0, 10, 5)])
    [-0.4, -0.4, 10.8, 5.8]
    """
    xs = [x for each in shapes for x, _ in each["points"]]
    ys = [y for each in shapes for _, y in each["points"]]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    rim = max(wide, high) / 25
    corner = [min(xs) - rim, min(ys) - rim, wide + 2 * rim, high + 2 * rim]
    return [round(float(each), 3) for each in corner]
