"""The ask `plan`: everything that is needed from the cloths on hand; exact, resumable, within a budget of work."""

from collections import Counter
from collections.abc import Generator
from fractions import Fraction

from ..cloth import HAIR, PlacedStrip
from ..errors import Refusal
from ..fields import Fields
from ..kinds import read_fabric, read_selvage
from ..pieces import MOST_NEEDED, read_piece
from ..plan.basket import GRAINS, BasketCloth, Need
from ..plan.layers import Layers, layers
from ..plan.layouts import Laid
from ..plan.planning import CutCloths, Plan, Planner
from ..plan.start import Started
from ..plan.unmet import reason
from ..shapes import MOST_OUTLINES
from ..units import SAME
from .planned import MOST_CLOTHS, MOST_KINDS, MOST_STRIPS, in_second_part, read_division

MOST_OF_A_KIND = 10_000
#: A cloth with less than this to spare in a direction, in inches, is to be measured before it is cut. Common
#: practice, no published source.
TIGHT = 0.25
#: Steps of the search when nobody says otherwise: about two seconds in the page.
USUAL_WORK = 400_000
MOST_WORK = 1_000_000_000


def answer(request: dict) -> dict:
    """The plan, searched to the budget of work."""
    *_, last = search(request)
    return last


def search(request: dict) -> Generator[dict, str | None, None]:
    """The same in slices, going on from the layouts in `start` where they can be cut still: yields {"progress": …}
    after each, and last the answer's fields with "ok". With `as_given` those layouts are the plan, as far as they can
    be cut, and nothing better is looked for.

    Sent "show", it yields the progress once more with the whole best plan so far as `plan`; not before there is a first
    plan from the whole basket."""
    fields = Fields(request)
    planner, wants_proof = _planner(fields), fields.flag("proof")
    for _ in planner.run():
        wish = yield {"progress": _progress(planner)}
        if wish == "show" and planner.begun:
            plan = yield from told(planner)
            yield {"progress": {**_progress(planner), "plan": plan}}
    found = yield from told(planner)
    yield {"ok": True, **found, **({"proof": _proof(planner)} if wants_proof else {})}


def _planner(fields: Fields) -> Planner:
    given = _start(fields), fields.flag("as_given")
    return Planner(read_needs(fields), read_basket(fields), read_grain(fields), read_work(fields), *given)


def _start(fields: Fields) -> list[Started]:
    """The layouts of a plan to go on from, as the answer gave them, from `start`."""
    return [_started(layout) for layout in fields.objects("start", MOST_CLOTHS)] if fields.has("start") else []


def _started(layout: Fields) -> Started:
    division = read_division(layout)
    strips = tuple(
        (
            int(in_second_part(strip, division)),
            strip.choice("along", ("length", "width")),
            strip.text("piece"),
            strip.length("size"),
            strip.count("count", 1, MOST_NEEDED),
        )
        for strip in layout.objects("strips", MOST_STRIPS, 1)
    )
    times = layout.count("times", 1, MOST_OF_A_KIND, default=1)
    return Started(
        layout.text("cloth"), layout.length("length"), layout.length("width"), times, division and division[0], strips
    )


def read_needs(fields: Fields) -> list[Need]:
    """What is needed, from `pieces`; no id twice."""
    needs = [_need(piece) for piece in fields.objects("pieces", MOST_KINDS, 1)]
    _check_ids(fields.at("pieces"), [need.id for need in needs])
    return needs


def read_basket(fields: Fields) -> list[BasketCloth]:
    """The cloths that may be cut, from `cloths`; no id twice."""
    cloths = [_cloth(cloth) for cloth in fields.objects("cloths", MOST_CLOTHS)]
    _check_ids(fields.at("cloths"), [cloth.id for cloth in cloths])
    return cloths


def read_grain(fields: Fields) -> str:
    """The grain that is asked for; any where none is."""
    return fields.choice("grain", GRAINS, "any")


def read_work(fields: Fields) -> int:
    """The budget of steps, from `work`."""
    return fields.count("work", 1, MOST_WORK, default=USUAL_WORK)


def _need(fields: Fields) -> Need:
    need = fields.count("need", 0, MOST_NEEDED)
    return Need(fields.text("id"), read_piece(fields), need, read_fabric(fields), fields.choice("grain", GRAINS, "any"))


