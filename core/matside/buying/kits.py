"""Kits for a class: the same fabric for many people, and how to cut the bolt for them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..units import SAME
from .bolt import Bolt, BoltCuts, bought, cut_from
from .demands import Demand, Pieces, times
from .fat_quarters import FatQuarter, quarters_for
from .packing import Lot, filled

WAYS = ("lengths", "strips", "pieces")
WAYS_OF_QUARTERS = ("quarters_each", "quarters_shared")


@dataclass(frozen=True, slots=True)
class OtherSize:
    """So many people who make the quilt in another size."""

    name: str
    people: int


@dataclass(frozen=True, slots=True)
class Kits:
    """How many people, how many whole kits the leader keeps in reserve, and how long a bolt is (None: any length).

    `sizes` are those of others in the same class, each with its people; the kits in reserve are of the first size.
    """

    people: int
    leader: int = 1
    bolt_length: Fraction | None = None
    sizes: tuple[OtherSize, ...] = ()

    @property
    def count(self) -> int:
        """Kits of the first size."""
        return self.people + self.leader

    @property
    def all(self) -> int:
        """Kits of all sizes."""
        return self.count + sum(size.people for size in self.sizes)


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


#: What kits of one size want of a fabric, and how many there are.
KitsOfSize = tuple[list[Demand], int]


def groups_of(demands: list[Demand], others: Sequence[Sequence[Demand]], kits: Kits) -> list[KitsOfSize]:
    """The kits by their size: those of the first, then those of each other size."""
    sizes = [(list(other), size.people) for other, size in zip(others, kits.sizes, strict=True)]
    return [(list(demands), kits.count), *sizes]


def kit_ways(groups: list[KitsOfSize], bolt: Bolt, kits: Kits) -> list[KitWay]:
    """Three ways: a length for each kit; whole strips for each kit; the pieces of all kits cut together.

    Lengths leave all the cutting to the guests; each is straightened by itself, and as long as the shop measures. In
    the other two the leader straightens once and cuts strips; cut together, the kits share strips that one kit alone
    would leave half used.

    >>> from matside.shapes import Diamond
    >>> wanted = Pieces("a", Diamond(Fraction(27, 8), Fraction(52)), 41)
    >>> [(way.way, way.needed) for way in kit_ways([([wanted], 4)], Bolt(Fraction(38)), Kits(3, 1))]
    [('lengths', 90.0), ('strips', 82.0), ('pieces', 71.875)]
    """
    cut = [(one, count) for one, count in ((cut_from(demands, bolt), count) for demands, count in groups) if one.length]
    if not cut:
        return []
    pieces = [times(demand, count) for demands, count in groups for demand in demands if isinstance(demand, Pieces)]
    others = [([d for d in demands if not isinstance(d, Pieces)], count) for demands, count in groups]
    pooled = _cuts([(cut_from(pieces, bolt), 1), *((cut_from(demands, bolt), count) for demands, count in others)])
    apart, together = (_by_strips("strips", _cuts(cut), bolt, kits), _by_strips("pieces", pooled, bolt, kits))
    # Many kits may be packed worse than one: then they are cut as they are apart.
    together = together if together.needed <= apart.needed else replace(apart, way="pieces")
    return [_by_lengths(cut, bolt, kits), apart, together]


def quarter_ways(groups: list[KitsOfSize], quarter: FatQuarter, kits: Kits) -> list[KitWay]:
    """Two ways with fat quarters: whole ones for each kit; or the pieces of all kits cut from as few as do for them.

    What is cut from no fat quarter is left out of both, and named.

    >>> from matside.shapes import Diamond
    >>> wanted = Pieces("a", Diamond(Fraction(27, 8), Fraction(52)), 41)
    >>> [way.quarters for way in quarter_ways([([wanted], 4)], FatQuarter(Fraction(17), Fraction(21)), Kits(3, 1))]
    [12, 9]
    """
    each = [(quarters_for(demands, quarter), count) for demands, count in groups]
    apart = sum(one.count * count for one, count in each)
    if not apart:
        return []
    pieces = [times(demand, count) for demands, count in groups for demand in demands if isinstance(demand, Pieces)]
    together = min(apart, quarters_for(pieces, quarter).count)
    cannot = tuple(dict.fromkeys(name for one, _ in each for name in one.cannot))
    return [
        KitWay(way, (), 0.0, Fraction(0), None, count, cannot)
        for way, count in zip(WAYS_OF_QUARTERS, (apart, together), strict=True)
    ]


def _cuts(cut: list[tuple[BoltCuts, int]]) -> list[tuple[str, float, int]]:
    """The cuts across the bolt for so many kits of each cut: strips by their width, widest first, then full-width
    lengths.
    """
    widths: dict[float, int] = {}
    lengths: dict[tuple[str, float], int] = {}
    for one, count in cut:
        for strips in one.strips:
            widths[float(strips.size)] = widths.get(float(strips.size), 0) + strips.times * count
        for name, length, many in one.lengths:
            lengths[name, length] = lengths.get((name, length), 0) + many * count
    strips_cut = [("strip", size, many) for size, many in sorted(widths.items(), reverse=True)]
    return strips_cut + [(name, length, many) for (name, length), many in lengths.items()]


def _by_lengths(cut: list[tuple[BoltCuts, int]], bolt: Bolt, kits: Kits) -> KitWay:
    each = [(bought(one, bolt)[1], count) for one, count in cut]
    total = Fraction(sum(length * count for length, count in each))
    cuts = tuple(("kit", float(length), count) for length, count in each)
    bolts = _bolts([(float(length), count) for length, count in each], 0.0, kits)
    return KitWay("lengths", cuts, float(total), total, bolts)


def _by_strips(way: str, cuts: list[tuple[str, float, int]], bolt: Bolt, kits: Kits) -> KitWay:
    whole = [(bolt.before(length), many) for _, length, many in cuts]
    ends = bolt.before(float(bolt.straighten))
    total = sum(length * many for length, many in whole) + ends
    return KitWay(way, tuple(cuts), total, bolt.rounded(total), _bolts(whole, ends, kits))


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
    return filled([Lot(length, count=many) for length, many in cuts], usable)
