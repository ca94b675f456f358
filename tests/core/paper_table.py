"""The paper cutter's table: what lies on it, what was seen to be so, and what is wrong.

What a sentence asks for must be there, what it names must be found without doubt, and every number in it must
be one of what lies there. What goes otherwise is `Wrong`, with a code; "short" where there is less than a
step says there must be."""

from dataclasses import dataclass, field

from shapely.geometry import Polygon

from paper_bench import Bench, Freed
from paper_cloth import NOISE, Cloth, Sheet, Strip

#: What a careful hand reads off a ruler: lengths nearer than this are the same.
SAME = 1 / 64
#: A mark is set at the nearest tick of ⅛ in, or halfway between two.
MARK = 1 / 16 + NOISE
#: The sliver that is trimmed where one is to be trimmed.
SLIVER = 1 / 8
#: Angles nearer than this are the same; marks at ticks give angles that far off.
DEGREES = 0.05
MARK_DEGREES = 1.5


class Wrong(AssertionError):
    """What cannot be done as told, or is told otherwise than it lies there."""

    def __init__(self, code: str, text: str):
        super().__init__(f"{code}: {text}")
        self.code = code


def must(holds: bool, code: str, text: str = "") -> None:
    if not holds:
        raise Wrong(code, text)


@dataclass
class Shown:
    """What a step found on the table and left there, for whoever compares the drawing with it."""

    step: dict
    before: list[Polygon] = field(default_factory=list)  # with selvages, and without
    after: list[Polygon] = field(default_factory=list)
    cut: tuple | None = None
    freed: list[Polygon] = field(default_factory=list)
    edges: dict[str, float] | None = None  # where the long edges of the strip on the table lie
    sheet_before: dict[str, float] | None = None  # where the cloth on the mat ended
    sheet_after: dict[str, float] | None = None
    fold: str | None = None
    looked_at: list[Polygon] = field(default_factory=list)  # pieces that are checked, or cut again
    bench_lies: bool = False
    drift: float = 0.0  # how far off marks at ticks may have led


class Table:
    """All that lies before the cutter or was put aside. `room`: how much smaller the cloths may be than said; `sliver`:
    what is trimmed where something is to be trimmed, if that is not too much."""

    def __init__(
        self, script: dict, cloths: list[Cloth], rulers: list[dict], room: float = 0.0, sliver: float = SLIVER
    ):
        self.script, self.rulers, self.room = script, {ruler["name"]: ruler for ruler in rulers}, room
        self.hand, self.sliver = script["hand"], sliver
        self.H, self.C = ("left", "right") if self.hand == "right" else ("right", "left")
        self.waiting = list(cloths)
        self.cloth: Cloth | None = None
        self.sheet: Sheet | None = None
        self.parts: dict[str, Sheet] = {}
        self.fold: str | None = None
        self.parts_fold: str | None = None  # where it lay when the cloth was divided
        self.strips: list[Strip] = []
        self.whole_strips: list[Strip] = []  # kept aside to be joined
        self.set_aside: list[Freed] = []
        self.bench: Bench | None = None
        self.pile: list[Freed] = []
        self.used = 0.0  # across the sheet on the mat, since it was measured
        self.measured: float | None = None
        self.slivers = 0.0  # by how much slivers were other than drawn
        self.cut_cloth = False
        self.finished: list[tuple] = []
        self.joined_left = 0.0
        self.proved: set[str] = set()
        self.strip_count = (0, 0)
        self.piece_count = (0, 0)
        self.at = -1
        self.by_marks = False  # whether a cut on this strip went by marks
        self.seen_turned: int | None = None  # how the drawings showed the cloth last,
        self.divided_turned: int | None = None  # and when it was divided
        self.counted = 0
        self.turned = 0.0  # by how much the cloth has been turned since the last step, in degrees

    def _is(self, strip: Strip, values: dict) -> bool:
        near = (
            SAME + self.room + abs(self.sliver - SLIVER)
        )  # a strip's ends may have been trimmed before it was cut off
        return abs(strip.size - values["size"]) <= SAME and abs(strip.run - values["run"]) <= near

    def number(self, values: dict, name: str, *actual: float, near: float = SAME) -> None:
        """A value that a sentence may show must be one of what lies there."""
        given = values.get(name)
        must(isinstance(given, int | float), "number", f"{name} is {given!r}, not a number")
        must(
            any(abs(given - one) <= near + NOISE for one in actual),
            "number",
            f"{name} is {given}, but {actual} lies there",
        )
        self.proved.add(name)

    def says(self, *names: str) -> None:
        """These values were seen to be what lies there."""
        self.proved |= set(names)

    def sides_said(self, values: dict, run: float, across: float) -> None:
        near = SAME + self.slivers + self.room
        self.number(values, "run", run, near=near)
        self.number(values, "across", across, near=near)

    def reading(self, values: dict, distance: float) -> None:
        """What is read off a ruler, or off two that touch, is the distance from the edge of cloth to the cut."""
        reads = values.get("reads")
        if reads is None:
            return
        must(values.get("measure") is not None, "number", "a reading of no distance")
        self.number(values, "measure", distance)
        two, how = reads.startswith("two_"), reads.removeprefix("two_")
        outer = self.ruler(values, "outer" if two else "ruler")
        places = [distance - self.ruler(values, "inner")[side] for side in ("width", "length")] if two else [distance]
        sides = (outer["width"], outer["length"])
        if how == "line":
            self.number(values, "distance", *places)
            self._on_lines(values["distance"], outer, whole=True)
            must(values["distance"] <= max(sides) - NOISE, "number", "the ruler has no such line")
        elif how == "between":
            below, above = values["below"], values["above"]
            must(
                any(below - NOISE < place < above + NOISE for place in places),
                "number",
                f"{places} is not between {below} and {above}",
            )
            must(abs(above - below - outer["tick"]) < NOISE, "number", f"{below} and {above} are no neighbors")
            self._on_lines(below, outer, whole=True)
            self.says("below", "above")
        else:
            must(how == "far_edge", "words", f"a reading {reads}")
            must(
                any(abs(place - side) <= SAME for place in places for side in sides),
                "number",
                f"the ruler's edge is not {places} off",
            )
        self.says("reads")

    @staticmethod
    def _on_lines(length: float, ruler: dict, whole: bool) -> None:
        ticks = length / ruler["tick"] * (1 if whole else 2)
        must(abs(ticks - round(ticks)) < NOISE, "number", f"no line at {length} on ticks of {ruler['tick']}")

    def ruler(self, values: dict, name: str) -> dict:
        must(values.get(name) in self.rulers, "number", f"{name}: there is no ruler {values.get(name)!r}")
        self.says(name)
        return self.rulers[values[name]]
