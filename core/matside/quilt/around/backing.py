"""Backing and batting: what lies under the quilt, with an overlap all round."""

from dataclasses import dataclass
from fractions import Fraction

from ...errors import Refusal
from ...kinds import USUAL_WIDTH
from ...strips import joined

#: How far backing and batting reach over the quilt on every side, in inches. Common practice, no published source.
USUAL_OVERLAP = Fraction(4)


@dataclass(frozen=True, slots=True)
class Backing:
    """The backing's cloth: usable width, overlap on every side, seam allowance of the joins; inches.

    The allowance of ½ in is wider than in patchwork, so that the selvages can be trimmed. Common practice, no published
    source.
    """

    usable_width: Fraction = USUAL_WIDTH
    overlap: Fraction = USUAL_OVERLAP
    seam: Fraction = Fraction(1, 2)
    fabric: int = 0


@dataclass(frozen=True, slots=True)
class Panels:
    """Panels side by side: how many, how long each is cut, and which way they run ("down" the quilt or "across" it)."""

    run: str
    panels: int
    panel_length: float

    @property
    def length(self) -> float:
        """Length off the bolt for all of them."""
        return self.panels * self.panel_length


def panels(width: float, height: float, backing: Backing) -> tuple[Panels, Panels]:
    """The panels either way for a quilt of a finished size, the way with less cloth first (down, among equals).

    n panels joined are n · usable width − (n − 1) · 2 seams wide.

    >>> best, other = panels(50, 65, Backing())
    >>> best.run, best.panels, best.length, other.length
    ('across', 2, 116.0, 146.0)
    """
    wide, high = width + 2 * float(backing.overlap), height + 2 * float(backing.overlap)
    ways = (Panels("down", _joined(wide, backing), high), Panels("across", _joined(high, backing), wide))
    return tuple(sorted(ways, key=lambda way: way.length))


def _joined(wanted: float, backing: Backing) -> int:
    takes = 2 * float(backing.seam)
    if backing.usable_width <= takes:
        raise Refusal("backing.usable_width", "backing_narrow", given=float(backing.usable_width))
    return joined(wanted, float(backing.usable_width), takes)
