"""How long the cutting takes at a given pace."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from .strips import Strip

#: Seconds to square up, measure and cut a strip. Common practice, no published source: change it to your own.
STRIP_SECONDS = Fraction(60)
#: Pieces a minute where nobody has measured: one in ten seconds. Common practice, no published source.
USUAL_PACE = Fraction(6)


@dataclass(frozen=True, slots=True)
class Pace:
    """Pieces a minute, and seconds for a strip."""

    pieces: Fraction = USUAL_PACE
    strip_seconds: Fraction = STRIP_SECONDS


def minutes(strips: Sequence[Strip], pace: Pace) -> int:
    """Whole minutes for cutting these strips and the pieces from them.

    >>> minutes([Strip("a", Fraction(27, 8), (("d", 8),))] * 3, Pace(Fraction(6), Fraction(60)))
    7
    """
    pieces = sum(count for strip in strips for _, count in strip.gives)
    return math.ceil(pieces / pace.pieces + len(strips) * pace.strip_seconds / 60)
