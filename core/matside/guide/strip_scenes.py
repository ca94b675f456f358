"""The drawings of a strip on the mat: laid, its end made straight, its starter cut, every piece,
and what is checked or halved.
"""

from collections.abc import Iterable
from fractions import Fraction

from .. import angles
from ..rulers import Way
from ..shapes import PieceCut, Point
from .drawn import Drawn, Lie, box, laid, moved, rectangle, scene, shape
from .job import Habits, Joined, StripWork
from .laying import Laying
from .sheet import CUT, SELVAGE

#: How far a selvage reaches beyond a strip's end in a drawing, in inches, and half the length of a mark's stroke.
_SELVAGE, _STROKE = 0.5, 0.35
_END_WORDS = {CUT: "squared_edge", SELVAGE: "selvage"}


def strip_lie(habits: Habits, turned: bool = False) -> Lie:
    """How strip coordinates lie before the cutter, for the hand and the way the strip is laid; `turned` half round.

    >>> strip_lie(Habits("left", "along"))([(1.0, 2.0)]), strip_lie(Habits("right", "away"))([(1.0, 2.0)])
    ([(-1.0, 2.0)], [(2.0, 1.0)])
    """
    side, turn = (-1 if habits.hand == "left" else 1), (-1 if turned else 1)
    if habits.lay == "away":
        return lambda points: [(turn * side * y, turn * x) for x, y in points]
    return lambda points: [(turn * side * x, turn * y) for x, y in points]


