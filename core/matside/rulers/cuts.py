"""The cuts of a piece, as the cutter meets them.

A cut is described by the angle between its run (away from the body) and the strip, measured at the near edge on the
side that lies ahead: below 90° it leans like "/", above 90° like "\\". All cuts here are those of a right-handed cutter;
the left hand is their mirror image.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..shapes import HalfDiamond, Parallelogram, Rectangle, Shape

#: How far a ruler must pass the cloth at either end of a cut, in inches. Common practice, no published source.
LEAST_OVER = 0.5
#: A line laid on an edge is off by about 1/64 in at either end; over `overlap` of it that moves the end of the cut by
#: √2/64 · cut / overlap, which is to stay within 1/16 in. So the overlap is at least √2/4 of the cut.
TRUSTED_SHARE = math.sqrt(2) / 4
#: A line shorter than this, in inches, is not trusted whatever the cut (unless the piece itself is shorter).
TRUSTED_LEAST = 1.0

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut: its `angle`, the cloth's `width` that it crosses, and what it can be laid by.

    `near` and `far` are the lengths of cloth edge under the ruler, from the cut backwards; `across` is the distance to
    the cut before it, parallel to it, and `advance` the distance along the edge (both None where there is none);
    `x` is where the cut's end at the strip's near edge lies. A `turned` cut is made with the strip turned half round.
    `corner` says at which edge the cut meets the end of the one before ("near" or "far", or None).
    """

    step: str
    angle: Fraction
    width: float
    near: float
    far: float
    x: float
    across: Fraction | None = None
    advance: float | None = None
    turned: bool = False
    corner: str | None = None

    @property
    def length(self) -> float:
        """How long the cut is: width / sin(angle)."""
        return self.width / angles.sin(self.angle)

    @property
    def along(self) -> Point:
        """The direction of the cut as the cutter sees it: away from the body."""
        sine = angles.sin(self.angle)
        return (sine * angles.cot(self.angle), sine)

    @property
    def slant(self) -> float:
        """How far along the strip the cut's far end lies from its near one; below 0 when it leans back."""
        return self.width * angles.cot(self.angle)

    @property
    def back(self) -> float:
        """How far down the cut's own direction the cut before it starts."""
        return (self.advance or 0.0) * self.along[0]

    @property
    def needed_overlap(self) -> float:
        """The least length of a line on an edge that is trusted to set this cut."""
        return max(TRUSTED_SHARE * self.length, min(TRUSTED_LEAST, max(self.near, self.far)))

    @property
    def needed_edge(self) -> float:
        """The least length of a ruler's edge to cut along in one go."""
        return self.length + 2 * LEAST_OVER

    def ends(self) -> tuple[Point, Point]:
        """The cut in strip coordinates, from where the blade enters the cloth to where it leaves it."""
        near, far = (self.x, 0.0), (self.x + self.slant, self.width)
        return (far, near) if self.turned else (near, far)


def strip_cut(piece: Shape, run: Fraction) -> Cut:
    """Cutting the strip itself off the cloth, whose squared edge lies at x = 0, along `run` inches of cloth."""
    size = piece.size
    return Cut("strip", Fraction(90), float(run), float(size), float(size), float(size), size, float(size))


def starter_cut(piece: Shape) -> Cut:
    """The first slanted cut; the strip is turned so that the ruler lies on what is kept."""
    width = float(piece.size)
    if isinstance(piece, HalfDiamond):
        return Cut("starter", 180 - base_angle(piece), width, math.inf, math.inf, piece.starter_waste, turned=True)
    return Cut("starter", piece.angle, width, math.inf, math.inf, 0.0, turned=True)


def following_cut(piece: Shape) -> Cut:
    """The cut that frees the first piece."""
    width, x = float(piece.size), piece.advance
    if isinstance(piece, HalfDiamond):
        return Cut("following", base_angle(piece), width, 0.0, piece.base, x, corner="near")
    return Cut("following", piece.angle, width, x, x, x, _across(piece), x)


def back_cut(piece: HalfDiamond) -> Cut:
    """For triangles only: the cut that frees the second one and leans back."""
    angle, x = 180 - base_angle(piece), 3 * piece.advance
    return Cut("following_back", angle, float(piece.size), piece.base, 0.0, x, corner="far")


def base_angle(piece: HalfDiamond) -> Fraction:
    """The angle at a half-diamond's base.

    >>> base_angle(HalfDiamond(Fraction(3), Fraction(60), "long"))
    Fraction(30, 1)
    """
    return 90 - Fraction(piece.tip_angle) / 2


def _across(piece: Shape) -> Fraction:
    """The distance between the cuts on either side of a piece."""
    if isinstance(piece, Rectangle):
        return piece.length
    return piece.across if isinstance(piece, Parallelogram) else piece.size
