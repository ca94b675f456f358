"""The same wanted pieces from fat quarters, as many as the plan for a basket of them opens."""

from dataclasses import dataclass
from fractions import Fraction

from ..cloth import fits
from ..plan.basket import BasketCloth, Need
from ..plan.planning import Planner
from ..strips import pieces_in
from ..units import SAME
from .demands import Demand, Lengths, Pieces
from .packing import Lot, filled

ALONG = ("length", "width")
#: Steps of the plan's search: more find fewer fat quarters in less than one list of a hundred.
_WORK = 100_000


@dataclass(frozen=True, slots=True)
class FatQuarter:
    """Usable sides in inches, after washing: `length` along the selvage, `width` across it; `square`
    is taken off the length first.

    >>> FatQuarter(Fraction(18), Fraction(20), Fraction(1, 2)).squared
    Fraction(35, 2)
    """

    length: Fraction
    width: Fraction
    square: Fraction = Fraction(0)

    @property
    def squared(self) -> Fraction:
        """What squaring leaves of the length."""
        return self.length - self.square

    def sides(self, along: str) -> tuple[Fraction, Fraction]:
        """How long a strip is that runs along a side, and how much room its neighbours have."""
        return (self.squared, self.width) if along == "length" else (self.width, self.squared)


@dataclass(frozen=True, slots=True)
class Quarters:
    """How many fat quarters, what cannot be cut from them, and whether it is `proven` that no plan does with fewer."""

    count: int
    cannot: tuple[str, ...]
    proven: bool


def quarters_for(demands: list[Demand], quarter: FatQuarter) -> Quarters:
    """Fat quarters for all pieces, as many as the plan opens of a basket with enough of them; always enough.

    Only pieces are counted: backings and bindings are not cut from fat quarters, nor is
    what is longer than their sides.

    >>> from matside.shapes import Diamond
    >>> four = Pieces("a", Diamond(Fraction(4), Fraction(60)), 16)
    >>> quarters_for([four], FatQuarter(Fraction(18), Fraction(20)))
    Quarters(count=2, cannot=(), proven=True)
    """
    wanted = [demand for demand in demands if _is_wanted(demand)]
    fitting = [demand for demand in wanted if isinstance(demand, Pieces) and _ways(demand, quarter)]
    cannot = tuple(demand.id for demand in wanted if demand not in fitting)
    fitting.sort(key=lambda d: (d.shape.size, d.shape.starter_waste, d.shape.advance, d.need))
    count, proven = _fewest(fitting, quarter) if fitting else (0, True)
    return Quarters(count, cannot, proven)


def _is_wanted(demand: Demand) -> bool:
    return bool(demand.need if isinstance(demand, Pieces) else demand.times if isinstance(demand, Lengths) else True)


def _fewest(demands: list[Pieces], quarter: FatQuarter) -> tuple[int, bool]:
    """As few as the plan's search soon finds, and whether they are proved the fewest; where it
    makes less than all, enough.
    """
    enough = _enough(demands, quarter)
    # Ids may be given twice: the needs go by number.
    needs = [Need(str(number), demand.shape, demand.need) for number, demand in enumerate(demands)]
    planner = Planner(needs, [BasketCloth("fat_quarter", quarter.squared, quarter.width, enough)], "any", _WORK)
    for _ in planner.run():
        # The fewest strips, which a plan looks for after that, are of no use here.
        if planner.proven:
            break
    missing, opened = planner.reached()
    if missing:
        return enough, False
    return round(opened / float(quarter.squared * quarter.width)), planner.proven


def _ways(demand: Pieces, quarter: FatQuarter) -> list[str]:
    """Along which sides a strip gives at least one piece."""
    sides = ((along, *quarter.sides(along)) for along in ALONG)
    return [along for along, run, room in sides if demand.shape.size <= room + SAME and pieces_in(demand.shape, run)]


def _enough(demands: list[Pieces], quarter: FatQuarter) -> int:
    """How many are enough where each is cut into strips that run one way.

    Tried are all strips along the length, all along the width, and each kind the way that takes less cloth; strips fill
    the fat quarters widest first."""
    return min(_tried(demands, quarter, preferred) for preferred in (*ALONG, None))


def _tried(demands: list[Pieces], quarter: FatQuarter, preferred: str | None) -> int:
    ways = [_way(demand, quarter, preferred) for demand in demands]
    count = 0
    for side in ALONG:
        run, room = quarter.sides(side)
        strips = [
            Lot(float(d.shape.size), _strips(d, run)) for d, along in zip(demands, ways, strict=True) if along == side
        ]
        count += filled(strips, float(room))
    return count


def _way(demand: Pieces, quarter: FatQuarter, preferred: str | None) -> str:
    ways = _ways(demand, quarter)
    if preferred in ways:
        return preferred
    return min(ways, key=lambda along: _strips(demand, quarter.sides(along)[0]) / _room(demand, quarter, along))


def _room(demand: Pieces, quarter: FatQuarter, along: str) -> int:
    """How many of a kind's strips one fat quarter holds."""
    return fits(quarter.sides(along)[1], demand.shape.size)


def _strips(demand: Pieces, run: Fraction) -> int:
    return -(-demand.need // pieces_in(demand.shape, run))
