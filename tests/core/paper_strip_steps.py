"""What the paper cutter does with strips: picks and lays them, trims their ends, turns them,
cuts pieces off and halves them.
"""

import math
from dataclasses import replace

from shapely.geometry import Polygon

from paper_bench import Bench, Freed
from paper_cloth import BAND, NOISE, Strip
from paper_table import DEGREES, MARK, MARK_DEGREES, SAME, SLIVER, Table, Wrong, must

#: Ways that go by marks, each at a tick.
_BY_MARKS = ("mark_and_angle", "two_marks", "bare", "square_mark", "square_two_marks", "square_bare")
#: The two diagonals, by the corners that they join.
_DIAGONALS = {
    ("lower_left", "upper_right"): "rising", ("upper_right", "lower_left"): "rising",
    ("upper_left", "lower_right"): "falling", ("lower_right", "upper_left"): "falling",
}  # fmt: skip


class StripSteps(Table):
    """The steps on a strip, or on a stack of strips alike, each read by its sentence's code and values."""

    def do_lay(self, step, values):
        must(
            step["say"] == self._lay_code(values),
            "words",
            f"{step['say']} with {values['layers']} layers, {values['up']} side up",
        )
        taken = self._pick(values)
        must(
            (values["at"] in ("left", "right")) == (self.script["lay"] == "along"),
            "place",
            f"an end at the {values['at']}",
        )
        ends = [self._end_of(strip, values["end"]) for strip in taken]
        for strip in taken:
            self.strips.remove(strip)
        self.bench = Bench.laid(taken, ends, values["at"], values["up"])
        kinds = {strip.ends()[way] for strip, way in zip(taken, ends)}
        if kinds == {"cut"}:
            self._square_end(self.bench.end(False))
        self.piece_count, self.by_marks = (0, 0), False
        must(
            values["which"] == ("by_length" if values["other_runs"] else "by_width"),
            "words",
            f"taken {values['which']}",
        )
        self.says("size", "run", "layers", "up", "end", "at", "other_runs", "which")

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
        must(
            bench.has_selvage() == (step["say"] == "end_selvage"),
            "selvage",
            f"{step['say']}, selvage: {bench.has_selvage()}",
        )
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
        must(
            any(abs(values["degrees"] - line) < DEGREES for line in (*printed, 90)),
            "number",
            f"that ruler has lines at {printed}",
        )
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
        must(
            values["k"] == k + 1 <= values["of"] and of in (0, values["of"]),
            "number",
            f"piece {values['k']} of {values['of']} after {k} of {of}",
        )
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
        must(
            all("selvage" not in strip.ends().values() for strip in taken),
            "selvage",
            "a whole strip with its selvage on",
        )
        self.piece_count = (values["k"], values["of"])
        self.bench = Bench.laid(
            taken, [strip.along for strip in taken], "right" if self.script["lay"] == "along" else "top", values["up"]
        )
        whole = [
            Freed(s.cloth, region, lie, s)
            for s, region, lie in zip(self.bench.strips, self.bench.regions, self.bench.lies)
        ]
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
            must(
                kind == "square" or values["lean"] == "as_last",
                "lean",
                "what is measured from the last cut leans as it does",
            )
            step = values["measure"] / math.sin(math.radians(bench.angle()))
            return self._marked(bench, {first: step, second: step})
        if kind == "corner_and_angle":
            return self._by_angle(bench, values, values["corner"], 0.0, -1)
        if kind == "mark_and_angle":
            return self._by_angle(bench, values, values["mark_on"], values["mark"], -1 if variant else 1)
        if kind == "square_mark":
            return self._marked(bench, dict.fromkeys(bench.edges, values["mark"]))
        must(kind in ("two_marks", "bare", "square_two_marks", "square_bare"), "words", f"a way {kind} is not known")
        if variant == "_corner":
            return self._marked(bench, {values["long_on"]: values["long_step"], values["corner"]: 0.0})
        if variant == "_leaning":
            return self._marked(bench, {values["near_on"]: values["near_step"], values["far_on"]: values["far_step"]})
        return self._marked(bench, dict.fromkeys(bench.edges, values["near_step"]))

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
            must(
                values["lean"] == ("as_last" if same else "other_way"),
                "lean",
                f"the cut leans otherwise than {values['lean']}",
            )
            self.says("lean")
        if values.get("corner") is not None:
            must(values["corner"] in bench.edges, "place", f"{values['corner']} is no long edge")
            must(
                abs(cut[values["corner"]] - bench.last(values["corner"])) <= SAME,
                "place",
                f"the cut does not meet the last one at the {values['corner']}",
            )
            self.says("corner")
        for step, on in (
            ("mark", "mark_on"),
            ("near_step", "near_on"),
            ("far_step", "far_on"),
            ("long_step", "long_on"),
        ):
            if values.get(step) is not None and values.get(on) is not None:
                must(values[on] in bench.edges, "place", f"{values[on]} is no long edge")
                self.number(
                    values, step, cut[values[on]] - bench.last(values[on]), near=2 * MARK if kind in _BY_MARKS else MARK
                )
                self.says(on)

    def _lengths_left(self, bench: Bench, values: dict) -> None:
        if values.get("length_left") is not None:
            reaches = {edge: bench.reach(edge) for edge in bench.edges}
            lengths = [high - low for low, high in reaches.values()]
            whole = max(high for _, high in reaches.values()) - min(low for low, _ in reaches.values())
            low, high = reaches[self._near_edge(bench)]
            # Where cuts lean by turns nobody measures what is left along one edge.
            there = [high - low] if values.get("lean", "as_last") == "as_last" else [*lengths, whole]
            drifted = self.by_marks * MARK * (1 + len(bench.freed) / len(bench.strips))  # marks at ticks add up
            self.number(values, "length_left", *there, near=SAME + self.room + abs(self.sliver - SLIVER) * 2 + drifted)

    def _near_edge(self, bench: Bench) -> str:
        """The long edge by the body; of a strip that runs away from it, the one by the hand that holds the ruler."""
        first, second = bench.edges
        return second if self.hand == "left" and not bench.lengthwise else first

    def do_recheck(self, step, values):
        bench = self.on_bench()
        must(bool(bench.freed), "nothing", "no piece was cut yet")
        self.shown.looked_at = [bench.freed[-1].table]
        corners = list(bench.freed[-1].region.normalize().exterior.coords)[:-1]
        diagonals = sorted(math.dist(corners[i], corners[i + 2]) for i in (0, 1)) if len(corners) == 4 else []
        must(bool(diagonals), "number", "no diagonal to check")
        self.number(values, "short_diagonal", diagonals[0], near=MARK)
        self.number(values, "near", 1 / 16)  # common practice, no published source
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
        halves = [
            Polygon([(left, low), (right, high), (left, high)]),
            Polygon([(left, low), (right, high), (right, low)]),
        ]
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
            piles = {piece.strip.pile or "unknown" for piece in bench.freed}
            must(piles == {values["pile"]}, "grain", f"the pieces lie {piles}")
            self.says("pile")
        self.bench = None
