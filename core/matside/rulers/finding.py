"""Finding the ways for a piece, the rulers at hand and a hand."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from ..errors import Refusal
from ..shapes import Shape
from ..units import SAME
from . import cuts
from .checking import expected_drift
from .cuts import Cut
from .drawing import drawn
from .laying import LaidRuler, ways_to_lay
from .marks import rounded, two_mark_numbers
from .placements import Placement, butted, one_ruler, two_marks
from .ranking import best_first, with_notes
from .reading import refuse_same_names
from .reasons import lacking, left_out
from .ruler import Ruler
from .seats import holds
from .way import AngleUse, Check, Rounded, TwoMarks, Way, Ways

#: How long a cut takes a strip off the cloth when nobody says: width of fabric folded once. Common practice, no
#: published source.
USUAL_RUN = Fraction(22)
HANDS = ("left", "right")


def ways(
    piece: Shape,
    strip_width: Fraction,
    rulers: Sequence[Ruler],
    hand: str = "right",
    run: Fraction = USUAL_RUN,
    check_every: int | None = None,
) -> Ways:
    """Every way to cut the strip, the starter and the pieces with these rulers, best first.

    `run` is the length of the cut that takes a strip off the cloth as it lies. `check_every` is the number of cuts
    between checks of the angle (`expected_drift` with its usual values when not given). A step that no
    ruler can do has an empty list and an entry in `lacking`. Refused: a strip that is not as wide as the piece, an
    unknown hand, two rulers of one name.

    >>> from matside.shapes import Diamond
    >>> from matside.rulers import GENERIC_RULERS
    >>> best = ways(Diamond(Fraction(4), Fraction(60)), Fraction(4), GENERIC_RULERS[:1]).following[0]
    >>> best.kind, best.cut_edge, best.measure, round(best.overlap, 3)
    ('both_lines', 'long', Fraction(4, 1), 4.619)
    """
    _refuse_unfit(piece, strip_width, rulers, hand)
    every = check_every or expected_drift(piece).cuts
    laid = _LaidRulers(rulers, hand == "left")
    steps = _steps(piece, run)
    found = {cut.step: laid.ways_for(cut) for cut in steps}
    found["following"] = _with_checks(found["following"], found["starter"], every)
    return Ways(
        *(tuple(found.get(step, ())) for step in ("strip", "starter", "following", "following_back")),
        two_marks=_two_mark_numbers(piece, rulers),
        left_out=tuple(left_out(steps, found, rulers, hand == "left")),
        lacking=tuple(lacking(steps, found)),
    )


def _refuse_unfit(piece: Shape, strip_width: Fraction, rulers: Sequence[Ruler], hand: str) -> None:
    if abs(strip_width - piece.size) > SAME:
        raise Refusal("strip_width", "strip_not_the_size", strip_width=float(strip_width), size=float(piece.size))
    if hand not in HANDS:
        raise Refusal("hand", "choice", given=str(hand), choices=", ".join(HANDS))
    refuse_same_names(rulers)


def _steps(piece: Shape, run: Fraction) -> list[Cut]:
    return [cuts.strip_cut(piece.size, run), cuts.starter_cut(piece), *cuts.following_cuts(piece)]


def strip_ways(size: Fraction, rulers: Sequence[Ruler], hand: str, run: Fraction) -> tuple[Way, ...]:
    """The ways to cut a strip of a width off a cloth along `run` inches of it, best first.

    >>> from matside.rulers import GENERIC_RULERS
    >>> strip_ways(Fraction(3), GENERIC_RULERS[:1], "right", Fraction(18))[0].measure
    Fraction(3, 1)
    """
    return tuple(_LaidRulers(rulers, hand == "left").ways_for(cuts.strip_cut(size, run)))


class _LaidRulers:
    """The rulers at hand, laid every way once."""

    def __init__(self, rulers: Sequence[Ruler], left_handed: bool):
        self.left_handed = left_handed
        self.laid = [list(ways_to_lay(ruler, left_handed)) for ruler in rulers]
        self.tick = min((ruler.tick for ruler in rulers), default=None)

    def ways_for(self, cut: Cut) -> list[Way]:
        """The ways for a cut, best first."""
        placements = list(self._one_ruler(cut))
        if _wants_two(cut, placements):
            placements += self._two_rulers(cut)
        marked = best_first(self._by_marks(cut))
        return with_notes([self._way(placement) for placement in best_first(placements) + marked[:1]])

    def _one_ruler(self, cut: Cut) -> Iterator[Placement]:
        for laid_ways in self.laid:
            for laid in laid_ways:
                yield from one_ruler(cut, laid)

    def _two_rulers(self, cut: Cut) -> Iterator[Placement]:
        for i, inner_ways in enumerate(self.laid):
            for j, outer_ways in enumerate(self.laid):
                if i != j:
                    yield from _pairs(cut, inner_ways, outer_ways)

    def _by_marks(self, cut: Cut) -> Iterator[Placement]:
        for laid_ways in self.laid:
            for laid in laid_ways[:2]:
                yield from two_marks(cut, laid)

    def _way(self, placement: Placement) -> Way:
        cut = placement.cut
        measured = placement.measured_by is not None
        marks = self._marks(placement)
        laid_on = placement.hold.laid_on if placement.hold else "near_edge"
        mark = marks.get(laid_on)
        return Way(
            step=cut.step,
            kind=placement.kind,
            rulers=placement.rulers,
            cut_edge=placement.seats[0].laid.edge,
            turned_over=placement.turned_over,
            over=placement.over,
            overlap=placement.overlap,
            covers_piece=placement.covers_piece,
            drawing=drawn(placement, self.left_handed),
            angle_line=_angle_use(placement),
            measure=cut.across if measured else None,
            measure_on=(placement.rulers[placement.measured_by], placement.measured_at) if measured else None,
            measure_ticks=placement.measured_ticks,
            reads=placement.reads,
            mark_along=mark.exact if mark else None,
            mark_ticks=mark,
            marks=marks,
            turn="half_turn" if cut.turned else None,
            slide=placement.slide,
            notes=tuple(self._notes(placement)),
        )

    def _marks(self, placement: Placement) -> dict[str, Rounded]:
        """What is marked along each edge of the strip from the end of the cut before, where
        the way wants marks there.
        """
        cut = placement.cut
        edges = {"two_marks": ("near_edge", "far_edge"), "mark_and_angle": (placement.hold and placement.hold.laid_on,)}
        along = {edge: cut.mark(edge) for edge in edges.get(placement.kind, ())}
        return {edge: rounded(mark, self.tick) for edge, mark in along.items() if mark}

    def _notes(self, placement: Placement) -> Iterator[str]:
        if placement.between_ticks:
            yield "between_ticks"
        if placement.line and placement.line.hard_to_see:
            yield "hard_to_see"
        if placement.slide and placement.measured_by is None and placement.hold:
            yield "slide_along_fresh_cut"
        if placement.kind == "measure_only" and placement.cut.step != "strip":
            yield self._why_only_measured(placement)

    def _why_only_measured(self, placement: Placement) -> str:
        """Why the rulers' angle lines are of no use along this edge, whichever way they are laid."""
        cut, found = placement.cut, []
        for laid in (laid for laid_ways in self.laid for laid in laid_ways):
            for seat in placement.seats:
                if (laid.ruler, laid.edge) == (seat.laid.ruler, seat.laid.edge):
                    found += holds(cut, laid, seat.beyond)
        if not found:
            return "no_angle_line"
        return "angle_line_misplaced" if any(hold.trusted(cut) for hold in found) else "angle_line_too_short"


