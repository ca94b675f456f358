"""Every placement of one ruler, or of two laid edge to edge, that makes a cut possible.

A placement is a way without its names and drawing: where the rulers sit and which of their lines hold them.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..units import SAME
from .cuts import LEAST_OVER, Cut
from .laying import LaidRuler
from .marks import rounded
from .ruler import AngleLine
from .seats import Hold, Seat, covers_piece, free_start, holds, measure_overlap
from .way import ON_A_TICK, Rounded


@dataclass(frozen=True, slots=True)
class Placement:
    """Rulers in their seats (the one that the blade follows first) and how they are held.

    `hold` belongs to the ruler `held_by` (an index into `seats`); `measured_by` is the index of the ruler whose line
    lies on the cut before. `slide` is how far all are slid along the cut once laid.
    """

    cut: Cut
    kind: str
    seats: tuple[Seat, ...]
    hold: Hold | None = None
    held_by: int = 0
    measured_by: int | None = None
    slide: float | None = None

    def final_seats(self) -> tuple[Seat, ...]:
        """The seats in which the cut is finished."""
        return tuple(seat.slid(self.slide) for seat in self.seats) if self.slide else self.seats

    @property
    def rulers(self) -> tuple[str, ...]:
        """The rulers' names, the one that the blade follows first."""
        return tuple(seat.laid.ruler.name for seat in self.seats)

    @property
    def turned_over(self) -> bool:
        """Whether a ruler lies face down."""
        return any(seat.laid.turned_over for seat in self.seats)

    @property
    def covers_piece(self) -> bool | None:
        """Whether the rulers cover the whole piece that is freed; None at a starter cut."""
        return covers_piece(self.cut, self.final_seats())

    @property
    def over(self) -> tuple[float, float]:
        """How far the edge passes the cloth where the blade enters it and where it leaves it."""
        near, far = self.final_seats()[0].over(self.cut)
        return (self.seats[0].start, far) if self.slide and self.cut.step == "strip" else (near, far)

    @property
    def overlap(self) -> float:
        """The length over which its surest line lies on cloth."""
        if self.hold is not None:
            return self.hold.overlap
        return 0.0 if self.measured_by is None else measure_overlap(self.cut, self.final_seats()[self.measured_by])

    @property
    def line(self) -> AngleLine | None:
        """The printed angle line that holds it."""
        return self.hold.line.line if self.hold and self.hold.line else None

    @property
    def measured_at(self) -> Fraction | None:
        """Which line of the measuring ruler lies on the cut before: what the inner ruler leaves of the distance."""
        if self.measured_by is None:
            return None
        return self.cut.across - (self.seats[0].laid.exact_depth if self.measured_by else 0)

    @property
    def measured_ticks(self) -> Rounded | None:
        """The same and its nearest tick; a ruler's far edge is as good as a tick."""
        if self.measured_by is None:
            return None
        there, laid = self.measured_at, self.seats[self.measured_by].laid
        at_its_edge = there == laid.exact_depth
        return Rounded(float(there), there, laid.ruler.tick) if at_its_edge else rounded(float(there), laid.ruler.tick)

    @property
    def reads(self) -> str | None:
        """How the distance is read from the measuring ruler: "line", "between" two lines, or its own "far_edge"."""
        if self.measured_by is None:
            return None
        if self.measured_at == self.seats[self.measured_by].laid.exact_depth:
            return "far_edge"
        return "between" if self.between_ticks else "line"

    @property
    def between_ticks(self) -> bool:
        """Whether the ruler has no line at the distance."""
        return self.measured_by is not None and abs(self.measured_ticks.off) > ON_A_TICK


def one_ruler(cut: Cut, laid: LaidRuler) -> Iterator[Placement]:
    """The placements of a single laid ruler, two marks left aside."""
    trusted = [hold for hold in holds(cut, laid) if hold.trusted(cut)]
    if cut.across is not None and cut.across <= laid.exact_depth:
        yield from _both_lines(cut, laid, trusted)
        yield from _measure_only(cut, laid)
    else:
        yield from _angle_line(cut, laid, trusted)


def two_marks(cut: Cut, laid: LaidRuler) -> Iterator[Placement]:
    """The ruler's edge laid through a mark on either edge of the strip."""
    start, slide = _free_or_along(cut, laid)
    measurable = cut.step != "strip" or float(laid.ruler.length) >= cut.near
    if start is not None and measurable:
        yield Placement(cut, "two_marks", (Seat(laid, start),), slide=slide)


def _both_lines(cut: Cut, laid: LaidRuler, trusted: Iterable[Hold]) -> Iterator[Placement]:
    for hold in trusted:
        seat = Seat(laid, hold.start)
        slide = needed_slide(cut, seat)
        if slide is not None and _measures(cut, seat.slid(slide)) and _measures(cut, seat):
            yield Placement(cut, "both_lines", (seat,), hold, measured_by=0, slide=slide or None)


