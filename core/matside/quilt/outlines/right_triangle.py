"""The right-angled triangle that fills a corner: a quarter of a diamond, or half of a rectangle.

It is cut in pairs: a rectangle of its two legs, cut once from corner to corner, gives two alike. The mirrored pair
comes from a rectangle cut along its other diagonal.
"""

import math
from dataclasses import dataclass

from ...errors import Refusal
from ...shapes import Outline


@dataclass(frozen=True, slots=True)
class RightTriangle:
    """A right-angled triangle by its legs, in inches: `across` (left to right) and `down`.

    >>> RightTriangle(3.0, 4.0).area
    6.0
    """

    across: float
    down: float

    def __post_init__(self):
        for name, leg in (("across", self.across), ("down", self.down)):
            if not (math.isfinite(leg) and leg > 0):
                raise Refusal(name, "length_not_positive", given=str(leg))

    @property
    def area(self) -> float:
        """Half the product of the legs, in square inches."""
        return self.across * self.down / 2

    @property
    def long_edge(self) -> float:
        """The edge opposite the right angle."""
        return math.hypot(self.across, self.down)

    def outline(self) -> Outline:
        """Corners, the right angle at (0, 0)."""
        return ((0.0, 0.0), (self.across, 0.0), (0.0, self.down))

    def with_seam(self, seam: float) -> "RightTriangle":
        """The triangle as cut: every side moved outward by the seam allowance.

        The triangle grows about the centre of its inscribed circle, radius (legs − long edge) / 2. A half-square
        triangle at ¼ in grows by 0.8536 in (the custom is ⅞).

        >>> round(RightTriangle(3.0, 3.0).with_seam(0.25).across, 4)
        3.8536
        """
        factor = 1 + 2 * seam / (self.across + self.down - self.long_edge)
        return RightTriangle(self.across * factor, self.down * factor)
