"""How many pieces a strip gives, and how near it comes to one more.

pieces = ⌊(L − starter waste) / advance⌋ for a strip of usable length L. Layers count each by its own length.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from .shapes import Shape
from .units import SAME


@dataclass(frozen=True, slots=True)
class StripYield:
    """What one layer of a strip gives; lengths in inches along the strip's edge.

    `left_over` is what remains after the last cut (after the starter cut when there is no piece, or the whole strip
    when even that does not fit); `short_by` is the extra length that would give one piece more, never 0.
    """

    pieces: int
    advance: float
    starter_waste: float
    left_over: float
    short_by: float


def strip_yield(shape: Shape, length: Fraction | float) -> StripYield:
    """What one layer of a strip of the given usable length gives.

    >>> from matside.shapes import Diamond
    >>> strip_yield(Diamond(Fraction(7, 2), Fraction(60)), Fraction(42)).pieces
    9
    >>> found = strip_yield(Diamond(Fraction(13, 2), Fraction(60)), Fraction(41))
    >>> found.pieces, round(found.short_by, 3)
    (4, 0.281)
    """
    waste, advance = shape.starter_waste, shape.advance
    usable = float(length) - waste
    # A strip that is exactly long enough holds its last piece, whatever the last binary digit says.
    pieces = max(0, math.floor((usable + SAME) / advance))
    rest = usable - pieces * advance
    return StripYield(pieces, advance, waste, _left_over(rest, float(length)), advance - rest)


def pieces_in(shape: Shape, length: Fraction | float) -> int:
    """Just the number of pieces of one layer; 0 when the strip is too short or there is no length at all."""
    return max(0, math.floor((float(length) - shape.starter_waste + SAME) / shape.advance))


def needed_length(shape: Shape, pieces: int) -> float:
    """The length of strip that gives so many pieces; 0 for none.

    >>> from matside.shapes import Rectangle
    >>> needed_length(Rectangle(Fraction(2), Fraction(5)), 3)
    15.0
    """
    return shape.starter_waste + pieces * shape.advance if pieces else 0.0


def joined(wanted: float, run: float, takes: float) -> int:
    """How many strips of a length, joined end to end, make the length that is wanted; never none.

    n strips joined are n · run − (n − 1) · takes long, as each join `takes` less than a strip's length.

    >>> joined(200, 42, 2), joined(203, 42, 2), joined(0, 42, 2)
    (5, 6, 1)
    """
    return max(1, math.ceil((wanted - takes) / (run - takes) - SAME))


def _left_over(rest: float, length: float) -> float:
    if rest < -SAME:
        return length
    return max(0.0, rest)
