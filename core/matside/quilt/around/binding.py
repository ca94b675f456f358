"""Binding: how wide its strips are cut, and how long they must be altogether.

Length = the way round + a tail to join the ends with + what every join of two strips takes.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from ...errors import Refusal
from ...shapes import SMALLEST
from ...strips import joined
from ...units import LONGEST, SAME

#: How often the strips of a binding are as wide as it finishes, by how it is folded.
BINDING_FOLDS = {"double": 6, "single": 4}
BINDING_GRAINS = ("straight", "bias")
JOINS = ("diagonal", "square")
#: A binding's finished width on the front, in inches. Common practice, no published source.
USUAL_BINDING = Fraction(3, 8)
#: The widest strips of a binding, in inches.
WIDEST = 12
#: Shorter ends of bias strips are not joined. Common practice, no published source.
SHORTEST_BIAS = 10.0


@dataclass(frozen=True, slots=True)
class Binding:
    """A binding: finished width on the front, folded double or single, cut straight or on the bias, lengths in inches.

    `ease` is cut on for the thickness of the layers; `tail` is kept for joining the two ends; strips are joined with a
    diagonal seam, which takes the strip's width, or a square one, which takes two seam allowances.
    """

    width: Fraction
    fold: str = "double"
    grain: str = "straight"
    ease: Fraction = Fraction(1, 4)
    tail: Fraction = Fraction(10)
    join: str = "diagonal"
    seam: Fraction = Fraction(1, 4)
    cut_width: Fraction | None = None
    fabric: int = 0

    def __post_init__(self):
        if not SMALLEST <= self.strip_width <= WIDEST:
            raise Refusal("binding", "binding_width", given=float(self.strip_width), least="¼ in", most=WIDEST)

    @property
    def strip_width(self) -> Fraction:
        """What the strips are cut to: given, or six (folded double) or four times the finished width and the ease.

        >>> Binding(Fraction(5, 16)).strip_width
        Fraction(17, 8)
        """
        return self.cut_width or BINDING_FOLDS[self.fold] * self.width + self.ease

    @property
    def join_takes(self) -> float:
        """Length that each join of two strips takes.

        Strips with squared ends lose their width in a diagonal join. Bias strips end at 45° already and lose two seam
        allowances measured along the strip, 2 · seam · √2.
        """
        if self.grain == "bias":
            return 2 * math.sqrt(2) * float(self.seam)
        return float(self.strip_width if self.join == "diagonal" else 2 * self.seam)

    def covers(self, seam: Fraction) -> Fraction:
        """How far the binding reaches over the finished edge of a quilt that has so much seam allowance left there.

        It is sewn at its own finished width from the raw edge, and folded round that.

        >>> Binding(Fraction(5, 16)).covers(Fraction(1, 4)), Binding(Fraction(5, 16)).beyond(Fraction(1, 4))
        (Fraction(1, 16), Fraction(1, 4))
        """
        return max(Fraction(0), self.width - seam)

    def beyond(self, seam: Fraction) -> Fraction:
        """How far the bound quilt reaches beyond its finished edge: to the raw edge, of which a narrower binding
        leaves only its own width.
        """
        return min(self.width, seam)

    def length(self, way_round: float) -> float:
        """Length of the joined strip: once round and the tail.

        >>> Binding(Fraction(5, 16)).length(210)
        220.0
        """
        return float(way_round) + float(self.tail)

    def strips(self, way_round: float, strip_length: float) -> int:
        """How many strips of a length make it, joins taken off; refused when a strip is shorter than a join.

        n strips joined are n · length − (n − 1) · join long. Round 47 × 58 in with 38 in strips 2⅛ in wide: 220 in are
        wanted, 6 strips make 217⅜, so it takes 7.

        >>> Binding(Fraction(5, 16)).strips(210, 38)
        7
        """
        takes = self.join_takes
        if strip_length <= takes:
            raise Refusal("binding", "binding_strip_short", given=strip_length, least=takes)
        return joined(self.length(way_round), strip_length, takes)


def bias_length(across: float, down: float, binding: Binding) -> float:
    """Length of joined bias strip that a rectangle of cloth gives, the first cut running at 45° from a corner.

    Every strip counts by the shorter of its two long edges, so far as its ends can both be cut along the grain; strips
    shorter than 10 in are left out. 0 when there is none.

    >>> round(bias_length(17, 23, Binding(Fraction(5, 16), grain="bias")), 2)
    136.32
    """
    strips = _bias_strips(across, down, float(binding.strip_width) * math.sqrt(2))
    kept = [(length, count) for length, count in strips if length >= SHORTEST_BIAS and count]
    total, count = sum(length * count for length, count in kept), sum(count for _, count in kept)
    return total - binding.join_takes * (count - 1) if count else 0.0


def _bias_strips(across: float, down: float, step: float) -> list[tuple[float, int]]:
    """Length and number of the strips between lines at 45° that lie `step` apart along the
    side, one of them in the corner.

    Between the two corners that such lines cut off all strips are as long as each other; only the
    others are gone through."""
    low, high = sorted((0.0, across - down))
    first, last = math.ceil(low / step - SAME), math.floor(high / step + SAME)
    outside = [*range(-math.ceil(down / step), first), *range(last, math.ceil(across / step))]
    found = [(min(_chord(across, down, k * step), _chord(across, down, (k + 1) * step)), 1) for k in outside]
    return [*found, (_chord(across, down, high), max(0, last - first))]


def _chord(across: float, down: float, right: float) -> float:
    """Length inside the rectangle of the line at 45° that starts `right` of the corner; 0 outside."""
    return math.sqrt(2) * max(0.0, min(across, down + right) - max(0.0, right))


def bias_depth(across: float, wanted: float, binding: Binding) -> float:
    """Length of cloth, at a usable width, that gives so much joined bias strip; to a thousandth of an inch, rounded up.

    >>> bias = Binding(Fraction(5, 16), grain="bias")
    >>> depth = bias_depth(38, 220, bias)
    >>> bias_length(38, depth, bias) >= 220 > bias_length(38, depth - 0.01, bias)
    True
    """
    low, high = 0.0, 1.0
    while bias_length(across, high, binding) < wanted:
        low, high = high, 2 * high
        if high > 2 * LONGEST:
            raise Refusal("binding", "binding_strip_short", given=across, least=SHORTEST_BIAS)
    while high - low > 0.001:
        middle = (low + high) / 2
        low, high = (low, middle) if bias_length(across, middle, binding) >= wanted else (middle, high)
    return high
