"""The pieces that strips are cut into.

Every shape knows how it comes off a strip: the strip's width (`size`), what the first slanted cut wastes along the edge
(`starter_waste`), how far along the edge each further piece reaches (`advance`), the outline of the k-th piece, and its
cycle of cuts. Strip coordinates, in inches: x along the strip from its end, y across it, from 0 (the near edge) to
`size` (the far edge), as the strip lies for a right-handed cutter."""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from . import angles
from .errors import Refusal
from .units import LONGEST

#: The smallest size of a piece, in inches.
SMALLEST = Fraction(1, 4)
#: An answer has at most so many outlines; beyond them it has counts only.
MOST_OUTLINES = 20_000

#: x and y, in inches.
Point = tuple[float, float]
#: Two ends.
Segment = tuple[Point, Point]
#: The corners in order.
Outline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class PieceCut:
    """One cut of a shape: how it leans, and where it ends on the strip's two edges; lengths in inches.

    `lean` is the angle in degrees between the cut, run away from the body, and the near edge ahead of it: below 90° it
    leans like "/", above like "\\". `near` and `far` say how far along the near and the far edge it ends from the end
    of the cut before (a starter cut: from the strip's end). `across` is the distance square across from the cut before,
    None where the two are not parallel.

    >>> Diamond(Fraction(4), Fraction(90)).cycle[0].across, HalfDiamond(Fraction(3), Fraction(90)).cycle[0].corner
    (Fraction(4, 1), 'near')
    """

    lean: Fraction
    near: float
    far: float
    across: Fraction | None = None

    @property
    def corner(self) -> str | None:
        """The edge at which it meets the end of the cut before (or the strip's corner): "near", "far" or None."""
        if self.near == self.far:
            return None
        return "near" if self.near == 0 else "far" if self.far == 0 else None


class Shape:
    """What is the same for every shape. A shape adds `size`, `starter`, `cycle`, `advance`, `area` and `outline`."""

    __slots__ = ()
    #: What requests and answers call the shape.
    name: ClassVar[str]
    #: Whether its mirror image is another piece, whichever way it is turned.
    handed: ClassVar[bool] = False
    #: Whether it is cut from strips laid wrong side up, so that seen from the right side it mirrors its outline.
    mirrored: ClassVar[bool] = False
    #: Two corners of the outline, by number, whose distance tells whether the angle is right.
    checked: ClassVar[tuple[int, int] | None] = None

    @property
    def starter_waste(self) -> float:
        """Length along the edge that the starter cut takes."""
        return max(self.starter.near, self.starter.far)

    def cut_for(self, k: int) -> PieceCut:
        """The cut that frees piece k."""
        return self.cycle[k % len(self.cycle)]

    @property
    def alternates(self) -> bool:
        """Whether every second piece of a strip lies head down."""
        return len(self.cycle) > 1

    @property
    def straight(self) -> bool:
        """Whether every cut runs straight across the strip."""
        return all(cut.lean == 90 for cut in self.cycle)

    def up(self, flipped: bool = False) -> str:
        """Which side of the strip is up while it is cut, "right" or "wrong".

        A mirrored piece is cut from the wrong side. Where the strip lies `flipped` (the left hand's picture is
        the mirror image of the right's), cuts lean the other way, so that a piece whose mirror image is another
        one takes the other side there.

        >>> long = Parallelogram(Fraction(2), Fraction(3), Fraction(60))
        >>> long.up(), long.up(flipped=True), Diamond(Fraction(2), Fraction(60)).up(flipped=True)
        ('right', 'wrong', 'right')
        """
        return "wrong" if self.mirrored != (self.handed and flipped) else "right"

    @property
    def check(self) -> float | None:
        """The length between the two corners that tell whether the angle is right; None where there is none."""
        if self.checked is None:
            return None
        corners = self.outline()
        return math.dist(*(corners[number] for number in self.checked))


