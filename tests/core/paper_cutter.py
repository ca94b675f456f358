"""A cutter of paper: does what a script's words say, step by step, knowing nothing else.

Each step is read by its sentence's code and values alone. Cloth lies on the table as polygons (`paper_cloth`), strips
on a bench (`paper_bench`); whatever is not as a step says it is raises `Wrong` (`paper_table`)."""

from shapely.geometry import Polygon

from paper_cloth_steps import ClothSteps
from paper_strip_steps import StripSteps
from paper_table import MARK, SAME, Shown, Wrong, must


class Cutter(ClothSteps, StripSteps):
    """Cuts `cloths` (as they really are, in the script's order) as a script says."""

    def steps(self):
        """Does the steps; yields after each what it left."""
        for at in range(len(self.script["steps"])):
            yield self.do(at)

    def do(self, at: int) -> Shown:
        """Does one step; gives what it left."""
        self.at, step = at, self.script["steps"][at]
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
        return shown

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
