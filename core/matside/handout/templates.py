"""True-size templates: a piece as it is cut, its seam line, and how it lies on the grain; and wedges of its angles.

A template lies as its piece lies in the strip, right side up: y down, the strip's edges level, its upper left corner at
0, 0. Lengths in inches.
"""

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from ..cloth import PlacedStrip
from ..errors import Refusal
from ..quilt.outlines.offsets import offset
from ..quilt.outlines.polygons import area, bounds, moved, sides
from ..shapes import Outline, Point, Segment, Shape
from ..units import SAME

#: Of the way through the piece, how much the grain arrow takes, and inches that it takes at the most: so that it is
#: seen as an arrow and not as a line of the piece. Common practice, no published source.
_ARROW, _LONGEST_ARROW = 0.6, 3.0
#: Inches of a wedge's slanted edge at the most, and of its base at the least: to be held by a ruler. Common practice,
#: no published source.
LONGEST_WEDGE, NARROWEST_WEDGE = 8.0, 2.0


@dataclass(frozen=True, slots=True)
class Name:
    """What a template or a note is called: a sentence of the catalogue and its values."""

    code: str
    values: dict

    def told(self) -> dict:
        """As an answer has it."""
        return {"code": self.code, "values": self.values}


@dataclass(frozen=True, slots=True)
class Template:
    """A piece's template, or a wedge, which has neither seam line nor grain.

    `grain` is the arrow along the strip, and `strips` says which way of the cloth those run ("lengthwise": along the
    selvage, "crosswise", or "any"). `turned` of the `count` pieces are cut with the template turned over.
    """

    id: str
    name: Name
    cut: Outline
    notes: tuple[Name, ...] = ()
    seam: Outline | None = None
    grain: Segment | None = None
    strips: str | None = None
    count: int | None = None
    turned: int = 0
    role: str = "cut"

    @property
    def width(self) -> float:
        """From the left to the right, of what is cut."""
        return bounds(self.cut)[2]

    @property
    def height(self) -> float:
        """From the top to the bottom, of what is cut."""
        return bounds(self.cut)[3]

    def quarter_turned(self) -> "Template":
        """The same lying turned by a quarter, right side up."""
        high = self.height
        return replace(
            self,
            cut=_turned(self.cut, high),
            seam=self.seam and _turned(self.seam, high),
            grain=self.grain and _turned(self.grain, high),
        )


def _turned(points: tuple[Point, ...], high: float) -> tuple[Point, ...]:
    return tuple((high - y, x) for x, y in points)


def measures(shape: Shape) -> Name:
    """The note that says from which strip a piece comes, or, where all its cuts are square, how large it is."""
    angle = max(leans(shape), default=None)
    if angle is None:
        return Name("handout.sides", {"size": float(shape.size), "length": shape.advance})
    return Name("handout.strip", {"size": float(shape.size), "angle": float(angle)})


def of_shape(name: str, told: Name, shape: Shape, seam: Fraction, strips: str) -> Template:
    """The template of a piece that comes off a strip, as it lies in the cloth right side up.

    >>> from matside.shapes import Rectangle
    >>> found = of_shape("r", Name("", {}), Rectangle(Fraction(2), Fraction(3)), Fraction(1, 4), "any")
    >>> found.seam
    ((0.25, 0.25), (2.75, 0.25), (2.75, 1.75), (0.25, 1.75))
    """
    strip = PlacedStrip(Fraction(0), Fraction(0), "length", Fraction(0), shape.size, 1)
    (lying,) = strip.outlines(shape)
    # In the strip y runs away from the body, on paper toward it.
    cut = tuple((x, float(shape.size) - y) for x, y in reversed(lying))
    return drawn(name, told, cut, inset(cut, seam, shape.size), strips)


def drawn(name: str, told: Name, cut: Outline, seam: Outline | None, strips: str) -> Template:
    """A template by its outlines, wherever they lie: moved to 0, 0, with an arrow along its strip."""
    left, top, _, _ = bounds(cut)
    cut, seam = moved(cut, -left, -top), seam and moved(seam, -left, -top)
    return Template(name, told, cut, seam=seam, grain=arrow(seam or cut), strips=strips)


