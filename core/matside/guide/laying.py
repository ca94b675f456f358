"""The rulers as the guide lays them for one kind of piece: which way at each step, in codes, values and shapes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from .. import angles
from ..rulers import USUAL_RUN, Ruler, Way, Ways, ways
from ..shapes import HalfDiamond, Shape
from .job import Habits

#: Half the length of a mark's stroke in a drawing, in inches.
_STROKE = 0.35


@dataclass(frozen=True)
class Laying:
    """How the rulers at hand are laid for a kind of piece.

    The angle is checked again every `recheck_every` pieces; `chosen` picks another way than the best at a step.
    """

    piece: Shape
    rulers: tuple[Ruler, ...]
    habits: Habits
    recheck_every: int
    chosen: tuple[tuple[str, int], ...] = ()

    @cached_property
    def found(self) -> Ways:
        """All ways for cutting pieces off a strip."""
        return self._ways()

    def way(self, step: str) -> Way | None:
        """The way that is used at a step: the chosen one, or the best; None where there is none."""
        return self._pick(step, getattr(self.found, step))

    def cutting_way(self, run: Fraction) -> Way | None:
        """The way for cutting strips off a cloth that is `run` long under the ruler: the chosen one's like, where there is one."""
        there = self.found.strip if run == USUAL_RUN else self._ways(run).strip
        chosen = self.way("strip") if "strip" in dict(self.chosen) else None
        alike = [way for way in there if chosen and _laid_as(way) == _laid_as(chosen)]
        return next(iter([*alike, *there]), None)

    def using(self, step: str, index: int) -> "Laying":
        """The same with one way chosen at a step; nothing is searched for again."""
        other = replace(self, chosen=((step, index),))
        vars(other)["found"] = self.found
        return other

    def _ways(self, run: Fraction = USUAL_RUN) -> Ways:
        return ways(self.piece, self.piece.size, self.rulers, self.habits.hand, run, self.recheck_every)

    def _pick(self, step: str, found: Sequence[Way]) -> Way | None:
        index = dict(self.chosen).get(step, 0)
        return found[index] if index < len(found) else next(iter(found), None)

    def following(self, k: int) -> Way | None:
        """The way for the cut that frees piece k: triangles lean forth and back by turns."""
        return self.way("following_back" if self.over(k) == "piece_back" else "following")

    def over(self, k: int) -> str:
        """Which of a scene's shapes lie on top for piece k: "piece", or "piece_back" for a cut that leans back."""
        return "piece_back" if isinstance(self.piece, HalfDiamond) and k % 2 else "piece"

    @property
    def starter_turned(self) -> bool:
        """Whether the strip is turned half round for the starter cut."""
        starter = self.way("starter")
        return bool(starter and starter.turn)

    def say(self, way: Way | None) -> str:
        """The code of how a way is laid: its kind, or how to do without."""
        if way:
            return way.kind
        return "two_marks" if self.found.two_marks else "bare"

    def say_piece(self, way: Way | None) -> str:
        """The code of the sentence for a piece that is cut so."""
        kind = self.say(way)
        if self.is_square:
            return f"piece_square_{kind}"
        return f"piece_triangle_{kind}" if self._is_triangle and kind in ("two_marks", "bare") else f"piece_{kind}"

    def values(self, way: Way | None) -> dict:
        """What a sentence about a way needs: lengths in inches, angles in degrees."""
        step = {
            **{"advance": self.piece.advance, "waste": self.piece.starter_waste, "size": self.piece.size},
            **{"measure": _across(self.piece), "step": self._step_to_mark()},
        }
        if way is None:
            return step
        line = way.angle_line
        return {
            **step,
            "way": _in_hand(way),
            "measure": way.measure if way.measure is not None else step["measure"],
            "mark": way.mark_ticks.nearest if way.mark_ticks else way.mark_along,
            "degrees": line.degrees if line else None,
            "from": line.edge if line else None,
            "laid_on": line.laid_on if line else None,
            "angle_ruler": line.ruler if line else None,
        }

    def _step_to_mark(self):
        """From mark to mark along an edge where no angle line helps: to the nearest tick of a ruler, if there is one."""
        marks = self.found.two_marks
        exact = self.piece.base if self._is_triangle else self.piece.advance
        return marks.step.nearest if marks else exact

    def shapes(self, way: Way | None) -> list[dict]:
        """The shapes of a way in the right hand's strip coordinates, for the cut of the first piece."""
        if way is None:
            return []
        drawing = way.drawing
        shapes = [
            *(self._shape("ruler", ruler.outline) for ruler in drawing.rulers),
            *(self._shape("ruler-slid", ruler.slid) for ruler in drawing.rulers if ruler.slid),
            *(self._shape("ruler-line", line) for line in drawing.lines),
            *self._labelled("measure-line", drawing.measure_line, "length", drawing.measure_label),
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

    @property
    def _is_triangle(self) -> bool:
        return isinstance(self.piece, HalfDiamond)

    @property
    def is_square(self) -> bool:
        """Whether pieces are cut straight across: rectangles, and diamonds of 90°."""
        return self.piece.angle == 90 and not self._is_triangle


def _in_hand(way: Way) -> dict:
    """What the hands must know of a way besides its lines: which rulers, turned over or slid, and what measures."""
    return {
        "step": way.step,
        "kind": way.kind,
        "rulers": list(way.rulers),
        "turned_over": way.turned_over,
        "slide": way.slide,
        "measure_on": {"ruler": way.measure_on[0], "distance": way.measure_on[1]} if way.measure_on else None,
        "notes": list(way.notes),
    }


def _laid_as(way: Way) -> tuple:
    """What makes two ways to cut a strip the same to the hand, however long the cloth is."""
    return (way.kind == "two_marks", way.rulers, way.cut_edge, way.turned_over)


def _across(piece: Shape) -> Fraction:
    return getattr(piece, "length", None) or getattr(piece, "across", None) or piece.size
