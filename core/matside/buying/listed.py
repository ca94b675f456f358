"""The buying list as plain data; lengths in inches."""

from dataclasses import dataclass, replace
from fractions import Fraction

from .bolt import Bolt, BoltCuts, bought, cut_from
from .demands import Pieces
from .fat_quarters import Quarters, quarters_for
from .kits import Kits, KitWay, groups_of, kit_ways, quarter_ways
from .prices import PRICED_BY, Bill, bill, together, totals
from .reading import Buying, Fabric
from .strips import Strips

_INCH = Fraction(1)


@dataclass(frozen=True, slots=True)
class Worked:
    """One fabric worked out: what is cut off the bolt, the length of that and what is bought, fat
    quarters, and what it costs.
    """

    fabric: Fabric
    cut: BoltCuts
    needed: float
    buy: Fraction
    quarters: Quarters
    bill: Bill

    @property
    def reason(self) -> str | None:
        """Why nothing is cut off the bolt, where nothing is."""
        return None if self.cut.length else "cannot" if self.cut.cannot else "nothing_needed"


def described(buying: Buying) -> dict:
    """Every fabric's line; what those cost that have a price, as they are sold and together; and what that leaves out.

    `unpriced` counts the fabrics that are needed and have no price, or one that leaves something
    out; `totals` tells which."""
    found = [_worked(fabric) for fabric in buying.fabrics]
    bills = [one.bill for one in found if one.reason != "nothing_needed"]
    lines = [line(one, buying.kits) for one in found]
    return {
        "fabrics": lines,
        "price": _with_batting(together(bills), buying.batting_price),
        "unpriced": sum(not bill.whole for bill in bills),
        "totals": totals(bills),
        "batting": buying.batting and {**buying.batting, "price": buying.batting_price},
        "kits_price": _kits_price(lines) if buying.kits else None,
    }


def _with_batting(price: Fraction | None, batting: Fraction | None) -> Fraction | None:
    return price if batting is None else (price or 0) + batting


def _kits_price(lines: list[dict]) -> dict:
    """What a kit costs of all fabrics together: each kit by itself, and the way that costs least; and which fabrics
    have no price. The prices are None where none has one."""
    made = [line["kits"]["ways"] for line in lines if line["kits"]["ways"]]
    priced = [[way["price_each"] for way in ways] for ways in made if ways[0]["price_each"] is not None]
    return {
        "apart": sum(prices[0] for prices in priced) if priced else None,
        "least": sum(min(prices) for prices in priced) if priced else None,
        "unpriced": [
            line["id"] for line in lines if line["kits"]["ways"] and line["kits"]["ways"][0]["price_each"] is None
        ],
    }


def _worked(fabric: Fabric) -> Worked:
    demands = list(fabric.demands)
    cut = cut_from(demands, fabric.bolt)
    needed, buy = bought(cut, fabric.bolt)
    quarters = quarters_for(demands, fabric.quarter)
    cannot = quarters.cannot if fabric.sold == "fat_quarter" else tuple(one.id for one in cut.cannot)
    return Worked(
        fabric, cut, needed, buy, quarters, bill(fabric.id, fabric.sold, fabric.price, buy, quarters.count, cannot)
    )


def line(worked: Worked, kits: Kits | None) -> dict:
    """One fabric: what is cut, the length off the bolt, the same in fat quarters, the price, other widths, kits."""
    fabric, cut = worked.fabric, worked.cut
    return {
        "id": fabric.id,
        "sold": fabric.sold,
        "usable_width": fabric.bolt.usable_width,
        "width_after": fabric.bolt.width_after,
        "wanted": {demand.id: demand.need for demand in fabric.demands if isinstance(demand, Pieces)},
        "each": {demand.id: demand.each for demand in fabric.demands if isinstance(demand, Pieces) and demand.each > 1},
        "strips": [_strips(strips) for strips in cut.strips],
        "lengths": [{"id": name, "length": length, "times": times} for name, length, times in cut.lengths],
        "cut_length": cut.length,
        "straighten": fabric.bolt.straighten if cut.length else 0,
        "needed": worked.needed,
        **_measured("buy", worked.buy),
        "over": float(worked.buy) - worked.needed,
        "reason": worked.reason,
        "cannot": [{"id": one.id, "reason": one.reason, "needs": one.needs} for one in cut.cannot],
        "fat_quarters": _quarters(worked.quarters, fabric),
        "price": worked.bill.price,
        "other_widths": [_other_width(fabric, change, worked.buy) for change in (-_INCH, _INCH)],
        "kits": _kits(fabric, kits) if kits else None,
    }


def _strips(strips: Strips) -> dict:
    gives = dict(strips.gives)
    return {"size": strips.size, "times": strips.times, "gives": gives, "used": strips.used, "joined": strips.joined}


def _measured(name: str, length: Fraction) -> dict:
    """A length to buy in inches, in yards and in metres."""
    return {name: length, f"{name}_yards": length / PRICED_BY["yd"], f"{name}_metres": length / PRICED_BY["m"]}


def _quarters(quarters: Quarters, fabric: Fabric) -> dict:
    """How many, of which sides after washing, and what is taken off the length and what that leaves of it."""
    quarter = fabric.quarter
    sides = {"length": quarter.length, "width": quarter.width, "square": quarter.square, "squared": quarter.squared}
    return {"count": quarters.count, "proven": quarters.proven, "cannot": list(quarters.cannot), **sides}


def _other_width(fabric: Fabric, change: Fraction, buy: Fraction) -> dict:
    """What one inch of usable width more or less changes."""
    width = fabric.bolt.usable_width + change
    if width <= 0:
        return {
            "usable_width": width,
            "buy": None,
            "changes_by": None,
            "cannot": [demand.id for demand in fabric.demands],
        }
    bolt: Bolt = replace(fabric.bolt, usable_width=width)
    cut: BoltCuts = cut_from(list(fabric.demands), bolt)
    other = bought(cut, bolt)[1]
    return {"usable_width": width, "buy": other, "changes_by": other - buy, "cannot": [one.id for one in cut.cannot]}


def _kits(fabric: Fabric, kits: Kits) -> dict:
    groups, by_quarters = groups_of(list(fabric.demands), fabric.others, kits), fabric.sold == "fat_quarter"
    ways = quarter_ways(groups, fabric.quarter, kits) if by_quarters else kit_ways(groups, fabric.bolt, kits)
    return {
        "people": kits.people,
        "leader": kits.leader,
        "count": kits.all,
        "sizes": [{"name": size.name, "people": size.people} for size in kits.sizes],
        "ways": [_way(way, fabric, kits) for way in ways],
    }


def _way(way: KitWay, fabric: Fabric, kits: Kits) -> dict:
    """A way with its price, of all kits and of each; None where the fabric has none as it is sold."""
    cuts = [{"cut": name, "length": length, "times": times} for name, length, times in way.cuts]
    price = bill(fabric.id, fabric.sold, fabric.price, way.buy, way.quarters, way.cannot).price
    return {
        "way": way.way,
        "cuts": cuts,
        "needed": way.needed,
        **_measured("buy", way.buy),
        "bolts": way.bolts,
        "quarters": way.quarters,
        "cannot": list(way.cannot),
        "price": price,
        "price_each": None if price is None else price / kits.all,
    }
