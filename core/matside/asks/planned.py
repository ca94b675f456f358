"""Reading a plan's layouts back as work for the guide: cloth after cloth, strips alike together."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby

from ..errors import Refusal
from ..fields import Fields
from ..guide.job import ClothWork, Job, PieceKind, StripWork
from ..pieces import read_piece
from ..units import SAME

MOST_CLOTHS = 1_000
MOST_KINDS = 50
MOST_STRIPS = 10_000


def planned_job(fields: Fields) -> Job:
    """The work of a request with `pieces`, `cloths` and `layouts` as the ask `plan` takes and gives them."""
    kinds = {kind.id: kind for kind in _kinds(fields)}
    cloths = {cloth.text("id"): cloth for cloth in fields.objects("cloths", MOST_CLOTHS, 1)}
    works = [work for layout in fields.objects("layouts", MOST_CLOTHS, 1) for work in _cloths(layout, cloths, kinds)]
    return Job(tuple(works))


def _kinds(fields: Fields) -> Iterator[PieceKind]:
    for piece in fields.objects("pieces", MOST_KINDS, 1):
        yield PieceKind(piece.text("id"), read_piece(piece), piece.text("fabric") if piece.has("fabric") else None)


def _cloths(layout: Fields, cloths: dict[str, Fields], kinds: dict[str, PieceKind]) -> Iterator[ClothWork]:
    cloth = _named(layout, "cloth", cloths)
    works = tuple(_works(layout, cloth, kinds))
    selvage = cloth.choice("selvage", ("length", "width", "none"), "none")
    fabric = cloth.text("fabric") if cloth.has("fabric") else None
    sides = cloth.length("length"), cloth.length("width")
    for _ in range(layout.count("times", 1, MOST_CLOTHS, default=1)):
        own = None if selvage == "none" else selvage
        yield ClothWork(layout.text("cloth"), *sides, own, works, read_division(layout), fabric)


def read_division(layout: Fields) -> tuple[str, Fraction] | None:
    """The side that is divided before a layout's strips are cut, and where; None where nothing is."""
    if not layout.has("division"):
        return None
    division = layout.object("division")
    return division.choice("along", ("length", "width")), division.length("at")


def _works(layout: Fields, cloth: Fields, kinds: dict[str, PieceKind]) -> Iterator[StripWork]:
    """Strips that lie one beside another and are alike, as one work; in the order in which they are cut off."""
    for _, alike in groupby(in_cutting_order(layout), key=lambda strip: _alike(strip, layout)):
        group = list(alike)
        first, kind = group[0], _named(group[0], "piece", kinds)
        left = _side_across(first, layout, cloth) - _offset(first)
        yield StripWork(kind, first.length("run"), first.count("count", 1, 100_000), len(group), first.raw("along"), left)


def in_cutting_order(layout: Fields) -> list[Fields]:
    """The strips of a layout in the order in which they are cut off."""
    return sorted(layout.objects("strips", MOST_STRIPS, 1), key=lambda strip: _place(strip, layout))


def _place(strip: Fields, layout: Fields) -> tuple:
    along = strip.choice("along", ("length", "width"))
    x, y = strip.length_or_zero("x"), strip.length_or_zero("y")
    return (_in_second_part(strip, layout), *((x, y) if along == "width" else (y, x)))


def _alike(strip: Fields, layout: Fields) -> tuple:
    return strip.raw("along"), strip.raw("piece"), strip.raw("run"), strip.raw("count"), _in_second_part(strip, layout)


def _in_second_part(strip: Fields, layout: Fields) -> bool:
    division = read_division(layout)
    if division is None:
        return False
    side, at = division
    place = strip.length_or_zero("x" if side == "length" else "y")
    return float(place) > float(at) - SAME


def _offset(strip: Fields) -> Fraction:
    return strip.length_or_zero("y" if strip.raw("along") == "length" else "x")


def _side_across(strip: Fields, layout: Fields, cloth: Fields) -> Fraction:
    """Where the cloth ends that the strip is cut off, counted from the same corner as the strip's own place."""
    across = "width" if strip.raw("along") == "length" else "length"
    division = read_division(layout)
    if division and division[0] == across and not _in_second_part(strip, layout):
        return division[1]
    return cloth.length(across)


def _named(fields: Fields, name: str, known: dict):
    given = fields.text(name)
    if given not in known:
        raise Refusal(fields.at(name), "guide_unknown", given=given)
    return known[given]
