"""What a ruler way is: the values that are handed out."""

import math
from dataclasses import dataclass, field
from fractions import Fraction

from ..shapes import Point, Segment

#: A line further from the wanted distance than this, in inches, lies between ticks; below, it
#: is the number's last digit.
ON_A_TICK = 1e-6


@dataclass(frozen=True, slots=True)
class AngleUse:
    """The angle line that is laid on the strip: what is printed, on which ruler, and on which edge of the strip.

    `laid_on` is "near_edge" or "far_edge", as the cutter sees the strip. `overlap` is the length of it that lies on
    cloth, of which `needed` is the least that is trusted. A `printed` of False stands for the ruler's own square lines.
    """

    degrees: Fraction
    edge: str
    laid_on: str
    ruler: str
    overlap: float
    needed: float
    hard_to_see: bool = False
    printed: bool = True


@dataclass(frozen=True, slots=True)
class Rounded:
    """A distance and the nearest one that the ruler has a tick for; `off` is what the tick
    is too long (or short) by.
    """

    exact: float
    nearest: Fraction
    tick: Fraction

    @property
    def between(self) -> tuple[Fraction, Fraction]:
        """The ticks on either side of it; twice the same where it lies on one.

        >>> Rounded(3.7, Fraction(15, 4), Fraction(1, 8)).between
        (Fraction(29, 8), Fraction(15, 4))
        """
        count = Fraction(self.exact) / self.tick
        nearest = round(count)
        if abs(count - nearest) * self.tick < ON_A_TICK:
            return nearest * self.tick, nearest * self.tick
        return math.floor(count) * self.tick, math.ceil(count) * self.tick

    @property
    def off(self) -> float:
        """Nearest minus exact."""
        return float(self.nearest) - self.exact


@dataclass(frozen=True, slots=True)
class Check:
    """How often to check the angle, with which ruler (None where none has the angle) and by what ("how")."""

    every: int
    how: str
    ruler: str | None


@dataclass(frozen=True, slots=True)
class RulerOutline:
    """A ruler as it lies: its corners in its own order, and where it lies after it has been slid (or None)."""

    name: str
    outline: tuple[Point, ...]
    turned_over: bool
    slid: tuple[Point, ...] | None


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a drawing of a way needs, in strip coordinates (the left hand's strip lies along negative x).

    `cut` runs as the blade does. `edge` is the ruler edge that it follows. The guide turns the whole picture half round
    where the way's `turn` says so.
    """

    rulers: tuple[RulerOutline, ...]
    cut: Segment
    edge: Segment
    angle_line: Segment | None
    angle_label: Fraction | None
    measure_line: Segment | None
    measure_label: Fraction | None
    marks: tuple[Point, ...]
    lines: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One way to lay rulers for one step; lengths in inches.

    `kind` is "both_lines", "angle_line", "corner_and_angle", "measure_only", "mark_and_angle" or "two_marks". `measure`
    is the distance of the ruler's line that lies on the cut before, `measure_on` the ruler that shows it and at what
    distance there, and `reads` how that is read: "line", "between" two of its lines, or "far_edge", the ruler's own;
    `mark_along` the distance to mark along the edge, `marks` those along each edge. `over` is how far the ruler's edge
    passes the cloth where the blade enters it and where it leaves it (after sliding). `slide` is how far to slide the
    ruler along the cut (above 0: away from the body), None where there is no need: once its lines lie, with the line on
    the cut before; or, under the note "slide_along_fresh_cut", once the first part is cut, with its edge on that. A
    strip's `slide` may take several steps."""

    step: str
    kind: str
    rulers: tuple[str, ...]
    cut_edge: str
    turned_over: bool
    over: tuple[float, float]
    overlap: float
    covers_piece: bool
    drawing: Drawing
    angle_line: AngleUse | None = None
    measure: Fraction | None = None
    measure_on: tuple[str, Fraction] | None = None
    measure_ticks: Rounded | None = None
    reads: str | None = None
    mark_along: float | None = None
    mark_ticks: Rounded | None = None
    marks: dict[str, Rounded] = field(default_factory=dict)
    turn: str | None = None
    slide: float | None = None
    check: Check | None = None
    notes: tuple[str, ...] = ()

    @property
    def checks_angle(self) -> bool:
        """Whether the angle line and the line on the cut before check one another."""
        return self.kind == "both_lines"


@dataclass(frozen=True, slots=True)
class TwoMarks:
    """The way without any angle line: marks on both edges, joined by a ruler's edge.

    `offset` is how far the far edge's first mark lies from the near edge's, `step` from mark to mark along either edge;
    both rounded to the `tick` of `ruler`, the finest at hand. Where the cuts lean by turns the two edges have steps of
    unlike length: `step` is the longer one and `short` the shorter. `angle_error` is what the rounding makes, in
    degrees; `good_enough` says whether that will do; where it does not, `halved` is the same for half the tick."""

    ruler: str
    offset: Rounded
    step: Rounded
    tick: Fraction
    angle_error: float
    good_enough: bool
    short: Rounded
    halved: "TwoMarks | None" = None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A ruler that has no way of its own for a step, and why."""

    ruler: str
    step: str
    reason: str
    values: dict[str, float]


@dataclass(frozen=True, slots=True)
class Lacking:
    """What a step is short of. `blocking` is False where marks still get it done."""

    step: str
    code: str
    values: dict[str, float]
    blocking: bool = True


@dataclass(frozen=True, slots=True)
class Ways:
    """Everything that is found for a piece and a hand; each list best first. `following_back` is for triangles only."""

    strip: tuple[Way, ...]
    starter: tuple[Way, ...]
    following: tuple[Way, ...]
    following_back: tuple[Way, ...]
    two_marks: TwoMarks | None
    left_out: tuple[LeftOut, ...] = field(default=())
    lacking: tuple[Lacking, ...] = field(default=())
