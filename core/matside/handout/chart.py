"""What each kind of cloth gives of each size, both ways and at best, with the reason.

Every number comes from the functions that the ask `cloth` has it from; here they are only held against each other.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ..cloth import OTHER, Cloth, CutWay, best_way, one_more, one_way
from ..margins import sure_way
from ..shapes import Shape
from ..strips import needed_length
from ..units import SAME


@dataclass(frozen=True, slots=True)
class Cell:
    """One size from one cloth: both plain ways by the side that their strips run along, the best way, and the most
    that is there for sure."""

    shape: Shape
    cloth: Cloth
    plain: dict[str, CutWay]
    best: CutWay
    sure: int

    @property
    def chosen(self) -> str | None:
        """The side along which the strips of the best way run; None where it mixes both, or gives nothing."""
        return self.best.parts[0].along if self.best.pieces and self.best.division is None else None


def cell(shape: Shape, cloth: Cloth) -> Cell:
    """What one cloth gives of one piece.

    >>> from fractions import Fraction
    >>> from matside.shapes import Diamond
    >>> found = cell(Diamond(Fraction(7, 2), Fraction(60)), Cloth(Fraction(15), Fraction(23)))
    >>> [way.pieces for way in found.plain.values()], found.best.pieces, found.sure, found.chosen
    ([18, 20], 20, 20, 'width')
    """
    plain = {along: one_way(shape, cloth, along) for along in OTHER}
    return Cell(shape, cloth, plain, best_way(shape, cloth), sure_way(shape, cloth).pieces)


def rows(shapes: Iterable[Shape], cloths: Callable[[Shape], list[Cloth]]) -> list[list[Cell]]:
    """A row of cells for every size; `cloths` gives the cloths of a row, since a strip may be as wide as its piece."""
    return [[cell(shape, cloth) for cloth in cloths(shape)] for shape in shapes]


def reason(found: Cell) -> dict:
    """Why the best way is the best, as a code with its values; lengths in inches.

    `none`: not even one piece, which takes a strip so `wide` and so `long`. `mixed`: the cloth is divided at `at` of
    its `side`, and that gives `more` than one way alone. `only` and `one_way`: `n` strips `side` long with `per` pieces
    each, and the other way nothing, or `other` pieces (`other_strips` of `other_per`). `equal`: as many the other way.

    >>> from fractions import Fraction
    >>> from matside.shapes import Diamond
    >>> diamond = Diamond(Fraction(7, 2), Fraction(60))
    >>> reason(cell(diamond, Cloth(Fraction(15), Fraction(23))))["code"]
    'one_way'
    >>> reason(cell(diamond, Cloth(Fraction(3), Fraction(23))))["code"]
    'none'
    """
    if not found.best.pieces:
        return {"code": "none", "values": _takes(found.shape)}
    if found.chosen is None:
        return {"code": "mixed", "values": _mixed(found)}
    part, other = found.best.parts[0], found.plain[OTHER[found.chosen]]
    values = {"n": part.strips, "per": part.strip.pieces, "side": part.run}
    if not other.pieces:
        return {"code": "only", "values": values}
    against = other.parts[0]
    values |= {"other": other.pieces, "other_strips": against.strips, "other_per": against.strip.pieces}
    return {"code": "equal" if other.pieces == found.best.pieces else "one_way", "values": values}


def _takes(shape: Shape) -> dict:
    return {"wide": shape.size, "long": needed_length(shape, 1)}


def _mixed(found: Cell) -> dict:
    side, at = found.best.division
    first, second = (part.strips if part.pieces else 0 for part in found.best.parts)
    more = found.best.pieces - max(way.pieces for way in found.plain.values())
    return {"side": found.cloth.side(side), "at": at, "first": first, "second": second, "more": more}


def lacks(found: Cell) -> dict | None:
    """What the cloth lacks for more by its best way: the lesser of a piece more in every strip and one strip more.

    `longer` and `wider` say by how many inches (`by`) that side must be more, and how many pieces it gives (`gives`); a
    strip that was cut to width has no side to be wider. None where the best way mixes both ways, or gives nothing.

    >>> from fractions import Fraction
    >>> from matside.shapes import Diamond
    >>> found = lacks(cell(Diamond(Fraction(7, 2), Fraction(60)), Cloth(Fraction(15), Fraction(23))))
    >>> found["code"], round(found["values"]["by"], 3), found["values"]["gives"]
    ('wider', 2.5, 5)
    """
    if found.chosen is None:
        return None
    part = found.best.parts[0]
    near = one_more(found.shape, part)
    longer = {"by": near["short_by"], "gives": part.strips}
    wider = {"by": float(near["strip_short_by"]), "gives": part.strip.pieces}
    if part.strips == 1 and near["strip_spare"] <= SAME or longer["by"] <= wider["by"]:
        return {"code": "longer", "values": longer}
    return {"code": "wider", "values": wider}
