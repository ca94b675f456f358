"""What a plan is asked for: pieces that are needed, and cloths in the basket."""

from dataclasses import dataclass
from fractions import Fraction

from ..cloth import OTHER
from ..shapes import Shape

#: Sides that strips may run along, by what the user asks of the grain.
GRAINS = ("any", "lengthwise", "crosswise")


@dataclass(frozen=True, slots=True)
class Need:
    """Pieces of one kind: how many, of which fabric (None: of any), and on which grain their strips are to run."""

    id: str
    shape: Shape
    need: int
    fabric: str | None = None
    grain: str = "any"


@dataclass(frozen=True, slots=True)
class BasketCloth:
    """Cloths that are alike: how many, their usable sides in inches, fabric, the side along
    the selvage, and one-way print.

    A one-way print is taken to run along the selvage, or along the length where nobody knows the selvage. All pieces
    are to lie one way on it, so its strips run along that side only.
    """

    id: str
    length: Fraction
    width: Fraction
    count: int
    fabric: str | None = None
    selvage: str | None = None
    one_way: bool = False

    def takes(self, need: Need) -> bool:
        """Whether the pieces may be cut from it: those without a fabric from any cloth, the others from their own."""
        return need.fabric is None or need.fabric == self.fabric

    def sides_for(self, need: Need, sides: tuple[str, ...]) -> tuple[str, ...]:
        """Those of some sides that strips of a need may run along."""
        if need.grain == "any":
            return sides
        own = self.sides(need.grain)
        return tuple(side for side in sides if side in own)

    def sides(self, grain: str) -> tuple[str, ...]:
        """The sides that its strips may run along. A cloth of unknown selvage gives no strips of a known grain.

        >>> BasketCloth("a", Fraction(15), Fraction(23), 1, selvage="length").sides("crosswise")
        ('width',)
        """
        lengthwise = self.selvage or ("length" if grain == "any" else None)
        if self.one_way:
            return (lengthwise,) if lengthwise and grain != "crosswise" else ()
        if grain == "any":
            return ("length", "width")
        if lengthwise is None:
            return ()
        return (lengthwise,) if grain == "lengthwise" else (OTHER[lengthwise],)
