"""Usual sizes to start from. All of them are there to be changed.

No published standard for beds and quilts was found, and what is printed disagrees: common practice, no published
source. None is for the inside of a crib: anything loose in there is a danger to an infant.
"""

from dataclasses import dataclass
from fractions import Fraction

#: How far a bed's quilt hangs down at both sides and at the foot unless another drop is wanted, in inches.
DEFAULT_DROP = Fraction(12)


@dataclass(frozen=True, slots=True)
class UsualSize:
    """A size by its code, in inches; `bed` says that it is a mattress, over which a quilt hangs down."""

    code: str
    width: Fraction
    height: Fraction
    source: str = "common_practice"
    bed: bool = False

    def with_drop(self, drop: Fraction) -> tuple[Fraction, Fraction]:
        """Width and height of the quilt: for a bed with the drop at both sides and at the foot.

        >>> SIZES["twin"].with_drop(Fraction(12))
        (Fraction(62, 1), Fraction(87, 1))
        """
        return (self.width + 2 * drop, self.height + drop) if self.bed else (self.width, self.height)


_ALL = (
    UsualSize("wall", Fraction(36), Fraction(36)),
    UsualSize("baby", Fraction(36), Fraction(52)),
    UsualSize("lap", Fraction(50), Fraction(65)),
    UsualSize("twin", Fraction(38), Fraction(75), bed=True),
    UsualSize("full", Fraction(54), Fraction(75), bed=True),
    UsualSize("queen", Fraction(60), Fraction(80), bed=True),
    UsualSize("king", Fraction(76), Fraction(80), bed=True),
)
SIZES: dict[str, UsualSize] = {size.code: size for size in _ALL}
#: What sizes were called in requests before.
OLD_NAMES = {"crib": "baby"}
