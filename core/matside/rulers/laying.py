"""Laying a ruler with one of its edges along a cut.

Cut coordinates, in inches: t along the cut, away from the body; n away from it, over what is kept, to the left of a
right-handed cutter. A ruler laid down has its own: t from the near end of the edge that the blade follows, n from that
edge. Of the eight ways to lay a ruler (four edges, either face up), each gives one `LaidRuler`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..shapes import Point, Segment
from .ruler import AngleLine, PrintedLine, Ruler, printed_lines


@dataclass(frozen=True, slots=True)
class LaidLine:
    """An angle line of a laid ruler: the angle it makes with the cut, looking back, and where it lies.

    `crossing` is where the line, drawn on, meets the edge along the cut (t); `first` and `last` are the n of its ends.
    """

    line: AngleLine
    angle: Fraction
    crossing: float
    first: float
    last: float


@dataclass(frozen=True, slots=True)
class LaidRuler:
    """A ruler laid with an edge along the cut: `reach` along it and `depth` away from it."""

    ruler: Ruler
    side: int
    mirrored: bool
    turned_over: bool
    lines: tuple[LaidLine, ...]

    @property
    def edge(self) -> str:
        """Which edge the blade follows; the edges of a square count as long."""
        return "short" if self.side % 2 and self.ruler.width != self.ruler.length else "long"

    @property
    def reach(self) -> float:
        """The length of the edge along the cut."""
        return float(self.ruler.width if self.side % 2 else self.ruler.length)

    @property
    def exact_depth(self) -> Fraction:
        """How far the ruler reaches from the cut."""
        return self.ruler.length if self.side % 2 else self.ruler.width

    @property
    def depth(self) -> float:
        """The same as a plain number."""
        return float(self.exact_depth)

    def lines_at(self, angle: Fraction) -> list[LaidLine]:
        """The angle lines that can lie on the strip's edge for a cut at `angle`."""
        return [line for line in self.lines if line.angle == angle]

    def corners(self) -> list[Point]:
        """The ruler's corners in its own order (u, v) = (0, 0), (length, 0), (length, width), (0, width), as (t, n)."""
        long, wide = float(self.ruler.length), float(self.ruler.width)
        return [_laid(self.ruler, self.side, self.mirrored, p) for p in ((0, 0), (long, 0), (long, wide), (0, wide))]

    def printed(self) -> list[Segment]:
        """Every stroke of its angle lines as two (t, n)."""
        return [
            tuple(_laid(self.ruler, self.side, self.mirrored, end) for end in (stroke.start, stroke.end))
            for stroke in printed_lines(self.ruler)
        ]


def ways_to_lay(ruler: Ruler, left_handed: bool = False) -> Iterator[LaidRuler]:
    """Every way to lay a ruler along a cut, face up first.

    A left-handed cut is seen in the mirror, where a ruler lying face up looks turned over.

    >>> [(laid.side, laid.turned_over) for laid in ways_to_lay(Ruler("mine", Fraction(6), Fraction(24)))][:5]
    [(0, False), (1, False), (2, False), (3, False), (0, True)]
    """
    strokes = printed_lines(ruler)
    for turned_over in (False, True) if ruler.reads_through else (False,):
        for side in range(4):
            mirrored = turned_over != left_handed
            lines = (_laid_line(ruler, side, mirrored, stroke) for stroke in strokes)
            yield LaidRuler(ruler, side, mirrored, turned_over, tuple(line for line in lines if line is not None))


def _laid(ruler: Ruler, side: int, mirrored: bool, point: Point) -> Point:
    """A point of the ruler as (t, n): the ruler is mirrored end for end, then turned until `side` lies on the cut."""
    long, wide = float(ruler.length), float(ruler.width)
    u, v = (long - point[0], point[1]) if mirrored else point
    return ((u, v), (v, long - u), (long - u, wide - v), (wide - v, u))[side]


def _laid_line(ruler: Ruler, side: int, mirrored: bool, stroke: PrintedLine) -> LaidLine | None:
    direction = 180 - stroke.direction if mirrored else stroke.direction
    angle = (90 * side - direction) % 180
    if angle == 0:
        return None
    (t, first), (_, last) = (_laid(ruler, side, mirrored, end) for end in (stroke.start, stroke.end))
    crossing = t + first * angles.cot(angle)
    return LaidLine(stroke.line, angle, crossing, min(first, last), max(first, last))
