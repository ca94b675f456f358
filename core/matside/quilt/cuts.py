"""From finished outlines to what is cut: every piece with its seam allowance on."""

from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..errors import Refusal
from ..shapes import SMALLEST, Diamond, HalfDiamond, Outline, Parallelogram, Rectangle
from .polygons import bounds
from .right_triangle import RightTriangle

Cut = Diamond | HalfDiamond | Parallelogram | Rectangle | RightTriangle


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
