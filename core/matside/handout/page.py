"""A printed page as plain data: shapes by their role, and texts with the room that they have.

A shape is {role, points, closed}; a text {role} with {code, values} or {text}, the place of its first line's baseline
(`x`, `y`), its `size` in points, its `anchor` ("start", "middle" or "end"), its `turn` in degrees clockwise round that
place, the `room` that a line has and how many `lines` there may be. Inches, y down.
"""

from collections.abc import Iterable

from ..shapes import Point
from .paper import MARGIN, Paper
from .templates import Name
from .texts import SMALLEST

_DIGITS = 6
#: Type of a page's title, in points.
TITLE = 14


def blank(paper: Paper, title: Name, about: Name) -> dict:
    """A page with nothing on it yet; `about` is told to those who do not see it."""
    return {
        "paper": paper.code,
        "width": float(paper.width),
        "height": float(paper.height),
        "margin": float(MARGIN),
        "title": title.told(),
        "about": about.told(),
        "shapes": [],
        "texts": [],
    }


def line(role: str, points: Iterable[Point], closed: bool = False) -> dict:
    """A shape of a page.

    >>> line("cut", ((0, 0), (1 / 3, 0)))
    {'role': 'cut', 'points': [(0, 0), (0.333333, 0)], 'closed': False}
    """
    return {"role": role, "points": [(round(x, _DIGITS), round(y, _DIGITS)) for x, y in points], "closed": closed}


def words(
    told: Name | str,
    at: Point,
    room: float,
    lines: int = 1,
    size: float = SMALLEST,
    anchor: str = "start",
    turn: int = 0,
    role: str = "note",
) -> dict:
    """A text of a page: a sentence of the catalogue, or a text that is the same in every language.

    >>> words("A", (1, 2), 0.5)["text"], words(Name("unit.in", {"number": 4}), (1, 2), 0.5)["code"]
    ('A', 'unit.in')
    """
    what = {"text": told} if isinstance(told, str) else told.told()
    place = {"x": round(at[0], _DIGITS), "y": round(at[1], _DIGITS), "size": size, "anchor": anchor, "turn": turn}
    return {"role": role, **what, **place, "room": round(room, _DIGITS), "lines": lines}


def numbered(pages: list[dict]) -> list[dict]:
    """The pages, each with its number at the lower right corner."""
    for number, page in enumerate(pages, start=1):
        at = (page["width"] - page["margin"], page["height"] - page["margin"] - 0.05)
        told = Name("handout.page", {"number": number, "of": len(pages)})
        page["texts"].append(words(told, at, 1.6, anchor="end"))
    return pages