@dataclass(frozen=True, slots=True)
class Parallelogram(Shape):
    """A piece between two edges of a strip (`size` apart) and two slanted cuts (`across` apart), at `angle` degrees.

    `mirrored` ones lean the other way: they are cut from strips laid wrong side up.

    >>> piece = Parallelogram(Fraction(2), Fraction(3), Fraction(90))
    >>> piece.advance, piece.starter_waste, piece.area
    (3.0, 0.0, 6.0)
    """

    name: ClassVar[str] = "parallelogram"

    size: Fraction
    across: Fraction
    angle: Fraction
    mirrored: bool = False

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_size(self.across, "across")
        _refuse_angle(self.angle)

    @property
    def handed(self) -> bool:
        """Whether it leans and its edges differ: only then is its mirror image another piece."""
        return self.angle != 90 and self.across != self.size

    @property
    def starter(self) -> PieceCut:
        """From the corner at the near edge, size · cot(angle) along the far one."""
        return PieceCut(self.angle, 0.0, float(self.size) * angles.cot(self.angle))

    @property
    def cycle(self) -> tuple[PieceCut, ...]:
        """One cut again and again, parallel to the one before."""
        return (PieceCut(self.angle, self.advance, self.advance, self.across),)

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
class Diamond(Shape):
    """A rhombus by its `size` (distance between parallel edges, as cut, inches) and sharp `angle` (15° to 90°).

    `mirrored` ones are cut from strips laid wrong side up: the same outline, with the other two
    edges on the straight grain.

    >>> diamond = Diamond(Fraction(7, 2), Fraction(60))
    >>> round(diamond.edge, 4), round(diamond.short_diagonal, 4), round(diamond.long_diagonal, 4)
    (4.0415, 4.0415, 7.0)
    """

    name: ClassVar[str] = "diamond"
    checked: ClassVar[tuple[int, int] | None] = (1, 3)

    size: Fraction
    angle: Fraction
    mirrored: bool = False

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_angle(self.angle)

    @property
    def starter(self) -> PieceCut:
        """From the corner at the near edge, size · cot(angle) along the far one."""
        return PieceCut(self.angle, 0.0, float(self.size) * angles.cot(self.angle))

    @property
    def cycle(self) -> tuple[PieceCut, ...]:
        """One cut again and again, a size away from the one before."""
        return (PieceCut(self.angle, self.edge, self.edge, self.size),)

    @property
    def edge(self) -> float:
        """Length of an edge: size / sin(angle)."""
        return float(self.size) / angles.sin(self.angle)

    @property
    def advance(self) -> float:
        """Length along the strip's edge of one piece: its edge."""
        return self.edge

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

        >>> Diamond(Fraction(7, 2), Fraction(60)).finished_size(Fraction(1, 4))
        Fraction(3, 1)
        """
        return self.size - 2 * seam

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        """Corners of the k-th piece of a strip whose squared end lies at x = `start`, anticlockwise."""
        return Parallelogram(self.size, self.size, self.angle).outline(k, start)


@dataclass(frozen=True, slots=True)
class HalfDiamond(Shape):
    """A diamond's half: a triangle by its `size` (height as cut = the strip's width) and the diamond's sharp `angle`.

    `cut` says along which diagonal the diamond was halved, which is the triangle's base: "short" leaves the sharp
    angle as the tip (at 60° an equilateral triangle), "long" leaves the blunt angle (at 60° the 30-30-120 triangle).
    Triangles come off a strip tip up and tip down by turns.

    >>> half = HalfDiamond(Fraction(3), Fraction(90), "short")
    >>> half.base, half.advance, half.area
    (6.0, 3.0, 9.0)
    """

    name: ClassVar[str] = "half-diamond"

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
    def base_angle(self) -> Fraction:
        """The angle at either end of the base, in degrees.

        >>> HalfDiamond(Fraction(3), Fraction(60), "long").base_angle
        Fraction(30, 1)
        """
        return 90 - Fraction(self.tip_angle) / 2

    @property
    def starter(self) -> PieceCut:
        """From the corner at the far edge, half a base along the near one."""
        return PieceCut(180 - self.base_angle, self.base / 2, 0.0)

    @property
    def cycle(self) -> tuple[PieceCut, ...]:
        """Forth from the near end of the cut before, and back from the far end of that."""
        return (PieceCut(self.base_angle, 0.0, self.base), PieceCut(180 - self.base_angle, self.base, 0.0))

    @property
    def base(self) -> float:
        """Length of the edge that lies along the strip's edge."""
        return 2 * float(self.size) * angles.tan_half(self.tip_angle)

    @property
    def advance(self) -> float:
        """Length along the strip that each further triangle takes: half a base."""
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
class Rectangle(Shape):
    """A straight piece: `size` is the strip's width, `length` what is cut off along it (a border, sashing, a square).

    >>> Rectangle(Fraction(5, 2), Fraction(42)).area
    105.0
    """

    name: ClassVar[str] = "rectangle"

    size: Fraction
    length: Fraction

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_size(self.length, "length")

    @property
    def starter(self) -> PieceCut:
        """Straight across at the strip's end: it takes nothing but the unevenness."""
        return PieceCut(self.angle, 0.0, 0.0)

    @property
    def cycle(self) -> tuple[PieceCut, ...]:
        """Straight across, a length from the cut before."""
        return (PieceCut(self.angle, self.advance, self.advance, self.length),)

    @property
    def angle(self) -> Fraction:
        """Rectangles are cut square."""
        return Fraction(90)

    @property
    def advance(self) -> float:
        """Length along the strip of one piece."""
        return float(self.length)

    @property
    def area(self) -> float:
        """Width times length, in square inches."""
        return float(self.size * self.length)

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        """Corners of the k-th piece, anticlockwise."""
        left, right, high = start + k * self.advance, start + (k + 1) * self.advance, float(self.size)
        return ((left, 0.0), (right, 0.0), (right, high), (left, high))


