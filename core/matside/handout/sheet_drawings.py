"""The drawings of a cutting sheet as pages of their own: every cloth, and every numbered picture, in black on white.

A page is as wide as the paper and as high as its drawing asks for, and the drawing is to scale, as large as there is
room. What a shape is shows by its line, its dashes and a light gray.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from math import atan2, cos, sin
from typing import NamedTuple

from ..shapes import Point
from .labels import Label, Rectangle, part_in, places
from .page import TITLE, blank, words
from .paper import MARGIN, Paper
from .sheet_words import SheetWords
from .templates import Name
from .texts import POINT, SMALLEST, height_of, width_of, wrapped


class _Look(NamedTuple):
    """How a role is drawn: its line in millimeters, its dashes, and the area's fill."""

    line: float
    dashes: str = ""
    fill: str = "none"


_AREAS = {
    "cloth": _Look(0.3, "", "#f0f0f0"),
    "strip": _Look(0.3, "", "#f0f0f0"),
    "waste": _Look(0.2, "0.8 0.8", "#fff"),
    "selvage": _Look(0.3, "1.2 0.8", "#fff"),
    "piece": _Look(0.25, "", "#fff"),
    "next": _Look(0.6, "", "#d6d6d6"),
    "cut-off": _Look(0.2, "1 1", "#fff"),
    "part": _Look(0.6, "", "#d6d6d6"),
    "ruler": _Look(0.6),
    "ruler-slid": _Look(0.3, "2 1"),
}
_LINES = {
    "cut": _Look(0.9),
    "angle-line": _Look(0.9, "3 1.4"),
    "measure-line": _Look(0.9),
    "mark": _Look(0.8),
    "edge": _Look(1.5),
    "last-cut": _Look(0.8, "0.8 1.2"),
    "fold": _Look(0.9, "4 1 1 1"),
    "side": _Look(0.2),
    "ruler-line": _Look(0.1),
}
#: Lines that labels keep off.
_FREE = frozenset(_LINES) - {"ruler-line"}
#: Points of a label's type and of the line below the title, and inches of room round a label.
_LABEL, _ABOUT, _ROOM = 11, 11, 0.04
#: Inches that are left at either side of a drawing, so that labels have room beside it.
_BESIDE = 0.4
#: Inches between the heads, the drawing and what stands below it.
_BETWEEN = 0.12
#: Inches: the head of an arrow, long and half wide; half a tick; what is seen beyond the view, for whole lines.
_HEAD, _TICK, _BEYOND = (0.16, 0.06), 0.06, 0.05
_UNDER = {"role": "under", "closed": True, "fill": "#fff", "line": (0, "")}


def sheet_drawings(
    sheet: dict, paper: Paper, language: str = "en", units: str = "in", names: Mapping[str, str] | None = None
) -> list[dict]:
    """The pages of a sheet as the ask `cutting_sheet` gives it: its cloths, then its pictures by their numbers.

    A page's `file` is what its own file is called by; `names` are those of kinds and cloths, by id.

    >>> from matside import answer
    >>> from .paper import PAPERS
    >>> request = {"ask": "cutting_sheet", "piece": {"size": 4, "angle": 60}, "cloth": {"kind": "fat_quarter"}}
    >>> [page["file"] for page in sheet_drawings(answer(request)["sheet"], PAPERS["letter"])][:3]
    ['cloth-1', 'picture-1', 'picture-2']
    """
    said = SheetWords(sheet, language, units, names or {})
    cloths = [_of_cloth(number, cloth, paper, said) for number, cloth in enumerate(sheet["cloths"], start=1)]
    pictured = sorted((row for row in _rows(sheet) if row["scene"] is not None), key=lambda row: row["picture"])
    return [*cloths, *(_of_picture(row, sheet["scenes"][row["scene"]], paper, said) for row in pictured)]


def _rows(sheet: dict) -> Iterator[dict]:
    """Every row that may have a picture."""
    for cloth in sheet["cloths"]:
        yield from [cloth["swap"]] if cloth["swap"] else []
        yield from _rows_in(cloth["rows"])
    yield from _rows_in([*sheet["finishing"], sheet["done"]])


def _rows_in(rows: Iterable[dict]) -> Iterator[dict]:
    for row in rows:
        if "rows" not in row:
            yield row
            continue
        yield from _rows_in(row["rows"])
        yield from [row["check"]] if row["check"] else []


