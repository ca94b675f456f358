"""How often the angle of a piece is to be checked while it is cut with a measure line alone."""

from fractions import Fraction

from .. import drift
from ..pieces import DEFAULT_SEAM
from ..shapes import Shape
from .cuts import following_cuts


def expected_drift(
    piece: Shape,
    placing: Fraction = drift.PLACING,
    tolerance: Fraction = drift.USUAL_TOLERANCE,
    pieces: int = drift.USUAL_ROW,
    seam: Fraction = DEFAULT_SEAM,
) -> drift.Drift:
    """The drift to expect for a piece, see `drift.expected`; its finished size is what the seams leave of it.

    >>> from matside.shapes import Diamond
    >>> expected_drift(Diamond(Fraction(8), Fraction(60))).cuts
    2
    """
    cut = following_cuts(piece)[0]
    finished = max(0.0, float(piece.size - 2 * seam))
    return drift.expected(cut.angle, cut.length, finished, placing, tolerance, pieces)
