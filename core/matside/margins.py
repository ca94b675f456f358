"""What a number of pieces rests on: how much smaller its cloth may be, and what a smaller cloth gives.

A cloth's sides are those of the largest right-angled rectangle in it between the selvages, and few cloths are measured
so exactly that all of it is there. So every answer says its margin each way, and what is left of it when a quarter or
half an inch is lacking. A ready-cut strip is as wide as it was cut: only its run may turn out shorter.
"""

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from .cloth import HAIR, NOISE, OTHER, Cloth, CutWay, Part, best_way, fits, most_pieces, promising
from .shapes import Shape
from .strips import pieces_in
from .units import SAME

#: By how much smaller, in inches, a cloth is taken when it is asked what it would give then. Common
#: practice, no published source.
SMALLER = (Fraction(1, 4), Fraction(1, 2))
#: What is kept to spare on each side, in inches, where one wants to be sure. Common practice, no published source.
KEEPS = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Margin:
    """How much smaller each side alone may be with the same number of pieces, in inches; the
    whole side for no pieces.
    """

    length: float
    width: float


def margin_one_way(shape: Shape, cloth: Cloth, way: CutWay) -> Margin:
    """The margin of an undivided way: what is left behind its pieces and beside its strips.

    >>> from matside.cloth import one_way
    >>> from matside.shapes import Diamond
    >>> diamond, cloth = Diamond(Fraction(27, 8), Fraction(52)), Cloth(Fraction(27), Fraction(31))
    >>> margin_one_way(diamond, cloth, one_way(diamond, cloth, "length")).width
    0.625
    """
    part = way.parts[0]
    if not part.pieces:
        return Margin(float(cloth.length), float(cloth.width))
    behind, beside = _spare(part.strip.left_over), _spare(float(part.across - part.strips * shape.size))
    return Margin(behind, beside) if part.along == "length" else Margin(beside, behind)


def margin_at_best(shape: Shape, cloth: Cloth, pieces: int) -> Margin:
    """The margin of the most `pieces` that a cloth gives, when on the smaller cloth any way to cut it will do.

    >>> from matside.shapes import Diamond
    >>> diamond, cloth = Diamond(Fraction(27, 8), Fraction(52)), Cloth(Fraction(27), Fraction(31))
    >>> margin_at_best(diamond, cloth, 50).length
    0.0
    """
    if not pieces:
        return Margin(float(cloth.length), float(cloth.width))
    return Margin(*(_spare(float(cloth.side(side)) - _least(shape, cloth, side, pieces)) for side in OTHER))


def pieces_if_smaller(shape: Shape, cloth: Cloth, by: Fraction, along: str) -> int:
    """What strips along a side give when the cloth is smaller; 0 where a side is used up.

    >>> from matside.shapes import Diamond
    >>> diamond, cloth = Diamond(Fraction(27, 8), Fraction(52)), Cloth(Fraction(27), Fraction(31))
    >>> pieces_if_smaller(diamond, cloth, Fraction(1, 4), "width")
    42
    """
    length, width = _smaller_sides(shape, cloth, by, along)
    run, across = (length, width) if along == "length" else (width, length)
    return fits(across, shape.size) * pieces_in(shape, run) if run > 0 and across > 0 else 0


def most_if_smaller(shape: Shape, cloth: Cloth, by: Fraction) -> int:
    """The most that a cloth gives when it is smaller, cut any way; 0 where a side is used up.

    >>> from matside.shapes import Diamond
    >>> most_if_smaller(Diamond(Fraction(27, 8), Fraction(52)), Cloth(Fraction(27, 8), Fraction(31)), Fraction(1, 2))
    6
    """
    return max(most_pieces(shape, *sides) for sides in {_smaller_sides(shape, cloth, by, along) for along in OTHER})


def rests_on(shape: Shape, cloth: Cloth, margin: Margin) -> list[str]:
    """The sides that are to be measured before they are counted on: with less than `KEEPS` to spare,
    and not cut to width already.

    >>> from matside.shapes import Diamond
    >>> rests_on(Diamond(Fraction(27, 8), Fraction(52)), Cloth(Fraction(27, 8), Fraction(31)), Margin(0.0, 2.7))
    []
    """
    sides = _ready_cut_runs(shape, cloth) or list(OTHER)
    return [side for side in sides if getattr(margin, side) < KEEPS]


def sure_way(shape: Shape, cloth: Cloth, keeps: Fraction = KEEPS) -> CutWay:
    """The best way that leaves so much to spare on each side, named "sure", as it lies on the cloth that much smaller.

    No parts where nothing can be had so. Its parts end where the smaller cloth does; `on_the_whole` are those of the
    cloth that lies there.

    >>> from matside.shapes import Diamond
    >>> sure_way(Diamond(Fraction(27, 8), Fraction(52)), Cloth(Fraction(27), Fraction(31))).pieces
    45
    """
    sides = dict.fromkeys(_smaller_sides(shape, cloth, keeps, along) for along in OTHER)
    found = [best_way(shape, Cloth(*each)) for each in sides if min(each) > 0]
    best = max(found, key=lambda way: way.pieces, default=None)
    return CutWay("sure", best.parts, best.division) if best and best.pieces else CutWay("sure", ())


