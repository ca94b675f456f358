"""A cutting sheet gone through row by row and box by box: the script that somebody follows who has nothing but the sheet.

It shares no code with what condenses the guide's script: numbers are counted on as a hand counts that checks boxes off."""

from collections.abc import Iterator

_JOINED = "/joined"


def expanded(sheet: dict) -> dict:
    """A script with the steps of a sheet, one for each box, as often as the sheet says."""
    walk = _Walk(sheet)
    steps = list(walk.steps())
    names = ("version", "hand", "lay", "pieces")
    return {
        **{name: sheet[name] for name in names if name in sheet},
        "cloths": walk.cloths,
        "strips": walk.strips,
        "steps": steps,
    }


class _Walk:
    def __init__(self, sheet: dict):
        self.sheet = sheet
        self.cloths: list[dict] = []
        self.strips: list[dict] = []
        self.pieces = self.strips_cut = 0

    def steps(self) -> Iterator[dict]:
        for cloth in self.sheet["cloths"]:
            for _ in range(cloth["times"]):
                self.cloths.append({"id": cloth["id"]})
                if len(self.cloths) > 1:
                    yield self.step(cloth["swap"], None)
                self.strips_cut = 0
                for row in cloth["rows"]:
                    yield from self.row(row)
        yield from self.finishing()
        yield self.step(self.sheet["done"], None)

    def row(self, row: dict, strip: int | None = None) -> Iterator[dict]:
        if "rows" in row:
            yield from self.strips_alike(row) if row["strip"] else self.by_turns(row, strip)
            return
        for _ in range(row["boxes"]):
            yield self.step(row, strip)

    def by_turns(self, row: dict, strip: int | None) -> Iterator[dict]:
        for _ in range(row["times"]):
            for inner in row["rows"]:
                yield from self.row(inner, strip)

    def strips_alike(self, row: dict) -> Iterator[dict]:
        """Each strip, with the checks that are due after its pieces."""
        for time in range(row["times"]):
            number, self.pieces = len(self.strips), 0
            self.strips.append({**row["strip"], "cloth": len(self.cloths) - 1})
            check = row["check"]
            very_first = time == 0 and number == 0
            due = {*check["each"], *(check["once"] if very_first else ())} if check else set()
            steps = [step for inner in row["rows"] for step in self.row(inner, number)]
            for k, step in enumerate(steps):
                after = sum(one["do"] == "piece" for one in steps[:k])
                if step["do"] != "halve" and after in due:
                    due.remove(after)
                    yield self.step(check, number)
                yield step
            assert not due, f"checks that never come: {due}"

    def finishing(self) -> Iterator[dict]:
        for row in self.sheet["finishing"]:
            if row["piece"].endswith(_JOINED) and row["piece"] not in [strip["piece"] for strip in self.strips]:
                self.strips.append({"piece": row["piece"], "cloth": len(self.cloths) - 1})
            for k in range(row["boxes"]):
                yield self.step(row, len(self.strips) - 1, k + 1)

    def step(self, row: dict, strip: int | None, k: int | None = None) -> dict:
        """One step; what is counted is counted on."""
        values = dict(row["values"])
        if row["do"] == "take_part":
            self.strips_cut = 0
        if row["do"] == "strip":
            self.strips_cut += 1
            values["k"] = self.strips_cut
        elif row["do"] == "piece":
            self.pieces += 1
            values["k"] = self.pieces
        elif row["do"] == "halve":
            values["k"] = self.pieces
        elif row["do"] == "finish":
            values["k"] = k
        told = {name: row[name] for name in ("do", "say", "gives", "piece")}
        return {**told, "values": values, "strip": strip, "cloth": len(self.cloths) - 1}
