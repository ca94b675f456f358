"""Why a kind of piece cannot be had from a basket."""

from ..cloth import HAIR, fits, most_pieces
from ..strips import pieces_in
from .basket import BasketCloth, Need


def reason(need: Need, cloths: list[BasketCloth], grain: str) -> tuple[str, int]:
    """A code for why not all of the pieces can be had, and how many can be at most, were they the only ones wanted.

    "empty": there is no cloth. "no_cloth": there is none of that fabric. "narrow": each has a side that is less than
    its strip is wide. "short": none is long enough for a piece. "grain": none whose grain, or print, allows it.
    "too_few": all together give too few. "together": they would be enough, but not with everything else that is wanted.

    >>> from fractions import Fraction
    >>> from matside.shapes import Diamond
    >>> small = Need("d", Diamond(Fraction(7, 2), Fraction(60)), 40, "red")
    >>> reason(small, [BasketCloth("q", Fraction(15), Fraction(23), 1, "blue")], "any")
    ('no_cloth', 0)
    >>> reason(small, [BasketCloth("q", Fraction(3), Fraction(23), 1, "red")], "any")
    ('narrow', 0)
    """
    own = [cloth for cloth in cloths if cloth.count and cloth.takes(need)]
    if not own:
        return ("no_cloth" if need.fabric else "empty"), 0
    most = sum(_most(need, cloth, cloth.sides_for(need, cloth.sides(grain))) * cloth.count for cloth in own)
    if most:
        return ("too_few" if most < need.need else "together"), most
    if any(_most(need, cloth, ("length", "width")) for cloth in own):
        return "grain", 0
    wide = any(min(cloth.length, cloth.width) >= need.shape.size - HAIR for cloth in own)
    return ("short" if wide else "narrow"), 0


def _most(need: Need, cloth: BasketCloth, sides: tuple[str, ...]) -> int:
    if len(sides) > 1:
        return most_pieces(need.shape, cloth.length, cloth.width)
    return max((_along(need, cloth, side) for side in sides), default=0)


def _along(need: Need, cloth: BasketCloth, side: str) -> int:
    run, across = (cloth.length, cloth.width) if side == "length" else (cloth.width, cloth.length)
    return fits(across, need.shape.size) * pieces_in(need.shape, run)