class StripScenes:
    """The scenes of strips of one kind of piece that are so long, `taken` off their end so far, made once each.

    `end` is what the end that pieces are cut from is, before anything is done to it.
    """

    def __init__(self, drawn: Drawn, work: StripWork, laying: Laying, long: Fraction, end: str, taken: Fraction):
        self.drawn, self.work, self.laying, self.end = drawn, work, laying, end
        self.habits = laying.habits
        self.before, self.long = float(long), float(long - taken)
        self.key = (work.piece, work.count, long, end, taken)

    def lying(self, turned: bool) -> int:
        """The strip as it is taken, its end at one side, with its width."""
        lie = strip_lie(self.habits, turned)

        def made() -> dict:
            x = self._side_x()
            width = shape("side", [(x, 0.0), (x, float(self.work.size))], length=float(self.work.size))
            return scene(self._view(lie), laid([*self._strip(self.long), *self._end(), width], lie), turned=2 * turned)

        return self._number(("lying", turned), made)

    def trimming(self, turned: bool, by: Fraction) -> int:
        """Its end made straight: a cut straight across, which takes so much; with nothing to take, just the end."""
        lie, high = strip_lie(self.habits, turned), float(self.work.size)

        def made() -> dict:
            cut = shape("cut", [(float(by), 0.0), (float(by), high)][:: -1 if turned else 1])
            waste = [shape("waste", rectangle(0, 0, by, high))] if by else []
            still = laid([*self._strip(self.before), *waste, *self._end(selvage=True)], lie)
            return scene(self._view(lie), still, over={"end": laid([cut], lie)}, turned=2 * turned)

        return self._number(("trimming", turned, by), made)

    def checking_end(self, turned: bool) -> int:
        """Its end, which nothing is taken off."""
        lie, high = strip_lie(self.habits, turned), float(self.work.size)
        edge = shape("edge", [(0.0, 0.0), (0.0, high)], word="strip_end")
        return self._number(
            ("checking", turned),
            lambda: scene(self._view(lie), laid([*self._strip(self.before), edge], lie), turned=2 * turned),
        )

    def starter(self) -> int:
        """The strip as it lies for its starter cut, turned half round where that keeps the arms uncrossed."""
        turned = self.laying.starter_turned
        lie = strip_lie(self.habits, turned)

        def made() -> dict:
            way = self.laying.way("starter")
            waste = self._starter_waste()
            still = [*self._strip(self.long), *([shape("waste", waste)] if waste else []), *self._end(selvage=True)]
            over = [*_bare(way, self._starter_cut(turned)), *self.laying.shapes(way), *self._starter_marks(way)]
            return scene(self._view(lie), laid(still, lie), over={"starter": laid(over, lie)}, turned=2 * turned)

        return self._number(("starter",), made)

    def pieces(self) -> int:
        """The strip as it lies for cutting pieces off it."""
        return self._number(("pieces",), self._pieces)

    def _pieces(self) -> dict:
        lie, piece = strip_lie(self.habits), self.work.piece.shape
        number = len(piece.cycle)
        over = {self.laying.over(k): laid(self._on_piece(k), lie) for k in reversed(range(number))}
        slanted = [shape("last-cut", self._last_cut(0), word="slanted_end")]
        return scene(
            self._view(lie, behind=0.45 * piece.advance),
            laid([shape("strip", self._rest())], lie),
            advance=lie([(piece.advance, 0.0)])[0],
            pieces=[lie(piece.outline(k)) for k in range(self.work.count)],
            over={**over, "turn": laid(slanted, lie)},
        )

    def rechecking(self) -> int:
        """A cut piece with the length across it that shows whether its angle is right."""
        lie, piece = strip_lie(self.habits), self.work.piece.shape

        def made() -> dict:
            corners = piece.outline()
            first, second = piece.checked
            across = shape("measure-line", [corners[first], corners[second]], length=piece.check)
            view = box(lie([(-0.2, -0.2), (corners[2][0] + 0.2, float(piece.size) + 0.2)]))
            return scene(view, laid([shape("piece", corners)], lie), over={"recheck": laid([across], lie)})

        return self._number(("recheck",), made)

    def halving(self, rising: bool) -> int:
        """A rectangle that was cut, with the cut from corner to corner."""
        lie, (long, high) = strip_lie(self.habits), (self.work.piece.shape.advance, float(self.work.size))

        def made() -> dict:
            rectangular = rectangle(0, 0, long, high)
            margin = 0.15 * long
            view = box(lie([(-margin, -margin), (long + margin, high + margin)]))
            cut = shape("cut", diagonal(self.habits, long, high, rising))
            return scene(view, laid([shape("piece", rectangular)], lie), over={"halve": laid([cut], lie)})

        return self._number(("halving", rising), made)

    def whole(self) -> int:
        """The strip that is a piece as it is."""
        lie, high = strip_lie(self.habits), float(self.work.size)

        def made() -> dict:
            width = shape("side", [(self.before + 1, 0.0), (self.before + 1, high)], length=high)
            long = shape("side", [(0.0, -1.0), (self.before, -1.0)], length=self.before)
            view = box(lie([(-1.0, -3.0), (self.before + 3.0, high + 2.0)]))
            return scene(view, laid([*self._strip(self.before), width, long], lie))

        return self._number(("whole",), made)

    # --- What they are made of

    def _number(self, key: tuple, make) -> int:
        return self.drawn.number((self.key, *key), make)

    def _view(self, lie: Lie, behind: float | None = None) -> list[float]:
        piece, high = self.work.piece.shape, float(self.work.size)
        left = -(0.8 * piece.advance if behind is None else behind)
        return box(lie([(left, -0.5 * high), (piece.starter_waste + 1.7 * piece.advance, 1.5 * high)]))

    def _side_x(self) -> float:
        """Where the width of the strip is told: over the cloth, away from its end."""
        piece = self.work.piece.shape
        return min(self.before, piece.starter_waste + 0.9 * piece.advance)

    def _strip(self, long: float) -> list[dict]:
        return [shape("strip", rectangle(0, 0, long, self.work.size))]

    def _end(self, selvage: bool = False) -> list[dict]:
        """What the end is: the band of selvage beyond it, or its line; with `selvage` only the first is shown."""
        high = float(self.work.size)
        if self.end == SELVAGE and self.long == self.before:
            return [shape("selvage", rectangle(-_SELVAGE, 0, 0, high), word="selvage")]
        if selvage:
            return []
        return [shape("edge", [(0.0, 0.0), (0.0, high)], word=_END_WORDS.get(self.end, "strip_end"))]

    def _starter_cut(self, turned: bool) -> list[Point]:
        starter, high = self.work.piece.shape.starter, float(self.work.size)
        return [(starter.near, 0.0), (starter.far, high)][:: -1 if turned else 1]

    def _starter_waste(self) -> list[Point]:
        """What the starter cut takes off; nothing where the strip's end is square already."""
        starter, high = self.work.piece.shape.starter, float(self.work.size)
        corners = [(0.0, 0.0), (starter.near, 0.0), (starter.far, high), (0.0, high)]
        return corners if max(starter.near, starter.far) > 0 else []

    def _starter_marks(self, way: Way | None) -> list[dict]:
        """Where no line gives the angle: how far along the edge the mark lies."""
        if way is not None and way.kind == "angle_line":
            return []
        starter, high = self.work.piece.shape.starter, float(self.work.size)
        y = 0.0 if starter.near else high
        values = self.laying.starter_values()
        return [shape("measure-line", [(0.0, y), (self.work.piece.shape.starter_waste, y)], length=values["waste"])]

    def _last_cut(self, k: int) -> list[Point]:
        """The cut before piece k, from the near edge to the far one."""
        corners = self.work.piece.shape.outline(k)
        high = float(self.work.size)
        low, top = min(x for x, y in corners if y == 0), min(x for x, y in corners if y == high)
        return [(low, 0.0), (top, high)]

    def _on_piece(self, k: int) -> list[dict]:
        """What lies on top for piece 0 or 1; the second is drawn where it lies before the strip is slid."""
        way, cut = self.laying.following(k), self.work.piece.shape.cut_for(k)
        (low, _), (top, high) = self._last_cut(k)
        freed = [(low + cut.near, 0.0), (top + cut.far, high)]
        found = [*self.laying.shapes(way), *_bare(way, freed), *self._piece_marks(way, cut, low, top, k)]
        if not any(one["role"] == "measure-line" for one in found) or way is None:
            found.append(shape("last-cut", [(low, 0.0), (top, high)], word="last_cut"))
        return moved(found, -k * self.work.piece.shape.advance)

    def _piece_marks(self, way: Way | None, cut: PieceCut, low: float, top: float, k: int) -> list[dict]:
        """How far along which edge a mark lies from the end of the last cut, where the way wants marks."""
        high, values = float(self.work.size), self.laying.piece_values(k)
        edges = {
            "near_edge": (0.0, low, cut.near, values["near_step"]),
            "far_edge": (high, top, cut.far, values["far_step"]),
        }
        wanted = [edge for edge in edges if way is None or edge in way.marks]
        lines = [(y, x, step, told) for y, x, step, told in (edges[edge] for edge in wanted) if step]
        return [shape("measure-line", [(x, y), (x + step, y)], length=told) for y, x, step, told in lines]

    def _rest(self) -> list[Point]:
        """What remains of the strip when its last piece is cut; may be a sliver with no width."""
        piece, high = self.work.piece.shape, float(self.work.size)
        last = piece.outline(self.work.count - 1)
        low, top = (max(x for x, y in last if y == edge) for edge in (0, high))
        return [(low, 0.0), (max(low, self.long), 0.0), (max(top, self.long), high), (top, high)]


