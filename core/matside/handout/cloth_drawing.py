"""A cloth drawn as a whole: its selvage, its division, its strips with their sizes, and the pieces in them.

It lies right side up as it lies when its first strips are cut: they stand upright, and the edge that they are
measured from lies at the left of a right hand, at the right of a left one."""

from collections.abc import Iterator
from fractions import Fraction

from ..cloth import OTHER, PlacedStrip
from ..guide.cloth_scenes import SELVAGE_WIDE, beside
from ..guide.drawn import Lie, box, laid, rectangle, scene, shape
from ..guide.job import ClothWork, StripWork
from ..guide.places import Place
from ..shapes import Point

#: Room round a cloth for the lengths of its sides, as a share of its longer side, and where they are written.
_ROOM = 0.16
_DIMENSION = 0.07


def placed(cloth: ClothWork) -> Iterator[tuple[StripWork, PlacedStrip]]:
    """Where each strip lies, in cloth coordinates: one beside another, from the edge of its part.

    >>> from matside.shapes import Diamond
    >>> from matside.guide.job import PartWork, PieceKind
    >>> work = StripWork(PieceKind("d", Diamond(Fraction(4), Fraction(60))), Fraction(18), 3, 2, "length")
    >>> cloth = ClothWork("c", Fraction(18), Fraction(20), None, (PartWork("length", (work,)),))
    >>> [(int(strip.x), int(strip.y)) for _, strip in placed(cloth)]
    [(0, 0), (0, 4)]
    """
    for part, corner in zip(cloth.parts, _corners(cloth)):
        at = dict(corner)
        for work in part.works:
            for _ in range(work.strips):
                yield work, PlacedStrip(at["length"], at["width"], part.along, work.run, work.size, work.count)
                at[OTHER[part.along]] += work.size


def _corners(cloth: ClothWork) -> Iterator[dict[str, Fraction]]:
    """The corner nearest the origin of each part, by the sides of the cloth."""
    corner = {"length": Fraction(0), "width": Fraction(0)}
    yield corner
    if cloth.division:
        yield {**corner, cloth.division[0]: cloth.division[1]}


def cloth_drawing(cloth: ClothWork, hand: str) -> dict:
    """The scene of a whole cloth: areas and lines with their labels, and the outlines of all its pieces."""
    lie = _lie(cloth, hand)
    strips = list(placed(cloth))
    pieces = [lie(outline) for work, strip in strips for outline in strip.outlines(work.piece.shape)]
    long, high = _standing(cloth)
    still = [
        *laid([*_ground(cloth), *_strips(strips), *_division(cloth)], lie),
        *_selvages(cloth, hand),
        *_sides(cloth),
    ]
    room = _ROOM * max(long, high) + SELVAGE_WIDE
    return scene(box([(-room, -room), (long + room, high + room)]), still, pieces=pieces)


def _upright(cloth: ClothWork) -> str:
    """The side that stands upright while the first strips, or the cut in two, are cut."""
    return OTHER[cloth.division[0]] if cloth.division else cloth.parts[0].along


def _standing(cloth: ClothWork) -> tuple[float, float]:
    """How wide and how high the cloth lies there."""
    upright = _upright(cloth)
    return float(cloth.side(OTHER[upright])), float(cloth.side(upright))


def _lie(cloth: ClothWork, hand: str) -> Lie:
    """From cloth coordinates to how it lies: turned, never mirrored, so that the right side stays up."""
    (long, high), turned = _standing(cloth), _upright(cloth) == "length"

    def lie(points) -> list[Point]:
        upright = [(y, high - x) if turned else (x, y) for x, y in points]
        return [(long - x, high - y) for x, y in upright] if hand == "left" else upright

    return lie


def _ground(cloth: ClothWork) -> list[dict]:
    return [shape("cloth", rectangle(0, 0, cloth.length, cloth.width))]


def _strips(strips: list[tuple[StripWork, PlacedStrip]]) -> Iterator[dict]:
    """Each strip; the first of those that are as wide and lie side by side tells its width."""
    last = None
    for _, strip in strips:
        told = {} if (strip.along, strip.size) == last else {"length": strip.size}
        last = (strip.along, strip.size)
        wide, high = (strip.run, strip.size) if strip.along == "length" else (strip.size, strip.run)
        yield shape("strip", rectangle(strip.x, strip.y, strip.x + wide, strip.y + high), **told)


def _division(cloth: ClothWork) -> list[dict]:
    """The cut in two, with how far it lies from the edge that is measured from."""
    if not cloth.division:
        return []
    along, at = cloth.division
    ends = [(at, 0), (at, cloth.width)] if along == "length" else [(0, at), (cloth.length, at)]
    return [shape("cut", [(float(x), float(y)) for x, y in ends], length=at)]


def _selvages(cloth: ClothWork, hand: str) -> list[dict]:
    """Where edges still have theirs.

    A single one lies where strips are measured from. At the strips' ends it lies where no pieces are cut from, but
    for a divided cloth: the strips of its second part are measured from there."""
    if not cloth.selvage:
        return []
    long, high = _standing(cloth)
    start = Place.TOP if _upright(cloth) == "length" else Place.BOTTOM
    first = Place.LEFT if cloth.selvage == _upright(cloth) else start if cloth.division else start.turned(2)
    lying = [place.turned(2 * (hand == "left")) for place in (first, first.turned(2))[: cloth.selvages]]
    return [shape("selvage", beside(place, long, high), word="selvage") for place in lying]


def _sides(cloth: ClothWork) -> list[dict]:
    """The lengths of its sides, below it and at its right."""
    (long, high), upright = _standing(cloth), _upright(cloth)
    away = _DIMENSION * max(long, high) + SELVAGE_WIDE
    return [
        shape("side", [(0.0, -away), (long, -away)], length=cloth.side(OTHER[upright])),
        shape("side", [(long + away, 0.0), (long + away, high)], length=cloth.side(upright)),
    ]