def _cloth(fields: Fields) -> BasketCloth:
    return BasketCloth(
        fields.text("id"),
        fields.length("length"),
        fields.length("width"),
        fields.count("count", 0, MOST_OF_A_KIND, default=1),
        read_fabric(fields),
        read_selvage(fields),
        fields.flag("one_way"),
    )


def _check_ids(name: str, ids: list[str]) -> None:
    seen: set[str] = set()
    for i, given in enumerate(ids):
        if given in seen:
            raise Refusal(f"{name}[{i}].id", "plan_id_taken", given=given)
        seen.add(given)


def told(planner: Planner) -> Generator[dict, None, dict]:
    """The answer's fields for the best plan so far; yields the progress while they are made, which takes a
    while for a thousand cloths.
    """
    for _ in planner.neaten():
        yield {"progress": _progress(planner)}
    laying = planner.laid()
    while True:
        try:
            next(laying)
        except StopIteration as end:
            return (yield from _described(planner, end.value))
        yield {"progress": _progress(planner)}


def _progress(planner: Planner) -> dict:
    missing, opened = planner.reached()
    least_missing, least_opened = planner.bound()
    return {
        "best": {"missing_area": missing, "area_opened": opened},
        "bound": {"missing_area": least_missing, "area_opened": least_opened},
        "steps": planner.steps,
    }


def _described(planner: Planner, plan: Plan) -> Generator[dict, None, dict]:
    needs = planner.needs
    opened = Counter({cloth.id: 0 for cloth in planner.cloths})
    for item in plan.cut:
        opened[item.cloth.id] += item.times
    layouts = []
    for layout, in_common in zip(_layouts(plan, needs), _layers(plan)):
        layouts.append({**layout, "layers": {"cloths": in_common.cloths, "strips": in_common.strips}})
        yield {"progress": _progress(planner)}
    return {
        "made": {need.id: made for need, made in zip(needs, plan.made)},
        "missing": {need.id: need.need - made for need, made in zip(needs, plan.made)},
        "unmet": _unmet(planner, plan),
        "opened": dict(opened),
        "area_opened": plan.area_opened,
        "missing_area": plan.missing_area,
        "proven": plan.proven,
        **({} if plan.proven else {"bound": {"missing_area": plan.bound[0], "area_opened": plan.bound[1]}}),
        "drawn": all(layout["drawn"] for layout in layouts),
        "strips": sum(item.times * len(item.layout.strips) for item in plan.cut),
        "strips_proven": plan.strips_proven,
        "strips_bound": plan.strips_bound,
        "layouts": layouts,
        "left_whole": _left_whole(planner.cloths, plan, opened),
        "fabrics": _fabrics(needs, plan),
        "steps": planner.steps,
    }


def _proof(planner: Planner) -> list[dict]:
    """What it rests on that no plan does better, by names; see `plan.proof`."""
    return [
        {
            "pieces": [planner.needs[n].id for n in found.needs],
            "weights": found.weights,
            "sorts": [
                {"cloths": [planner.cloths[c].id for c in cloths], "count": count} for cloths, count in found.sorts
            ],
            "missing": found.missing,
            "by_prices": [{"prices": item.prices, "worths": item.worths} for item in found.by_prices],
            "by_search": [
                {"opened": item.opened, "missing": item.missing, "area": item.area} for item in found.by_search
            ],
        }
        for found in planner.proofs()
    ]


def _layouts(plan: Plan, needs: list[Need]):
    """The layouts; those that come first have the first claim on the outlines that an answer may hold."""
    room = MOST_OUTLINES
    for item in plan.cut:
        pieces = sum(laid.strip.count for laid in item.layout.strips)
        drawn = pieces <= room
        room -= pieces if drawn else 0
        yield _layout(item, needs, drawn)


def _unmet(planner: Planner, plan: Plan) -> list[dict]:
    """The kinds of which not all come out of the basket even alone, each with the reason and
    how many do (see `plan.unmet`).
    """
    short = [need for need, made in zip(planner.needs, plan.made) if made < need.need]
    reasons = [(need, *reason(need, planner.cloths, planner.grain)) for need in short]
    return [
        {"piece": need.id, "reason": why, "size": need.shape.size, "most": most}
        for need, why, most in reasons
        if why != "together"
    ]


