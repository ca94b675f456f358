"""The sheets of paper that are printed on, and what stands on every one of them: margins and bars to measure.

A4 is 210 × 297 mm (ISO 216), letter 8.5 × 11 in (ASME Y14.1, size A). Sides in inches, exact.
"""

from dataclasses import dataclass
from fractions import Fraction

from ..shapes import Point
from ..units import CENTIMETER


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, upright."""

    code: str
    width: Fraction
    height: Fraction


_A4 = Paper("a4", 21 * CENTIMETER, Fraction(297, 10) * CENTIMETER)
_LETTER = Paper("letter", Fraction(17, 2), Fraction(11))
PAPERS = {paper.code: paper for paper in (_A4, _LETTER)}
#: What no printer that is met at home prints on, and a little more, in inches. Common practice, no published source.
MARGIN = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar of a known length to hold a ruler against: 100 mm or 4 in, with a tick at every step."""

    code: str
    length: float
    steps: int

    def ticks(self, start: Point, down: bool) -> list[Point]:
        """Where its ticks are, from the one end to the other, right or down from `start`."""
        x, y = start
        ways = [self.length * k / self.steps for k in range(self.steps + 1)]
        return [(x, y + way) if down else (x + way, y) for way in ways]


#: The same on every sheet, each way: a printer may scale the two ways unlike.
BARS = (Bar("bar_mm", float(10 * CENTIMETER), 10), Bar("bar_in", 4.0, 4))