@dataclass(frozen=True, slots=True)
class Trapezoid(Shape):
    """A piece with two parallel edges of unlike length, `size` apart, the longer of them
    `base` long, at `angle` degrees.

    At 60° and a base of the right length it is half a hexagon, see `half_hexagon`. Trapezoids come off a strip short
    edge down and long edge down by turns, so that their cuts lean forth and back.

    >>> piece = Trapezoid(Fraction(2), Fraction(6), Fraction(45))
    >>> piece.short, piece.advance, piece.starter_waste, piece.area
    (2.0, 4.0, 2.0, 8.0)
    """

    name: ClassVar[str] = "trapezoid"

    size: Fraction
    base: Fraction
    angle: Fraction

    def __post_init__(self):
        _refuse_size(self.size, "size")
        _refuse_size(self.base, "base")
        _refuse_angle(self.angle)
        if self.short < float(SMALLEST):
            raise Refusal(
                "base", "base_too_short", given=float(self.base), least=float(self.base) - self.short + float(SMALLEST)
            )

    @property
    def short(self) -> float:
        """The shorter of the parallel edges: base − 2 · size · cot(angle)."""
        return float(self.base) - 2 * float(self.size) * angles.cot(self.angle)

    @property
    def starter(self) -> PieceCut:
        """From the corner at the far edge, size · cot(angle) along the near one."""
        return PieceCut(180 - self.angle, float(self.size) * angles.cot(self.angle), 0.0)

    @property
    def cycle(self) -> tuple[PieceCut, ...]:
        """Forth and back: the two edges change places from piece to piece; upright ends are all parallel."""
        base = float(self.base)
        if self.angle == 90:
            return (PieceCut(self.angle, base, base, self.base),)
        return (PieceCut(self.angle, self.short, base), PieceCut(180 - self.angle, base, self.short))

    @property
    def advance(self) -> float:
        """Length along the strip that each further piece takes: half of both parallel edges together."""
        return (float(self.base) + self.short) / 2

    @property
    def area(self) -> float:
        """Half of both parallel edges together times the height, in square inches."""
        return self.advance * float(self.size)

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        """Corners of the k-th piece, anticlockwise: short edge down first, then long edge down, by turns."""
        left, slant, base, high = start + k * self.advance, self.starter.near, float(self.base), float(self.size)
        long, short = (left, left + base), (left + slant, left + slant + self.short)
        low, top = (long, short) if k % 2 else (short, long)
        return ((low[0], 0.0), (low[1], 0.0), (top[1], high), (top[0], high))


def half_hexagon(size: Fraction, seam: Fraction) -> Trapezoid:
    """Half of a regular hexagon as cut: finished, its longer edge is twice its shorter one.

    With a seam allowance a the finished height is size − 2a and the shorter edge that over sin 60°; the longer one as
    cut is twice it and 2a · cot 30° more.

    >>> round(float(half_hexagon(Fraction(4), Fraction(1, 4)).base), 3)
    8.949
    """
    edge = float(size - 2 * seam) / angles.sin(60)
    base = 2 * edge + 2 * float(seam) * angles.cot(30)
    return Trapezoid(size, Fraction(repr(round(base, 10))), Fraction(60))


def _refuse_size(length: Fraction, field: str) -> None:
    if not length >= SMALLEST:  # this way round, what is no number is refused as well
        raise Refusal(field, "piece_too_small", given=float(length), least="¼ in")
    if length > LONGEST:
        raise Refusal(field, "length_too_large", given=float(length))


def _refuse_angle(angle: Fraction) -> None:
    if not 15 <= angle <= 90:
        raise Refusal("angle", "angle_outside", given=float(angle), least=15, most=90)
