"""Cloths and what one cloth gives of one piece: along its length, along its width, or the best mix of both.

Cloth coordinates, in inches: the origin at a corner, x along `length`, y along `width`. All strips of one part run
one way; a mix divides the cloth once, across the whole of it, and runs the strips of the two parts either way.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from .errors import Refusal
from .shapes import Outline, Shape
from .strips import StripYield, needed_length, pieces_in, strip_yield
from .units import LONGEST, SAME

#: Room for what floats lose in a bound for a number of pieces, of which there may be billions.
NOISE = 1e-3
WAYS = ("along_length", "along_width")
OTHER = {"length": "width", "width": "length"}
#: A side that came through a float may be this much under the exact one it stands for.
HAIR = Fraction(SAME)
#: What is left of a cloth is worth keeping, and telling, from so many inches each way. Common
#: practice, no published source.
WORTH_KEEPING = 2


@dataclass(frozen=True, slots=True)
class Cloth:
    """A rectangle of usable cloth, in inches; `selvage` names the side that runs along the selvage, where one knows.

    Its sides are those of the largest right-angled rectangle between the selvages. `selvages` is how many of its edges
    still have one: both of a length off the bolt, one of a quarter, none where no side runs along a selvage. Strips
    that run along the selvage lie on the lengthwise grain, strips across it on the crosswise grain.

    >>> Cloth(Fraction(15), Fraction(23), "length").grain("width")
    'crosswise'
    >>> Cloth(Fraction(7), Fraction(9)).grain("width"), Cloth(Fraction(7), Fraction(9)).selvages
    ('unknown', 0)
    """

    length: Fraction
    width: Fraction
    selvage: str | None = None
    selvages: int | None = None

    def __post_init__(self):
        if self.selvages is None or self.selvage is None:
            object.__setattr__(self, "selvages", 1 if self.selvage else 0)
        for side in OTHER:
            _refuse_side(self.side(side), side)
        if self.selvage not in (None, *OTHER):
            raise Refusal("selvage", "choice", given=str(self.selvage), choices="length, width")

    def grain(self, along: str) -> str:
        """The grain that strips along that side lie on: "lengthwise", "crosswise" or "unknown"."""
        if self.selvage is None:
            return "unknown"
        return "lengthwise" if along == self.selvage else "crosswise"

    def side(self, along: str) -> Fraction:
        """The length of a side by its name."""
        return self.length if along == "length" else self.width

    @property
    def area(self) -> Fraction:
        """Square inches."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class PlacedStrip:
    """A strip in its cloth: the corner nearest the origin, the side it runs along, its length, width and pieces."""

    x: Fraction
    y: Fraction
    along: str
    run: Fraction
    size: Fraction
    count: int

    def outlines(self, shape: Shape) -> list[Outline]:
        """The pieces' polygons in cloth coordinates."""
        return [self._in_cloth(self._right_side_up(shape, outline)) for outline in _in_strip(shape, self.count)]

    def _right_side_up(self, shape: Shape, outline: Outline) -> Outline:
        """A mirrored piece is cut from the strip's wrong side: from the right side it leans the other way."""
        return tuple((u, float(self.size) - v) for u, v in reversed(outline)) if shape.mirrored else outline

    def _in_cloth(self, outline: Outline) -> Outline:
        x, y = float(self.x), float(self.y)
        if self.along == "length":
            return tuple((x + u, y + v) for u, v in outline)
        # A quarter turn and no mirroring, so that the right side of the cloth stays up.
        return tuple((x + float(self.size) - v, y + u) for u, v in outline)


@lru_cache(maxsize=4)
def _in_strip(shape: Shape, count: int) -> tuple[Outline, ...]:
    """The outlines of so many pieces in strip coordinates: strips alike, in several ways, are worked out once."""
    return tuple(shape.outline(k) for k in range(count))


