"""All that a leader prepares, as plain data; lengths in inches."""

from dataclasses import dataclass, replace

from ..buying.demands import Pieces
from ..buying.listed import described as bought
from ..buying.reading import Buying, Fabric
from ..rulers import Ruler
from .labels import MADE_AS, contents
from .strips import Strip, dealt, piles, strips_of
from .timing import Pace, minutes
from .tools import Tool, tools


@dataclass(frozen=True, slots=True)
class ClassPlan:
    """What a class makes and how it goes about it: `weeks` of a cut-along (1: all at once), whether fabrics are
    swapped, the pace, the rulers and the hand, how many share an iron."""

    buying: Buying
    weeks: int
    swap: bool
    pace: Pace
    rulers: tuple[Ruler, ...]
    hand: str
    share_an_iron: int


def described(plan: ClassPlan) -> dict:
    """The supply list for one, tools, time, weekly portions, swaps, and what goes into a kit."""
    fabrics, kits = plan.buying.fabrics, plan.buying.kits
    strips = _in_order([strip for fabric in fabrics for strip in strips_of(fabric)])
    return {
        "people": kits.people,
        "kits": kits.count,
        "supplies": _supplies(plan.buying),
        "tools": [_tool(tool, kits.people) for tool in _tools(plan)],
        "time": _time(strips, plan.pace),
        "weeks": [_week(week, plan.pace) for week in dealt(strips, plan.weeks)],
        "swap": _swap(plan) if plan.swap else None,
        "each": {d.id: d.each for fabric in fabrics for d in fabric.demands if isinstance(d, Pieces) and d.each > 1},
        "sizes": [
            {"name": size.name, "people": size.people, "labels": _labels(_in_size(fabrics, place))}
            for place, size in enumerate(kits.sizes)
        ],
        "labels": _labels(fabrics),
    }


def _in_order(strips: list[Strip]) -> list[Strip]:
    """What is sewn first is cut first: strips that are joined, for what goes round a quilt, come last."""
    return sorted(strips, key=lambda strip: strip.joined)


def _supplies(buying: Buying) -> dict:
    """The buying list of one person: as that of a quilt without a class."""
    alone = bought(Buying(buying.fabrics, None, buying.batting, buying.batting_price))
    lines = [line for line in alone["fabrics"] if line["reason"] != "nothing_needed"]
    names = ("id", "sold", "usable_width", "buy", "buy_yards", "buy_metres")
    return {
        "fabrics": [
            {name: line[name] for name in names} | {"quarters": line["fat_quarters"]["count"]} for line in lines
        ],
        "batting": alone["batting"],
    }


def _tools(plan: ClassPlan) -> list[Tool]:
    """Tools for every shape that pieces are cut to from strips; a strip that is joined with
    others is only cut across.
    """
    joined = {name for fabric in plan.buying.fabrics for name in _whole_strips(fabric)}
    shapes = {
        demand.shape: None
        for fabric in plan.buying.fabrics
        for demand in fabric.demands
        if isinstance(demand, Pieces) and demand.need and demand.id not in joined
    }
    return tools(list(shapes), plan.rulers, plan.hand, plan.share_an_iron)


def _whole_strips(fabric: Fabric) -> set[str]:
    given = {name for strip in strips_of(fabric) for name, _ in strip.gives}
    return {demand.id for demand in fabric.demands if demand.id not in given}


def _tool(tool: Tool, people: int) -> dict:
    rulers = [
        {
            "name": ruler.name,
            "width": ruler.width,
            "length": ruler.length,
            "lines": sorted({line.degrees for line in ruler.angles}),
        }
        for ruler in tool.rulers
    ]
    return {
        "code": tool.code,
        "each": tool.each,
        "share": tool.share,
        "count": tool.count(people),
        "rulers": rulers,
    }


def _time(strips: list[Strip], pace: Pace) -> dict:
    pieces = sum(count for strip in strips for _, count in strip.gives)
    return {"strips": len(strips), "pieces": pieces, "minutes": minutes(strips, pace), "pace": pace.pieces}


def _week(strips: list[Strip], pace: Pace) -> dict:
    return {"cut": piles(strips), **_time(strips, pace)}


def _swap(plan: ClassPlan) -> dict:
    """Everyone cuts strips of as few fabrics as may be for all, and takes back what one quilt needs of each kind.

    `cutters` say what each cuts; `take` is what each takes from the piles when all is cut.
    """
    people = plan.buying.kits.people
    together = [strip for fabric in plan.buying.fabrics for strip in strips_of(fabric, people) if not strip.joined]
    one = [strip for fabric in plan.buying.fabrics for strip in strips_of(fabric) if not strip.joined]
    take: dict[tuple[str, str], int] = {}
    for strip in one:
        for name, count in strip.gives:
            take[strip.fabric, name] = take.get((strip.fabric, name), 0) + count
    return {
        "cutters": [{"cut": piles(hand), **_time(hand, plan.pace)} for hand in dealt(together, people)],
        "take": [{"fabric": fabric, "id": name, "pieces": count} for (fabric, name), count in take.items()],
    }


def _in_size(fabrics: tuple[Fabric, ...], place: int) -> tuple[Fabric, ...]:
    """The fabrics with what another size of the class wants of them."""
    return tuple(replace(fabric, demands=fabric.others[place]) for fabric in fabrics)


def _labels(fabrics: tuple[Fabric, ...]) -> dict[str, list[dict]]:
    return {made_as: _label(fabrics, made_as) for made_as in MADE_AS}


def _label(fabrics: tuple[Fabric, ...], made_as: str) -> list[dict]:
    lines = [(fabric.id, contents(fabric, made_as)) for fabric in fabrics]
    return [{"fabric": name, "lines": found} for name, found in lines if found]
