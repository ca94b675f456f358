"""Where along the cut a ruler can sit, and what its lines then lie on.

Everything is in cut coordinates with the origin at the end of the cut that is nearer to the cutter: t away from the
body, n over what is kept. The strip's near edge runs from there back along (−cos θ, sin θ); the far edge likewise from
(cut length, 0); the cut before runs parallel at n = `across`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from .. import angles
from ..shapes import Point, Segment
from ..units import SAME
from .cuts import LEAST_OVER, Cut
from .laying import LaidLine, LaidRuler

#: How far a ruler that can sit anywhere is best let over the near end of the cut, in inches; LEAST_OVER if it must.
EASY_OVER = 1.0


@dataclass(frozen=True, slots=True)
class Seat:
    """A laid ruler in its place: `start` is how far its edge begins before the cut's near end, `beyond` its n."""

    laid: LaidRuler
    start: float
    beyond: float = 0.0

    def over(self, cut: Cut) -> tuple[float, float]:
        """How far its edge passes the cut at the near and the far end; below 0 where it does not reach."""
        return (self.start, self.laid.reach - self.start - cut.length)

    def passes(self, cut: Cut) -> bool:
        """Whether the cut can be made along its edge in one go."""
        return min(self.over(cut)) >= LEAST_OVER - SAME

    def slid(self, slide: float) -> "Seat":
        """The seat after sliding away from the body."""
        return replace(self, start=self.start - slide)

    def spans(self, low: float, high: float) -> bool:
        """Whether the ruler reaches from `low` to `high` along the cut."""
        return -self.start <= low + SAME and high - SAME <= self.laid.reach - self.start


@dataclass(frozen=True, slots=True)
class Hold:
    """An angle line on an edge of the strip: where on the edge, counted back from the cut, it lies on cloth.

    `line` is None for the square lines that every ruler has. `start` is the seat that lays it there.
    """

    line: LaidLine | None
    laid_on: str
    first: float
    last: float
    start: float

    @property
    def overlap(self) -> float:
        """The length of it that lies on cloth."""
        return max(0.0, self.last - self.first)

    def trusted(self, cut: Cut) -> bool:
        """Whether it lies on cloth over enough length."""
        return self.overlap >= cut.needed_overlap - SAME

    def segment(self, cut: Cut) -> Segment:
        """The part of it that lies on the strip's edge."""
        t = 0.0 if self.laid_on == "near_edge" else cut.length
        cosine, sine = cut.along
        return tuple((t - back * cosine, back * sine) for back in (self.first, self.last))


def free_start(cut: Cut, reach: float) -> float | None:
    """The best seat for a ruler that can sit anywhere along the cut; None where its edge is too short.

    Low enough to pass the far end, else high enough to cover the piece.
    """
    highest = reach - cut.length - LEAST_OVER
    if highest < LEAST_OVER - SAME:
        return None
    return min(highest, max(EASY_OVER, cut.back))


def holds(cut: Cut, laid: LaidRuler, beyond: float = 0.0) -> Iterator[Hold]:
    """Every way an angle line of the ruler can lie on an edge of the strip, `beyond` inches away from the cut."""
    for line in laid.lines_at(cut.angle):
        yield from _line_holds(cut, line, beyond)
    if cut.angle == 90:
        start = free_start(cut, laid.reach)
        last = min(beyond + laid.depth, cut.near)
        yield Hold(None, "near_edge", min(beyond, last), last, LEAST_OVER if start is None else start)


def _line_holds(cut: Cut, line: LaidLine, beyond: float) -> Iterator[Hold]:
    sine = angles.sin(cut.angle)
    first, last = (line.first + beyond) / sine, (line.last + beyond) / sine
    # The line meets the ruler's own edge at `crossing`; that edge lies `beyond` from the cut, which it meets later.
    crossing = line.crossing + beyond * angles.cot(cut.angle)
    yield Hold(line, "near_edge", first, min(last, cut.near), crossing)
    yield Hold(line, "far_edge", first, min(last, cut.far), crossing - cut.length)


def measure_segment(cut: Cut, seat: Seat) -> Segment:
    """The part of the ruler's line at `across` that lies on the cut before; of no length where it does not reach."""
    n = float(cut.across)
    low = max(-seat.start, -cut.back)
    high = min(seat.laid.reach - seat.start, cut.length - cut.back)
    return ((low, n), (max(low, high), n))


def measure_overlap(cut: Cut, seat: Seat) -> float:
    """How much of the ruler's line at `across` lies on the cut before."""
    (low, _), (high, _) = measure_segment(cut, seat)
    return high - low


def covers_piece(cut: Cut, seats: tuple[Seat, ...]) -> bool | None:
    """Whether the rulers cover the whole piece that is freed; None at a starter cut, where there is none."""
    if cut.turned:
        return None
    depth, slices = 0.0, True
    corners = [edge * angles.sin(cut.angle) for edge in (cut.near, cut.far)]
    deepest = max(corners)
    for seat in seats:
        high = min(depth + seat.laid.depth, deepest)
        # Between its corners the piece is straight-edged, so it is enough to look there and at the ruler's own edges.
        places = [depth, high, *(corner for corner in corners if depth < corner < high)]
        slices = slices and all(seat.spans(*_slice(cut, n)) for n in places)
        depth = high
    return slices and depth >= deepest - SAME


def _slice(cut: Cut, n: float) -> Point:
    """From where to where the piece reaches along the cut, n inches away from it."""
    ends = [
        (t - edge * cut.along[0], edge * angles.sin(cut.angle)) for t, edge in ((0.0, cut.near), (cut.length, cut.far))
    ]
    return tuple(_at_depth(cut, n, start, *ends) for start in (0, 1))


def _at_depth(cut: Cut, n: float, side: int, near: Point, far: Point) -> float:
    """Where the piece's near (0) or far (1) side lies at that depth: on the strip's edge, or
    past its end on the cut before.
    """
    own, other = (near, far) if side == 0 else (far, near)
    if n <= own[1] + SAME or own[1] == other[1]:
        return (0.0, cut.length)[side] - n * angles.cot(cut.angle)
    share = (n - own[1]) / (other[1] - own[1])
    return own[0] + share * (other[0] - own[0])
