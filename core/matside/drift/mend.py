"""Whether an angle that is off matters in the quilt, and what it takes to put it right."""

from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..shapes import Diamond, Outline, Segment
from ..strips import StripYield, strip_yield

#: An angle error of a quarter degree moves the end of an 8-inch cut by about 1/32 in, as fine as a hand cuts.
GOOD_ANGLE = 0.25
#: Without a row to judge by, a piece is off its size when it shows: 1/16 in. Common practice, no published source.
GOOD_SIZE = 1 / 16
#: What comes to less than this in the quilt, in inches, is not worth a word. Common practice, no published source.
LEAST_SEEN = 1 / 32


def row_growth(finished: float, wanted: float | Fraction, angle: float, pieces: int) -> float:
    """How much longer a sewn row is whose pieces have `angle` instead of `wanted`, their size held, in inches.

    >>> round(row_growth(7.5, 30, 31, 5), 2)
    -2.19
    """
    return pieces * finished * (1 / angles.sin(angle) - 1 / angles.sin(wanted))


def row_shift(finished: float, wanted: float | Fraction, angle: float, rows: int) -> float:
    """How far the last of so many rows is shifted sideways, in inches.

    >>> round(row_shift(7.5, 30, 31, 5), 2)
    -2.54
    """
    return rows * finished * (angles.cot(angle) - angles.cot(wanted))


@dataclass(frozen=True, slots=True)
class Trim:
    """The sliver that sets a strip's slanted end right, in inches; the last cut's near end is the origin.

    `along` is its side on the strip's edge (`widest_at` "near_edge" or "far_edge") and the length that it costs there;
    `widest` is how wide it is across; `sliver` its corners and `cut` the new cut, in right-handed strip coordinates.
    """

    along: float
    widest: float
    widest_at: str
    sliver: Outline
    cut: Segment


def trim(piece: Diamond, angle: float) -> Trim | None:
    """What to trim at the next starter cut when the last cut leans at `angle`; None where there is nothing.

    >>> found = trim(Diamond(Fraction(27, 8), Fraction(52)), 51.0)
    >>> round(found.along, 3), found.widest_at
    (0.096, 'near_edge')
    >>> trim(Diamond(Fraction(27, 8), Fraction(52)), 52.0) is None
    True
    """
    high = float(piece.size)
    old, new = high * angles.cot(angle), piece.starter_waste
    along = abs(old - new)
    if along < 1e-9:
        return None
    near = max(0.0, old - new)
    far = near + new
    corner = (near, 0.0) if near else (far, high)
    cut = ((near, 0.0), (far, high))
    widest_at = "near_edge" if near else "far_edge"
    return Trim(along, along * angles.sin(piece.angle), widest_at, ((0.0, 0.0), corner, (old, high)), cut)


def after_trim(piece: Diamond, angle: float, length_left: Fraction | float) -> StripYield:
    """What the rest of the strip gives once it is trimmed; `length_left` runs along the near edge from the last cut.

    >>> strip = Diamond(Fraction(27, 8), Fraction(52))
    >>> [after_trim(strip, angle, 15.5).pieces for angle in (51.0, 52.0, 53.0)]
    [2, 3, 3]
    """
    lost = max(0.0, float(piece.size) * angles.cot(angle) - piece.starter_waste)
    return strip_yield(piece, max(0.0, float(length_left) - lost))
