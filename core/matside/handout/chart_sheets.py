"""The chart as pages: a row a size, a column a cloth, and below them the reasons as numbered notes."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from ..margins import KEEPS
from .page import TITLE, blank, line, numbered, words
from .paper import MARGIN, Paper
from .svg import Say
from .templates import Name
from .texts import POINT, SMALLEST, height_of, wrapped

#: Inches: a line of type, the column of sizes, the least of the others and the most, a row, and a row of heads.
_LINE = height_of(1, SMALLEST)
_LABELS, _NARROWEST, _WIDEST, _ROW = 0.85, 1.3, 2.2, 0.65
_FOOT = 0.22
#: Points of the number that counts, and of a size.
_LARGE, _MIDDLE = 17, 12


@dataclass(slots=True)
class _Pages:
    """The pages so far, and how far down the last of them is filled."""

    paper: Paper
    about: Name
    say: Say
    pages: list[dict] = field(default_factory=list)
    y: float = 0.0

    @property
    def left(self) -> float:
        return float(MARGIN)

    @property
    def wide(self) -> float:
        return float(self.paper.width - 2 * MARGIN)

    def begin(self) -> None:
        """A new page with its head."""
        title = Name("handout.chart_title", {})
        page = blank(self.paper, title, self.about)
        self.pages.append(page)
        self.y = float(MARGIN) + TITLE * POINT
        page["texts"].append(words(title, (self.left, self.y), self.wide, size=TITLE, role="title"))
        self.y += 0.2
        page["texts"].append(words(self.about, (self.left, self.y), self.wide, role="about"))
        self.y += 0.2
        legend = Name("handout.chart_legend", {"by": float(KEEPS)})
        lines = self.lines(legend, self.wide)
        page["texts"].append(words(legend, (self.left, self.y), self.wide, lines))
        self.y += lines * _LINE

    def lines(self, told: Name, room: float) -> int:
        """How many lines a sentence takes."""
        return len(wrapped(self.say(told.code, told.values), SMALLEST, room))

    def has_room(self, height: float) -> bool:
        return self.y + height <= float(self.paper.height - MARGIN) - _FOOT

    def put(self, told: Name | str, dx: float, dy: float, room: float, lines: int = 1, **how) -> None:
        """A text at a place from the left margin and from how far the page is filled."""
        self.pages[-1]["texts"].append(words(told, (self.left + dx, self.y + dy), room, lines, **how))

    def rule(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        points = [(self.left + dx, self.y + dy) for dx, dy in (start, end)]
        self.pages[-1]["shapes"].append(line("rule", points))


def chart_sheets(answer: dict, paper: Paper, say: Say) -> list[dict]:
    """The pages of an answer of the ask `chart`; as many cloths side by side as there is room for."""
    piece = answer["piece"]
    about = Name(f"handout.shape.{piece['shape'].replace('-', '_')}", {"angle": piece["angle"]})
    pages = _Pages(paper, about, say)
    most = int((pages.wide - _LABELS) / _NARROWEST)
    for first in range(0, len(answer["cloths"]), most):
        _group(answer, range(first, min(first + most, len(answer["cloths"]))), pages)
    return numbered(pages.pages)


def _group(answer: dict, columns: Sequence[int], pages: _Pages) -> None:
    """The columns that stand side by side, with all sizes and their notes."""
    width = min(_WIDEST, (pages.wide - _LABELS) / len(columns))
    notes: dict[str, int] = {}
    pages.begin()
    _heads([answer["cloths"][k] for k in columns], width, pages)
    for size, row in zip(answer["sizes"], answer["cells"], strict=True):
        if not pages.has_room(_ROW):
            pages.begin()
            _heads([answer["cloths"][k] for k in columns], width, pages)
        _row(size, [row[k] for k in columns], width, pages, notes)
    pages.y += 0.22
    _notes(notes, pages)


def _heads(cloths: list[dict], width: float, pages: _Pages) -> None:
    """The names and sides of the cloths, in as many lines as the longest takes."""
    room, heads = (
        width - 0.12,
        [(Name(f"cloth.{cloth['code'] or 'scrap'}.name", {}), _sides(cloth)) for cloth in cloths],
    )
    names, sides = (max(pages.lines(head[k], room) for head in heads) for k in (0, 1))
    for number, (name, told) in enumerate(heads):
        dx = _LABELS + number * width + 0.06
        pages.put(name, dx, 0.18, room, names, role="head")
        pages.put(told, dx, 0.18 + names * _LINE, room, sides, role="head")
    high = 0.12 + (names + sides) * _LINE
    pages.rule((0, high), (_LABELS + len(cloths) * width, high))
    pages.y += high


def _sides(cloth: dict) -> Name:
    if cloth["length"] is None:
        return Name("handout.as_wide", {"length": cloth["width"]})
    return Name("handout.cloth_sides", {"length": cloth["length"], "width": cloth["width"]})


def _row(size: float, cells: list[dict], width: float, pages: _Pages, notes: dict[str, int]) -> None:
    pages.put(Name("handout.size", {"size": size}), 0, 0.28, _LABELS, size=_MIDDLE, role="size")
    for number, cell in enumerate(cells):
        note = notes.setdefault(noted(cell, pages.say), len(notes) + 1)
        dx, room = _LABELS + number * width + 0.06, width - 0.12
        both = {"length": cell["along_length"]["pieces"], "width": cell["along_width"]["pieces"]}
        pages.put(str(cell["best"]["pieces"]), dx, 0.28, room - 0.45, size=_LARGE, role="best")
        pages.put(f"({note})", dx + room, 0.2, 0.45, anchor="end", role="number")
        pages.put(Name("handout.both_ways", both), dx, 0.44, room, role="ways")
        pages.put(Name("handout.sure", {"sure": cell["sure"]}), dx, 0.59, room, role="sure")
        pages.rule((_LABELS + number * width, 0), (_LABELS + number * width, _ROW))
    pages.rule((0, _ROW), (_LABELS + len(cells) * width, _ROW))
    pages.y += _ROW


def noted(cell: dict, say: Say) -> str:
    """Why the best way of a cell is the best, and what it lacks for more, as sentences."""
    told = [("reason", cell["reason"])] + ([("lacks", cell["lacks"])] if cell["lacks"] else [])
    return " ".join(say(f"handout.{what}.{note['code']}", note["values"]) for what, note in told)


def _notes(notes: dict[str, int], pages: _Pages) -> None:
    for said, number in notes.items():
        lines = wrapped(f"({number}) {said}", SMALLEST, pages.wide)
        if not pages.has_room(len(lines) * _LINE):
            pages.begin()
            pages.y += 0.1
        pages.put(f"({number}) {said}", 0, 0, pages.wide, len(lines))
        pages.y += len(lines) * _LINE
