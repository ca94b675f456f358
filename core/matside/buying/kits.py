"""Kits for a class: the same fabric for many people, and how to cut the bolt for them."""

from dataclasses import dataclass, replace
from fractions import Fraction

from ..units import SAME
from .bolt import Cloth, Cut, bought, cut_from
from .demands import Demand, Pieces, times
from .fat_quarters import FatQuarter, quarters_for
from .packing import Part, filled

WAYS = ("lengths", "strips", "pieces")
WAYS_OF_QUARTERS = ("quarters_each", "quarters_shared")


@dataclass(frozen=True, slots=True)
class Kits:
    """How many people, how many whole kits the leader keeps in reserve, and how long a bolt is (None: any length)."""

    people: int
    leader: int = 1
    bolt_length: Fraction | None = None

    @property
    def count(self) -> int:
        """Kits in all."""
        return self.people + self.leader


@dataclass(frozen=True, slots=True)
class KitWay:
    """One way of making the kits of a fabric off the bolt: the cuts in order (what, its length along the bolt, how
    often), the total, how many bolts. Or of fat quarters: how many `quarters`, and what `cannot` be cut from any.

    `bolts` is None where no bolt length is given, and 0 where not even one cut fits on a bolt.
    """

    way: str
    cuts: tuple[tuple[str, float, int], ...]
    needed: float
    buy: Fraction
    bolts: int | None
    quarters: int = 0
    cannot: tuple[str, ...] = ()


def kit_ways(demands: list[Demand], cloth: Cloth, kits: Kits) -> list[KitWay]:
    """Three ways: a length for each kit; whole strips for each kit; the pieces of all kits cut together.

    Lengths leave all the cutting to the guests; each is straightened by itself, and as long as the shop measures. In
    the other two the leader straightens once and cuts strips; cut together, the kits share strips that one kit alone
    would leave half used.

    >>> from matside.shapes import Diamond
    >>> eight = Pieces("a", Diamond(Fraction(8), Fraction(60)), 41)
    >>> [(way.way, way.needed) for way in kit_ways([eight], Cloth(Fraction(42)), Kits(3, 1))]
    [('lengths', 360.0), ('strips', 353.0), ('pieces', 329.0)]
    """
    one = cut_from(demands, cloth)
    if not one.length:
        return []
    pieces = [times(demand, kits.count) for demand in demands if isinstance(demand, Pieces)]
    others = [demand for demand in demands if not isinstance(demand, Pieces)]
    pooled = _cuts(cut_from(pieces, cloth), 1) + _cuts(cut_from(others, cloth), kits.count)
    apart, together = (
        _by_strips("strips", _cuts(one, kits.count), cloth, kits),
        _by_strips("pieces", pooled, cloth, kits),
    )
    # Many kits may be packed worse than one: then they are cut as they are apart.
    together = together if together.needed <= apart.needed else replace(apart, way="pieces")
    return [_by_lengths(one, cloth, kits), apart, together]


def quarter_ways(demands: list[Demand], quarter: FatQuarter, kits: Kits) -> list[KitWay]:
    """Two ways with fat quarters: whole ones for each kit; or the pieces of all kits cut from as few as do for them.

    What is cut from no fat quarter is left out of both, and named.

    >>> from matside.shapes import Diamond
    >>> four = Pieces("a", Diamond(Fraction(4), Fraction(60)), 17)
    >>> [way.quarters for way in quarter_ways([four], FatQuarter(Fraction(18), Fraction(20)), Kits(3, 1))]
    [8, 5]
    """
    one = quarters_for(demands, quarter)
    if not one.count:
        return []
    pooled = quarters_for([times(demand, kits.count) for demand in demands if isinstance(demand, Pieces)], quarter)
    apart = one.count * kits.count
    return [
        KitWay(way, (), 0.0, Fraction(0), None, count, one.cannot)
        for way, count in zip(WAYS_OF_QUARTERS, (apart, min(apart, pooled.count)))
    ]


def _cuts(cut: Cut, count: int) -> list[tuple[str, float, int]]:
    """The cuts across the bolt for so many kits: strips by their width, widest first, then full-width lengths."""
    widths: dict[float, int] = {}
    for strips in cut.strips:
        widths[float(strips.size)] = widths.get(float(strips.size), 0) + strips.times * count
    strips_cut = [("strip", size, many) for size, many in sorted(widths.items(), reverse=True)]
    return strips_cut + [(name, length, many * count) for name, length, many in cut.lengths]


def _by_lengths(one: Cut, cloth: Cloth, kits: Kits) -> KitWay:
    _, each = bought(one, cloth)
    total, cuts = each * kits.count, [(float(each), kits.count)]
    return KitWay("lengths", (("kit", float(each), kits.count),), float(total), total, _bolts(cuts, 0.0, kits))


def _by_strips(way: str, cuts: list[tuple[str, float, int]], cloth: Cloth, kits: Kits) -> KitWay:
    whole = [(cloth.before(length), many) for _, length, many in cuts]
    ends = cloth.before(float(cloth.straighten))
    total = sum(length * many for length, many in whole) + ends
    return KitWay(way, tuple(cuts), total, cloth.rounded(total), _bolts(whole, ends, kits))


def _bolts(cuts: list[tuple[float, int]], ends: float, kits: Kits) -> int | None:
    """How many bolts, each straightened once: the longest cuts first, each on the bolts
    already begun where they have room.

    0 where a cut is longer than a bolt.
    """
    if kits.bolt_length is None:
        return None
    usable = float(kits.bolt_length) - ends
    if max(length for length, _ in cuts) > usable + SAME:
        return 0
    return filled([Part(length, count=many) for length, many in cuts], usable)
