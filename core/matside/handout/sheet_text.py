"""The cutting sheet as plain lines of text, said by the catalogue."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from .sheet_words import SheetWords

_BOX = "☐"
#: So many boxes stand together, to be counted at a glance.
_TOGETHER = 5
_INDENT = "   "


def sheet_lines(
    sheet: dict, language: str = "en", units: str = "in", names: Mapping[str, str] | None = None
) -> list[str]:
    """The lines of a sheet as the ask `cutting_sheet` gives it; `names` are those of kinds and cloths, by id.

    >>> from matside import answer
    >>> request = {"ask": "cutting_sheet", "piece": {"size": 4, "angle": 60}, "cloth": {"kind": "fat_quarter"}}
    >>> sheet_lines(answer(request)["sheet"])[-1]
    'Diamonds: 15'
    """
    return list(_Lines(sheet, language, units, names or {}).all())


@dataclass
class _Lines(SheetWords):
    number: int = 0

    def all(self) -> Iterator[str]:
        yield self.say("sheet.title")
        yield self.say(f"sheet.hand.{self.sheet['hand']}")
        yield ""
        yield self.say("sheet.cautions")
        yield from (f"– {self.caution(code)}" for code in self.sheet["cautions"])
        yield f"– {self.say('sheet.maker')}"
        yield self.say("sheet.tick")
        for number, cloth in enumerate(self.sheet["cloths"]):
            yield from self.cloth(cloth, first=number == 0)
        if self.sheet["finishing"]:
            yield from ("", self.say("sheet.finishing"))
            yield from self.rows(self.sheet["finishing"])
        yield from ("", self.sentences(self.row_said(self.sheet["done"])), self.say("sheet.total"))
        yield from self.counts(self.sheet["totals"])

    def cloth(self, cloth: dict, first: bool) -> Iterator[str]:
        """A cloth, or several alike; before the `first` of a sheet no other is put aside."""
        yield ""
        yield f"{_boxes(cloth['times'])} {self.cloth_said(cloth)}"
        swap = [cloth["swap"]] if cloth["swap"] else []
        yield from self.rows([*cloth["rows"], *swap] if first else [*swap, *cloth["rows"]])
        yield self.say("sheet.cloth_gives", {"n": cloth["times"]})
        yield from self.counts(cloth["gives"])

    # --- Rows

    def rows(self, rows: Iterable[dict], deep: int = 0, strips: int = 1, turns: int = 1) -> Iterator[str]:
        """Rows with their numbers and boxes; within `strips` alike those of the pieces stand strip by strip."""
        for row in rows:
            self.number += 1
            start = f"{_INDENT * deep}{self.number}. "
            if "rows" not in row:
                boxes = " | ".join([_boxes(row["boxes"] * turns)] * strips) + " " if strips == 1 or row["gives"] else ""
                yield start + boxes + self.sentences(self.row_said(row))
                continue
            times = row["times"]
            yield start + (f"{_boxes(times)} " if row["strip"] else "") + self.heading(row)
            within = (strips * times, turns) if row["strip"] else (strips, turns * times)
            yield from self.rows(row["rows"], deep + 1, *within)
            yield from (f"{_INDENT * (deep + 1)}{line}" for line in self.check(row["check"]))

    def heading(self, turns: dict) -> str:
        strip = turns["strip"]
        if not strip:
            return self.say("sheet.turns", {"n": turns["times"]})
        values = {"n": turns["times"], **strip, **self.called(strip["piece"])}
        return self.say("sheet.stacks" if strip["layers"] > 1 else "sheet.strips", values)

    def row_said(self, row: dict) -> list[str]:
        """The sentences of a row: what is due, the short one, what hands must know, the long one, its picture."""
        values = self.values_of(row)
        return [
            *map(self.caution, row["cautions"]),
            self.short(row),
            *(self.say(hand["say"], hand["values"]) for hand in row["hands"]),
            self.say(row["long"], values),
            self.say("sheet.picture", {"n": row["picture"]}) if row["picture"] else "",
        ]

    def check(self, check: dict | None) -> Iterator[str]:
        for how in ("each", "once") if check else ():
            if check[how]:
                at = self.say("join.list").join(str(k) for k in check[how])
                due = self.say(f"sheet.check.{how}", {"n": len(check[how]), "at": at})
                yield self.sentences([due, *self.row_said(check)])

    def counts(self, counts: dict[str, int]) -> Iterator[str]:
        """How many there are of each kind; of strips that are joined to pieces later, how many strips."""
        for kind, n in counts.items():
            counted = kind not in self.pieces or self.pieces[kind]["counted"]
            yield self.say("sheet.count" if counted else "sheet.count_strips", {"name": self.named(kind), "n": n})


def _boxes(number: int) -> str:
    """So many boxes, some of them together.

    >>> _boxes(7)
    '☐☐☐☐☐ ☐☐'
    """
    full, rest = divmod(number, _TOGETHER)
    return " ".join([_BOX * _TOGETHER] * full + [_BOX * rest] * bool(rest))
