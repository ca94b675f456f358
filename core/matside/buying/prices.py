"""What is bought costs so much, what of it has no price, and what the prices leave out."""

from dataclasses import dataclass
from fractions import Fraction

from ..units import CENTIMETER

SOLD = ("bolt", "fat_quarter")
PRICED_BY = {"yd": Fraction(36), "m": 100 * CENTIMETER, "fat_quarter": None}


@dataclass(frozen=True, slots=True)
class Price:
    """What a fabric costs, by the yard, the metre or the fat quarter."""

    each: Fraction
    by: str

    @property
    def sold(self) -> str:
        """How the fabric is sold that it is the price of.

        >>> Price(Fraction(3), "m").sold
        'bolt'
        """
        return "fat_quarter" if PRICED_BY[self.by] is None else "bolt"

    def of(self, length: Fraction, quarters: int) -> Fraction:
        """The price of a length off the bolt, or of so many fat quarters."""
        per = PRICED_BY[self.by]
        return self.each * (quarters if per is None else length / per)


def sold_by(price: Price | None) -> str:
    """How a fabric is sold of which nothing but the price tells.

    >>> sold_by(None), sold_by(Price(Fraction(3), "fat_quarter"))
    ('bolt', 'fat_quarter')
    """
    return price.sold if price else "bolt"


@dataclass(frozen=True, slots=True)
class Bill:
    """What one fabric costs as it is `sold`, None where that has no price; whether any of it is
    `bought`; and what `cannot` be.
    """

    fabric: str
    sold: str
    bought: bool
    price: Fraction | None
    cannot: tuple[str, ...]

    @property
    def whole(self) -> bool:
        """Whether the price is that of everything that is wanted of the fabric."""
        return self.price is not None and not self.cannot


def bill(fabric: str, sold: str, price: Price | None, length: Fraction, quarters: int, cannot: tuple[str, ...]) -> Bill:
    """The bill of a fabric of which a length or so many fat quarters would be bought, and
    some ids `cannot` be bought so.

    A price for something else than is bought is none; what is not bought costs nothing that could be told.

    >>> by_quarter = Price(Fraction(3), "fat_quarter")
    >>> bill("rose", "fat_quarter", by_quarter, Fraction(9), 4, ("border",)).price
    Fraction(12, 1)
    >>> bill("rose", "bolt", by_quarter, Fraction(9), 4, ()).price is None
    True
    """
    bought = bool(quarters if sold == "fat_quarter" else length)
    priced = bought and price is not None and price.sold == sold
    return Bill(fabric, sold, bought, price.of(length, quarters) if priced else None, cannot)


def totals(bills: list[Bill]) -> dict[str, dict]:
    """For each way of buying: how many fabrics are sold so, what those with a price cost, and what that sum leaves out.

    `unpriced` are the fabrics that are bought without a price, `cannot` what cannot be bought so, by fabric. The
    price is None where none has one.

    >>> totals([Bill("rose", "bolt", True, Fraction(12), ()), Bill("oat", "bolt", True, None, ("border",))])["bolt"]
    {'fabrics': 2, 'price': Fraction(12, 1), 'unpriced': ['oat'], 'cannot': [{'fabric': 'oat', 'pieces': ['border']}]}
    """
    return {sold: _total([one for one in bills if one.sold == sold]) for sold in SOLD}


def _total(bills: list[Bill]) -> dict:
    return {
        "fabrics": len(bills),
        "price": together(bills),
        "unpriced": [one.fabric for one in bills if one.bought and one.price is None],
        "cannot": [{"fabric": one.fabric, "pieces": list(one.cannot)} for one in bills if one.cannot],
    }


def together(bills: list[Bill]) -> Fraction | None:
    """What those cost that have a price; None where none has.

    >>> together([]) is None
    True
    """
    prices = [one.price for one in bills if one.price is not None]
    return sum(prices) if prices else None