@dataclass(frozen=True, slots=True)
class Part:
    """A rectangle of the cloth that is cut into parallel strips, all one way, with what each strip gives."""

    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction
    along: str
    strips: int
    strip: StripYield

    @property
    def pieces(self) -> int:
        """Pieces of all its strips."""
        return self.strips * self.strip.pieces

    @property
    def run(self) -> Fraction:
        """Length of its strips."""
        return self.length if self.along == "length" else self.width

    @property
    def across(self) -> Fraction:
        """The side that the strips' widths are laid along."""
        return self.width if self.along == "length" else self.length

    def placed(self, size: Fraction) -> list[PlacedStrip]:
        """Its strips side by side from the corner nearest the origin; none where a strip gives nothing."""
        count = self.strip.pieces
        if not count:
            return []
        step = (0, size) if self.along == "length" else (size, 0)
        return [
            PlacedStrip(self.x + k * step[0], self.y + k * step[1], self.along, self.run, size, count)
            for k in range(self.strips)
        ]

    def left_whole(self, size: Fraction) -> tuple[Fraction, Fraction]:
        """Length and width of what no strip is cut from; 0 one way when the strips take all (see `worth_keeping`)."""
        used = size * self.strips if self.strip.pieces else Fraction(0)
        rest = max(Fraction(0), self.across - used)
        return (self.length, rest) if self.along == "length" else (rest, self.width)


@dataclass(frozen=True, slots=True)
class CutWay:
    """A way to cut one cloth: its parts (one, or two after a division), and where the division lies, if any."""

    name: str
    parts: tuple[Part, ...]
    division: tuple[str, Fraction] | None = None

    @property
    def pieces(self) -> int:
        """Pieces of the whole cloth."""
        return sum(part.pieces for part in self.parts)

    @property
    def strips(self) -> int:
        """Strips of the whole cloth."""
        return sum(part.strips for part in self.parts if part.strip.pieces)

    @property
    def grain_mixed(self) -> bool:
        """Whether pieces lie both ways in the cloth."""
        return len({part.along for part in self.parts if part.pieces}) > 1

    def placed(self, shape: Shape) -> list[PlacedStrip]:
        """All strips of the cloth."""
        return [strip for part in self.parts for strip in part.placed(shape.size)]


def one_way(shape: Shape, cloth: Cloth, along: str) -> CutWay:
    """All strips along one side, the cloth undivided.

    >>> from matside.shapes import Diamond
    >>> scrap = Cloth(Fraction(15), Fraction(23), "length")
    >>> one_way(Diamond(Fraction(7, 2), Fraction(60)), scrap, "width").pieces
    20
    """
    return CutWay(f"along_{along}", (_part(shape, Fraction(0), Fraction(0), cloth.length, cloth.width, along),))


def best_way(shape: Shape, cloth: Cloth) -> CutWay:
    """The most pieces that the cutting rule can give: one way, or the cloth divided once and cut both ways.

    Undivided wins a tie, then the fewest strips, as one grain and fewer cuts are kinder to sew and cut.

    >>> from matside.shapes import Diamond
    >>> best_way(Diamond(Fraction(6), Fraction(60)), Cloth(Fraction(15), Fraction(23))).pieces
    4
    """
    plain = [one_way(shape, cloth, along) for along in ("length", "width")]
    mixes = [_mix(shape, cloth, along) for along in ("length", "width")]
    return max([*plain, *mixes], key=lambda way: (way.pieces, way.division is None, -way.strips))


