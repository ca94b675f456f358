"""Reading a plan's layouts back as work for the guide: cloth after cloth, strips alike together."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby

from ..cloth import Cloth
from ..errors import Refusal
from ..fields import Fields
from ..guide.job import ClothWork, Job, Joined, PartWork, PieceKind, StripWork
from ..kinds import read_fabric, read_selvage, read_selvages
from ..pieces import MOST_NEEDED, read_piece
from ..units import SAME, parse_angle, parse_count

MOST_CLOTHS = 1_000
MOST_KINDS = 50
MOST_STRIPS = 10_000
#: A place that came through a float may be this much off the exact one it stands for.
_HAIR = Fraction(SAME)


def planned_job(fields: Fields) -> Job:
    """The work of a request with `pieces`, `cloths` and `layouts` as the ask `plan` takes and gives them."""
    kinds = {kind.id: kind for kind in _kinds(fields)}
    cloths = {cloth.text("id"): cloth for cloth in fields.objects("cloths", MOST_CLOTHS, 1)}
    works = [work for layout in fields.objects("layouts", MOST_CLOTHS, 1) for work in _cloths(layout, cloths, kinds)]
    return Job(tuple(works))


def _kinds(fields: Fields) -> Iterator[PieceKind]:
    for piece in fields.objects("pieces", MOST_KINDS, 1):
        yield PieceKind(piece.text("id"), read_piece(piece), read_fabric(piece), _halved(piece), _joined(piece))


def _halved(piece: Fields) -> tuple[int, int] | None:
    """So many rectangles that are cut corner to corner rising, and so many falling."""
    if not piece.has("halved"):
        return None
    ways = piece.list("halved", 2, 2)
    return tuple(parse_count(count, f"{piece.at('halved')}[{i}]", 0, MOST_NEEDED) for i, count in enumerate(ways))


def _joined(piece: Fields) -> Joined | None:
    """What strips become that are joined end to end."""
    if not piece.has("joined"):
        return None
    joined = piece.object("joined")
    length, need = joined.length("length"), joined.count("need", 1, MOST_NEEDED)
    lean = {
        "parallel": joined.flag("parallel"),
        "mirrored": joined.flag("mirrored"),
        "counted": joined.flag("counted", True),
    }
    return Joined(length, need, joined.length_or_zero("takes", Fraction(0)), _ends(joined), **lean)


def _ends(joined: Fields) -> tuple[float, float] | None:
    if not joined.has("ends"):
        return None
    return tuple(
        float(parse_angle(end, f"{joined.at('ends')}[{i}]", 1, 90)) for i, end in enumerate(joined.list("ends", 2, 2))
    )


def _cloths(layout: Fields, cloths: dict[str, Fields], kinds: dict[str, PieceKind]) -> Iterator[ClothWork]:
    cloth = _named(layout, "cloth", cloths)
    sides = {"length": cloth.length("length"), "width": cloth.length("width")}
    own = Cloth(*sides.values(), read_selvage(cloth), read_selvages(cloth))
    parts = tuple(_parts(layout, kinds))
    known = {"selvages": own.selvages, "one_way": cloth.flag("one_way"), "fabric": read_fabric(cloth)}
    for _ in range(layout.count("times", 1, MOST_CLOTHS, default=1)):
        yield ClothWork(layout.text("cloth"), *sides.values(), own.selvage, parts, read_division(layout), **known)


def read_division(layout: Fields) -> tuple[str, Fraction] | None:
    """The side that is divided before a layout's strips are cut, and where; None where nothing is."""
    if not layout.has("division"):
        return None
    division = layout.object("division")
    return division.choice("along", ("length", "width")), division.length("at")


def _parts(layout: Fields, kinds: dict[str, PieceKind]) -> Iterator[PartWork]:
    """The parts of a cloth, two after a division, each with its strips in the order in which they are cut off."""
    division, strips = read_division(layout), in_cutting_order(layout)
    if division is None:
        yield _part(strips, kinds)
        return
    for second in (False, True):
        yield _part([strip for strip in strips if in_second_part(strip, division) == second], kinds)


def in_cutting_order(layout: Fields) -> list[Fields]:
    """The strips of a layout in the order in which they are cut off: the first part's, then the
    second's, each from its edge.
    """
    division = read_division(layout)

    def place(strip: Fields) -> tuple[bool, Fraction]:
        along = strip.choice("along", ("length", "width"))
        return in_second_part(strip, division), strip.length_or_zero("y" if along == "length" else "x")

    return sorted(layout.objects("strips", MOST_STRIPS, 1), key=place)


def in_second_part(strip: Fields, division: tuple[str, Fraction] | None) -> bool:
    """Whether a strip lies beyond the division."""
    return division is not None and strip.length_or_zero("x" if division[0] == "length" else "y") > division[1] - _HAIR


def _part(strips: list[Fields], kinds: dict[str, PieceKind]) -> PartWork:
    along = strips[0].choice("along", ("length", "width")) if strips else "length"
    return PartWork(along, tuple(_works(strips, along, kinds)))


def _works(strips: list[Fields], along: str, kinds: dict[str, PieceKind]) -> Iterator[StripWork]:
    """Strips that lie one beside another and are alike, as one work."""
    for _, alike in groupby(strips, key=_alike):
        group = list(alike)
        first, kind = group[0], _named(group[0], "piece", kinds)
        if first.choice("along", ("length", "width")) != along:
            raise Refusal(first.at("along"), "strips_two_ways", given=first.raw("along"), wanted=along)
        yield StripWork(kind, first.length("run"), first.count("count", 1, MOST_NEEDED), len(group), along)


def _alike(strip: Fields) -> tuple:
    return strip.raw("along"), strip.raw("piece"), strip.raw("run"), strip.raw("count")


def _named(fields: Fields, name: str, known: dict):
    given = fields.text(name)
    if given not in known:
        raise Refusal(fields.at(name), "guide_unknown", given=given)
    return known[given]
