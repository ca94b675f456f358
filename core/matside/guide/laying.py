"""The rulers as the guide lays them for one kind of piece: which way at each step, in codes, values and shapes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from .. import angles
from ..rulers import USUAL_RUN, Ruler, Way, Ways, strip_ways, ways
from ..rulers.holding import held, slid
from ..rulers.ruler import USUAL_TICK
from ..shapes import PieceCut, Shape
from ..strips import needed_length
from ..units import SAME
from .job import Habits
from .places import Place

#: Half the length of a mark's stroke in a drawing, in inches.
_STROKE = 0.35
#: What the cuts of a cycle are called among the ways, and in a scene.
_FOLLOWING = ("following", "following_back")
_OVER = ("piece", "piece_back")
#: Ways in which marks along the edges set the cut.
_MARKED = frozenset({"mark_and_angle", "two_marks", "bare"})


@dataclass(frozen=True)
class Laying:
    """How the rulers at hand are laid for a kind of piece.

    The angle is checked again every `recheck_every` pieces; `chosen` picks another way than the best at a step. Marks
    are told to half a tick, the nearest one; `down` rounds them down where the strip would else be too short for its
    last piece: 1 those of the pieces, 2 that of the starter cut as well."""

    piece: Shape
    rulers: tuple[Ruler, ...]
    habits: Habits
    recheck_every: int
    chosen: tuple[tuple[str, int], ...] = ()
    down: int = 0

    @cached_property
    def found(self) -> Ways:
        """All ways for cutting pieces off a strip."""
        return ways(self.piece, self.piece.size, self.rulers, self.habits.hand, USUAL_RUN, self.recheck_every)

    def way(self, step: str) -> Way | None:
        """The way that is used at a step: the chosen one, or the best; None where there is none."""
        return self._pick(step, getattr(self.found, step))

    def strip_way(self, width: Fraction, run: Fraction) -> Way | None:
        """The way for cutting that width off a cloth that is `run` long under the ruler: the chosen
        one's like, where there is one.
        """
        there = strip_ways(width, self.rulers, self.habits.hand, run)
        chosen = self.way("strip") if "strip" in dict(self.chosen) else None
        alike = [way for way in there if chosen and _laid_as(way) == _laid_as(chosen)]
        return next(iter([*alike, *there]), None)

    def using(self, step: str, index: int) -> "Laying":
        """The same with one way chosen at a step; nothing is searched for again."""
        return self._like(chosen=((step, index),))

    def checked_every(self, pieces: int) -> "Laying":
        """The same with the angle checked after every so many pieces; nothing is searched for again."""
        return self._like(recheck_every=pieces)

    def _like(self, **changed) -> "Laying":
        other = replace(self, **changed)
        vars(other)["found"] = self.found
        return other

    # --- How much strip the pieces take, by what is told

    def needed(self, count: int) -> float:
        """The length of strip that so many pieces take when every mark is set as it is told."""
        marked = [self._kind(k) in _MARKED for k in range(len(self.piece.cycle))]
        if not any(marked) and not self._starter_marked:
            return needed_length(self.piece, count)
        starter = self.piece.starter
        near, far = (self._starter_mark(end) for end in (starter.near, starter.far))
        for k in range(count):
            near, far = self._after(k, near, far)
        return max(near, far) if count else 0.0

    def fitting(self, count: int, long: Fraction | float) -> "Laying":
        """The same, with marks rounded so that so many pieces fit a strip of that length, if they can."""
        levels = (self._like(down=down) for down in (0, 1, 2))
        return next((laying for laying in levels if laying.needed(count) <= float(long) + SAME), self._like(down=2))

    def _after(self, k: int, near: float, far: float) -> tuple[float, float]:
        """Where the cut that frees piece k ends on both edges, after one that ended there."""
        way, cut = self.following(k), self.piece.cut_for(k)
        slant = float(self.piece.size) * angles.cot(cut.lean)
        if self._kind(k) != "mark_and_angle":
            return near + float(self._step(cut.near)), far + float(self._step(cut.far))
        if way.angle_line is None or way.angle_line.laid_on == "near_edge":
            near += float(self._step(cut.near))
            return near, near + slant
        far += float(self._step(cut.far))
        return far - slant, far

    def _kind(self, k: int) -> str:
        """How the cut that frees piece k is set."""
        way = self.following(k)
        return way.kind if way else "two_marks" if self.found.two_marks else "bare"

    @property
    def _starter_marked(self) -> bool:
        way = self.way("starter")
        return not self.piece.straight and (way is None or way.kind != "angle_line")

    def _pick(self, step: str, found: Sequence[Way]) -> Way | None:
        index = dict(self.chosen).get(step, 0)
        return found[index] if index < len(found) else next(iter(found), None)

    def following(self, k: int) -> Way | None:
        """The way for the cut that frees piece k."""
        return self.way(_FOLLOWING[k % len(self.piece.cycle)])

    def over(self, k: int) -> str:
        """Which of a scene's shapes lie on top for piece k: "piece", or "piece_back" for a cut that leans back."""
        return _OVER[k % len(self.piece.cycle)]

    @property
    def starter_turned(self) -> bool:
        """Whether the strip is turned half round for the starter cut."""
        starter = self.way("starter")
        return bool(starter and starter.turn)

    @property
    def wants_square_end(self) -> bool:
        """Whether the strip's end must be square: pieces are measured from it, or the starter's mark is."""
        starter = self.way("starter")
        return self.piece.straight or starter is None or starter.kind != "angle_line"

    # --- What is said

    def say_strip(self, way: Way | None) -> str:
        """How a strip's width is set: by a "line", by "marks", or "bare" where no ruler does it."""
        return "bare" if way is None else "marks" if way.kind == "two_marks" else "line"

    def strip_values(self, way: Way | None, width: Fraction) -> dict:
        """What a sentence about cutting a strip of a width needs."""
        return {"size": width, "measure": width, **_reading(way), **_in_hand(way)}

    def say_starter(self) -> str:
        """The code of the starter cut's sentence."""
        way = self.way("starter")
        return f"start_{way.kind if way else 'bare'}"

    def starter_values(self) -> dict:
        """What the sentence about the starter cut needs: `waste` along one edge as it can be
        marked, and the line's angle.

        `corner` is the place of the edge whose end the cut meets, `other` that of the edge it is marked on.
        """
        way, starter = self.way("starter"), self.piece.starter
        corner, other = ("near", "far") if starter.corner == "near" else ("far", "near")
        return {
            "waste": self._starter_mark(self.piece.starter_waste),
            "corner": self._edge_place(corner, self.starter_turned),
            "other": self._edge_place(other, self.starter_turned),
            **self._line(way),
            **_in_hand(way),
        }

    def say_piece(self, k: int) -> str:
        """The code of the sentence for the cut that frees piece k."""
        kind, cut = self._kind(k), self.piece.cut_for(k)
        if self.piece.straight:
            return {
                "mark_and_angle": "cut_square_mark",
                "two_marks": "cut_square_two_marks",
                "bare": "cut_square_bare",
            }.get(kind, "cut_square")
        return f"cut_{kind}{self._leaning(kind, cut)}"

    def _leaning(self, kind: str, cut: PieceCut) -> str:
        """What else the sentence is to tell of a cut that is not parallel to the one before."""
        if not self.piece.alternates or kind == "corner_and_angle":
            return ""
        return "_corner" if cut.corner else "_leaning"

    def piece_values(self, k: int) -> dict:
        """What the sentence for piece k needs: how far from the last cut, at which edges, with which line."""
        way, cut = self.following(k), self.piece.cut_for(k)
        edge = None if way is None or way.kind != "mark_and_angle" else way.angle_line.laid_on.removesuffix("_edge")
        marked = self._step(getattr(cut, edge)) if edge else None
        steps = self._steps(way, cut)
        return {
            "lean": "other_way" if self.piece.alternates else "as_last",
            "set_by": cut.across or marked or steps["long_step"],  # the one length that this cut is known by
            "measure": cut.across,
            "corner": self._edge_place(cut.corner) if cut.corner else None,
            "mark": marked,
            "mark_on": self._edge_place(edge) if edge else None,
            **steps,
            **self._line(way),
            **_reading(way),
            **_in_hand(way),
        }

    def _steps(self, way: Way | None, cut: PieceCut) -> dict:
        """From the ends of the last cut along both edges, as they can be marked; and the
        longer of them with its place.
        """
        near, far = self._step(cut.near), self._step(cut.far)
        long = "far" if cut.far > cut.near else "near"
        return {
            "near_step": near,
            "near_on": self._edge_place("near"),
            "far_step": far,
            "far_on": self._edge_place("far"),
            "long_step": max(near, far),
            "long_on": self._edge_place(long),
        }

    def _step(self, exact: float) -> Fraction:
        """A distance as it is marked."""
        return self._marked(exact, self.down >= 1)

    def _starter_mark(self, exact: float) -> Fraction | float:
        """How far along an edge the starter cut ends, as it is marked; as it is, where a line gives it."""
        return self._marked(exact, self.down >= 2) if self._starter_marked else exact

    def _marked(self, exact: float, down: bool) -> Fraction:
        """To half a tick of the finest ruler at hand: a mark halfway between two lines can be set by eye."""
        half = min((ruler.tick for ruler in self.rulers), default=USUAL_TICK) / 2
        ticks = Fraction(exact) / half
        return half * (math.floor(ticks + Fraction(SAME)) if down else round(ticks))

    def _line(self, way: Way | None) -> dict:
        """The angle line that is laid on an edge of the strip."""
        line = way.angle_line if way else None
        if line is None:
            return {"degrees": None, "laid_on": None, "angle_ruler": None}
        # A ruler's near edge is the one near the cutter, whichever way round the strip lies.
        near = Place.BOTTOM if self.habits.lay == "along" else Place.LEFT
        return {
            "degrees": line.degrees,
            "laid_on": near if line.laid_on == "near_edge" else near.turned(2),
            "angle_ruler": line.ruler,
        }

    def _edge_place(self, edge: str, turned: bool = False) -> Place:
        """Where the strip's near or far edge lies before a right hand."""
        return edge_place(edge, self.habits.lay, turned)

    # --- What is drawn

    def shapes(self, way: Way | None) -> list[dict]:
        """The shapes of a way in the right hand's strip coordinates, for the cut of the first piece."""
        if way is None:
            return []
        drawing = way.drawing
        shapes = [
            *(self._shape("ruler", ruler.outline) for ruler in drawing.rulers),
            *(self._shape("ruler-slid", ruler.slid) for ruler in drawing.rulers if ruler.slid),
            *(self._shape("ruler-line", line) for line in drawing.lines),
            *self._labelled(
                "measure-line", drawing.measure_line, "length", way.measure_on[1] if way.measure_on else None
            ),
            *self._labelled("angle-line", drawing.angle_line, "degrees", drawing.angle_label),
            *(self._shape("mark", [(x, y - _STROKE), (x, y + _STROKE)]) for x, y in drawing.marks),
            self._shape("cut", drawing.cut),
        ]
        return shapes

    def _labelled(self, role: str, line, name: str, value) -> list[dict]:
        if line is None:
            return []
        label = {} if value is None else {"label": {name: value}}
        return [{**self._shape(role, line), **label}]

    def _shape(self, role: str, points) -> dict:
        # The rulers' drawings for the left hand lie mirrored already; here all is the right hand's until it is laid.
        side = -1 if self.habits.hand == "left" else 1
        return {"role": role, "points": [(side * x, y) for x, y in points]}

    @property
    def cut_length(self) -> float:
        """How long the blade's path across the strip is: size / sin of the cut's angle to the edge."""
        return float(self.piece.size) / angles.sin(self.piece.starter.lean)


