"""A few rulers to start from, by measure only: what lies in many sewing rooms. Common practice, no published source."""

from fractions import Fraction

from .ruler import AngleLine, Ruler


def _lines(at: int, *degrees: int) -> tuple[AngleLine, ...]:
    return tuple(AngleLine(Fraction(angle), "long", Fraction(at)) for angle in degrees)


def _square(name: str, side: Fraction) -> Ruler:
    diagonal = AngleLine(Fraction(45), "long", Fraction(0), lean="right")
    return Ruler(name, side, side, angles=(diagonal,))


#: Own choice of places for the lines; everyone changes them to what their ruler shows.
GENERIC_RULERS: tuple[Ruler, ...] = (
    Ruler("6 × 24", Fraction(6), Fraction(24), angles=_lines(6, 30, 45, 60)),
    Ruler("6 × 12", Fraction(6), Fraction(12), angles=_lines(2, 30, 45, 60)),
    Ruler("8½ × 24", Fraction(17, 2), Fraction(24), angles=_lines(6, 30, 45, 60)),
    _square("12½ square", Fraction(25, 2)),
    _square("15 square", Fraction(15)),
    Ruler("3½ × 12", Fraction(7, 2), Fraction(12)),
)