def diagonal(habits: Habits, long: float, high: float, rising: bool) -> list[Point]:
    """The cut from corner to corner of a rectangle in strip coordinates, away from the body,
    that rises as the cloth is seen.

    >>> diagonal(Habits(), 3.0, 2.0, rising=True), diagonal(Habits("left"), 3.0, 2.0, rising=True)
    ([(0.0, 0.0), (3.0, 2.0)], [(3.0, 0.0), (0.0, 2.0)])
    """
    forth = rising != habits.flipped
    points = [(0.0, 0.0), (long, high)] if forth else [(long, 0.0), (0.0, high)]
    return points if habits.lay == "along" else sorted(points)


def _bare(way: Way | None, cut: Iterable[Point]) -> list[dict]:
    """The cut itself where no ruler's drawing has it."""
    return [] if way is not None else [shape("cut", cut)]


def joined_scene(drawn: Drawn, size: Fraction, length: float, strips: int) -> int:
    """Strips joined end to end, not to scale along them: with the `length` that they give."""
    high, each = float(size), 3.0 * float(size)

    def made() -> dict:
        pieces = [shape("strip", rectangle(k * each, 0, (k + 1) * each, high)) for k in range(min(strips, 3))]
        long = each * min(strips, 3)
        line = shape("side", [(0.0, -0.4 * high), (long, -0.4 * high)], length=length)
        return scene(box([(-0.3 * high, -1.2 * high), (long + 0.3 * high, 1.6 * high)]), [*pieces, line])

    return drawn.number(("joined", size, length, strips), made)


def finished_outline(size: Fraction, joined: Joined, drawn_long: float | None = None) -> list[Point]:
    """A joined piece with its angled ends: the longer edge below, its two ends leaning in, or both
    to the right where parallel.
    """
    high = float(size)
    long = drawn_long or float(joined.length)
    first, second = joined.ends or (90.0, 90.0)
    left, right = high * angles.cot(first), high * angles.cot(second)
    if joined.parallel:
        return [(0.0, 0.0), (long - right, 0.0), (long, high), (left, high)]
    return [(0.0, 0.0), (long, 0.0), (long - right, high), (left, high)]