def _two_mark_numbers(piece: Shape, rulers: Sequence[Ruler]) -> TwoMarks | None:
    starter, cut = cuts.starter_cut(piece), piece.cycle[0]
    return two_mark_numbers(starter, (cut.near, cut.far), rulers) if starter.angle != 90 else None


def _pairs(cut: Cut, inner_ways: list[LaidRuler], outer_ways: list[LaidRuler]) -> Iterator[Placement]:
    """Pairs lie face up: two rulers to hold together are enough to mind."""
    for inner in inner_ways[:4]:
        for outer in outer_ways[:4]:
            yield from butted(cut, inner, outer)


def _wants_two(cut: Cut, single: Iterable[Placement]) -> bool:
    """Two rulers are offered only for what one cannot do."""
    if cut.across is None:
        return not any(placement.hold for placement in single)
    enough = "measure_only" if cut.step == "strip" else "both_lines"
    return not any(placement.kind in (enough, "both_lines") for placement in single)


def _angle_use(placement: Placement) -> AngleUse | None:
    hold = placement.hold
    if hold is None:
        return None
    laid, needed = placement.seats[placement.held_by].laid, placement.cut.needed_overlap
    if hold.line is None:
        return AngleUse(Fraction(90), laid.edge, hold.laid_on, laid.ruler.name, hold.overlap, needed, False, False)
    line = hold.line.line
    return AngleUse(line.degrees, line.edge, hold.laid_on, laid.ruler.name, hold.overlap, needed, line.hard_to_see)


def _with_checks(following: list[Way], starter: list[Way], every: int) -> list[Way]:
    """A way that only measures says how often to check the angle, and with what."""
    surest = next((way for way in starter if way.angle_line), None)
    check = Check(every, "angle_line", surest.angle_line.ruler) if surest else Check(every, "two_marks", None)
    return [replace(way, check=check) if way.kind == "measure_only" else way for way in following]