def _of_cloth(number: int, cloth: dict, paper: Paper, said: SheetWords) -> dict:
    title, times = said.cloth_said(cloth, "sheet_drawing.cloth"), said.say("sheet_drawing.times", {"n": cloth["times"]})
    told = _Told(title, times, said.say("sheet_drawing.scale"))
    shapes = list(_standing(cloth["drawing"], {"over": None, "at": 0, "next": None}))
    return {"file": f"cloth-{number}", **_page(told, cloth["drawing"]["view"], shapes, paper, said)}


def _of_picture(row: dict, scene: dict, paper: Paper, said: SheetWords) -> dict:
    number = row["picture"]
    legend = said.sentences(said.say(f"sheet_drawing.{what}") for what in ("scale", "lines"))
    told = _Told(said.say("sheet.picture", {"n": number}), said.short(row), legend)
    return {"file": f"picture-{number}", **_page(told, scene["view"], list(_standing(scene, row)), paper, said)}


# --- What a scene shows at a step


def _standing(scene: dict, step: dict) -> Iterator[dict]:
    """The shapes of a scene in the order in which they lie, where they are at a step."""
    at, (dx, dy) = step["at"], scene["advance"]
    strip_moves = scene["moves"] == "strip"
    cloth, top = ((-at * dx, -at * dy), (0, 0)) if strip_moves else ((0, 0), (at * dx, at * dy))
    pieces = list(_pieces(scene["pieces"], step, strip_moves))
    areas = [shape for shape in scene["still"] if shape["role"] in _AREAS]
    lines = [shape for shape in scene["still"] if shape["role"] in _LINES]
    for shape in (*areas, *pieces, *lines):
        yield {**shape, "points": _slid(shape["points"], cloth)}
    for shape in scene["over"].get(step["over"], ()):
        yield {**shape, "points": _slid(shape["points"], top)}


def _pieces(outlines: list, step: dict, strip_moves: bool) -> Iterator[dict]:
    """Pieces that are there; of those that are cut, where the ruler moves, that they are."""
    for number, outline in enumerate(outlines):
        cut = number < step["at"]
        if not (cut and strip_moves):
            role = "cut-off" if cut else "next" if number == step["next"] else "piece"
            yield {"role": role, "points": outline}


def _slid(points: Iterable[Point], by: Point) -> list[Point]:
    return [(x + by[0], y + by[1]) for x, y in points]


# --- The page


class _Told(NamedTuple):
    """What is said above a drawing and below it."""

    title: str
    about: str
    legend: str


def _page(told: _Told, view: list[float], shapes: list[dict], paper: Paper, said: SheetWords) -> dict:
    margin, wide = float(MARGIN), float(paper.width - 2 * MARGIN)
    heads, above = _stacked([(told.title, TITLE, "title"), (told.about, _ABOUT, "about")], margin, wide)
    _, below = _stacked([(told.legend, SMALLEST, "legend")], 0, wide)
    fit = _Fit(view, (margin, above), (wide, float(paper.height) - above - below - margin))
    left, top, right, bottom = fit.view
    legend, foot = _stacked([(told.legend, SMALLEST, "legend")], bottom + _BETWEEN, wide)
    drawn = [{**shape, "points": fit(shape["points"])} for shape in shapes]
    labels = _labels(drawn, fit.view, said)
    return {
        **blank(paper, _text(told.title), _text(told.about)),
        "height": foot + margin - _BETWEEN,
        "clip": [left - _BEYOND, top - _BEYOND, right - left + 2 * _BEYOND, bottom - top + 2 * _BEYOND],
        "shapes": [*(part for shape in drawn for part in _parts(shape)), *(under for under, _ in labels)],
        "texts": [*heads, *legend, *(text for _, text in labels)],
    }


def _text(said: str) -> Name:
    """What is said already, where a sentence is asked for."""
    return Name("handout.named", {"name": said})


def _stacked(told: Iterable[tuple[str, float, str]], top: float, room: float) -> tuple[list[dict], float]:
    """Texts of a size and a role one below the other, in as many lines as they take, and where what follows begins."""
    found = []
    for text, size, role in told:
        lines = len(wrapped(text, size, room))
        if lines:
            found.append(words(text, (float(MARGIN), top + size * POINT), room, lines, size, role=role))
        top += height_of(lines, size)
    return found, top + _BETWEEN


