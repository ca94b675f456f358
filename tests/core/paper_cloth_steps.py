"""What the paper cutter does with a cloth on the mat: lays, folds, measures, squares, turns,
divides it, and cuts strips off.
"""

from dataclasses import replace

from paper_cloth import NOISE, OPPOSITE, TURNS, Cloth, Motion, Sheet, Strip
from paper_table import SAME, SLIVER, Table, must


class ClothSteps(Table):
    """The steps on a cloth, each read by its sentence's code and values."""

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
        wanted = {
            "place": set(),
            "place_selvage": {values.get("selvage")},
            "place_selvages": {values.get("selvage"), OPPOSITE.get(values.get("selvage"))},
        }
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
        must(
            values["edge"] == self.H and self.sheet.is_squared(self.H),
            "place",
            "the squared edge does not lie there now",
        )
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
        part = part.opened() if step["say"] == "take_part_opened" else part
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
        near = SAME + self.room + abs(self.sliver - SLIVER)
        folded = [strip for strip in self.strips if not strip.open and abs(strip.run - values["run"]) <= near]
        must(len(folded) == values["strips"], "number", f"{len(folded)} folded strips lie there")
        self.strips = [replace(strip, open=True) if strip in folded else strip for strip in self.strips]
        self.says("run", "strips")
