"""The cuts of a piece, as the cutter meets them.

A cut is described by the angle between its run (away from the body) and the strip, measured at the near edge on the
side that lies ahead: below 90° it leans like "/", above 90° like "\\". All cuts here are those of a right-handed
cutter; the left hand is their mirror image."""

import math
from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..shapes import PieceCut, Point, Segment, Shape

#: How far a ruler must pass the cloth at either end of a cut, in inches. Common practice, no published source.
LEAST_OVER = 0.5
#: A line laid on an edge is off by about 1/64 in at either end; over `overlap` of it that moves the end of the cut by
#: √2/64 · cut / overlap, which is to stay within 1/16 in. So the overlap is at least √2/4 of the cut.
TRUSTED_SHARE = math.sqrt(2) / 4
#: A line shorter than this, in inches, is not trusted whatever the cut (unless the piece itself is shorter).
TRUSTED_LEAST = 1.0


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut: its `angle`, the cloth's `width` that it crosses, and what it can be laid by.

    `near` and `far` are the lengths of cloth edge under the ruler, from the cut backwards: at a piece, how far its ends
    lie from those of the cut before; `across` is the distance to the cut before it, where that is parallel to it (or
    None); `x` is where the cut's end at the strip's near edge lies. A `turned` cut is made with the strip turned half
    round. `corner` says at which edge the cut meets the end of the one before ("near" or "far", or None)."""

    step: str
    angle: Fraction
    width: float
    near: float
    far: float
    x: float
    across: Fraction | None = None
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
        """How far down the cut's own direction the cut before starts, where it is parallel."""
        return 0.0 if self.across is None else self.near * self.along[0]

    def mark(self, laid_on: str) -> float | None:
        """How far along the "near_edge" or "far_edge" its end lies from that of the cut
        before; None at a starter cut.
        """
        return None if self.turned else self.near if laid_on == "near_edge" else self.far

    @property
    def needed_overlap(self) -> float:
        """The least length of a line on an edge that is trusted to set this cut."""
        return max(TRUSTED_SHARE * self.length, min(TRUSTED_LEAST, max(self.near, self.far)))

    @property
    def needed_edge(self) -> float:
        """The least length of a ruler's edge to cut along in one go."""
        return self.length + 2 * LEAST_OVER

    def ends(self) -> Segment:
        """The cut in strip coordinates, from where the blade enters the cloth to where it leaves it."""
        near, far = (self.x, 0.0), (self.x + self.slant, self.width)
        return (far, near) if self.turned else (near, far)


def strip_cut(size: Fraction, run: Fraction) -> Cut:
    """Cutting a strip of that width off a cloth whose squared edge lies at x = 0, along `run` inches of cloth."""
    return Cut("strip", Fraction(90), float(run), float(size), float(size), float(size), size)


def starter_cut(piece: Shape) -> Cut:
    """The first slanted cut; the strip is turned so that the ruler lies on what is kept."""
    cut = piece.starter
    return Cut("starter", cut.lean, float(piece.size), math.inf, math.inf, cut.near, turned=True)


#: What the cuts of a cycle are called: the one that frees the first piece, and the one that leans back from it.
FOLLOWING = ("following", "following_back")


def following_cuts(piece: Shape) -> list[Cut]:
    """The cuts of the piece's cycle, where they lie the first time.

    >>> from matside.shapes import HalfDiamond
    >>> [(cut.step, cut.corner) for cut in following_cuts(HalfDiamond(Fraction(3), Fraction(60)))]
    [('following', 'near'), ('following_back', 'far')]
    """
    found, x = [], piece.starter.near
    for step, cut in zip(FOLLOWING, piece.cycle):
        x += cut.near
        found.append(_following(step, cut, float(piece.size), x))
    return found


def _following(step: str, cut: PieceCut, width: float, x: float) -> Cut:
    return Cut(step, cut.lean, width, cut.near, cut.far, x, cut.across, corner=cut.corner)
