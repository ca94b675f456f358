"""A cutter of paper: does what a script's words say, step by step, knowing nothing else.

Each step is read by its sentence's code and values alone. Cloth lies on the table as polygons; what a sentence asks for
must be there, what it names must be found without doubt, and every number in it must be one of what lies there. What
goes otherwise is `Wrong`, with a code; "short" where there is less than a step says there must be.
"""

import math
from dataclasses import dataclass, field, replace

from paper_bench import Bench, Freed
from paper_cloth import BAND, NOISE, OPPOSITE, TURNS, Cloth, Motion, Sheet, Strip
from shapely.geometry import Polygon

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


#: Ways that go by marks, each at a tick.
_BY_MARKS = ("mark_and_angle", "two_marks", "bare", "square_mark", "square_two_marks", "square_bare")
#: The two diagonals, by the corners that they join.
_DIAGONALS = {
    ("lower_left", "upper_right"): "rising", ("upper_right", "lower_left"): "rising",
    ("upper_left", "lower_right"): "falling", ("lower_right", "upper_left"): "falling",
}  # fmt: skip


class Cutter:
    """Cuts `cloths` (as they really are, in the script's order) as a script says; `room`: how much smaller they may
    be than said; `sliver`: what it trims where one is to be trimmed, if that is not too much."""

    def __init__(self, script: dict, cloths: list[Cloth], rulers: list[dict], room: float = 0.0, sliver: float = SLIVER):
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

    # --- Going through the script ---------------------------------------------------------------------------------

    def steps(self):
        """Does the steps; yields after each what it left."""
        for self.at, step in enumerate(self.script["steps"]):
            self.proved, self.turned = set(), 0.0
            shown = Shown(step)
            self.shown = shown
            try:
                shown.before = self._lying()
                shown.fold, bench = self.fold, self.bench
                shown.sheet_before = self.sheet.bounds() if self.sheet else None
                getattr(self, f"do_{step['do']}")(step, step["values"])
                self._count(step)
            except Wrong as wrong:
                raise Wrong(wrong.code, f"step {self.at} ({step['say']}): {wrong}") from None
            shown.after = self._lying()
            shown.edges = self.bench.places if self.bench else None
            shown.sheet_after = self.sheet.bounds() if self.sheet else None
            shown.fold = self.fold or shown.fold
            bench = self.bench or bench
            shown.bench_lies = bench is not None
            shown.drift = MARK * (3 + len(bench.freed) / len(bench.strips)) if bench and self.by_marks else 0.0
            yield shown

    def _lying(self) -> list[Polygon]:
        """What lies before the cutter, with its selvages and without."""
        lying = self.bench or self.sheet
        found = [lying.table, lying.described] if lying else []
        return [shape for shape in found if not shape.is_empty]

    def run(self) -> "Cutter":
        for _ in self.steps():
            pass
        return self

    def _count(self, step: dict) -> None:
        if step["do"] in ("piece", "halve", "finish") and self._counts(step):
            self.counted += step["gives"]

    def _counts(self, step: dict) -> bool:
        """Whether what the step gives is told in the totals: strips that are joined later are not."""
        id = self.script["strips"][step["strip"]]["piece"] if step["strip"] < len(self.script["strips"]) else None
        return id is None or next((piece["counted"] for piece in self.script["pieces"] if piece["id"] == id), True)

    # --- Numbers ----------------------------------------------------------------------------------------------------

    def number(self, values: dict, name: str, *actual: float, near: float = SAME) -> None:
        """A value that a sentence may show must be one of what lies there."""
        given = values.get(name)
        must(isinstance(given, int | float), "number", f"{name} is {given!r}, not a number")
        must(any(abs(given - one) <= near + NOISE for one in actual), "number", f"{name} is {given}, but {actual} lies there")
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
            must(any(below - NOISE < place < above + NOISE for place in places), "number", f"{places} is not between {below} and {above}")
            must(abs(above - below - outer["tick"]) < NOISE, "number", f"{below} and {above} are no neighbors")
            self._on_lines(below, outer, whole=True)
            self.says("below", "above")
        else:
            must(how == "far_edge", "words", f"a reading {reads}")
            must(any(abs(place - side) <= SAME for place in places for side in sides), "number", f"the ruler's edge is not {places} off")
        self.says("reads")

    @staticmethod
    def _on_lines(length: float, ruler: dict, whole: bool) -> None:
        ticks = length / ruler["tick"] * (1 if whole else 2)
        must(abs(ticks - round(ticks)) < NOISE, "number", f"no line at {length} on ticks of {ruler['tick']}")

    def ruler(self, values: dict, name: str) -> dict:
        must(values.get(name) in self.rulers, "number", f"{name}: there is no ruler {values.get(name)!r}")
        self.says(name)
        return self.rulers[values[name]]

    # --- Cloth --------------------------------------------------------------------------------------------------------

    def do_swap(self, step, values):
        fits = [cloth for cloth in self.waiting if self._has_sides(cloth, values)]
        must(bool(fits), "nothing", "no such cloth is waiting")
        self._take(fits[0])
        self.says("length", "width")

    def do_press(self, step, values):
        if self.cloth is None or (self.sheet is None and self.cut_cloth):
            must(bool(self.waiting), "nothing", "no cloth is waiting")
            self._take(self.waiting[0])
        must(self._has_sides(self.cloth, values), "number", f"the cloth is {self.cloth.length} × {self.cloth.width}")
        self.says("length", "width")

    def _take(self, cloth: Cloth) -> None:
        self.waiting.remove(cloth)
        self.cloth, self.sheet, self.parts, self.fold, self.bench = cloth, None, {}, None, None
        self.slivers, self.cut_cloth, self.measured = 0.0, False, None

    def _has_sides(self, cloth: Cloth, values: dict) -> bool:
        near = SAME + self.room
        return abs(values["length"] - cloth.length) <= near and abs(values["width"] - cloth.width) <= near

    def do_place(self, step, values):
        must(self.cloth is not None, "nothing", "there is no cloth")
        fits = [sheet for sheet in self._lies() if self._lies_as_said(sheet, step, values)]
        must(bool(fits), "nothing", f"the cloth cannot lie so: {values}")
        self.sheet, self.fold = fits[0], None
        self.says("selvage", "grain", "runs")
        self.sides_said(values, self.sheet.sides()[1], self.sheet.sides()[0])

    def _lies(self) -> list[Sheet]:
        flat = Sheet.laid(self.cloth, Motion())
        return [flat.turned(degrees) for degrees in (0.0, 90.0, 180.0, 270.0)]

    def _lies_as_said(self, sheet: Sheet, step: dict, values: dict) -> bool:
        across, run = sheet.sides()
        near = SAME + self.room
        if abs(values["across"] - across) > near or abs(values["run"] - run) > near:
            return False
        wanted = {"place": set(), "place_selvage": {values.get("selvage")}, "place_selvages": {values.get("selvage"), OPPOSITE.get(values.get("selvage"))}}
        if {place for place in OPPOSITE if sheet.has_selvage(place)} != wanted[step["say"]]:
            return False
        # Where the cloth is cut in two first, strips run both ways: then the grain is no word about its lie.
        return values["runs"] == "parts" or values["grain"] == (self._upright_grain(sheet) or "unknown")

    def _upright_grain(self, sheet: Sheet) -> str | None:
        if self.cloth.lengthwise is None:
            return None
        upright = abs(sheet.layers[0].lie.direction(self.cloth.lengthwise)[1]) > 0.5
        return "lengthwise" if upright else "crosswise"

    def on_mat(self) -> Sheet:
        must(self.sheet is not None, "nothing", "no cloth lies on the mat, or two parts do")
        return self.sheet

    def do_fold(self, step, values):
        sheet = self.on_mat()
        must(values["fold"] == "bottom", "place", "folds lie at the bottom")
        self.says("fold")
        both = sheet.has_selvage("top") and sheet.has_selvage("bottom")
        if step["say"] == "fold_again":
            must(len(sheet.layers) > 1, "fold", "it is not folded yet")
        else:
            must(len(sheet.layers) == 1, "fold", "it is folded already")
            must(both == (step["say"] == "fold_selvages"), "fold", "the ends that meet are not what is said")
        near = SAME + self.room + self.slivers
        self.number(values, "before", sheet.sides()[1], near=near)
        self.sheet, self.fold = sheet.folded_up(), "bottom"
        self.number(values, "after", self.sheet.sides()[1], near=near)

    def do_measure(self, step, values):
        if step["say"] == "measure_strip":
            return self._measure_strip(values)
        sheet = self.on_mat()
        must(values["from"] in ("left", "right"), "place", "an upright edge is measured from")
        across, run = sheet.sides()
        must(across >= values["across"] - SAME, "short", f"{across} across, {values['across']} wanted")
        must(run >= values["run"] - SAME, "short", f"{run} upright, {values['run']} wanted")
        must(values["across"] > 0 and values["run"] > 0, "number", "nothing is measured")
        self.measured, self.used = values["across"], 0.0
        self.says("across", "run", "from")

    def _measure_strip(self, values: dict) -> None:
        """The cloth is one ready-cut strip: its long sides are those of the run."""
        must(self.cloth is not None and self.sheet is None, "nothing", "the cloth is no strip yet uncut")
        length, width = self.cloth.length, self.cloth.width
        fits = [
            way for way, run, size in (((1.0, 0.0), length, width), ((0.0, 1.0), width, length))
            if run >= values["run"] - SAME and size >= values["size"] - SAME
        ]  # fmt: skip
        must(bool(fits), "short", f"the strip is {length} × {width}")
        self.strips.append(Strip(self.cloth, self.cloth.whole, fits[0], True))
        self.says("size", "run")

    def do_selvage(self, step, values):
        sheet = self.on_mat()
        self._at_cutting_hand(values)
        must(sheet.has_selvage(self.C), "selvage", f"there is none at the {self.C}")
        self._trim(sheet.bounds()[self.C])

    def do_square(self, step, values):
        sheet = self.on_mat()
        self._at_cutting_hand(values)
        must(not sheet.has_selvage(self.C), "selvage", f"there is still one at the {self.C}")
        must(0 < values["most"] <= 0.25 + NOISE, "number", f"a sliver of {values['most']}")
        self.proved.add("most")
        sliver = min(self.sliver, values["most"])
        self.slivers += abs(sliver - SLIVER)
        self.used += sliver
        self._trim(sheet.bounds()[self.C] - (sliver if self.C == "right" else -sliver))

    def _at_cutting_hand(self, values: dict) -> None:
        must(values["at"] == self.C, "place", f"cloth is trimmed at the {self.C}")
        self.says("at")

    def _trim(self, at: float) -> None:
        """An upright cut at C: what lies at C of it goes."""
        sheet = self.sheet
        ends = sheet.bounds(selvages=True)
        self.shown.cut = ((at, ends["bottom"]), (at, ends["top"]))
        self.sheet = sheet.cut_upright(at)[self.H]
        self.cut_cloth = True

    def do_check_edge(self, step, values):
        sheet = self.on_mat()
        must(values["at"] == self.H, "place", f"the edge to check lies at the {self.H}")
        must(not sheet.has_selvage(self.H), "selvage", f"there is one at the {self.H}")
        self.says("at")
        must(not sheet.is_squared(self.H), "twice", "that edge is squared already")
        sheet.count_as_squared(self.H)

    def do_half_turn(self, step, values):
        self.sheet = self.on_mat().turned(180.0)
        self.turned = 180.0
        self.fold = self.fold and OPPOSITE[self.fold]
        must(values["edge"] == self.H and self.sheet.is_squared(self.H), "place", "the squared edge does not lie there now")
        must(values["fold"] == self.fold, "fold", f"the fold lies at {self.fold}")
        self.says("edge", "fold")

    def _from_squared(self, values: dict) -> float:
        must(values["from"] == self.H, "place", f"strips are cut from the {self.H}")
        self.says("from")
        must(self.sheet.is_squared(self.H), "square", f"the edge at the {self.H} is not squared")
        return self.sheet.bounds()[self.H]

    def _cut_off(self, size: float, values: dict) -> dict[str, Sheet | None]:
        """An upright cut, so far from the squared edge."""
        sheet, edge = self.on_mat(), self._from_squared(values)
        room = sheet.sides()[0]
        must(room >= size - SAME, "short", f"{room} is left, {size} wanted")
        at = edge + min(size, room) * (1 if self.H == "left" else -1)
        ends = sheet.bounds(selvages=True)
        self.shown.cut = ((at, ends["bottom"]), (at, ends["top"]))
        self.used += size
        self.cut_cloth = True
        if self.measured is not None:
            must(self.used <= self.measured + SAME, "number", f"{self.measured} was measured, {self.used} is used")
        return sheet.cut_upright(at)

    def do_divide(self, step, values):
        sheet = self.on_mat()
        self.reading(values, values["at"])
        self.number(values, "run", sheet.sides()[1], near=SAME + self.room + self.slivers)
        parts = self._cut_off(values["at"], values)
        must(None not in parts.values(), "nothing", "one of the parts is nothing")
        self.number(values, "at", parts[self.H].sides()[0])
        self.parts, self.sheet, self.measured, self.parts_fold = parts, None, None, self.fold

    def do_take_part(self, step, values):
        must(values["from"] in self.parts, "nothing", f"no part lies at the {values['from']}")
        part = self.parts.pop(values["from"])
        divided_at = OPPOSITE[values["from"]]
        must((values["turn"] is None) == (step["say"] == "take_part"), "turn", f"{step['say']}, {values['turn']}")
        turn = TURNS[values["turn"]]
        self.turned = turn
        self.sheet = part.turned(turn)
        order = ("right", "top", "left", "bottom")
        places = {place: order[(i + round(turn / 90)) % 4] for i, place in enumerate(order)}
        self.fold = places[self.parts_fold] if len(part.layers) > 1 else None
        must(values["edge"] == places[divided_at], "place", f"the dividing cut lies at the {places[divided_at]}")
        self._selvage_said(values["selvage"])
        self.says("from", "turn", "edge", "selvage")
        self.measured, self.used = None, 0.0
        self.sides_said(values, self.sheet.sides()[1], self.sheet.sides()[0])

    def _selvage_said(self, place: str | None) -> None:
        found = {one for one in OPPOSITE if self.sheet.has_selvage(one)}
        must(place in found if place else not found, "selvage", f"selvages lie at {found or 'no place'}")

    def do_strip(self, step, values):
        sheet = self.on_mat()
        size = values["size"]
        self._counts_on(values)
        self.reading(values, size)
        height = sheet.sides()[1]
        parts = self._cut_off(size, values)
        strip = Strip.off(parts[self.H])
        self.number(values, "size", strip.size)
        self.number(values, "run", strip.run, height, near=SAME + self.room + self.slivers)
        self.strips.append(strip)
        self.sheet = parts[self.C]
        self.shown.freed = [parts[self.H].table]
        if self.sheet is None:
            self.fold = None

    def _counts_on(self, values: dict) -> None:
        """Strips are counted 1, 2, 3 … to the last one."""
        k, of = self.strip_count
        goes_on = (values["k"], values["of"]) == (k + 1, of) if k < of else values["k"] == 1 and values["of"] >= 1
        must(goes_on, "number", f"strip {values['k']} of {values['of']} after {k} of {of}")
        self.strip_count = (values["k"], values["of"])
        self.says("k", "of")

    def do_unfold(self, step, values):
        if step["say"] == "unfold_cloth":
            return self._unfold_cloth(values)
        near = SAME + self.room + abs(self.sliver - SLIVER)
        folded = [strip for strip in self.strips if not strip.open and abs(strip.run - values["run"]) <= near]
        must(len(folded) == values["strips"], "number", f"{len(folded)} folded strips lie there")
        self.strips = [replace(strip, open=True) if strip in folded else strip for strip in self.strips]
        self.says("run", "strips")

    def _unfold_cloth(self, values: dict) -> None:
        """All that is folded is opened: what lies on the mat, and parts that were put aside."""
        lying = [part for part in (self.sheet, *self.parts.values()) if part and len(part.layers) > 1]
        must(bool(lying), "fold", "nothing is folded")
        self.parts = {place: part.opened() for place, part in self.parts.items()}
        self.sheet, self.fold = self.sheet and self.sheet.opened(), None
        opened = [part.sides()[1] for part in (self.sheet, *self.parts.values()) if part]
        self.number(values, "run", *opened, near=SAME + self.room + self.slivers)

    def _is(self, strip: Strip, values: dict) -> bool:
        near = SAME + self.room + abs(self.sliver - SLIVER)  # a strip's ends may have been trimmed before it was cut off
        return abs(strip.size - values["size"]) <= SAME and abs(strip.run - values["run"]) <= near

    # --- Strips -------------------------------------------------------------------------------------------------------

    def do_lay(self, step, values):
        must(step["say"] == self._lay_code(values), "words", f"{step['say']} with {values['layers']} layers, {values['up']} side up")
        taken = self._pick(values)
        must((values["at"] in ("left", "right")) == (self.script["lay"] == "along"), "place", f"an end at the {values['at']}")
        ends = [self._end_of(strip, values["end"]) for strip in taken]
        for strip in taken:
            self.strips.remove(strip)
        self.bench = Bench.laid(taken, ends, values["at"], values["up"])
        kinds = {strip.ends()[way] for strip, way in zip(taken, ends)}
        if kinds == {"cut"}:
            self._square_end(self.bench.end(False))
        self.piece_count, self.by_marks = (0, 0), False
        self.says("size", "run", "layers", "up", "end", "at", "other_runs")

    @staticmethod
    def _lay_code(values: dict) -> str:
        return ("take_stack" if values["layers"] > 1 else "take") + ("_wrong" if values["up"] == "wrong" else "")

    def _pick(self, values: dict) -> list[Strip]:
        """The strips that fit the sentence; they must be of one sort."""
        fits = [strip for strip in self.strips if self._is(strip, values)]
        must(bool(fits), "nothing", f"no strip of {values['size']} × {values['run']} lies there")
        must(all(strip.open for strip in fits), "fold", "the strips are still folded")
        sorts = {(strip.cloth.fabric, strip.pile, round(strip.size * 16), round(strip.run * 16)) for strip in fits}
        must(len(sorts) == 1, "ambiguous", f"strips of several sorts fit: {sorts}")
        must(len(fits) >= values["layers"], "nothing", f"only {len(fits)} such strips lie there")
        runs = [strip.run for strip in self.strips if abs(strip.size - values["size"]) <= SAME]
        others = any(abs(run - values["run"]) > SAME + self.room + abs(self.sliver - SLIVER) for run in runs)
        must(values["other_runs"] or not others, "ambiguous", "strips of other lengths lie there, and nothing is said")
        return fits[: values["layers"]]

    @staticmethod
    def _end_of(strip: Strip, kind: str) -> tuple[float, float]:
        """An end of that kind; where any will do, the worst."""
        ends = strip.ends()
        for one in ("selvage", "raw", "cut") if kind == "any" else (kind,):
            for way, found in ends.items():
                if found == one:
                    return way
        raise Wrong("nothing", f"the strip has no {kind} end: {sorted(ends.values())}")

    def on_bench(self) -> Bench:
        must(self.bench is not None, "nothing", "no strip lies there")
        return self.bench

    def do_end(self, step, values):
        bench = self.on_bench()
        must(values["at"] == bench.worked, "place", f"the end to cut lies at the {bench.worked}")
        self.says("at")
        must(bench.has_selvage() == (step["say"] == "end_selvage"), "selvage", f"{step['say']}, selvage: {bench.has_selvage()}")
        at = bench.end(False)
        if step["say"] == "end_square":
            must(0 < values["most"] <= 0.25 + NOISE, "number", f"a sliver of {values['most']}")
            self.proved.add("most")
            at += min(self.sliver, values["most"])
        if step["say"] != "end_check":
            bench.sever(dict.fromkeys(bench.edges, at))
            self.shown.cut = bench.cut
        self._square_end(at)

    def _square_end(self, at: float) -> None:
        self.bench.cut = self.bench.line(dict.fromkeys(self.bench.edges, at))
        self.bench.squared = True

    def do_starter(self, step, values):
        bench, say = self.on_bench(), step["say"]
        selvage = say.endswith("_selvage")
        kind = say.removesuffix("_selvage").removeprefix("start_")
        corner, other = values["corner"], values["other"]
        must({corner, other} == set(bench.edges), "place", f"the long edges lie at {bench.edges}")
        must(values["at"] == bench.worked, "place", f"the worked end lies at the {bench.worked}")
        self.says("corner", "other", "at")
        must(bench.has_selvage() == selvage, "selvage", f"{say}, selvage: {bench.has_selvage()}")
        must(selvage or bench.squared or kind == "angle_line", "square", "a mark is measured from a raw end")
        end = bench.end(False)
        waste = values["waste"]
        if kind in ("angle_line", "mark_and_angle"):
            self._line_on(values, bench)
            waste = bench.width / math.tan(math.radians(values["degrees"]))
        else:
            self.by_marks = True
        cut = {corner: end, other: end + waste}
        self.number(values, "waste", waste, near=MARK)
        if values.get("degrees") is not None:
            self._degrees(values, bench.angle(cut), kind)
        self._fits(bench, cut)
        bench.sever(cut)
        self.shown.cut = bench.cut

    def _line_on(self, values: dict, bench: Bench) -> None:
        must(values["laid_on"] in bench.edges, "place", f"the line lies on {values['laid_on']}")
        must(values["degrees"] is not None, "number", "no angle is said")
        printed = [line["degrees"] for line in self.ruler(values, "angle_ruler").get("angles", [])]
        must(any(abs(values["degrees"] - line) < DEGREES for line in (*printed, 90)), "number", f"that ruler has lines at {printed}")
        self.says("laid_on")

    def _degrees(self, values: dict, angle: float, kind: str) -> None:
        near = MARK_DEGREES if kind in ("two_marks", "bare") else DEGREES
        self.number(values, "degrees", angle, 180 - angle, near=near)

    def _fits(self, bench: Bench, cut: dict[str, float]) -> None:
        """A cut needs cloth where it meets the edges; lengths that are the same may differ twice, and by a mark."""
        near = 2 * SAME + self.by_marks * MARK
        for edge, at in cut.items():
            low, high = bench.reach(edge)
            must(at <= high + near, "short", f"the cut would end {at - high:.3f} in beyond the strip")
            must(at >= low - near - BAND, "place", f"the cut would end {low - at:.3f} in before what is left")

    def do_turn(self, step, values):
        bench = self.on_bench()
        must(bench.cut is not None, "nothing", "there is no cut end yet")
        bench.half_turn()
        self.turned = 180.0
        must(values["at"] == bench.worked, "place", f"the cut end lies at the {bench.worked} now")
        self.says("at")

    def do_piece(self, step, values):
        if step["say"] == "keep_whole":
            self._keep(values)
        else:
            self._cut_across(step["say"], values)

    def do_cut_off(self, step, values):
        """A rectangle that is halved next."""
        self._cut_across(step["say"], values)

    def _cut_across(self, say: str, values: dict) -> None:
        bench = self.on_bench()
        self._piece_counts(values)
        must(bench.cut is not None, "square", "pieces are measured from a raw end")
        kind, variant = self._kind(say)
        square = say.startswith("cut_square")
        cut = self._new_cut(kind, variant, bench, values)
        self.by_marks |= kind in _BY_MARKS
        self._lengths_left(bench, values)
        self._agrees(kind, square, bench, values, cut)
        if values.get("measure") is not None:
            self.number(values, "measure", self._square_across(bench, cut), near=MARK)
            self.reading(values, values["measure"])
        self._fits(bench, cut)
        self._free(bench.sever(cut), bench)
        self.shown.cut = bench.cut

    def _piece_counts(self, values: dict) -> None:
        k, of = self.piece_count
        must(values["k"] == k + 1 <= values["of"] and of in (0, values["of"]), "number", f"piece {values['k']} of {values['of']} after {k} of {of}")
        self.piece_count = (values["k"], values["of"])
        self.says("k", "of")

    def _free(self, freed: list[Freed], bench: Bench) -> None:
        for piece in freed:
            piece.step = self.at
        self.shown.freed = [piece.table for piece in freed]
        bench.freed += freed
        self.pile += freed

    def _keep(self, values: dict) -> None:
        """Strips that are pieces as they are."""
        taken = self._pick(values)
        for strip in taken:
            self.strips.remove(strip)
        must(all("selvage" not in strip.ends().values() for strip in taken), "selvage", "a whole strip with its selvage on")
        self.piece_count = (values["k"], values["of"])
        self.bench = Bench.laid(taken, [strip.along for strip in taken], "right" if self.script["lay"] == "along" else "top", values["up"])
        whole = [Freed(s.cloth, region, lie, s) for s, region, lie in zip(self.bench.strips, self.bench.regions, self.bench.lies)]
        self._free(whole, self.bench)
        self.says("size", "run", "layers", "k", "of")

    @staticmethod
    def _kind(say: str) -> tuple[str, str]:
        """The way's kind, and how its marks lie."""
        rest = say.removeprefix("cut_")
        for variant in ("_leaning", "_corner"):
            if rest.endswith(variant) and rest != "corner":
                return rest.removesuffix(variant), variant
        return rest, ""

    def _new_cut(self, kind: str, variant: str, bench: Bench, values: dict) -> dict[str, float]:
        """Where the cut that frees the next piece meets the edges, by what the sentence goes by."""
        first, second = bench.edges
        if kind in ("both_lines", "measure_only", "angle_line", "square"):
            must(kind == "square" or values["lean"] == "as_last", "lean", "what is measured from the last cut leans as it does")
            step = values["measure"] / math.sin(math.radians(bench.angle()))
            return self._marked(bench, {first: step, second: step})
        if kind == "corner_and_angle":
            return self._by_angle(bench, values, values["corner"], 0.0, -1)
        if kind == "mark_and_angle":
            return self._by_angle(bench, values, values["mark_on"], values["mark"], -1 if variant else 1)
        if kind == "square_mark":
            return self._marked(bench, {edge: values["mark"] for edge in bench.edges})
        must(kind in ("two_marks", "bare", "square_two_marks", "square_bare"), "words", f"a way {kind} is not known")
        if variant == "_corner":
            return self._marked(bench, {values["long_on"]: values["long_step"], values["corner"]: 0.0})
        if variant == "_leaning":
            return self._marked(bench, {values["near_on"]: values["near_step"], values["far_on"]: values["far_step"]})
        return self._marked(bench, {edge: values["near_step"] for edge in bench.edges})

    def _marked(self, bench: Bench, steps: dict[str, float]) -> dict[str, float]:
        """From mark to mark, each so far from the last cut's end on its edge."""
        must(set(steps) == set(bench.edges), "place", f"marks on {sorted(steps)}, the edges lie at {bench.edges}")
        return {edge: bench.last(edge) + step for edge, step in steps.items()}

    def _by_angle(self, bench: Bench, values: dict, edge: str, mark: float, lean: int) -> dict[str, float]:
        """Through a mark on an edge, at the angle said, leaning as the last cut (1) or the other way (-1)."""
        must(edge in bench.edges, "place", f"{edge} is no long edge")
        must(values["laid_on"] in bench.edges, "place", f"the line lies on {values['laid_on']}")
        must(abs(bench.lean()) > NOISE or values["degrees"] == 90, "lean", "the last cut leans no way")
        first, second = bench.edges
        over = math.copysign(bench.width / math.tan(math.radians(values["degrees"])), lean * bench.lean())
        at = bench.last(edge) + mark
        return {first: at, second: at + over} if edge == first else {first: at - over, second: at}

    def _square_across(self, bench: Bench, cut: dict[str, float]) -> float:
        """From the last cut to this one, measured square across; they must be parallel."""
        must(abs(bench.lean() - bench.lean(cut)) <= 2 * MARK, "number", "a distance between cuts that are not parallel")
        step = sum(cut[edge] - bench.last(edge) for edge in bench.edges) / 2
        return step * math.sin(math.radians(bench.angle()))

    def _agrees(self, kind: str, square: bool, bench: Bench, values: dict, cut: dict[str, float]) -> None:
        """All that is said of the cut besides what it was made by."""
        if values.get("degrees") is not None:
            self._degrees(values, bench.angle(cut), kind)
        if values.get("laid_on") is not None:
            must(values["laid_on"] in bench.edges, "place", f"the line lies on {values['laid_on']}")
            self.says("laid_on")
        if not square:
            same = bench.lean() * bench.lean(cut) > 0 or abs(bench.lean(cut)) < NOISE
            must(values["lean"] == ("as_last" if same else "other_way"), "lean", f"the cut leans otherwise than {values['lean']}")
            self.says("lean")
        if values.get("corner") is not None:
            must(values["corner"] in bench.edges, "place", f"{values['corner']} is no long edge")
            must(abs(cut[values["corner"]] - bench.last(values["corner"])) <= SAME, "place", f"the cut does not meet the last one at the {values['corner']}")
            self.says("corner")
        for step, on in (("mark", "mark_on"), ("near_step", "near_on"), ("far_step", "far_on"), ("long_step", "long_on")):
            if values.get(step) is not None and values.get(on) is not None:
                must(values[on] in bench.edges, "place", f"{values[on]} is no long edge")
                self.number(values, step, cut[values[on]] - bench.last(values[on]), near=2 * MARK if kind in _BY_MARKS else MARK)
                self.says(on)

    def _lengths_left(self, bench: Bench, values: dict) -> None:
        if values.get("length_left") is not None:
            reaches = [bench.reach(edge) for edge in bench.edges]
            lengths = [high - low for low, high in reaches]
            whole = max(high for _, high in reaches) - min(low for low, _ in reaches)
            drifted = self.by_marks * MARK * (1 + len(bench.freed) / len(bench.strips))  # marks at ticks add up
            self.number(values, "length_left", *lengths, whole, near=SAME + self.room + abs(self.sliver - SLIVER) * 2 + drifted)

    def do_recheck(self, step, values):
        bench = self.on_bench()
        must(bool(bench.freed), "nothing", "no piece was cut yet")
        self.shown.looked_at = [bench.freed[-1].table]
        corners = list(bench.freed[-1].region.normalize().exterior.coords)[:-1]
        diagonals = sorted(math.dist(corners[i], corners[i + 2]) for i in (0, 1)) if len(corners) == 4 else []
        must(bool(diagonals), "number", "no diagonal to check")
        self.number(values, "short_diagonal", diagonals[0], near=MARK)
        self._lengths_left(bench, values)

    def do_halve(self, step, values):
        bench, n = self.on_bench(), values["n"]
        last = [piece for piece in bench.freed if not piece.halved][-n:]
        must(len(last) == n, "nothing", f"{len(last)} rectangles lie there")
        way = _DIAGONALS.get((values["first"], values["second"]))
        must(way is not None, "place", f"{values['first']} and {values['second']} lie on one side")
        self.shown.looked_at = [last[0].table]
        for piece in last:
            self._halve(piece, way, bench)
        self.shown.freed = [piece.table for piece in bench.freed[-2 * n :]]
        self.says("first", "second", "n")

    def _halve(self, piece: Freed, way: str, bench: Bench) -> None:
        left, bottom, right, top = piece.table.bounds
        must(abs(piece.table.area - (right - left) * (top - bottom)) < 0.05, "halve", "it is no rectangle")
        low, high = (bottom, top) if way == "rising" else (top, bottom)
        self.shown.cut = ((left, low), (right, high))
        halves = [Polygon([(left, low), (right, high), (left, high)]), Polygon([(left, low), (right, high), (right, low)])]
        made = [replace(piece, region=piece.lie.back().shape(half), step=self.at, halved=True) for half in halves]
        self.pile.remove(piece)
        bench.freed.remove(piece)
        self.pile += made
        bench.freed += made

    def do_strip_done(self, step, values):
        bench = self.on_bench()
        if step["say"] == "strip_done_aside":
            self.whole_strips += bench.strips
            self.set_aside += bench.freed
            self.pile = [piece for piece in self.pile if piece not in bench.freed]
        if values.get("n") is not None:
            must(values["n"] == len(bench.freed), "number", f"{values['n']} pieces said, {len(bench.freed)} lie there")
            self.says("n")
        if values.get("pile") is not None:
            piles = {piece.strip.pile for piece in bench.freed}
            must(piles == {values["pile"]}, "grain", f"the pieces lie {piles}")
            self.says("pile")
        self.bench = None

    # --- At the end ---------------------------------------------------------------------------------------------------

    def do_join(self, step, values):
        taken = [strip for strip in self.whole_strips if abs(strip.size - values["size"]) <= SAME]
        must(len(taken) >= values["strips"] > 0, "nothing", f"{len(taken)} such strips are set aside")
        taken = taken[: values["strips"]]
        for strip in taken:
            self.whole_strips.remove(strip)
        most = sum(strip.run for strip in taken)
        must(0 < values["length"] <= most + SAME, "number", f"{most} lie there, {values['length']} said")
        self.joined_left = values["length"]
        self.says("strips", "size", "length")

    def do_finish(self, step, values):
        must(values["length"] <= self.joined_left + SAME, "short", f"{self.joined_left} are left")
        self.joined_left -= values["length"]
        self.finished.append((values["size"], values["length"], values.get("first"), values.get("second")))
        self.says("length", "first", "second", "k", "of", "size")

    def do_done(self, step, values):
        must(not self.strips, "left", f"{len(self.strips)} strips still lie there")
        must(not self.waiting, "left", f"{len(self.waiting)} cloths were not taken")
