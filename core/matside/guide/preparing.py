"""From a cloth as it comes to its strips: press, place, fold, measure, make an edge straight,
divide, cut strips, open out.

What is measured comes before any cut. The edge that strips are measured from is one that is cut already, or
the selvage's inner side, or else a raw one: trimmed by a sliver where there is something to spare, and only
looked at where there is not."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from ..cloth import OTHER
from .acts import Act
from .cloth_scenes import ClothScenes
from .ends import strip_end
from .job import ClothWork, Habits, PartWork, StripWork
from .laying import Laying
from .places import Place, Turn
from .reach import folds_needed
from .sheet import CUT, MOST_TRIMMED, SELVAGE, SLIVER, Sheet, whole

_SIDES = (Place.LEFT, Place.RIGHT)
_ENDS = (Place.TOP, Place.BOTTOM)


@dataclass(frozen=True, slots=True)
class LaidPart:
    """How the strips of a part came off it: how long they are, and what their two ends are."""

    long: Fraction
    ends: tuple[str, str]


class Preparing:
    """The steps for one cloth; `laid` tells, once they are through, how the strips of each part came out."""

    def __init__(self, cloth: ClothWork, layings: dict[str, Laying], habits: Habits, scenes: ClothScenes):
        self.cloth = cloth
        self.layings = layings
        self.habits = habits
        self.scenes = scenes
        self.laid: list[LaidPart] = []

    def acts(self) -> Iterator[Act]:
        """All steps, from pressing to opened strips."""
        cloth = self.cloth
        sheet = whole(cloth, self._first_upright())
        yield Act(
            "press",
            "press",
            self.scenes.sheet(sheet),
            {"length": cloth.length, "width": cloth.width},
            ("children_pets",),
        )
        if cloth.is_strip:
            yield from self._ready_strip(sheet)
            return
        yield self._place(sheet)
        folds = self._folds(sheet)
        for fold in range(folds):
            yield self._fold(sheet, fold)
        sheet = sheet.folded(folds) if folds else sheet
        base = _base(sheet, sheet.across - self._needed_across(sheet))
        yield self._measure(sheet, base)
        for act, sheet in self._edge(sheet, base):  # noqa: B007, B020 (as the last act leaves it)
            yield act
        if cloth.division:
            yield from self._divided(sheet)
        else:
            yield from self._strips(sheet, cloth.parts[0])

    def _first_upright(self) -> str:
        """The side of the cloth that stands upright first: strips and a dividing cut run away from the body."""
        cloth = self.cloth
        return OTHER[cloth.division[0]] if cloth.division else cloth.parts[0].along

    def _ready_strip(self, sheet: Sheet) -> Iterator[Act]:
        work = self.cloth.works[0]
        ends = sheet.strip_ends
        needed = self._needed_run(work, sheet.run, ends)
        self.laid = [LaidPart(sheet.run, ends)]
        yield Act(
            "measure",
            "measure_strip",
            self.scenes.measured(sheet, None, None, needed),
            {"size": work.size, "run": needed},
        )

    # --- Placing, folding, measuring

    def _place(self, sheet: Sheet) -> Act:
        at = sheet.find(SELVAGE, (Place.RIGHT, Place.TOP, Place.LEFT, Place.BOTTOM))
        say = "place" if at is None else "place_selvage" if self.cloth.selvages < 2 else "place_selvages"
        upright = self._first_upright()
        values = {
            "run": sheet.upright,
            "across": sheet.across,
            "selvage": at,
            "grain": self.cloth.grain(self.cloth.parts[0].along),
        }
        runs = "parts" if self.cloth.division else "strips"
        return Act("place", say, self.scenes.sheet(sheet, sides=True), {**values, "upright": upright, "runs": runs})

    def _folds(self, sheet: Sheet) -> int:
        lengths = [ruler.length for laying in self.layings.values() for ruler in laying.rulers]
        return folds_needed(sheet.upright, self.habits.mat, lengths)

    def _fold(self, sheet: Sheet, fold: int) -> Act:
        both = all(sheet.edge(place) == SELVAGE for place in _ENDS)
        say = "fold_again" if fold else "fold_selvages" if both else "fold_ends"
        before, after = sheet.upright / 2**fold, sheet.upright / 2 ** (fold + 1)
        return Act(
            "fold",
            say,
            self.scenes.sheet(sheet.folded(fold + 1), sides=True),
            {"before": before, "after": after, "fold": Place.BOTTOM},
        )

    def _measure(self, sheet: Sheet, base: str) -> Act:
        across = self._needed_across(sheet) + (MOST_TRIMMED if base == "square" else 0)
        run = self._needed_upright(sheet) / 2**sheet.folds
        at = Place.LEFT if base in ("check", "cut") else Place.RIGHT
        values = {"across": across, "run": run, "from": at}
        return Act("measure", "measure", self.scenes.measured(sheet, at, across, run), values)

    def _needed_across(self, sheet: Sheet) -> Fraction | float:
        """From left to right: the strips, or the first part and what the second one takes beside it."""
        cloth = self.cloth
        if not cloth.division:
            return cloth.parts[0].needed_across
        return cloth.division[1] + self._needed_of(cloth.parts[1], self._second(sheet), cloth.division[0])

    def _needed_upright(self, sheet: Sheet) -> float:
        """From bottom to top, opened out: what the longest strip takes, or all that is cut across it after a turn."""
        upright = self._first_upright()
        sheets = [self._first(sheet), self._second(sheet)] if self.cloth.division else [sheet]
        return max(float(self._needed_of(part, one, upright)) for part, one in zip(self.cloth.parts, sheets))

    def _needed_of(self, part: PartWork, sheet: Sheet, side: str) -> Fraction | float:
        """What a part takes of its side of that name: its strips' length, or their widths and what its edge takes."""
        flat = sheet.opened()
        if not part.works:
            return 0
        turned = part.along != _upright(flat)
        if part.along == side:
            ends = tuple(flat.edge(place) for place in (_SIDES if turned else _ENDS))
            long = flat.across if turned else flat.upright
            return max(self._needed_run(work, long, ends) for work in part.works)
        lying = flat.quarter(_turn_for(flat)) if turned else flat
        takes = MOST_TRIMMED if turned and _base(lying, lying.across - part.needed_across) == "square" else 0
        return part.needed_across + takes

    def _needed_run(self, work: StripWork, long: Fraction, ends: tuple[str, str]) -> float:
        """What a strip takes of its length: its pieces, by the marks as they are told, and what makes its end ready."""
        laying = self.layings[work.piece.id]
        takes = strip_end(work, long, ends, laying).takes
        return laying.fitting(work.count, long - takes).needed(work.count) + float(takes)

    # --- The edge that is measured from

    def _edge(self, sheet: Sheet, base: str) -> Iterator[tuple[Act, Sheet]]:
        """The steps that make the left edge straight, each with what lies there after it."""
        if base == "cut":
            return
        if base == "check":
            sheet = sheet.with_edge(Place.LEFT, CUT)
            yield Act("check_edge", "check_edge", self.scenes.sheet(sheet, edge=Place.LEFT), {"at": Place.LEFT}), sheet
            return
        by = SLIVER if base == "square" else Fraction(0)
        do = "square" if base == "square" else "selvage"
        say = "square_edge" if base == "square" else "selvage_edge"
        scene = self.scenes.trimming(sheet, by, self._any_laying())
        values = {"at": Place.RIGHT, "most": MOST_TRIMMED, "run": sheet.upright}
        sheet = sheet.trimmed(Place.RIGHT, by)
        yield Act(do, say, scene, values, ("sharp_glove", "cut_away"), float(sheet.upright), "trim"), sheet
        yield self._half_turn(sheet), sheet.turned(2)

    def _half_turn(self, sheet: Sheet) -> Act:
        fold = Place.TOP if sheet.folds else None
        after = sheet.turned(2)
        return Act(
            "half_turn", "half_turn", self.scenes.sheet(after, edge=Place.LEFT), {"edge": Place.LEFT, "fold": fold}
        )

    def _any_laying(self) -> Laying:
        return self.layings[self.cloth.works[0].piece.id]

    # --- Dividing

    def _first(self, sheet: Sheet) -> Sheet:
        at = self.cloth.division[1]
        return replace(sheet, across=at).with_edge(Place.LEFT, CUT).with_edge(Place.RIGHT, CUT)

    def _second(self, sheet: Sheet) -> Sheet:
        at = self.cloth.division[1]
        return replace(sheet, across=sheet.across - at).with_edge(Place.LEFT, CUT)

    def _divided(self, sheet: Sheet) -> Iterator[Act]:
        laying, (_, at) = self._any_laying(), self.cloth.division
        way = laying.strip_way(at, sheet.upright)
        values = {**laying.strip_values(way, at), "at": at, "from": Place.LEFT, "run": sheet.upright}
        scene = self.scenes.dividing(sheet, at, laying, way)
        yield Act(
            "divide",
            f"divide_{laying.say_strip(way)}",
            scene,
            values,
            ("sharp_glove", "cut_away", "fingers"),
            float(sheet.upright),
            "strip",
        )
        parts = zip(self.cloth.parts, (self._first(sheet), self._second(sheet)), (Place.LEFT, Place.RIGHT))
        for part, lying, place in parts:
            if part.works:
                yield from self._part(part, lying, place)
            else:
                self.laid.append(LaidPart(lying.run, lying.strip_ends))

    def _part(self, part: PartWork, sheet: Sheet, place: Place) -> Iterator[Act]:
        """One part taken from where it lay, turned where its strips run the other way, and cut into them."""
        say, turn = "take_part", None
        if part.along != _upright(sheet):
            say = "take_part_opened" if sheet.folds else "take_part_turned"
            turn = _turn_for(sheet.opened())
            sheet = sheet.opened().quarter(turn)
        cut = Place.RIGHT if place is Place.LEFT else Place.LEFT
        edge = cut.turned(turn.quarters) if turn else cut
        selvage = sheet.find(SELVAGE, tuple(Place))
        values = {
            "from": place,
            "run": sheet.upright,
            "across": sheet.across,
            "turn": turn,
            "edge": edge,
            "selvage": selvage,
        }
        yield Act("take_part", say, self.scenes.sheet(sheet, sides=True, edge=edge), values)
        base = _base(sheet, sheet.across - part.needed_across)
        for act, sheet in self._edge(sheet, base):  # noqa: B007, B020 (as the last act leaves it)
            yield act
        folds = self._folds(sheet) if turn else 0
        for fold in range(folds):
            yield self._fold(sheet, fold)
        yield from self._strips(sheet.folded(folds) if folds else sheet, part)

    # --- Strips

    def _strips(self, sheet: Sheet, part: PartWork) -> Iterator[Act]:
        self.laid.append(LaidPart(sheet.run, sheet.strip_ends))
        left, number = sheet.across, 0
        for work in part.works:
            counted = (number, sum(one.strips for one in part.works))
            yield from self._strips_of(replace(sheet, across=left), work, counted)
            left, number = left - work.size * work.strips, number + work.strips
        if sheet.folds:
            sizes = [(work.size, work.strips) for work in part.works]
            values = {"strips": sum(work.strips for work in part.works), "size": part.works[0].size, "run": sheet.run}
            yield Act("unfold", "unfold_strips", self.scenes.opened_strips(sizes, sheet.run), values)

    def _strips_of(self, sheet: Sheet, work: StripWork, counted: tuple[int, int]) -> Iterator[Act]:
        """Strips alike; `counted` says how many of the part are cut before them, and how many it gives."""
        before, of = counted
        laying = self.layings[work.piece.id]
        way = laying.strip_way(work.size, sheet.upright)
        scene = self.scenes.cutting(sheet, work, laying, way)
        for k in range(work.strips):
            told = {"k": before + k + 1, "of": of, "from": Place.LEFT, "run": sheet.upright, "long": sheet.run}
            values = {**laying.strip_values(way, work.size), **told}
            cautions = ("sharp_glove", "cut_away", "fingers")
            yield Act(
                "strip", f"strip_{laying.say_strip(way)}", scene, values, cautions, float(sheet.upright), "strip", k, k
            )


def _upright(sheet: Sheet) -> str:
    """The side of the cloth that stands upright."""
    return "length" if sheet.turns % 2 else "width"


def _base(sheet: Sheet, margin: Fraction | float) -> str:
    """How the edge that strips are measured from comes about: "cut" already, "selvage", "square" or "check"."""
    if sheet.edge(Place.LEFT) == CUT:
        return "cut"
    if sheet.find(SELVAGE, _SIDES):
        return "selvage"
    return "square" if margin >= MOST_TRIMMED else "check"


def _turn_for(sheet: Sheet) -> Turn:
    """The quarter turn that brings a cut edge to the left, and a selvage to the right, where the blade is."""
    if sheet.edge(Place.TOP) == CUT or sheet.edge(Place.BOTTOM) == SELVAGE != sheet.edge(Place.TOP):
        return Turn.ANTICLOCKWISE
    return Turn.CLOCKWISE
