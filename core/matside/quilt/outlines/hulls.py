"""The outline of pieces that together are convex."""

import math
from collections.abc import Iterable

from ...shapes import Outline, Point

#: Points nearer than this to a line through two others lie on it, in inches.
_NEAR = 1e-7


def hull(points: Iterable[Point]) -> Outline:
    """The corners of the smallest convex outline round points, its area above 0; none that lies on a side.

    Pieces that fit together to a convex outline have just this one. Fewer than three corners where all points lie
    on one line.

    >>> hull([(0, 0), (2, 0), (1, 0), (2, 2), (1, 1), (0, 2)])
    ((0, 0), (2, 0), (2, 2), (0, 2))
    """
    ordered = sorted({(round(x, 9), round(y, 9)) for x, y in points})
    return (*_chain(ordered)[:-1], *_chain(ordered[::-1])[:-1])


def _chain(points: list[Point]) -> list[Point]:
    """One side of the outline, from the first point to the last."""
    kept: list[Point] = []
    for point in points:
        while len(kept) > 1 and _beyond(kept[-2], point, kept[-1]) < _NEAR:
            kept.pop()
        kept.append(point)
    return kept


def _beyond(start: Point, end: Point, point: Point) -> float:
    """How far a point lies outside the line from start to end."""
    (x, y), (u, v), (p, q) = start, end, point
    return ((p - x) * (v - y) - (q - y) * (u - x)) / math.hypot(u - x, v - y)
