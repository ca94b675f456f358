"""The seam allowance: an outline moved outward by one distance on every side, with mitred corners."""

import math

from ...shapes import Outline, Point, Segment
from .polygons import sides


def offset(outline: Outline, distance: float) -> Outline:
    """The outline with every side moved outward by `distance`; the corners stay sharp.

    A corner between sides with outward unit normals m and n moves by distance · (m + n) / (1 + m·n). The points of
    the outline must differ from their neighbours and no side may double back on the one before.

    >>> offset(((0, 0), (2, 0), (2, 2), (0, 2)), 0.25)
    ((-0.25, -0.25), (2.25, -0.25), (2.25, 2.25), (-0.25, 2.25))
    """
    normals = [_normal(side) for side in sides(outline)]
    corners = zip(outline, normals[-1:] + normals[:-1], normals, strict=True)
    return tuple(_mitred(point, before, after, distance) for point, before, after in corners)


def _normal(side: Segment) -> Point:
    (x, y), (u, v) = side
    length = math.hypot(u - x, v - y)
    return (v - y) / length, (x - u) / length


def _mitred(point: Point, m: Point, n: Point, distance: float) -> Point:
    reach = distance / (1 + m[0] * n[0] + m[1] * n[1])
    return point[0] + reach * (m[0] + n[0]), point[1] + reach * (m[1] + n[1])
