"""Pieces as a request describes them, by whichever measure the user knows."""

import math
from fractions import Fraction

from . import angles
from .errors import Refusal
from .fields import Fields
from .shapes import SMALLEST, Diamond, HalfDiamond, Parallelogram, Rectangle, Shape, Trapezoid, half_hexagon
from .units import LONGEST, SAME

SHAPES = tuple(shape.name for shape in (Diamond, HalfDiamond, Parallelogram, Trapezoid, Rectangle))
#: The measures a diamond may be given by; the core converts all of them to `size`.
MEASURES = ("size", "finished_size", "edge", "short_diagonal", "long_diagonal")
#: Which diagonal a half-diamond is cut along.
CUTS = ("short", "long")
#: What a shape that is typed by hand is described by besides its size, half a hexagon by nothing else. Parallelograms
#: come of quilts only.
TYPED = {
    Diamond.name: ("angle",),
    HalfDiamond.name: ("angle", "cut"),
    Trapezoid.name: (),
    Rectangle.name: ("length",),
}
#: Nobody asks for more pieces of one kind.
MOST_NEEDED = 100_000
DEFAULT_SEAM = Fraction(1, 4)


def read_piece(fields: Fields) -> Shape:
    """The piece that a request describes.

    A diamond by `angle` and one of `size`, `finished_size`, `edge`, `short_diagonal`, `long_diagonal` (the
    finished size with `seam`, ¼ in unless given); a half-diamond by `size`, `angle` and `cut`; a parallelogram
    by `size`, `across` and `angle`; a trapezoid by `size`, `angle` and `base`, half a hexagon (with `seam`)
    without the last two; a rectangle by `size` and `length`. Diamonds and parallelograms may be `mirrored`: cut
    from strips laid wrong side up.

    >>> read_piece(Fields({"shape": "diamond", "finished_size": "3 1/2 in", "angle": 60}))
    Diamond(size=Fraction(4, 1), angle=Fraction(60, 1), mirrored=False)
    """
    shape = fields.choice("shape", SHAPES, "diamond")
    return _READERS[shape](fields)


def read_diamond(fields: Fields) -> Diamond:
    """The piece that a request describes, which must be a diamond."""
    fields.choice("shape", ("diamond",), "diamond")
    return read_piece(fields)


def _diamond(fields: Fields) -> Shape:
    angle = fields.angle("angle")
    return Diamond(_diamond_size(fields, angle), angle, fields.flag("mirrored"))


def _half_diamond(fields: Fields) -> Shape:
    return HalfDiamond(_size(fields, "size"), fields.angle("angle"), fields.choice("cut", CUTS, "short"))


def _parallelogram(fields: Fields) -> Shape:
    return Parallelogram(_size(fields, "size"), _size(fields, "across"), fields.angle("angle"), fields.flag("mirrored"))


def _trapezoid(fields: Fields) -> Shape:
    size = _size(fields, "size")
    if not fields.has("base"):
        return half_hexagon(size, fields.length_or_zero("seam", DEFAULT_SEAM))
    try:
        return Trapezoid(size, _size(fields, "base"), fields.angle("angle", Fraction(60)))
    except Refusal as refusal:
        raise Refusal(fields.at(refusal.field), refusal.code, **refusal.values) from None


def _rectangle(fields: Fields) -> Shape:
    return Rectangle(_size(fields, "size"), _size(fields, "length"))


_READERS = {
    "diamond": _diamond,
    "half-diamond": _half_diamond,
    "parallelogram": _parallelogram,
    "trapezoid": _trapezoid,
    "rectangle": _rectangle,
}


def _size(fields: Fields, name: str) -> Fraction:
    length = fields.length(name)
    if length < SMALLEST:
        raise Refusal(fields.at(name), "piece_too_small", given=float(length), least="¼ in")
    return length


def _diamond_size(fields: Fields, angle: Fraction) -> Fraction:
    given = [name for name in MEASURES if fields.has(name)]
    if len(given) > 1:
        raise Refusal(fields.at(given[1]), "measures_too_many", first=given[0], second=given[1])
    name = given[0] if given else "size"
    size = _size_by(name, fields.length(name), angle, fields)
    if not SMALLEST <= size <= LONGEST:
        code = "piece_too_small" if size < SMALLEST else "length_too_large"
        raise Refusal(fields.at(name), code, given=float(size), least="¼ in")
    return size


def _size_by(name: str, length: Fraction, angle: Fraction, fields: Fields) -> Fraction:
    if name == "size":
        return length
    if name == "finished_size":
        return length + 2 * fields.length_or_zero("seam", DEFAULT_SEAM)
    half = math.radians(angle) / 2
    # size = edge · sin θ; short diagonal = 2 · edge · sin θ/2; long diagonal = 2 · edge · cos
    # θ/2; sin θ = 2 sin θ/2 cos θ/2
    factor = {"edge": angles.sin(angle), "short_diagonal": math.cos(half), "long_diagonal": math.sin(half)}[name]
    return _simplest(Fraction(float(length) * factor))


def _simplest(length: Fraction) -> Fraction:
    """The plain fraction that float noise hides: the edge of a 4 in diamond is one of a 4 in
    diamond again, and fits 4 in.
    """
    plain = length.limit_denominator(1000)
    return plain if abs(plain - length) < SAME else length