def fits(side: Fraction, size: Fraction | float) -> int:
    """How many strips of a width lie side by side; a side that is exactly wide enough holds its last strip."""
    return int((side + HAIR) // size)


def worth_keeping(length: float, width: float) -> bool:
    """Whether what is left of a cloth is more than a sliver.

    >>> worth_keeping(Fraction(7, 16), 20), worth_keeping(2, 20)
    (False, True)
    """
    return min(length, width) >= WORTH_KEEPING - SAME


def _part(shape: Shape, x: Fraction, y: Fraction, length: Fraction, width: Fraction, along: str) -> Part:
    run, across = (length, width) if along == "length" else (width, length)
    return Part(x, y, length, width, along, fits(across, shape.size), strip_yield(shape, run))


def most_pieces(shape: Shape, length: Fraction, width: Fraction) -> int:
    """How many pieces `best_way` gives; 0 where a side is used up.

    >>> from matside.shapes import Diamond
    >>> most_pieces(Diamond(Fraction(7, 2), Fraction(60)), Fraction(15), Fraction(23))
    20
    """
    if length <= 0 or width <= 0:
        return 0
    # An undivided cloth is a mix with nothing in one of its parts.
    return max(_most_mixed(shape, length, width)[1], _most_mixed(shape, width, length)[1])


def _mix(shape: Shape, cloth: Cloth, along: str) -> CutWay:
    """The best division across the side `along`: first strips across it, one after another, the rest along it."""
    strips, _ = _most_mixed(shape, cloth.side(along), cloth.side(OTHER[along]))
    return _divided(shape, cloth, along, strips * shape.size)


def _most_mixed(shape: Shape, long: Fraction, across: Fraction) -> tuple[int, int]:
    """How many strips across the side `long` come first in its best division, and the pieces of both parts.

    Two parts cut the same way never beat the undivided cloth, as ⌊a⌋ + ⌊b⌋ ≤ ⌊a + b⌋; so only the number of strips in
    the first part matters, and all of them are tried that may give more, or as many with fewer strips.
    """
    size, per_strip, rows = shape.size, pieces_in(shape, across), fits(across, shape.size)
    whole, waste, advance, step = float(long) + SAME, shape.starter_waste, shape.advance, float(size)
    best, most = 0, -1

    def in_rest(strips: int) -> float:
        return max(0.0, whole - strips * step - waste) / advance

    def may_win(strips: int, bound: float) -> bool:
        return bound >= most + (strips > best) - NOISE

    for strips in promising(fits(long, size), lambda strips: strips * per_strip + rows * in_rest(strips), may_win):
        pieces = strips * per_strip + rows * int(in_rest(strips))
        if pieces > most or pieces == most and strips < best:
            best, most = strips, pieces
    return best, most


def promising(last: int, bound: Callable[[int], float], may_win: Callable[[int, float], bool]) -> Iterator[int]:
    """Numbers from 0 to `last` but for those that cannot win by their bound, which is convex over them.

    So what may win lies at the two ends: each is followed inward, the better one first, until a number cannot win.

    >>> list(promising(6, lambda n: abs(n - 2), lambda n, bound: bound > 1))
    [6, 5, 4, 0]
    """
    upward, downward = range(last + 1), range(last, -1, -1)
    for numbers in (upward, downward) if bound(0) >= bound(last) else (downward, upward):
        for number in numbers:
            if not may_win(number, bound(number)):
                break
            yield number
        else:
            return


def _divided(shape: Shape, cloth: Cloth, along: str, at: Fraction) -> CutWay:
    zero = Fraction(0)
    if along == "length":
        first = _part(shape, zero, zero, at, cloth.width, "width")
        second = _part(shape, at, zero, cloth.length - at, cloth.width, "length")
    else:
        first = _part(shape, zero, zero, cloth.length, at, "length")
        second = _part(shape, zero, at, cloth.length, cloth.width - at, "width")
    parts = tuple(part for part in (first, second) if part.length > 0 and part.width > 0)
    return CutWay("mixed", parts, (along, at) if len(parts) > 1 else None)


def _refuse_side(side: Fraction, name: str) -> None:
    if not side > 0:
        raise Refusal(name, "length_not_positive", given=str(float(side)))
    if side > LONGEST:
        raise Refusal(name, "length_too_large", given=str(float(side)))


@dataclass(frozen=True, slots=True)
class FoldedYield:
    """What a strip folded crosswise gives; `layer` is the length that each layer keeps."""

    layers: int
    layer: float
    per_layer: int

    @property
    def pieces(self) -> int:
        """Pieces of all layers."""
        return self.layers * self.per_layer


#: What the bend of a fold takes from each layer, in inches. Common practice, no published source.
FOLD_LOSS = Fraction(1, 8)


def folded_yield(shape: Shape, run: Fraction, layers: int = 2, loss: Fraction = FOLD_LOSS) -> FoldedYield:
    """What a strip gives when it is folded into so many layers and all of them are cut at once.

    Each layer has its own starter waste and its own rest, so a fold may lose pieces, never win any.

    >>> from matside.shapes import Diamond
    >>> folded_yield(Diamond(Fraction(13, 2), Fraction(60)), Fraction(42)).pieces
    4
    """
    layer = max(0.0, float(run) / layers - float(loss))
    return FoldedYield(layers, layer, pieces_in(shape, layer))


def one_more(shape: Shape, part: Part) -> dict:
    """How near a part is to more: lengths in inches.

    `short_by` more along the strips gives a piece more in each of them; `strip_short_by` more across them gives a
    strip more; `needed_length` is what the pieces of one strip take, `spare` what is left beyond that, and
    `strip_spare` what is left beside the strips.
    """
    strip, across = part.strip, part.across
    needed = needed_length(shape, strip.pieces)
    return {
        "short_by": strip.short_by,
        "strip_short_by": (part.strips + 1) * shape.size - across,
        "needed_length": needed,
        "spare": max(0.0, float(part.run) - needed) if strip.pieces else 0.0,
        "strip_spare": max(Fraction(0), across - part.strips * shape.size),
    }
