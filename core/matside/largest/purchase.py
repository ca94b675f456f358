"""The smallest extra cloth of one fabric with which a basket gives all that is needed of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..buying.bolt import Bolt
from ..buying.fat_quarters import FatQuarter
from ..kinds import KINDS
from ..plan.basket import BasketCloth, Need
from ..plan.meter import Work
from .trial import Trial

#: What people buy: a length off the bolt, fat quarters, ready-cut narrow strips.
SOLD = ("length", "fat_quarter", "narrow_strip")
#: Beyond so many times the area that is needed nothing is sought.
_MOST_TIMES = 8
_MORE = 12


@dataclass(frozen=True, slots=True)
class Shop:
    """Cloth as it is sold: off the bolt, by the steps in which shops measure, and as fat quarters of
    so many inches after washing.
    """

    bolt: Bolt
    quarter: FatQuarter


@dataclass(frozen=True, slots=True)
class Offer:
    """So much of a thing that is sold: `count` fat quarters or strips, or one `length` off the
    bolt, in inches as it is bought.

    `sides` are the usable length and width of each; `area` is what is bought, in square inches.
    """

    sold: str
    count: int
    length: Fraction
    width: Fraction
    sides: tuple[Fraction, Fraction]

    @property
    def area(self) -> Fraction:
        """Square inches."""
        return self.length * self.width * self.count


def offered(sold: str, number: int, shop: Shop) -> Offer:
    """The number-th smallest amount of a thing that is sold, from 1; what straightening takes
    can leave nothing usable of it.

    >>> shop = Shop(Bolt(Fraction(42)), FatQuarter(Fraction(18), Fraction(20)))
    >>> [offered(sold, 2, shop).area for sold in SOLD]
    [Fraction(378, 1), Fraction(720, 1), Fraction(210, 1)]
    """
    if sold == "length":
        bolt = shop.bolt
        bought = number * bolt.step
        usable = bought * (1 - bolt.shrink[0]) - bolt.straighten
        return Offer(sold, 1, bought, bolt.usable_width, (usable, bolt.usable_width * (1 - bolt.shrink[1])))
    if sold == "fat_quarter":
        quarter = shop.quarter
        return Offer(sold, number, quarter.length, quarter.width, (quarter.squared, quarter.width))
    sides = KINDS[sold].length, KINDS[sold].width
    return Offer(sold, number, *sides, sides)


@dataclass(frozen=True, slots=True)
class Offers:
    """The offers that will do, one of each thing that is sold, the smallest first; whether it is
    proved that none is smaller.
    """

    offers: tuple[Offer, ...]
    least: bool


class Purchase:
    """The search for it, for what is `needed` of one fabric beside its own cloths;
    resumable: `found` once `run` is over.

    Of everything that is sold the least amount with which the plan gives everything, and nothing of
    another thing beside it."""

    def __init__(self, needs: list[Need], cloths: list[BasketCloth], grain: str, shop: Shop, share: int):
        self._needs = needs
        self._cloths = cloths
        self._grain = grain
        self._shop = shop
        self._share = share
        self._sure = True
        self.steps = 0
        self.found: Offers | None = None

    def run(self) -> Iterator[None]:
        """Yields after every bit of work."""
        offers, lacking = [], (yield from self._lacking())
        for sold in SOLD:
            offers.append((yield from self._least(sold, lacking)))
        self.found = Offers(tuple(sorted(filter(None, offers), key=lambda offer: offer.area)), self._sure)

    def _lacking(self) -> Work[float]:
        """Square inches of pieces that the cloths at hand cannot give, by what is proved."""
        trial = self._trial(None)
        yield from trial.go_on(self._share)
        self.steps += trial.steps
        return trial.planner.bound()[0]

    def _least(self, sold: str, lacking: float) -> Work[Offer | None]:
        """The least amount of one thing that will do; None where none does."""
        most = self._most(sold)
        low, high = self._first(sold, lacking) - 1, None
        number = low + 1
        while high is None:
            if number > most:
                return None
            if (yield from self._does(sold, number)):
                high = number
            else:
                low, number = number, number + max(1, (number - self._first(sold, lacking)) // 2)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if (yield from self._does(sold, middle)) else (middle, high)
        return offered(sold, high, self._shop)

    def _first(self, sold: str, lacking: float) -> int:
        """The first number whose area could make up for what is lacking."""
        one = float(offered(sold, 1, self._shop).area)
        return max(1, int(lacking / one * (1 - 1e-9)))

    def _most(self, sold: str) -> int:
        area = sum(need.shape.area * need.need for need in self._needs)
        return int(_MOST_TIMES * area / float(offered(sold, 1, self._shop).area)) + _MORE

    def _does(self, sold: str, number: int) -> Work[bool]:
        offer = offered(sold, number, self._shop)
        if min(offer.sides) <= 0:
            return False
        trial = self._trial(offer)
        yield from trial.go_on(self._share)
        self.steps += trial.steps
        if trial.verdict is None:
            self._sure = False
        return bool(trial.verdict)

    def _trial(self, offer: Offer | None) -> Trial:
        """The cloths with those that are bought; a print that runs one way does so in what is bought too."""
        more = []
        if offer:
            fabric, one_way = self._needs[0].fabric, any(cloth.one_way for cloth in self._cloths)
            more = [BasketCloth(_BOUGHT, *offer.sides, offer.count, fabric, "length", one_way)]
        return Trial(self._needs, [*self._cloths, *more], self._grain)


_BOUGHT = "\0bought"
