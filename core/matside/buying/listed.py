"""The buying list as plain data; lengths in inches."""

from dataclasses import replace
from fractions import Fraction

from .bolt import Cloth, Cut, bought, cut_from
from .demands import Pieces
from .fat_quarters import Quarters, quarters_for
from .kits import KitWay, Kits, kit_ways
from .reading import PRICED_BY, Buying, Fabric
from .strips import Strips

_INCH = Fraction(1)


def described(buying: Buying) -> dict:
    """Every fabric's line, and the price of all that have one."""
    lines = [line(fabric, buying.kits) for fabric in buying.fabrics]
    prices = [entry["price"] for entry in lines if entry["price"] is not None]
    total = sum(prices) if prices else None
    return {"fabrics": lines, "price": total, "unpriced": len(lines) - len(prices), "batting": buying.batting}


def line(fabric: Fabric, kits: Kits | None) -> dict:
    """One fabric: what is cut, the length off the bolt, the same in fat quarters, the price, other widths, kits."""
    cut = cut_from(list(fabric.demands), fabric.cloth)
    needed, buy = bought(cut, fabric.cloth)
    quarters = quarters_for(list(fabric.demands), fabric.quarter)
    return {
        "id": fabric.id,
        "sold": fabric.sold,
        "usable_width": fabric.cloth.usable_width,
        "width_after": fabric.cloth.width_after,
        "wanted": {demand.id: demand.need for demand in fabric.demands if isinstance(demand, Pieces)},
        "each": {demand.id: demand.each for demand in fabric.demands if isinstance(demand, Pieces) and demand.each > 1},
        "strips": [_strips(strips) for strips in cut.strips],
        "lengths": [{"id": name, "length": length, "times": times} for name, length, times in cut.lengths],
        "cut_length": cut.length,
        "straighten": fabric.cloth.straighten if cut.length else 0,
        "needed": needed,
        **_measured("buy", buy),
        "over": float(buy) - needed,
        "reason": None if cut.length else "cannot" if cut.cannot else "nothing_needed",
        "cannot": [{"id": one.id, "reason": one.reason, "needs": one.needs} for one in cut.cannot],
        "fat_quarters": _quarters(quarters, fabric),
        "price": _price(fabric, buy, quarters),
        "other_widths": [_other_width(fabric, change, buy) for change in (-_INCH, _INCH)],
        "kits": _kits(fabric, kits) if kits else None,
    }


def _strips(strips: Strips) -> dict:
    gives = dict(strips.gives)
    return {"size": strips.size, "times": strips.times, "gives": gives, "used": strips.used, "joined": strips.joined}


def _measured(name: str, length: Fraction) -> dict:
    """A length to buy in inches, in yards and in metres."""
    return {name: length, f"{name}_yards": length / PRICED_BY["yd"], f"{name}_metres": length / PRICED_BY["m"]}


def _quarters(quarters: Quarters, fabric: Fabric) -> dict:
    sides = {"length": fabric.quarter.length, "width": fabric.quarter.width}
    return {"count": quarters.count, "along": quarters.along, "cannot": list(quarters.cannot), **sides}


def _price(fabric: Fabric, buy: Fraction, quarters: Quarters) -> Fraction | None:
    return fabric.price.of(buy, quarters.count) if fabric.price else None


def _other_width(fabric: Fabric, change: Fraction, buy: Fraction) -> dict:
    """What one inch of usable width more or less changes."""
    width = fabric.cloth.usable_width + change
    if width <= 0:
        return {"usable_width": width, "buy": None, "changes_by": None, "cannot": [demand.id for demand in fabric.demands]}
    cloth: Cloth = replace(fabric.cloth, usable_width=width)
    cut: Cut = cut_from(list(fabric.demands), cloth)
    other = bought(cut, cloth)[1]
    return {"usable_width": width, "buy": other, "changes_by": other - buy, "cannot": [one.id for one in cut.cannot]}


def _kits(fabric: Fabric, kits: Kits) -> dict:
    ways = kit_ways(list(fabric.demands), fabric.cloth, kits)
    return {"people": kits.people, "leader": kits.leader, "count": kits.count, "ways": [_way(way, fabric) for way in ways]}


def _way(way: KitWay, fabric: Fabric) -> dict:
    cuts = [{"cut": name, "length": length, "times": times} for name, length, times in way.cuts]
    price = fabric.price.of(way.buy, 0) if fabric.price and PRICED_BY[fabric.price.by] else None
    return {"way": way.way, "cuts": cuts, "needed": way.needed, **_measured("buy", way.buy), "bolts": way.bolts, "price": price}
