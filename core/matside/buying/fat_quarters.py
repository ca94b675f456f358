"""The same wanted pieces from fat quarters."""

from dataclasses import dataclass

from ..strips import pieces_in
from ..units import SAME
from .demands import Demand, Pieces
from .packing import Part, filled

ALONG = ("length", "width")


@dataclass(frozen=True, slots=True)
class FatQuarter:
    """Usable sides in inches, after washing: `length` along the selvage, `width` across it."""

    length: float
    width: float

    def sides(self, along: str) -> tuple[float, float]:
        """How long a strip is that runs along a side, and how much room its neighbours have."""
        return (self.length, self.width) if along == "length" else (self.width, self.length)


@dataclass(frozen=True, slots=True)
class Quarters:
    """How many fat quarters; along which side the strips of each kind run; what cannot be cut from them."""

    count: int
    along: dict[str, str]
    cannot: tuple[str, ...]


def quarters_for(demands: list[Demand], quarter: FatQuarter) -> Quarters:
    """Fat quarters for all pieces, each cut into strips that run one way.

    Tried are all strips along the length, all along the width, and each kind the way that takes less cloth; strips fill the fat
    quarters widest first. A plan over the real basket can find better mixtures. Only pieces are counted: backings and bindings
    are not cut from fat quarters, nor is what is longer than their sides.

    >>> from fractions import Fraction
    >>> from matside.shapes import Diamond
    >>> four = Pieces("a", Diamond(Fraction(4), Fraction(60)), 15)
    >>> quarters_for([four], FatQuarter(18, 20)).count, quarters_for([four], FatQuarter(18, 20)).along
    (1, {'a': 'length'})
    """
    pieces = [demand for demand in demands if isinstance(demand, Pieces) and demand.need]
    cannot = [d.id for d in demands if not isinstance(d, Pieces) or not _ways(d, quarter)]
    fitting = [demand for demand in pieces if _ways(demand, quarter)]
    tried = [_tried(fitting, quarter, preferred) for preferred in (*ALONG, None)]
    count, along = min(tried, key=lambda one: one[0])
    return Quarters(count, along, tuple(cannot))


def _ways(demand: Pieces, quarter: FatQuarter) -> list[str]:
    """Along which sides a strip gives at least one piece."""
    sides = ((along, *quarter.sides(along)) for along in ALONG)
    return [along for along, run, room in sides if demand.shape.size <= room + SAME and pieces_in(demand.shape, run)]


def _tried(demands: list[Pieces], quarter: FatQuarter, preferred: str | None) -> tuple[int, dict[str, str]]:
    along = {demand.id: _way(demand, quarter, preferred) for demand in demands}
    count = 0
    for side in ALONG:
        run, room = quarter.sides(side)
        strips = [Part(float(d.shape.size), count=_strips(d, run)) for d in demands if along[d.id] == side]
        count += filled(strips, room)
    return count, along


def _way(demand: Pieces, quarter: FatQuarter, preferred: str | None) -> str:
    ways = _ways(demand, quarter)
    if preferred in ways:
        return preferred
    return min(ways, key=lambda along: _strips(demand, quarter.sides(along)[0]) / _room(demand, quarter, along))


def _room(demand: Pieces, quarter: FatQuarter, along: str) -> int:
    """How many of a kind's strips one fat quarter holds."""
    return int((quarter.sides(along)[1] + SAME) // float(demand.shape.size))


def _strips(demand: Pieces, run: float) -> int:
    return -(-demand.need // pieces_in(demand.shape, run))
