"""From finished outlines to what is cut: every piece with its seam allowance on."""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from ... import angles
from ...errors import Refusal
from ...shapes import SMALLEST, Diamond, HalfDiamond, Outline, Parallelogram, Point, Rectangle, Segment
from .offsets import offset
from .polygons import bounds, sides
from .right_triangle import RightTriangle

CutShape = Diamond | HalfDiamond | Parallelogram | Rectangle | RightTriangle


@dataclass(frozen=True, slots=True)
class Piece:
    """The quilt's diamond as cut, and the seam allowance, in inches; something must be left of it once sewn.

    >>> Piece(Diamond(Fraction(4), Fraction(60)), Fraction(1, 4)).size
    3.5
    """

    diamond: Diamond
    seam: Fraction

    def __post_init__(self):
        if self.diamond.finished_size(self.seam) < SMALLEST / 4:
            raise Refusal("seam", "seam_takes_piece", given=float(self.seam), size=float(self.diamond.size))

    @property
    def size(self) -> float:
        """The finished size."""
        return float(self.diamond.finished_size(self.seam))

    @property
    def angle(self) -> Fraction:
        """The sharp angle in degrees."""
        return self.diamond.angle


def exact(length: float) -> Fraction:
    """A worked-out length, rounded at the tenth decimal so that the same length found twice is the same.

    >>> exact(0.1 + 0.2) == Fraction(3, 10)
    True
    """
    return Fraction(repr(round(length, 10)))


def half(height: float, tip_angle: Fraction, seam: Fraction) -> HalfDiamond:
    """An isosceles triangle as cut, by its finished height and the angle at its tip in degrees.

    The base moves out by the seam allowance, the tip by seam / sin(tip / 2): together 3 seams for an equilateral one.

    >>> half(3.0, Fraction(60), Fraction(1, 4))
    HalfDiamond(size=Fraction(15, 4), angle=Fraction(60, 1), cut='short')
    """
    size = exact(height + float(seam) * (1 + 1 / angles.sin(tip_angle / 2)))
    return HalfDiamond(size, tip_angle, "short") if tip_angle <= 90 else HalfDiamond(size, 180 - tip_angle, "long")


def diamond_half(outline: Outline, diamond: Diamond, upright: bool, seam: Fraction) -> HalfDiamond:
    """Half of a diamond as cut, by its finished outline; `upright` says that its base stands along the quilt's side.

    The tip is the sharp one where half the base over the height is the tangent of half the sharp angle.
    """
    left, top, right, bottom = bounds(outline)
    height, base = (right - left, bottom - top) if upright else (bottom - top, right - left)
    sharp = abs(base / (2 * height) - angles.tan_half(diamond.angle)) < 1e-6  # the other is its reciprocal
    return half(height, diamond.angle if sharp else 180 - diamond.angle, seam)


def right_triangle(outline: Outline, seam: Fraction) -> RightTriangle:
    """A right-angled triangle as cut, by its finished outline with the legs along x and y."""
    left, top, right, bottom = bounds(outline)
    found = RightTriangle(right - left, bottom - top).with_seam(float(seam))
    return RightTriangle(float(exact(found.across)), float(exact(found.down)))


class Ends(NamedTuple):
    """The two slanted ends of a strip: their angles to its long edges in degrees, how they lie
    to each other, and its lean.

    `angles` are those of the left and the right end of the strip as it lies right side up with its longer edge
    near the body, the smaller angle first; where it is `mirrored`, they lie so on the strip's wrong side.
    `parallel` ends lean alike."""

    angles: tuple[float, float]
    parallel: bool = False
    mirrored: bool = False


def strip_cut(outline: Outline, direction: Point, width: Fraction, seam: Fraction) -> tuple[Rectangle, Ends]:
    """A strip with slanted ends as cut: the rectangle it takes, and its ends.

    The rectangle's length is that of the finished outline with its seam allowance on, along
    `direction` (a unit vector).

    >>> strip_cut(((0, 0), (10, 0), (8, 2), (2, 2)), (1, 0), Fraction(2), Fraction(1, 4))[1]
    Ends(angles=(45.0, 45.0), parallel=False, mirrored=False)
    """
    reach = [x * direction[0] + y * direction[1] for x, y in offset(outline, float(seam))]
    return Rectangle(width + 2 * seam, exact(max(reach) - min(reach))), _ends(outline, direction)


def _ends(outline: Outline, direction: Point) -> Ends:
    """The ends, with the longer edge laid near the body: seen so, y runs down and the outline clockwise."""
    found = [(turn, side) for side in sides(outline) if (turn := _turn(side, direction)) > 1e-6]
    (one, first), (other, second) = found
    if _is_parallel(first, second):
        return Ends(tuple(sorted((one, other))), True, is_mirrored(outline, direction) and one < 90)
    longer = max((side for side in sides(outline) if _turn(side, direction) <= 1e-6), key=lambda side: math.dist(*side))
    # Run clockwise, the longer edge near the body goes from the right to the left, and what follows it is the left end.
    left, right = (one, other) if first[0] == longer[1] else (other, one)
    return Ends(tuple(sorted((left, right))), False, left > right)


def _is_parallel(first: Segment, second: Segment) -> bool:
    (x, y), (u, v) = ((b[0] - a[0], b[1] - a[1]) for a, b in (first, second))
    return abs(x * v - y * u) < 1e-6 * math.hypot(x, y) * math.hypot(u, v)


def _turn(side: Segment, direction: Point) -> float:
    """The angle between a side and a direction, 0° to 90°."""
    x, y = side[1][0] - side[0][0], side[1][1] - side[0][1]
    across, along = x * direction[1] - y * direction[0], x * direction[0] + y * direction[1]
    return round(math.degrees(math.atan2(abs(across), abs(along))), 6)


def is_mirrored(outline: Outline, along: Point | None = None) -> bool:
    """Whether a parallelogram lying on its longer side leans to the left (as seen, y running
    down); a rectangle does not.

    With `along` (a unit vector) it lies on the side that runs that way: the lean of a diamond is a
    matter of its strip's edges.

    >>> is_mirrored(((1, 0), (5, 0), (4, 2), (0, 2))), is_mirrored(((0, 0), (4, 0), (5, 2), (1, 2)))
    (False, True)
    >>> diamond = ((0, 0), (5, 0), (8, 4), (3, 4))
    >>> is_mirrored(diamond, (1, 0)), is_mirrored(diamond, (0.6, 0.8))
    (True, False)
    """
    vectors = [(u - x, v - y) for (x, y), (u, v) in sides(outline)]
    lengths = [abs(x * along[0] + y * along[1]) if along else math.hypot(x, y) for x, y in vectors]
    base = lengths.index(max(lengths))
    (x, y), (u, v) = vectors[base], vectors[(base + 1) % 4]
    return x * u + y * v > 1e-6
