"""The steps for a strip, or for a stack of strips alike: lay it, make its end ready, cut the
starter, then piece after piece.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from .acts import Act
from .drawn import Drawn
from .ends import StripEnd, strip_end
from .job import Habits
from .laying import Laying, edge_place
from .places import Corner, Place
from .preparing import LaidPart
from .sheet import MOST_TRIMMED, SLIVER
from .stacks import Stack
from .strip_scenes import StripScenes

#: How near the diagonal of a piece is to be at a check, in inches. Common practice, no published source.
NEAR_ENOUGH = Fraction(1, 16)


@dataclass
class Halving:
    """How many rectangles of a kind are still to be cut corner to corner, rising and falling."""

    left: list[int]

    def take(self, layers: int) -> list[tuple[bool, int]]:
        """What becomes of so many that lie on each other: (rising, how many), the rising ones first.

        >>> Halving([1, 3]).take(2)
        [(True, 1), (False, 1)]
        """
        rising = min(layers, self.left[0])
        self.left = [self.left[0] - rising, max(0, self.left[1] - (layers - rising))]
        return [(way, count) for way, count in ((True, rising), (False, layers - rising)) if count]


@dataclass
class Taking:
    """The acts of one stack. `first` says that it is the first of the whole sitting; `others` that strips of another
    length lie there; `head_down` that every second piece lies head down and that this matters; `aside` that its
    strips are joined later."""

    stack: Stack
    laying: Laying
    laid: LaidPart
    drawn: Drawn
    first: bool = False
    others: bool = False
    head_down: bool = False
    pile: str | None = None
    halving: Halving | None = None
    end: StripEnd = field(init=False)

    def __post_init__(self):
        self.end = strip_end(self.work, self.laid.long, self.laid.ends, self.laying)
        taken = SLIVER if self.end.how == "square" else Fraction(0)
        self.laying = self.laying.fitting(self.work.count, self.laid.long - self.end.takes)
        kept = self.end.which if self.end.how is None else "cut"
        self.before = StripScenes(self.drawn, self.work, self.laying, self.laid.long, self.end.which, Fraction(0))
        self.scenes = (
            StripScenes(self.drawn, self.work, self.laying, self.laid.long, kept, taken)
            if self.end.how
            else self.before
        )

    @property
    def work(self):
        """The strips."""
        return self.stack.work

    @property
    def habits(self) -> Habits:
        """How the user cuts."""
        return self.laying.habits

    def acts(self) -> Iterator[Act]:
        """All steps of the stack."""
        layers = self.stack.layers
        if self.work.is_whole(self.laid.long):
            values = {**self._strip_values(), "k": 1, "of": 1}
            yield Act("piece", "keep_whole", self.before.whole(), values, gives=layers, over="whole", next=None)
        else:
            yield from self._made_ready()
            for k in range(self.work.count):
                if due := self._recheck_due(k):
                    yield self._recheck(due, k)
                yield from self._piece(k)
        yield self._done()

    @property
    def _cautions(self) -> tuple[str, ...]:
        """A strip that runs away from the body is cut from side to side: away from the hand that holds the ruler."""
        return ("sharp_glove", "cut_away" if self.habits.lay == "along" else "cut_aside", "fingers")

    # --- The strip and its end

    def _strip_values(self) -> dict:
        return {
            "size": self.work.size,
            "run": self.laid.long,
            "layers": self.stack.layers,
            "up": self.work.piece.shape.up(self.habits.flipped),
            "other_runs": self.others,
            "which": "by_length" if self.others else "by_width",
            "head_down": self.head_down,
        }

    def _made_ready(self) -> Iterator[Act]:
        """Until the end that pieces are cut from lies by the hand that holds the ruler."""
        straight, turned = (
            self.work.piece.shape.straight,
            self.laying.starter_turned and not self.work.piece.shape.straight,
        )
        cuts_end = self.end.how in ("square", "selvage")
        lies_turned = cuts_end or turned
        yield self._lay(lies_turned)
        if self.end.how:
            yield self._end(lies_turned)
        if not straight:
            if lies_turned and not turned:
                yield self._turn()
                lies_turned = False
            yield self._starter()
        if lies_turned:
            yield self._turn()

    def _at(self, turned: bool) -> Place:
        return edge_place("start", self.habits.lay, turned)

    def _lay(self, turned: bool) -> Act:
        stacked = "_stack" if self.stack.layers > 1 else ""
        wrong = "_wrong" if self.work.piece.shape.up(self.habits.flipped) == "wrong" else ""
        values = {**self._strip_values(), "end": self.end.which, "at": self._at(turned)}
        return Act("lay", f"take{stacked}{wrong}", self.before.lying(turned), values, gives=self._gives, over="lay")

    def _end(self, turned: bool) -> Act:
        values = {"at": self._at(turned), "most": MOST_TRIMMED, "size": self.work.size}
        say, cut = f"end_{self.end.how}", float(self.work.size)
        if self.end.how == "check":
            return Act("end", say, self.before.checking_end(turned), values, gives=self._gives, over="end")
        by = SLIVER if self.end.how == "square" else Fraction(0)
        return Act("end", say, self.before.trimming(turned, by), values, self._cautions, cut, "end", gives=self._gives)

    def _starter(self) -> Act:
        selvage = "_selvage" if self.end.which == "selvage" and self.end.how is None else ""
        values = {**self.laying.starter_values(), "at": self._at(self.laying.starter_turned), "size": self.work.size}
        say = f"{self.laying.say_starter()}{selvage}"
        return Act(
            "starter",
            say,
            self.scenes.starter(),
            values,
            self._cautions,
            self.laying.cut_length,
            "starter",
            gives=self._gives,
        )

    def _turn(self) -> Act:
        straight = self.work.piece.shape.straight or bool(self.end.how and not self.laying.starter_turned)
        say, scene = ("turn_straight", self.scenes.lying(False)) if straight else ("turn_strip", self.scenes.pieces())
        return Act("turn", say, scene, {"at": self._at(turned=False)}, gives=self._gives, over="turn")

    # --- Pieces

    @property
    def _gives(self) -> int:
        """Pieces that one cut through the stack frees."""
        return self.stack.layers * self.work.piece.parts

    def _left(self, k: int) -> dict:
        """What is left of the strip along its near edge after k pieces."""
        return {"length_left": self.scenes.long - k * self.work.piece.shape.advance}

    def _recheck_due(self, k: int) -> str | None:
        """After the very "first" piece, so that a wrong setting spoils one piece only, and then "every" few pieces."""
        if self.work.piece.shape.check is None or not k:
            return None
        return "every" if k % self.laying.recheck_every == 0 else "first" if self.first and k == 1 else None

    def _recheck(self, due: str, k: int) -> Act:
        across = self.work.piece.shape.check
        values = {"short_diagonal": across, "near": NEAR_ENOUGH, "due": due, **self._left(k)}
        return Act("recheck", "recheck", self.scenes.rechecking(), values, gives=self._gives, over="recheck")

    def _piece(self, k: int) -> Iterator[Act]:
        values = {
            **self.laying.piece_values(k),
            "k": k + 1,
            "of": self.work.count,
            "size": self.work.size,
            **self._left(k),
        }
        gives = 0 if self.halving else self._gives  # a rectangle is no piece yet
        scene, say = self.scenes.pieces(), self.laying.say_piece(k)
        yield Act("piece", say, scene, values, self._cautions, self.laying.cut_length, self.laying.over(k), k, k, gives)
        for rising, count in self.halving.take(self.stack.layers) if self.halving else ():
            yield self._halve(rising, count, k)

    def _halve(self, rising: bool, count: int, k: int) -> Act:
        seen = rising == (self.habits.lay == "along")  # a strip that runs away shows its rectangles a quarter turned
        corners = (Corner.LOWER_LEFT, Corner.UPPER_RIGHT) if seen else (Corner.LOWER_RIGHT, Corner.UPPER_LEFT)
        if self.habits.hand == "left":
            corners = tuple(corner.mirrored for corner in corners)  # they are told as they are seen, whatever the hand
        cut = float(self.work.size**2 + self.work.piece.shape.length**2) ** 0.5
        values = {
            "n": count,
            "diagonal": "rising" if seen else "falling",
            "first": corners[0],
            "second": corners[1],
            "k": k + 1,
            "of": self.work.count,
        }
        return Act("halve", "halve", self.scenes.halving(rising), values, ("fingers",), cut, "halve", gives=2 * count)

    def _done(self) -> Act:
        aside = "_aside" if self.work.piece.joined else "_head_down" if self.head_down else ""
        values = {"n": self.stack.planned, "pile": self.pile, "head_down": self.head_down, "size": self.work.size}
        whole = self.work.is_whole(self.laid.long)
        scene = self.before.whole() if whole else self.scenes.pieces()
        return Act(
            "strip_done",
            f"strip_done{aside}",
            scene,
            values,
            gives=self._gives,
            over="done",
            at=0 if whole else self.work.count,
        )
