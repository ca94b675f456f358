"""The pages with templates: bars to check the printer by on each of them, and templates side by side or in tiles."""

from collections.abc import Iterable
from dataclasses import dataclass

from ..quilt.outlines.polygons import Box
from ..shapes import Outline, Point
from ..units import SAME
from .packing import packed
from .page import TITLE, blank, line, numbered, words
from .paper import BARS, MARGIN, Paper
from .templates import Name, Template
from .texts import POINT, SMALLEST, height_of
from .tiles import MOST, Tile, grain_in, shown, spans, tiled

#: Inches: of the head of a page, of the bars at its left and at its foot, and between lines of type.
_HEAD, _LEFT, _FOOT, _LINE = 1.35, 0.65, 0.55, height_of(1, SMALLEST)
#: The room at the head's right end that is kept for a code, in inches each way.
CODE = 1.15
#: A template's words have at least so many inches to a line, and no more lines than that.
LABEL, _LABEL_LINES = 2.9, 5
_TICK = 0.05
_ARROWHEAD = (0.12, 0.05)


@dataclass(frozen=True, slots=True)
class _Laid:
    """A template or a tile of it, as it is laid on a page: what is drawn of it, and how large its box is."""

    template: Template
    tile: Tile | None
    tiles: int

    @property
    def window(self) -> Box:
        return self.tile.window if self.tile else (0.0, 0.0, self.template.width, self.template.height)

    @property
    def box(self) -> tuple[float, float]:
        left, top, right, bottom = self.window
        return max(right - left, LABEL), bottom - top + _label_height(sum(lines for _, lines in self.label))

    @property
    def label(self) -> list[tuple[Name, int]]:
        """The words below it, each with the lines that they may take."""
        lines = 3 if self.template.role == "wedge" else 1
        told = [(self.template.name, 1), *((note, lines) for note in self.template.notes)]
        if self.tile:
            told.append((Name("handout.part", {"row": self.tile.row + 1, "column": self.tile.column + 1}), 1))
        return told


def _label_height(lines: int) -> float:
    return height_of(lines, SMALLEST) + 0.05


def room(paper: Paper) -> Box:
    """Where templates may lie on a page: left, top, right, bottom."""
    margin, width, height = float(MARGIN), float(paper.width), float(paper.height)
    return margin + _LEFT, margin + _HEAD, width - margin, height - margin - _FOOT


def room_for(paper: Paper) -> tuple[float, float]:
    """Width and height that one template or tile may have, its words left out.

    >>> from .paper import PAPERS
    >>> [round(side, 3) for side in room_for(PAPERS["letter"])]
    [6.85, 7.269]
    """
    left, top, right, bottom = room(paper)
    return right - left, bottom - top - _label_height(_LABEL_LINES)


def sheets(templates: Iterable[Template], paper: Paper) -> tuple[list[dict], list[dict]]:
    """The pages, and the templates that are too large for them: for more than 4 × 4 pages."""
    laid: list[_Laid] = []
    left_out = []
    for template in templates:
        parts = _parts(template, room_for(paper))
        laid += parts
        if not parts:
            told = template.name.told()
            left_out.append({"id": template.id, "name": told, "code": "too_large", "values": {"most": MOST}})
    laid.sort(key=lambda one: (one.template.role == "wedge", -one.box[1]))
    left, top, right, bottom = room(paper)
    places = packed([one.box for one in laid], (right - left, bottom - top))
    pages = [_page(paper) for _ in range(max((place.page for place in places), default=-1) + 1)]
    for one, place in zip(laid, places, strict=True):
        _lay(one, pages[place.page], (left + place.x, top + place.y))
    return numbered(pages), left_out


def _parts(template: Template, space: tuple[float, float]) -> list[_Laid]:
    """The template whole, level or turned by a quarter, or else in the fewest tiles; none where those are too many."""
    ways = (template, template.quarter_turned())
    for way in ways:
        if way.width <= space[0] + SAME and way.height <= space[1] + SAME:
            return [_Laid(way, None, 1)]
    steps = [(len(spans(way.width, space[0])), len(spans(way.height, space[1]))) for way in ways]
    small = [(columns * rows, k) for k, (columns, rows) in enumerate(steps) if max(columns, rows) <= MOST]
    if not small:
        return []
    way = ways[min(small)[1]]
    found = tiled(way.cut, (way.width, way.height), space)
    return [_Laid(way, tile, len(found)) for tile in found]


