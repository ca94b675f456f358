"""The two-mark way: no angle line at all, only the ruler's ticks along the strip's two edges.

Marks at h·cot θ from one another across the strip, then every h/sin θ along both edges, joined by the ruler's edge.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from ..drift import GOOD_ANGLE
from .cuts import Cut
from .ruler import Ruler
from .way import Rounded, TwoMarks


def rounded(exact: float, tick: Fraction) -> Rounded:
    """A distance and its nearest tick.

    >>> rounded(2.3094, Fraction(1, 16)).nearest
    Fraction(37, 16)
    """
    return Rounded(exact, tick * round(Fraction(exact) / tick), tick)


def two_mark_numbers(cut: Cut, steps: tuple[float, float], rulers: Sequence[Ruler]) -> TwoMarks | None:
    """What to mark for a cut, and what the rounding does to the angle; None without a ruler.

    `steps` are the distances from mark to mark along the two edges, which change places where the cuts
    lean by turns. Where the rounding does too much, `halved` holds the same for marks halfway between two
    ticks, which an eye can find."""
    if not rulers:
        return None
    ruler = min(rulers, key=lambda ruler: (ruler.tick, -ruler.length))
    found = _numbers(cut, steps, ruler.name, ruler.tick)
    return found if found.good_enough else replace(found, halved=_numbers(cut, steps, ruler.name, ruler.tick / 2))


def _numbers(cut: Cut, steps: tuple[float, float], ruler: str, tick: Fraction) -> TwoMarks:
    short, long = (rounded(step, tick) for step in sorted(steps))
    offset = rounded(abs(cut.slant), tick)
    wanted = math.atan2(cut.width, offset.exact)
    error = abs(math.degrees(math.atan2(cut.width, float(offset.nearest)) - wanted))
    return TwoMarks(ruler, offset, long, tick, error, error <= GOOD_ANGLE, short=short)
