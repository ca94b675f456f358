"""From a placement to polygons in strip coordinates."""

from ..shapes import Point, Segment
from ..units import SAME
from .placements import Placement
from .seats import Seat, measure_segment
from .way import Drawing, RulerOutline

#: So many of the ruler's other lines are drawn at most: enough to know the ruler by.
FEW_LINES = 12


def drawn(placement: Placement, left_handed: bool) -> Drawing:
    """The drawing of a placement; the left hand's is mirrored, x → −x."""
    picture = _Picture(placement, -1.0 if left_handed else 1.0)
    hold, measured = placement.hold, placement.measured_by is not None
    return Drawing(
        rulers=tuple(picture.ruler(seat) for seat in placement.seats),
        cut=picture.segment(((0.0, 0.0), (placement.cut.length, 0.0))),
        edge=picture.edge(placement.seats[0]),
        angle_line=picture.segment(hold.segment(placement.cut)) if hold else None,
        angle_label=None if hold is None else hold.line.line.degrees if hold.line else placement.cut.angle,
        measure_line=picture.segment(measure_segment(placement.cut, _measuring(placement))) if measured else None,
        measure_label=placement.cut.across if measured else None,
        marks=tuple(picture.point(mark) for mark in _marks(placement)),
        lines=tuple(picture.other_lines())[:FEW_LINES],
    )


def _measuring(placement: Placement) -> Seat:
    return placement.final_seats()[placement.measured_by]


def _marks(placement: Placement) -> list[Point]:
    near, far = (0.0, 0.0), (placement.cut.length, 0.0)
    if placement.kind == "two_marks":
        return [near, far]
    if placement.kind == "mark_and_angle":
        return [near if placement.hold.laid_on == "near_edge" else far]
    return []


class _Picture:
    """Turns cut coordinates into strip coordinates: the cut's near end is the origin and its run the t direction."""

    def __init__(self, placement: Placement, sign: float):
        self.placement, self.sign = placement, sign
        self.origin = placement.cut.ends()[0]
        cosine, sine = placement.cut.along
        self.along = (-cosine, -sine) if placement.cut.turned else (cosine, sine)

    def point(self, point: Point) -> Point:
        (t, n), (a, b) = point, self.along
        x, y = self.origin[0] + t * a - n * b, self.origin[1] + t * b + n * a
        return (self.sign * x + 0.0, y + 0.0)  # no minus zero

    def segment(self, segment: Segment) -> Segment:
        return (self.point(segment[0]), self.point(segment[1]))

    def on(self, seat: Seat, point: Point) -> Point:
        """A point of a laid ruler."""
        return self.point((point[0] - seat.start, point[1] + seat.beyond))

    def ruler(self, seat: Seat) -> RulerOutline:
        slide = self.placement.slide
        outline = tuple(self.on(seat, corner) for corner in seat.laid.corners())
        slid = tuple(self.on(seat.slid(slide), corner) for corner in seat.laid.corners()) if slide else None
        return RulerOutline(seat.laid.ruler.name, outline, seat.laid.turned_over, slid)

    def edge(self, seat: Seat) -> Segment:
        return (self.on(seat, (0.0, 0.0)), self.on(seat, (seat.laid.reach, 0.0)))

    def other_lines(self):
        for i, seat in enumerate(self.placement.seats):
            for start, end in seat.laid.printed():
                if not (self._on_the_hold(i, start) and self._on_the_hold(i, end)):
                    yield (self.on(seat, start), self.on(seat, end))

    def _on_the_hold(self, i: int, point: Point) -> bool:
        """Whether a point of the i-th ruler lies on the line that holds the placement."""
        hold = self.placement.hold
        if hold is None or hold.line is None or i != self.placement.held_by:
            return False
        seat = self.placement.seats[i]
        t, n = point[0] - seat.start, point[1] + seat.beyond
        origin = 0.0 if hold.laid_on == "near_edge" else self.placement.cut.length
        cosine, sine = self.placement.cut.along
        return abs((t - origin) * sine + n * cosine) < SAME**0.5
