"""The kinds of cloth that are sold or lie in a basket, with the sides that are usable unless the user says otherwise.

Sides in inches, exact; `selvage` names the side that runs along the selvage. The sides are common practice, no
published source: cloth has no fixed width, so every one of them can be changed where it is used.
"""

from dataclasses import dataclass
from fractions import Fraction

from .cloth import OTHER, Cloth
from .fields import Fields
from .units import CENTIMETER

#: Usable inches of a fabric off the bolt unless one knows better. Common practice, no published source.
USUAL_WIDTH = Fraction(42)
#: Inches that straightening the ends of a length off the bolt takes. Common practice, no published source.
USUAL_STRAIGHTEN = Fraction(1)


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of cloth: default sides (None: the user must say), which side the selvage runs
    along, which unit it is sold in.

    `asks` lists the sides that are asked for at once; the others can be changed too. `selvages` is how many of its
    edges still have their selvage."""

    code: str
    length: Fraction | None
    width: Fraction | None
    selvage: str | None
    unit: str
    asks: tuple[str, ...] = ()
    selvages: int = 0


def _metric(length, width) -> tuple[Fraction | None, Fraction | None]:
    return (None if length is None else length * CENTIMETER), width * CENTIMETER


KINDS = {
    kind.code: kind
    for kind in (
        Kind("yardage", Fraction(9), USUAL_WIDTH, "length", "yd", ("length", "width"), 2),
        Kind("full_width_strip", None, USUAL_WIDTH, "length", "in", ("width",), 2),
        Kind("fat_quarter", Fraction(18), Fraction(20), "length", "in", selvages=1),
        Kind("fat_eighth", Fraction(9), Fraction(20), "length", "in", selvages=1),
        Kind("ten_inch_square", Fraction(10), Fraction(10), None, "in"),
        Kind("five_inch_square", Fraction(5), Fraction(5), None, "in"),
        Kind("narrow_strip", Fraction(5, 2), USUAL_WIDTH, "length", "in", selvages=2),
        Kind("scrap", None, None, None, "in", ("length", "width")),
        Kind("metre_length", *_metric(50, 106), "length", "m", ("length", "width"), 2),
        Kind("metric_fat_quarter", *_metric(50, 53), "length", "cm", selvages=1),
    )
}


def read_cloth(fields: Fields, size: Fraction | None = None) -> Cloth:
    """The cloth that a request describes: by `kind` (its sides then have defaults), or by `length` and `width` alone.

    A full-width strip is as wide as the piece (`size`) unless its `length` (the side along the selvage) is given.

    >>> read_cloth(Fields({"kind": "fat_eighth"}))
    Cloth(length=Fraction(9, 1), width=Fraction(20, 1), selvage='length', selvages=1)
    """
    kind = KINDS[fields.choice("kind", KINDS, "scrap")]
    length = fields.length("length", kind.length or (size if kind.code == "full_width_strip" else None))
    width = fields.length("width", kind.width)
    return Cloth(length, width, read_selvage(fields, kind.selvage), read_selvages(fields, kind.selvages))


def read_selvages(fields: Fields, usual: int = 0) -> int | None:
    """How many edges still have their selvage; None where neither the request nor the kind says."""
    return fields.count("selvages", 0, 2) if fields.has("selvages") else usual or None


def read_selvage(fields: Fields, usual: str | None = None) -> str | None:
    """The side that runs along the selvage, "length" or "width", from `selvage`; None where there is none ("none").

    >>> read_selvage(Fields({"selvage": "none"}), "length"), read_selvage(Fields({}), "length")
    (None, 'length')
    """
    side = fields.choice("selvage", (*OTHER, "none"), usual or "none")
    return None if side == "none" else side


def read_fabric(fields: Fields) -> str | None:
    """The name of the fabric, from `fabric`; None where none is named.

    >>> read_fabric(Fields({"fabric": "red"})), read_fabric(Fields({}))
    ('red', None)
    """
    return fields.text("fabric") if fields.has("fabric") else None
