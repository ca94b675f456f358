"""The quilt's drawing on one page, as large as there is room for: in its fabrics' colors, or to be colored in."""

from ..quilt.outlines.polygons import bounds, clipped, moved
from .page import TITLE, blank, line, words
from .paper import MARGIN, Paper
from .templates import Name
from .texts import POINT

#: Inches above and below the drawing: the title, and the list of the fabrics.
_HEAD, _FOOT = 0.65, 0.5
_WHITE = "#ffffff"
_SWATCH, _ENTRY = 0.16, 1.8


def quilt_sheet(answer: dict, colors: list[str], paper: Paper) -> dict:
    """The page of an answer of the ask `quilt` that has its drawing; `colors` go by the fabrics' turn.

    Where there are fewer of them, the rest of the fabrics stay white.
    """
    size = {"width": answer["finished"]["width"], "height": answer["finished"]["height"]}
    title, about = Name("handout.quilt_title", {}), Name("handout.quilt_size", size)
    page, margin, wide = blank(paper, title, about), float(MARGIN), float(paper.width - 2 * MARGIN)
    head = margin + TITLE * POINT
    page["texts"].append(words(title, (margin, head), wide, size=TITLE, role="title"))
    page["texts"].append(words(about, (margin, head + 0.2), wide, role="about"))
    page["shapes"] += _patches(answer["drawing"], colors, paper)
    if colors:
        _add_fabrics(page, answer["fabrics"], colors)
    return page


def _patches(drawing: dict, colors: list[str], paper: Paper) -> list[dict]:
    """Every piece to scale, the drawing in the middle of its room."""
    found = []
    for number, (_, fabric, shape, x, y, *_) in enumerate(drawing["pieces"]):
        outline = moved(tuple(map(tuple, drawing["shapes"][shape])), x, y)
        outline = clipped(outline, drawing["clip"]) if number < drawing["clipped"] else outline
        if outline:
            found.append((outline, colors[fabric] if fabric < len(colors) else _WHITE))
    factor, dx, dy = _fit([outline for outline, _ in found], paper)
    return [
        {**line("patch", ((x * factor + dx, y * factor + dy) for x, y in outline), closed=True), "fill": fill}
        for outline, fill in found
    ]


def _fit(outlines: list, paper: Paper) -> tuple[float, float, float]:
    """By how much the drawing is made smaller, and how far it is moved, in inches."""
    left, top, right, bottom = bounds(tuple(point for outline in outlines for point in outline))
    margin, above = float(MARGIN), float(MARGIN) + _HEAD
    wide, high = float(paper.width) - 2 * margin, float(paper.height) - above - margin - _FOOT
    factor = min(wide / (right - left), high / (bottom - top))
    return factor, margin + (wide - factor * (left + right)) / 2, above - factor * top


def _add_fabrics(page: dict, fabrics: list[dict], colors: list[str]) -> None:
    """A swatch and the name of every fabric that has a color, as many as one line has room for."""
    y, margin = page["height"] - page["margin"] - 0.1, page["margin"]
    room = int((page["width"] - 2 * margin) / _ENTRY)
    for number, (fabric, color) in enumerate(list(zip(fabrics, colors))[:room]):
        x = margin + number * _ENTRY
        corners = ((x, y - _SWATCH), (x + _SWATCH, y - _SWATCH), (x + _SWATCH, y), (x, y))
        page["shapes"].append({**line("patch", corners, closed=True), "fill": color})
        page["texts"].append(
            words(fabric["id"], (x + _SWATCH + 0.08, y - 0.02), _ENTRY - _SWATCH - 0.16, role="fabric")
        )