def inset(cut: Outline, seam: Fraction, size: Fraction) -> Outline | None:
    """The seam line within a convex outline that is cut; None without a seam allowance.

    Refused where the allowances leave nothing of an edge.

    >>> inset(((0, 0), (2, 0), (2, 2), (0, 2)), Fraction(1, 2), Fraction(2))
    ((0.5, 0.5), (1.5, 0.5), (1.5, 1.5), (0.5, 1.5))
    """
    if not seam:
        return None
    found = offset(cut, -float(seam))
    if any(_turns_round(*both) for both in zip(sides(cut), sides(found))):
        raise Refusal("seam", "seam_takes_piece", given=float(seam), size=float(size))
    return found


def _turns_round(before: Segment, after: Segment) -> bool:
    """Whether an edge is gone: beyond that it would run the other way."""
    (x, y), (u, v) = ((b[0] - a[0], b[1] - a[1]) for a, b in (before, after))
    return x * u + y * v <= SAME


def arrow(outline: Outline) -> Segment:
    """A level arrow through the middle of a convex outline, clear of its edges.

    >>> arrow(((0, 0), (2, 0), (2, 2), (0, 2)))
    ((0.4, 1.0), (1.6, 1.0))
    """
    _, y = _middle(outline)
    crossed = [
        _at(side, y) for side in sides(outline) if min(side[0][1], side[1][1]) <= y <= max(side[0][1], side[1][1])
    ]
    left, right = min(crossed), max(crossed)
    half = min((right - left) * _ARROW, _LONGEST_ARROW) / 2
    return ((left + right) / 2 - half, y), ((left + right) / 2 + half, y)


def _middle(outline: Outline) -> Point:
    """The centre of area (of a polygon, by the shoelace formula's own products)."""
    whole = 6 * area(outline)
    parts = [(a, b, a[0] * b[1] - b[0] * a[1]) for a, b in sides(outline)]
    return tuple(sum((a[axis] + b[axis]) * cross for a, b, cross in parts) / whole for axis in (0, 1))


def _at(side: Segment, y: float) -> float:
    (x, top), (u, bottom) = side
    return x if top == bottom else x + (y - top) / (bottom - top) * (u - x)


def leans(shape: Shape) -> set[Fraction]:
    """The sharp angles that a piece's cuts make with the strip's edge, in degrees; none where all are square.

    >>> from matside.shapes import Diamond, HalfDiamond
    >>> leans(HalfDiamond(Fraction(3), Fraction(60), "long")), leans(Diamond(Fraction(3), Fraction(90)))
    ({Fraction(30, 1)}, set())
    """
    found = {Fraction(min(cut.lean, 180 - cut.lean)) for cut in shape.cycle}
    return found - {90}


def wedge(angle: Fraction, room: tuple[float, float]) -> Template:
    """A wedge to lay under a ruler: a straight base and, from its left end, the long edge at an angle to it.

    As large as there is `room` for (width and height), and no larger than a ruler holds it down.

    >>> found = wedge(Fraction(45), (6.0, 9.0))
    >>> [(round(x, 6), round(y, 6)) for x, y in found.cut]
    [(0.0, 5.656854), (5.656854, 0.0), (5.656854, 5.656854)]
    """
    turn = math.radians(angle)
    across, up = math.cos(turn), math.sin(turn)
    long = min(LONGEST_WEDGE, room[0] / max(across, SAME), room[1] / up)
    high, tip = long * up, long * across
    # Anticlockwise as it is seen, y running down: the tip may lie short of the base's end.
    base = max(tip, NARROWEST_WEDGE)
    corners = ((0.0, high), (tip, 0.0), (base, 0.0) if base > tip + SAME else None, (base, high))
    told = Name("handout.wedge", {"angle": float(angle)})
    return Template(
        f"wedge/{float(angle):g}", told, tuple(filter(None, corners)), (Name("handout.wedge_use", {}),), role="wedge"
    )