def edge_place(edge: str, lay: str, turned: bool = False) -> Place:
    """Where an edge or end of a strip lies before a right hand: its "near" or "far" edge, the
    "start" of its pieces or its "end".

    >>> edge_place("start", "along"), edge_place("near", "away", turned=True)
    (<Place.LEFT: 'left'>, <Place.RIGHT: 'right'>)
    """
    along = {"start": Place.LEFT, "end": Place.RIGHT, "near": Place.BOTTOM, "far": Place.TOP}
    away = {"start": Place.BOTTOM, "end": Place.TOP, "near": Place.LEFT, "far": Place.RIGHT}
    place = (along if lay == "along" else away)[edge]
    return place.turned(2) if turned else place


def _reading(way: Way | None) -> dict:
    """How the distance is read: the code of the phrase, the line, and the lines on either side of it."""
    if way is None or way.measure_ticks is None:
        return {"reads": None}
    reads = f"two_{way.reads}" if len(way.rulers) > 1 else way.reads
    below, above = way.measure_ticks.between
    return {"reads": reads, "distance": way.measure_on[1], "below": below, "above": above}


def _in_hand(way: Way | None) -> dict:
    """Which rulers are in hand, and what the hands must know of them besides their lines: turned
    over or slid, what measures.
    """
    if way is None:
        return {"ruler": None}
    in_hand = {
        "step": way.step,
        "kind": way.kind,
        "rulers": list(way.rulers),
        "turned_over": way.turned_over,
        "slide": way.slide,
        "measure_on": {"ruler": way.measure_on[0], "distance": way.measure_on[1]} if way.measure_on else None,
        "notes": list(way.notes),
        "held": held(way),
        "slid": slid(way),
    }
    return {"ruler": " + ".join(way.rulers), "inner": way.rulers[0], "outer": way.rulers[-1], "way": in_hand}


def _laid_as(way: Way) -> tuple:
    """What makes two ways to cut a strip the same to the hand, however long the cloth is."""
    return (way.kind == "two_marks", way.rulers, way.cut_edge, way.turned_over)