def _page(paper: Paper) -> dict:
    page = blank(paper, Name("handout.templates_title", {}), Name("handout.templates_about", {}))
    margin, wide = float(MARGIN), float(paper.width - 2 * MARGIN) - CODE - 0.1
    head = margin + TITLE * POINT
    page["texts"].append(words(Name("handout.templates_title", {}), (margin, head), wide / 2, size=TITLE, role="title"))
    page["texts"].append(words(Name("handout.check_scale", {}), (margin, head + 0.2), wide, 2))
    page["texts"].append(words(Name("handout.lines", {}), (margin, head + 0.2 + 2 * _LINE), wide, 3))
    page["code"] = {"x": margin + wide + 0.1, "y": margin, "side": CODE}
    page["said"] = words("", (margin + wide, head), wide / 2 - 0.1, anchor="end", role="said")
    _add_bars(page, room(paper))
    page["placed"] = []
    return page


def _add_bars(page: dict, space: Box) -> None:
    """Both bars along the foot and along the left side, each with its length beside it."""
    left, _, _, bottom = space
    page["bars"] = []
    for number, bar in enumerate(BARS):
        level = bottom + 0.2 + number * 0.25
        upright = float(MARGIN) + _TICK + number * 0.28
        _add_bar(page, bar, (left, level), down=False)
        _add_bar(page, bar, (upright, bottom - bar.length), down=True)


def _add_bar(page: dict, bar, start: Point, down: bool) -> None:
    told, ticks = Name(f"handout.{bar.code}", {}), bar.ticks(start, down)
    dx, dy = (_TICK, 0.0) if down else (0.0, _TICK)
    page["shapes"].append(line("bar", (ticks[0], ticks[-1])))
    page["shapes"] += [line("bar", ((x - dx, y - dy), (x + dx, y + dy))) for x, y in ticks]
    page["bars"].append({"code": bar.code, "length": bar.length, "from": ticks[0], "to": ticks[-1]})
    # Beside the bar: upright ones are read from the right, up along them.
    (x, y), room = ticks[-1], 0.7
    at = (x + _TICK + 0.13, y - bar.length / 2) if down else (x + 0.1, y + 0.045)
    page["texts"].append(
        words(told, at, room, anchor="middle" if down else "start", turn=-90 if down else 0, role="bar")
    )


def _lay(one: _Laid, page: dict, corner: Point) -> None:
    """Draws a template or tile with its window's upper left corner at `corner`, and its words below it."""
    left, top, right, bottom = one.window
    dx, dy = corner[0] - left, corner[1] - top
    template, tile = one.template, one.tile
    page["shapes"] += _outlines(template.role, template.cut, tile, dx, dy)
    page["shapes"] += _outlines("seam", template.seam, tile, dx, dy) if template.seam else []
    grain = template.grain if tile is None else grain_in(template, tile.window)
    page["shapes"] += _arrow(_shifted(grain, dx, dy)) if grain else []
    _add_joins(tile, page, dx, dy)
    _add_label(one, page, (corner[0], corner[1] + bottom - top))
    page["placed"].append(
        {
            "id": template.id,
            "at": (round(dx, 6), round(dy, 6)),
            "window": one.window,
            "tile": tile and _tile(tile, one.tiles),
        }
    )


def _tile(tile: Tile, of: int) -> dict:
    return {"row": tile.row, "column": tile.column, "of": of, "letters": [join.letter for join in tile.joins]}


def _outlines(role: str, outline: Outline, tile: Tile | None, dx: float, dy: float) -> list[dict]:
    if tile is None:
        return [line(role, _shifted(outline, dx, dy), closed=True)]
    return [line(role, _shifted(part, dx, dy)) for part in shown(outline, tile.window)]


def _shifted(points: Iterable[Point], dx: float, dy: float) -> list[Point]:
    return [(x + dx, y + dy) for x, y in points]


def _arrow(ends: list[Point]) -> list[dict]:
    """A line with a head at either end, level or upright."""
    (x, y), (u, v) = ends
    along, aside = _ARROWHEAD
    if y == v:
        heads = [
            ((x + along, y - aside), (x, y), (x + along, y + aside)),
            ((u - along, v - aside), (u, v), (u - along, v + aside)),
        ]
    else:
        heads = [
            ((x - aside, y + along), (x, y), (x + aside, y + along)),
            ((u - aside, v - along), (u, v), (u + aside, v - along)),
        ]
    return [line("grain", ends), *(line("grain", head) for head in heads)]


def _add_joins(tile: Tile | None, page: dict, dx: float, dy: float) -> None:
    for join in tile.joins if tile else ():
        page["shapes"].append(line("join", _shifted(join.line, dx, dy)))
        page["shapes"].append(line("mark", _shifted(join.cross, dx, dy)))
        x, y = join.at
        page["texts"].append(words(join.letter, (x + dx + 0.05, y + dy - 0.05), 0.2, size=12, role="mark"))


def _add_label(one: _Laid, page: dict, corner: Point) -> None:
    """The words below a template, each note with the lines that it may take."""
    x, y = corner
    for note, lines in one.label:
        wide = max(one.window[2] - one.window[0], LABEL)
        page["texts"].append(words(note, (x, y + 0.05 + 0.8 * _LINE), wide, lines, role="label"))
        y += lines * _LINE
