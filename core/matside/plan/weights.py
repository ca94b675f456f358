"""Areas as whole numbers, so that plans of equal area compare as equal.

The area of a slanted piece is irrational and a float of it is a hair off: nine 1 in diamonds would not weigh the same
as one of 3 in. Areas whose ratio is a plain fraction are therefore given one common unit, and every area becomes a
whole number of a very small quantum. They are floats that hold whole numbers: as fast as floats, as exact as integers.
"""

from fractions import Fraction
from math import lcm

#: All pieces together weigh at most about this much, so that sums and comparisons of weights stay exact in a float.
HEAVIEST = 2.0**46
#: Ratios of areas are recognised up to this denominator: a tie takes at least as many pieces as the denominator.
_MOST_PARTS = 1000
_LARGEST_COMMON = 2**16
_NOISE = 1e-12


def weights(areas: list[float], needs: list[int]) -> list[float]:
    """A whole-number weight for each area, in proportion; equal sums of like areas have equal weights.

    >>> one, nine = weights([1 / 3**0.5, 9 / 3**0.5], [9, 1])
    >>> 9 * one == nine
    True
    """
    quantum = sum(area * max(1, need) for area, need in zip(areas, needs)) / HEAVIEST
    groups: list[_Group] = []
    for area in areas:
        if not any(group.takes(area) for group in groups):
            groups.append(_Group(area))
    found = {area: weight for group in groups for area, weight in group.weights(quantum)}
    return [found[area] for area in areas]


class _Group:
    """Areas that are plain multiples of one unit."""

    def __init__(self, area: float):
        self.first = area
        self.common = 1
        self.ratios = {area: Fraction(1)}

    def takes(self, area: float) -> bool:
        """Whether the area belongs to the group, which then holds it."""
        ratio = Fraction(area / self.first).limit_denominator(_MOST_PARTS)
        common = lcm(self.common, ratio.denominator)
        if abs(float(ratio) * self.first - area) > _NOISE * area or common > _LARGEST_COMMON:
            return False
        self.common = common
        self.ratios[area] = ratio
        return True

    def weights(self, quantum: float):
        unit = max(1, round(self.first / self.common / quantum))
        return [(area, float(ratio * self.common * unit)) for area, ratio in self.ratios.items()]
