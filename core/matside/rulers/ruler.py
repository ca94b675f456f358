"""Rulers as their owners describe them: a rectangle by measure, its finest tick, and the angle lines printed on it.

Ruler coordinates, in inches: u along the ruler from 0 to `length`, v across it from 0 to `width`, seen from the printed
side. No ruler is known by a name or a make.
"""

from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..errors import Refusal
from ..shapes import Point
from ..units import SAME

EDGES = ("long", "short")
LEANS = ("right", "left", "both")
#: The finest tick when nobody says otherwise. Common practice, no published source.
USUAL_TICK = Fraction(1, 8)
#: The angles to an edge, in degrees, that a printed line can have: flatter ones would run along the edge.
FLATTEST, STEEPEST = 1, 179


@dataclass(frozen=True, slots=True)
class AngleLine:
    """A line printed at an angle of `degrees` to the long or the short edge that it starts from (`edge`).

    Hold the ruler with that edge towards you: the line leans to the "right", to the "left" or, as two lines that are
    mirror images of each other, "both" ways. `at` is where it starts, measured along the edge from the end that it
    leans away from (the middle when not given). `line_length` is as long as it is printed (up to the ruler's border
    when not given). An angle over 90° is the same as the rest to 180° with the other lean.

    >>> AngleLine(Fraction(0), "long")
    Traceback (most recent call last):
    matside.errors.Refusal: degrees: line_angle_flat {'given': 0.0, 'least': 1, 'most': 179}
    """

    degrees: Fraction
    edge: str
    at: Fraction | None = None
    line_length: Fraction | None = None
    lean: str = "both"
    hard_to_see: bool = False

    def __post_init__(self):
        if not FLATTEST <= self.degrees <= STEEPEST:
            raise Refusal("degrees", "line_angle_flat", given=float(self.degrees), least=FLATTEST, most=STEEPEST)
        _refuse_unknown("from", self.edge, EDGES)
        _refuse_unknown("lean", self.lean, LEANS)
        if self.line_length is not None and self.line_length <= 0:
            raise Refusal("line_length", "length_not_positive", given=str(self.line_length))


@dataclass(frozen=True, slots=True)
class Ruler:
    """A ruler: `length` is its longer side, `width` its shorter one, `tick` its finest division, all in inches.

    `reads_through` says that the marks can also be read from the back, so that it may be turned over.

    >>> Ruler("mine", Fraction(6), Fraction(24)).tick
    Fraction(1, 8)
    >>> Ruler("mine", Fraction(1, 16), Fraction(24))
    Traceback (most recent call last):
    matside.errors.Refusal: tick: ruler_below_tick {'tick': 0.125, 'width': 0.0625}
    """

    name: str
    width: Fraction
    length: Fraction
    tick: Fraction = USUAL_TICK
    angles: tuple[AngleLine, ...] = ()
    reads_through: bool = True

    def __post_init__(self):
        for field in ("width", "length", "tick"):
            if getattr(self, field) <= 0:
                raise Refusal(field, "length_not_positive", given=str(getattr(self, field)))
        if self.width > self.length:
            raise Refusal("width", "ruler_sides_swapped", width=float(self.width), length=float(self.length))
        if self.tick > self.width:
            raise Refusal("tick", "ruler_below_tick", tick=float(self.tick), width=float(self.width))
        for i, line in enumerate(self.angles):
            self._refuse_off_the_edge(line, i)

    def edge_length(self, edge: str) -> Fraction:
        """The length of the ruler's "long" or "short" edge."""
        return self.length if edge == "long" else self.width

    def _refuse_off_the_edge(self, line: AngleLine, i: int) -> None:
        most = self.edge_length(line.edge)
        if line.at is not None and not 0 <= line.at <= most:
            raise Refusal(f"angles[{i}].at", "line_off_the_edge", given=float(line.at), most=float(most))


@dataclass(frozen=True, slots=True)
class PrintedLine:
    """One stroke of an angle line on the ruler: its ends in ruler coordinates, its direction
    from u, 0° to under 180°.
    """

    line: AngleLine
    start: Point
    end: Point
    direction: Fraction


def printed_lines(ruler: Ruler) -> tuple[PrintedLine, ...]:
    """Every stroke of the ruler's angle lines, cut off at its border; one that would lie outside is left out.

    >>> square = Ruler("square", Fraction(12), Fraction(12), angles=(AngleLine(Fraction(45), "long", Fraction(0)),))
    >>> [(stroke.start, [round(x) for x in stroke.end]) for stroke in printed_lines(square)]
    [((0.0, 0.0), [12, 12]), ((12.0, 0.0), [0, 12])]
    """
    strokes = [_stroke(ruler, line, leans_right) for line in ruler.angles for leans_right in _leans(line)]
    return tuple(stroke for stroke in strokes if stroke is not None)


def _leans(line: AngleLine) -> tuple[bool, ...]:
    """Whether each stroke leans right, once angles over 90° are seen as their rest."""
    right = line.degrees <= 90
    if line.lean == "both":
        return (True,) if line.degrees == 90 else (True, False)
    return (right,) if line.lean == "right" else (not right,)


def _stroke(ruler: Ruler, line: AngleLine, leans_right: bool) -> PrintedLine | None:
    """Worked out with the edge at the bottom: `along` it from its left end, and inward from it."""
    edge = ruler.edge_length(line.edge)
    depth = ruler.width if line.edge == "long" else ruler.length
    at = edge / 2 if line.at is None else line.at
    lean = min(line.degrees, 180 - line.degrees)
    run = float(edge - at)
    reach = _reach(line, run, float(depth), lean)
    if reach <= SAME:
        return None
    along, inward = reach * angles.sin(lean) * angles.cot(lean), reach * angles.sin(lean)
    start, end = (float(at), 0.0), (float(at) + along, inward)
    if not leans_right:
        start, end = (float(edge) - start[0], 0.0), (float(edge) - end[0], inward)
    direction = lean if leans_right else 180 - lean
    if line.edge == "short":
        start, end, direction = _from_short(ruler, start), _from_short(ruler, end), (direction - 90) % 180
    return PrintedLine(line, start, end, direction)


def _reach(line: AngleLine, run: float, depth: float, lean: Fraction) -> float:
    """How long the stroke is: as printed, up to the far side or the end that it leans towards."""
    ends = [depth / angles.sin(lean)]
    if lean != 90:
        ends.append(run / (angles.sin(lean) * angles.cot(lean)))
    if line.line_length is not None:
        ends.append(float(line.line_length))
    return min(ends)


def _from_short(ruler: Ruler, point: Point) -> Point:
    """From the short edge u = 0 held towards you to ruler coordinates."""
    return (point[1], float(ruler.width) - point[0])


def _refuse_unknown(field: str, given: str, choices: tuple[str, ...]) -> None:
    if given not in choices:
        raise Refusal(field, "choice", given=str(given), choices=", ".join(choices))
