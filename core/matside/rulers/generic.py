"""A few plain rulers to start from, by measure only: everyone changes them to their own. Common practice, no
published source: a long one, a short one, a square; where people measure in centimeters, with millimeters on them."""

from fractions import Fraction

from .ruler import AngleLine, Ruler

_CM = Fraction(50, 127)  # in inches


def _lines(at: Fraction, *degrees: int) -> tuple[AngleLine, ...]:
    return tuple(AngleLine(Fraction(angle), "long", at) for angle in degrees)


_DIAGONAL = AngleLine(Fraction(45), "long", Fraction(0), lean="right")

#: Own choice of sides, and of places for the lines.
GENERIC_RULERS: tuple[Ruler, ...] = (
    Ruler("long", Fraction(6), Fraction(24), angles=_lines(Fraction(6), 30, 45, 60)),
    Ruler("short", Fraction(6), Fraction(12), angles=_lines(Fraction(2), 30, 45, 60)),
    Ruler("square", Fraction(12), Fraction(12), angles=(_DIAGONAL,)),
)
#: The same where a ruler has millimeters.
METRIC_RULERS: tuple[Ruler, ...] = (
    Ruler("long", 15 * _CM, 60 * _CM, _CM / 10, _lines(15 * _CM, 30, 45, 60)),
    Ruler("short", 15 * _CM, 30 * _CM, _CM / 10, _lines(5 * _CM, 30, 45, 60)),
    Ruler("square", 30 * _CM, 30 * _CM, _CM / 10, (_DIAGONAL,)),
)
