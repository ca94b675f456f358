"""A few plain rulers to start from, by measure only: everyone changes them to their own. Common practice, no
published source: a long one, a short one, a square."""

from fractions import Fraction

from .ruler import AngleLine, Ruler


def _lines(at: int, *degrees: int) -> tuple[AngleLine, ...]:
    return tuple(AngleLine(Fraction(angle), "long", Fraction(at)) for angle in degrees)


_DIAGONAL = AngleLine(Fraction(45), "long", Fraction(0), lean="right")

#: Own choice of sides, and of places for the lines.
GENERIC_RULERS: tuple[Ruler, ...] = (
    Ruler("long", Fraction(6), Fraction(24), angles=_lines(6, 30, 45, 60)),
    Ruler("short", Fraction(6), Fraction(12), angles=_lines(2, 30, 45, 60)),
    Ruler("square", Fraction(12), Fraction(12), angles=(_DIAGONAL,)),
)
