"""How the angle drifts from cut to cut, and when to check it.

Laying a ruler's line on an edge of length s puts either end of it off by about the placing error p, so one cut's angle
is off by σ ≈ √2·p/s (in radians). Where each cut is laid to the cut before it, the errors add as a random walk: after k
cuts the angle is off by σ·√k. Checking the angle by a line on the strip's own edge starts afresh."""

import math
from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..errors import Refusal
from ..units import parse_length

#: How near a line is placed to an edge with care, as most do and in a hurry, as it is said in either unit. Common
#: practice, no published source.
PLACINGS = {
    "in": {"fine": "¹⁄₆₄ in", "usual": "¹⁄₃₂ in", "rough": "¹⁄₁₆ in"},
    "cm": {"fine": "0.4 mm", "usual": "0.8 mm", "rough": "1.6 mm"},
}
#: Which of them is meant when nobody says.
USUAL_PLACING = "usual"
#: The same in inches.
PLACING = parse_length(PLACINGS["in"][USUAL_PLACING], "placing")
#: How far a sewn row may be off its length before it is a nuisance, in inches. Common practice, no published source.
USUAL_TOLERANCE = Fraction(1, 4)
#: How many pieces a row has when nobody says.
USUAL_ROW = 10
#: However small the error, the angle is looked at again after so many cuts.
MOST_CUTS = 20
#: A placing error of more than this share of the cut is no placing at all.
LARGEST_PLACING = 0.1
#: The row is to stay within the tolerance in 19 of 20 cases: 1.96 standard deviations of a normal error.
SURE = 1.96


@dataclass(frozen=True, slots=True)
class Drift:
    """What is expected before cutting: one cut's σ in degrees, the row's σ in inches, and how many cuts between checks.

    `enough` is False where even a check at every cut would not keep the row within the tolerance.
    """

    cut_error: float
    row_error: float
    cuts: int
    enough: bool


def cut_error(edge: float, placing: Fraction | float) -> float:
    """The standard deviation of one cut's angle in radians: √2 · placing / edge.

    >>> round(math.degrees(cut_error(4.6188, 1 / 64)), 2)
    0.27
    """
    return math.sqrt(2) * float(placing) / edge


def row_factor(cuts: int, pieces: int) -> float:
    """The standard deviation of the sum of a row's angle errors, in units of one cut's, checked every `cuts` cuts.

    The k-th piece after a check carries k steps of the walk. Over one stretch of N the sum's variance is
    1² + 2² + … + N² = N(N+1)(2N+1)/6, since the first step is in all N pieces and the last in one. Stretches are
    independent.

    >>> row_factor(1, 9), round(row_factor(3, 3) ** 2)
    (3.0, 14)
    """
    whole, rest = divmod(pieces, cuts)
    return math.sqrt(whole * _squares(cuts) + _squares(rest))


def expected(
    angle: Fraction, edge: float, finished: float, placing: Fraction, tolerance: Fraction, pieces: int = USUAL_ROW
) -> Drift:
    """How many cuts before the angle should be checked, so that a row of `pieces` sewn in
    the order of cutting stays in.

    A piece of finished size f whose angle is off by δ (radians) makes its row longer or shorter by f·cos θ/sin²θ·δ, the
    first-order term of f·(1/sin θ′ − 1/sin θ). At 90° that is nothing, and the most cuts are given.

    >>> expected(Fraction(60), 4.6188, 3.5, Fraction(1, 64), Fraction(1, 4)).cuts
    6
    """
    _refuse_unfit(edge, placing, tolerance)
    one = cut_error(edge, placing)
    unit = max(0.0, finished) * abs(angles.cot(angle)) / angles.sin(angle) * one
    fitting = [n for n in range(1, MOST_CUTS + 1) if SURE * unit * row_factor(n, pieces) <= tolerance]
    cuts = max(fitting, default=1)
    return Drift(math.degrees(one), unit * row_factor(cuts, pieces), cuts, bool(fitting))


def _refuse_unfit(edge: float, placing: Fraction, tolerance: Fraction) -> None:
    for field, given in (("placing", placing), ("tolerance", tolerance)):
        if given <= 0:
            raise Refusal(field, "length_not_positive", given=str(given))
    if placing > LARGEST_PLACING * edge:
        raise Refusal("placing", "placing_too_large", given=float(placing), most=round(LARGEST_PLACING * edge, 3))


def _squares(n: int) -> int:
    return n * (n + 1) * (2 * n + 1) // 6