def on_the_whole(way: CutWay, cloth: Cloth) -> CutWay:
    """A `sure_way` as it is cut from the cloth itself: parts that reached the smaller
    cloth's ends reach the cloth's.
    """
    length = max((part.x + part.length for part in way.parts), default=cloth.length)
    width = max((part.y + part.width for part in way.parts), default=cloth.width)
    return replace(way, parts=tuple(_reaching(part, (length, width), cloth) for part in way.parts))


def known_as(cloth: Cloth, way: CutWay, others: list[CutWay]) -> str:
    """The name of the one of the `others` that cuts just what a `sure_way` does, or else its own."""
    own = _cuts(on_the_whole(way, cloth))
    return next((other.name for other in others if way.parts and _cuts(other) == own), way.name)


def _cuts(way: CutWay) -> tuple:
    """The division, and of the parts that give something where they lie and what is cut from them."""
    parts = [
        (part.x, part.y, part.along, part.run, part.strips, part.strip.pieces) for part in way.parts if part.pieces
    ]
    return way.division, *parts


def _reaching(part: Part, ends: tuple[Fraction, Fraction], cloth: Cloth) -> Part:
    length, width = ends
    return replace(
        part,
        length=cloth.length - part.x if part.x + part.length == length else part.length,
        width=cloth.width - part.y if part.y + part.width == width else part.width,
    )


def _smaller_sides(shape: Shape, cloth: Cloth, by: Fraction, along: str) -> tuple[Fraction, Fraction]:
    """Length and width of the cloth when it is smaller; of a ready-cut strip only the run is. Never below 0."""
    runs = _ready_cut_runs(shape, cloth)
    # A cloth whose sides both are as wide as the piece is a strip whichever way the strips of a way run.
    shrinks = list(OTHER) if not runs else [along] if along in runs else runs
    return tuple(max(Fraction(0), cloth.side(side) - by) if side in shrinks else cloth.side(side) for side in OTHER)


def _ready_cut_runs(shape: Shape, cloth: Cloth) -> list[str]:
    """The sides that a cloth as wide as the piece runs along: one of them, both of a square, or none."""
    return [side for side, other in OTHER.items() if abs(cloth.side(other) - shape.size) <= HAIR]


def _spare(margin: float) -> float:
    return margin if margin > SAME else 0.0


def _least(shape: Shape, cloth: Cloth, side: str, pieces: int) -> float:
    """The shortest that a side may be for so many pieces, by any way to cut, the other side as it is.

    Either the division comes across the side that is sought, or it runs along it.
    """
    across, most = cloth.side(OTHER[side]), float(cloth.side(side))
    return min(_least_divided_across(shape, across, pieces), _least_divided_along(shape, across, pieces, most))


def _least_divided_across(shape: Shape, across: Fraction, pieces: int) -> float:
    """Strips across the side one after another, then strips along it, which make up what the first leave."""
    size, waste, advance = float(shape.size), shape.starter_waste, shape.advance
    per_strip, rows = pieces_in(shape, across), fits(across, shape.size)
    least = math.inf

    def at_least(strips: int) -> float:
        return strips * size + waste + (pieces - strips * per_strip) / rows * advance

    enough = -(-pieces // per_strip) if per_strip else 1
    last = enough - 1
    for strips in promising(last, lambda n: -at_least(n), lambda _, bound: -bound < least) if rows else ():  # noqa: B023 (asked at once)
        least = min(least, strips * size + waste + -(-(pieces - strips * per_strip) // rows) * advance)
    return least


def _least_divided_along(shape: Shape, across: Fraction, pieces: int, most: float) -> float:
    """Strips along the side first, then across it; only where a number of the first does with less
    is it worked out how little.
    """
    size, waste, advance = float(shape.size), shape.starter_waste, shape.advance
    whole = float(across) + SAME - waste
    least, below = math.inf, most

    def given(rows: int, per_column: float) -> float:
        per_row, columns = max(0, int((below + SAME - waste) / advance)), int((below + SAME) / size)
        return rows * per_row + per_column * columns

    def in_column(rows: int) -> float:
        return max(0.0, whole - rows * size) / advance

    def at_most(rows: int) -> float:
        return given(rows, in_column(rows))

    for rows in promising(fits(across, shape.size), at_most, lambda _, bound: bound >= pieces - NOISE):
        per_column = int(in_column(rows))
        if given(rows, per_column) >= pieces:
            least = min(least, _least_side(shape, rows, per_column, pieces))
            below = least - 4 * SAME  # clear of what counts as the same length
    return least


def _least_side(shape: Shape, rows: int, per_column: int, pieces: int) -> float:
    """The shortest side with so many strips along it, and strips of `per_column` across it, for so many pieces."""

    def for_rows(columns: int) -> float:
        left = pieces - columns * per_column
        return shape.starter_waste + -(-left // rows) * shape.advance if left > 0 else 0.0

    size = float(shape.size)
    if not per_column:
        return for_rows(0) if rows else math.inf
    enough = -(-pieces // per_column)
    if not rows:
        return enough * size
    # More strips across leave less for those along: the shortest is where the one overtakes the other.
    low, high = 0, enough
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if middle * size >= for_rows(middle) else (middle + 1, high)
    return min(low * size, for_rows(low - 1) if low else math.inf)