class _Fit:
    """From inches of cloth to inches of the page, y down: all of a view, in the middle of its room."""

    def __init__(self, view: list[float], corner: Point, room: Point):
        left, low, wide, high = view
        self.scale = min((room[0] - 2 * _BESIDE) / wide, room[1] / high)
        self.left = corner[0] + (room[0] - self.scale * wide) / 2 - self.scale * left
        self.top = corner[1] + self.scale * (low + high)
        #: What there is room for: as high as the view, and as wide as the room.
        self.view = (corner[0], corner[1], corner[0] + room[0], corner[1] + self.scale * high)

    def __call__(self, points: Iterable[Point]) -> list[Point]:
        return [(self.left + self.scale * x, self.top - self.scale * y) for x, y in points]


# --- Shapes and labels


def _parts(shape: dict) -> Iterator[dict]:
    """A shape as a page has it, with what its ends show: where a cut goes, and how far a side is measured."""
    role, points = shape["role"], shape["points"]
    look = _AREAS.get(role) or _LINES[role]
    line = {"role": role, "line": (look.line, look.dashes)}
    yield {**line, "points": points, "closed": role in _AREAS, "fill": look.fill}
    if role == "cut":
        yield {**line, "points": _arrow(*points[-2:]), "closed": True, "fill": "#000", "line": (0, "")}
    if role == "side":
        for end, other in ((points[0], points[-1]), (points[-1], points[0])):
            yield {**line, "points": _tick(end, other), "closed": False, "fill": "none"}


def _arrow(start: Point, tip: Point) -> list[Point]:
    long, half = _HEAD
    place = _along(tip, atan2(tip[1] - start[1], tip[0] - start[0]))
    return [tip, place(-long, half), place(-long, -half)]


def _tick(end: Point, other: Point) -> list[Point]:
    place = _along(end, atan2(other[1] - end[1], other[0] - end[0]))
    return [place(0, _TICK), place(0, -_TICK)]


def _along(origin: Point, turn: float) -> Callable[[float, float], Point]:
    """Points told by how far along a direction and how far beside it they lie."""

    def place(along: float, beside: float) -> Point:
        x, y = along * cos(turn) - beside * sin(turn), along * sin(turn) + beside * cos(turn)
        return origin[0] + x, origin[1] + y

    return place


def _labels(drawn: list[dict], view: Rectangle, said: SheetWords) -> list[tuple[dict, dict]]:
    """Each label as the white that lies under it and its text."""
    told = [(shape, _told(shape["label"], said)) for shape in drawn if shape.get("label")]
    high = _LABEL * POINT + 2 * _ROOM
    labels = [_label(shape, width_of(text, _LABEL) + 2 * _ROOM, high, view) for shape, text in told]
    lines = [shape["points"] for shape in drawn if shape["role"] in _FREE]
    found = zip(told, labels, places(labels, lines, view), strict=True)
    return [_written(text, at, label) for (_, text), label, at in found]


def _label(shape: dict, wide: float, high: float, view: Rectangle) -> Label:
    """The label of what of a shape is seen."""
    points, area = shape["points"], shape["role"] in _AREAS
    left, top, right, bottom = view
    within = tuple((min(max(x, left), right), min(max(y, top), bottom)) for x, y in points)
    return Label(within if area else part_in(view, points[0], points[-1]) or tuple(points), area, wide, high)


def _told(label: dict, said: SheetWords) -> str:
    if "word" in label:
        return said.say(f"lie.label.{label['word']}")
    if "degrees" in label:
        return said.say("mat.degrees", {"degrees": label["degrees"]})
    return said.say("handout.size", {"size": label["length"]})


def _written(text: str, at: Point, label: Label) -> tuple[dict, dict]:
    (x, y), wide, high = at, label.width / 2, label.height / 2
    corners = [(x - wide, y - high), (x + wide, y - high), (x + wide, y + high), (x - wide, y + high)]
    baseline = (x, y + 0.36 * _LABEL * POINT)
    return {**_UNDER, "points": corners}, words(text, baseline, label.width, size=_LABEL, anchor="middle", role="label")
