"""Areas, moves, turns and cuts of convex outlines; lengths in inches."""

import math

from ...shapes import Outline, Point, Segment
from ...units import SAME

Box = tuple[float, float, float, float]


def area(outline: Outline) -> float:
    """Half the sum of the cross products (the shoelace formula): above 0 for every outline here, below
    0 for one run the other way.

    >>> area(((0, 0), (2, 0), (2, 3)))
    3.0
    """
    return sum(x * v - u * y for (x, y), (u, v) in sides(outline)) / 2


def sides(outline: Outline) -> list[Segment]:
    """The outline's sides as pairs of points, the closing one last.

    >>> sides(((0, 0), (2, 0), (2, 3)))[-1]
    ((2, 3), (0, 0))
    """
    return list(zip(outline, outline[1:] + outline[:1], strict=True))


def bounds(outline: Outline) -> Box:
    """Least x, least y, greatest x, greatest y.

    >>> bounds(((0, 1), (2, 0), (2, 3)))
    (0, 0, 2, 3)
    """
    xs, ys = zip(*outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def moved(outline: Outline, dx: float, dy: float) -> Outline:
    """The outline shifted.

    >>> moved(((0, 0), (2, 0), (2, 3)), 1, 1)
    ((1, 1), (3, 1), (3, 4))
    """
    return tuple((x + dx, y + dy) for x, y in outline)


def scaled(outline: Outline, factor: float) -> Outline:
    """The outline scaled about (0, 0).

    >>> scaled(((0, 0), (2, 0), (2, 3)), 2)
    ((0, 0), (4, 0), (4, 6))
    """
    return tuple((x * factor, y * factor) for x, y in outline)


def transposed(outline: Outline) -> Outline:
    """The outline with x and y swapped, run the other way so that its area stays above 0.

    >>> transposed(((0, 0), (2, 0), (2, 3)))
    ((3, 2), (0, 2), (0, 0))
    """
    return tuple((y, x) for x, y in reversed(outline))


def rhombus(u: Point, v: Point) -> Outline:
    """The parallelogram of two edge vectors, its centre at (0, 0).

    >>> rhombus((2, 0), (0, 2))
    ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))
    """
    a, b = ((u[0] + v[0]) / 2, (u[1] + v[1]) / 2), ((u[0] - v[0]) / 2, (u[1] - v[1]) / 2)
    outline = ((-a[0], -a[1]), b, a, (-b[0], -b[1]))
    return outline if area(outline) > 0 else outline[::-1]


def box_outline(box: Box) -> Outline:
    """The four corners of a box.

    >>> box_outline((0, 0, 2, 1))
    ((0, 0), (2, 0), (2, 1), (0, 1))
    """
    left, top, right, bottom = box
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def clipped(outline: Outline, box: Box) -> Outline:
    """What lies inside the box, of a convex outline; empty when nothing does.

    >>> clipped(((0, 0), (4, 0), (0, 4)), (0, 0, 1, 9))
    ((0, 0), (1.0, 0.0), (1.0, 3.0), (0, 4))
    """
    left, top, right, bottom = box
    for axis, sign, limit in ((0, 1, right), (0, -1, -left), (1, 1, bottom), (1, -1, -top)):
        outline = _below(outline, axis, sign, limit)
    return outline


def _below(outline: Outline, axis: int, sign: int, limit: float) -> Outline:
    kept: list[Point] = []
    for start, end in sides(outline) if outline else ():
        over_start, over_end = sign * start[axis] - limit, sign * end[axis] - limit
        if over_start <= SAME:
            kept.append(start)
        if min(over_start, over_end) < -SAME and max(over_start, over_end) > SAME:
            share = over_start / (over_start - over_end)
            kept.append((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))
    return tuple(kept)


def overlaps(outline: Outline, box: Box) -> bool:
    """Whether a convex outline and a box share more than a line or a point.

    Two convex figures are apart exactly when a line along a side of one of them parts them (the separating axis).

    >>> square = ((0, 0), (2, 0), (2, 2), (0, 2))
    >>> overlaps(square, (1, 1, 3, 3)), overlaps(square, (2, 0, 3, 3))
    (True, False)
    """
    left, top, right, bottom = bounds(outline)
    if min(right, box[2]) - max(left, box[0]) <= SAME or min(bottom, box[3]) - max(top, box[1]) <= SAME:
        return False
    return all(_crosses(side, box) for side in sides(outline))


def _crosses(side: Segment, box: Box) -> bool:
    """Whether some corner of the box lies on the inner hand of the side."""
    (x, y), (u, v) = side
    inner = max((u - x) * (q - y) - (v - y) * (p - x) for p, q in box_outline(box))
    return inner > SAME * math.hypot(u - x, v - y)