def _layers(plan: Plan) -> list[Layers]:
    """What like cloths have in common; off a cloth that is a strip already nothing is cut."""
    found = layers([((item.cloth.length, item.cloth.width), item.times, item.layout) for item in plan.cut])
    return [Layers(1, 0) if _is_strip(item) else in_common for item, in_common in zip(plan.cut, found)]


def _is_strip(item: CutCloths) -> bool:
    strips = [laid.strip for laid in item.layout.strips]
    return any(
        _ready_cut(strips, side, length)
        for side, length in (("length", item.cloth.length), ("width", item.cloth.width))
    )


def _layout(item: CutCloths, needs: list[Need], drawn: bool) -> dict:
    division = item.layout.division and {"along": item.layout.division[0], "at": item.layout.division[1]}
    return {
        "cloth": item.cloth.id,
        "length": item.cloth.length,
        "width": item.cloth.width,
        "times": item.times,
        "division": division,
        "drawn": drawn,
        "strips": [_strip(laid, needs, drawn) for laid in item.layout.strips],
        "left_whole": item.layout.left_whole,
        "head_down": _head_down(item, needs),
        **_margins(item),
    }


def _margins(item: CutCloths) -> dict:
    """How much smaller each side of the cloth may turn out with all its pieces still in it, and
    whether that is next to nothing.

    `spare` is the least of what has to be measured.
    """
    sides = {"length": item.cloth.length, "width": item.cloth.width}
    spare = {side: float(sides[side]) - reach for side, reach in zip(sides, item.layout.reach)}
    margin = {side: left if left > SAME else 0.0 for side, left in spare.items()}
    strips = [laid.strip for laid in item.layout.strips]
    spare = min(left for side, left in margin.items() if not _ready_cut(strips, side, sides[side]))
    return {"margin": margin, "spare": spare, "tight": spare < TIGHT}


def _ready_cut(strips: list[PlacedStrip], side: str, length: Fraction) -> bool:
    """Whether the side is the width of a cloth that is one strip already: no strip is cut off
    it, so it need not be measured.
    """
    return len(strips) == 1 and strips[0].along != side and abs(length - strips[0].size) <= HAIR


def _head_down(item: CutCloths, needs: list[Need]) -> int:
    """How many pieces of one cloth lie head down in a print that runs one way: every second
    one of a strip cut by turns.
    """
    if not item.cloth.one_way:
        return 0
    return sum(laid.strip.count // 2 for laid in item.layout.strips if needs[laid.need].shape.alternates)


def _strip(laid: Laid, needs: list[Need], drawn: bool) -> dict:
    need, strip = needs[laid.need], laid.strip
    return {
        "x": strip.x,
        "y": strip.y,
        "along": strip.along,
        "run": strip.run,
        "size": strip.size,
        "piece": need.id,
        "count": strip.count,
        "outlines": strip.outlines(need.shape) if drawn else [],
    }


def _left_whole(cloths: list[BasketCloth], plan: Plan, opened: Counter) -> list[dict]:
    """What remains of every cloth by size: rectangles left of those that are cut, and those that are not opened."""
    rests: Counter = Counter()
    for item in plan.cut:
        for length, width in item.layout.left_whole:
            rests[item.cloth.id, length, width, True] += item.times
    for cloth in cloths:
        rests[cloth.id, float(cloth.length), float(cloth.width), False] += cloth.count - opened[cloth.id]
    return [
        {"cloth": name, "length": length, "width": width, "opened": cut, "count": count}
        for (name, length, width, cut), count in rests.items()
        if count
    ]


def _fabrics(needs: list[Need], plan: Plan) -> list[dict]:
    """Totals for each fabric that is needed or cut, by its name (null: none given), in the
    order in which they come up.
    """
    names = dict.fromkeys([need.fabric for need in needs] + [item.cloth.fabric for item in plan.cut])
    return [_fabric(name, needs, plan) for name in names]


def _fabric(name: str | None, needs: list[Need], plan: Plan) -> dict:
    of_it = [(need, made) for need, made in zip(needs, plan.made) if need.fabric == name]
    cut = [item for item in plan.cut if item.cloth.fabric == name]
    return {
        "fabric": name,
        "made": sum(made for _, made in of_it),
        "missing": sum(need.need - made for need, made in of_it),
        "opened": sum(item.times for item in cut),
        "area_opened": float(sum(item.cloth.length * item.cloth.width * item.times for item in cut)),
        "strips": sum(item.times * len(item.layout.strips) for item in cut),
    }