def needed_slide(cut: Cut, seat: Seat) -> float | None:
    """How far to slide until the edge passes both ends of the cut; 0 where it does already,
    None where it never will.
    """
    lowest, highest = LEAST_OVER, seat.laid.reach - cut.length - LEAST_OVER
    if highest < lowest - SAME:
        return None
    if lowest - SAME <= seat.start <= highest + SAME:
        return 0.0
    return seat.start - min(max(seat.start, lowest), highest)


def _measures(cut: Cut, seat: Seat) -> bool:
    return measure_overlap(cut, seat) >= cut.needed_overlap - SAME


def _measure_only(cut: Cut, laid: LaidRuler) -> Iterator[Placement]:
    start, slide = _free_or_along(cut, laid)
    if start is not None and _measures(cut, Seat(laid, start)):
        yield Placement(cut, "measure_only", (Seat(laid, start),), measured_by=0, slide=slide)


def _free_or_along(cut: Cut, laid: LaidRuler) -> tuple[float | None, float | None]:
    """The seat of a ruler that can sit anywhere, and how far it is slid along.

    A strip is longer than many rulers: the line on the cloth's edge, or further marks, let the ruler slide along.
    """
    start = free_start(cut, laid.reach)
    if start is None and cut.step == "strip":
        return LEAST_OVER, cut.needed_edge - laid.reach
    return start, None


def _angle_line(cut: Cut, laid: LaidRuler, trusted: Iterable[Hold]) -> Iterator[Placement]:
    kind = _held_kind(cut)
    for hold in trusted if kind else ():
        seat = Seat(laid, hold.start)
        slide = needed_slide(cut, seat)
        if slide == 0.0 or (slide and _slides_along_its_cut(cut, seat, slide)):
            yield Placement(cut, kind, (seat,), hold, slide=slide or None)


def _slides_along_its_cut(cut: Cut, seat: Seat, slide: float) -> bool:
    """Whether the first part of the cut is long enough for the ruler's edge to be laid along it for the rest."""
    first_part = seat.laid.reach - seat.start
    return slide > 0 and first_part >= max(cut.needed_overlap, cut.length / 2)


def _held_kind(cut: Cut) -> str | None:
    if cut.step == "strip":
        return None
    if cut.corner:
        return "corner_and_angle"
    return "angle_line" if cut.turned else "mark_and_angle"


def butted(cut: Cut, inner: LaidRuler, outer: LaidRuler) -> Iterator[Placement]:
    """The placements of two rulers edge to edge: the blade follows `inner`, and `outer` lies on its far side."""
    if cut.across is None:
        yield from _butted_angle(cut, inner, outer)
    elif inner.exact_depth < cut.across <= inner.exact_depth + outer.exact_depth:
        yield from _butted_measure(cut, inner, outer)


def _butted_angle(cut: Cut, inner: LaidRuler, outer: LaidRuler) -> Iterator[Placement]:
    """The outer ruler has the angle line, the inner one is long enough to cut along."""
    start, kind = free_start(cut, inner.reach), _held_kind(cut)
    if start is None or kind != "angle_line":
        return
    for hold in holds(cut, outer, inner.depth):
        seats = (Seat(inner, start), Seat(outer, hold.start, inner.depth))
        if hold.trusted(cut) and _touching(*seats) >= cut.needed_overlap:
            yield Placement(cut, kind, seats, hold, held_by=1)


def _butted_measure(cut: Cut, inner: LaidRuler, outer: LaidRuler) -> Iterator[Placement]:
    for hold, held_by in _pair_holds(cut, inner, outer):
        start = free_start(cut, inner.reach) if held_by else hold.start
        if start is None or not (seat := Seat(inner, start)).passes(cut):
            continue
        outer_start = hold.start if held_by else _along(cut, outer)
        yield from _if_measuring(cut, seat, Seat(outer, outer_start, inner.depth), hold, held_by)
    start = free_start(cut, inner.reach)
    if start is not None:
        yield from _if_measuring(cut, Seat(inner, start), Seat(outer, _along(cut, outer), inner.depth), None, 0)


def _pair_holds(cut: Cut, inner: LaidRuler, outer: LaidRuler) -> Iterator[tuple[Hold, int]]:
    yield from ((hold, 0) for hold in holds(cut, inner) if hold.trusted(cut))
    if cut.angle != 90:
        yield from ((hold, 1) for hold in holds(cut, outer, inner.depth) if hold.trusted(cut))


def _if_measuring(cut: Cut, inner: Seat, outer: Seat, hold: Hold | None, held_by: int) -> Iterator[Placement]:
    if _measures(cut, outer) and _touching(inner, outer) >= cut.needed_overlap - SAME:
        kind = "measure_only" if hold is None else "both_lines"
        yield Placement(cut, kind, (inner, outer), hold, held_by, measured_by=1)


def _along(cut: Cut, outer: LaidRuler) -> float:
    """The outer ruler's seat: its middle on the middle of the cut before."""
    return cut.back + (outer.reach - cut.length) / 2


def _touching(inner: Seat, outer: Seat) -> float:
    """How much of the two rulers' edges lies against one another."""
    low = max(-inner.start, -outer.start)
    return min(inner.laid.reach - inner.start, outer.laid.reach - outer.start) - low
