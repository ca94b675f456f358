"""The pieces that strips are cut into.

Every shape knows how it comes off a strip: the strip's width (`size`), what the first slanted cut wastes along
the edge (`starter_waste`), how far along the edge each further piece reaches (`advance`), and the outline of the
k-th piece. Strip coordinates, in inches: x along the strip from its squared end, y across it, from 0 to `size`.
Cut edges lean like "/" (to the right, going up).
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from . import angles
from .errors import Refusal
from .units import LONGEST

#: The smallest size of a piece, in inches.
SMALLEST = Fraction(1, 4)

Point = tuple[float, float]
Outline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Parallelogram:
    """A piece between two edges of a strip (`size` apart) and two slanted cuts (`across` apart), at `angle` degrees.

    >>> piece = Parallelogram(Fraction(2), Fraction(3), Fraction(90))
    >>> piece.advance, piece.starter_waste, piece.area
    (3.0, 0.0, 6.0)
    """

    size: Fraction
    across: Fraction
    angle: Fraction

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_size(self.across, "across")
        _refuse_angle(self.angle)

    @property
    def starter_waste(self) -> float:
        """Length along the edge that the starter cut takes: size · cot(angle)."""
        return float(self.size) * angles.cot(self.angle)

    @property
    def advance(self) -> float:
        """Length along the strip's edge of one piece: across / sin(angle)."""
        return float(self.across) / angles.sin(self.angle)

    @property
    def area(self) -> float:
        """Base times height (Euclid, Elements I.35–36), in square inches."""
        return float(self.size) * self.advance

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        """Corners of the k-th piece of a strip whose squared end lies at x = `start`, anticlockwise."""
        left, slant, high = start + k * self.advance, self.starter_waste, float(self.size)
        right = left + self.advance
        return ((left, 0.0), (right, 0.0), (right + slant, high), (left + slant, high))


@dataclass(frozen=True, slots=True)
class Diamond:
    """A rhombus by its `size` (distance between parallel edges, as cut, inches) and sharp `angle` (15° to 90°).

    >>> diamond = Diamond(Fraction(4), Fraction(60))
    >>> round(diamond.edge, 4), round(diamond.short_diagonal, 4), round(diamond.long_diagonal, 4)
    (4.6188, 4.6188, 8.0)
    """

    size: Fraction
    angle: Fraction

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_angle(self.angle)

    @property
    def edge(self) -> float:
        """Length of an edge: size / sin(angle)."""
        return float(self.size) / angles.sin(self.angle)

    @property
    def advance(self) -> float:
        """Length along the strip's edge of one piece: its edge."""
        return self.edge

    @property
    def starter_waste(self) -> float:
        """Length along the edge that the starter cut takes: size · cot(angle)."""
        return float(self.size) * angles.cot(self.angle)

    @property
    def short_diagonal(self) -> float:
        """Point to point between the blunt corners."""
        return 2 * self.edge * math.sin(math.radians(self.angle) / 2)

    @property
    def long_diagonal(self) -> float:
        """Point to point between the sharp corners."""
        return 2 * self.edge * math.cos(math.radians(self.angle) / 2)

    @property
    def area(self) -> float:
        """Edge times size, in square inches."""
        return self.edge * float(self.size)

    def finished_size(self, seam: Fraction) -> Fraction:
        """Distance between parallel edges once sewn, with the seam allowance taken off both; may be 0 or less.

        >>> Diamond(Fraction(4), Fraction(60)).finished_size(Fraction(1, 4))
        Fraction(7, 2)
        """
        return self.size - 2 * seam

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        """Corners of the k-th piece of a strip whose squared end lies at x = `start`, anticlockwise."""
        return Parallelogram(self.size, self.size, self.angle).outline(k, start)


@dataclass(frozen=True, slots=True)
class HalfDiamond:
    """A diamond's half: a triangle by its `size` (height as cut = the strip's width) and the diamond's sharp `angle`.

    `cut` says along which diagonal the diamond was halved, which is the triangle's base: "short" leaves the sharp
    angle as the tip (at 60° an equilateral triangle), "long" leaves the blunt angle (at 60° the 30-30-120 triangle).
    Triangles come off a strip tip up and tip down by turns.

    >>> half = HalfDiamond(Fraction(3), Fraction(90), "short")
    >>> half.base, half.advance, half.area
    (6.0, 3.0, 9.0)
    """

    size: Fraction
    angle: Fraction
    cut: str = "short"

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_angle(self.angle)
        if self.cut not in ("short", "long"):
            raise Refusal("cut", "choice", given=str(self.cut), choices="long, short")

    @property
    def tip_angle(self) -> Fraction:
        """The angle opposite the base, in degrees."""
        return self.angle if self.cut == "short" else 180 - self.angle

    @property
    def base(self) -> float:
        """Length of the edge that lies along the strip's edge."""
        return 2 * float(self.size) * angles.tan_half(self.tip_angle)

    @property
    def advance(self) -> float:
        """Length along the strip that each further triangle takes: half a base."""
        return self.base / 2

    @property
    def starter_waste(self) -> float:
        """Half a base: what the first slanted cut takes."""
        return self.base / 2

    @property
    def area(self) -> float:
        """Half of base times height, in square inches."""
        return self.base * float(self.size) / 2

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        """Corners of the k-th triangle, anticlockwise: tip down first, then tip up, by turns."""
        left, high = start + k * self.advance, float(self.size)
        right = left + self.base
        middle = left + self.base / 2
        if k % 2:
            return ((left, 0.0), (right, 0.0), (middle, high))
        return ((left, high), (middle, 0.0), (right, high))


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A straight piece: `size` is the strip's width, `length` what is cut off along it (a border, sashing, a square).

    >>> Rectangle(Fraction(5, 2), Fraction(42)).area
    105.0
    """

    size: Fraction
    length: Fraction

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_size(self.length, "length")

    @property
    def angle(self) -> Fraction:
        """Rectangles are cut square."""
        return Fraction(90)

    @property
    def advance(self) -> float:
        """Length along the strip of one piece."""
        return float(self.length)

    @property
    def starter_waste(self) -> float:
        """Nothing: the strip's end is squared already."""
        return 0.0

    @property
    def area(self) -> float:
        """Width times length, in square inches."""
        return float(self.size * self.length)

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        """Corners of the k-th piece, anticlockwise."""
        left, right, high = start + k * self.advance, start + (k + 1) * self.advance, float(self.size)
        return ((left, 0.0), (right, 0.0), (right, high), (left, high))


Shape = Parallelogram | Diamond | HalfDiamond | Rectangle


def _refuse_size(length: Fraction, field: str) -> None:
    if not length >= SMALLEST:  # this way round, what is no number is refused as well
        raise Refusal(field, "piece_too_small", given=float(length), least="1/4 in")
    if length > LONGEST:
        raise Refusal(field, "length_too_large", given=float(length))


def _refuse_angle(angle: Fraction) -> None:
    if not 15 <= angle <= 90:
        raise Refusal("angle", "angle_outside", given=float(angle), least=15, most=90)
