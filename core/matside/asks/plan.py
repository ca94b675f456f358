"""The ask `plan`: everything that is needed from the cloths on hand; exact, resumable, within a budget of work."""

from collections.abc import Generator

from ..errors import Refusal
from ..fields import Fields
from ..pieces import read_piece
from ..plan.basket import GRAINS, BasketCloth, Need
from ..plan.layouts import Laid, Layout
from ..plan.planning import Plan, Planner, grouped
from .cloth import MOST_OUTLINES

MOST_CLOTHS = 1_000
MOST_OF_A_KIND = 10_000
MOST_KINDS = 50
MOST_NEEDED = 100_000
#: Steps of the search when nobody says otherwise: about two seconds in the page.
USUAL_WORK = 400_000
MOST_WORK = 1_000_000_000


def answer(request: dict) -> dict:
    """The plan, searched to the budget of work."""
    *_, last = search(request)
    return last


def search(request: dict) -> Generator[dict, str | None, None]:
    """The same in slices: yields {"progress": …} after each, and last the answer's fields with "ok".

    Sent "show", it yields the progress once more with the whole best plan so far as `plan`.
    """
    planner, cloths = _planner(Fields(request))
    for _ in planner.run():
        wish = yield {"progress": _progress(planner)}
        if wish == "show":
            yield {"progress": {**_progress(planner), "plan": _described(planner, planner.best(), cloths)}}
    yield {"ok": True, **_described(planner, planner.best(), cloths)}


def _planner(fields: Fields) -> tuple[Planner, list[BasketCloth]]:
    needs = [_need(piece) for piece in fields.objects("pieces", MOST_KINDS, 1)]
    cloths = [_cloth(cloth) for cloth in fields.objects("cloths", MOST_CLOTHS)]
    _check_ids("pieces", [need.id for need in needs])
    _check_ids("cloths", [cloth.id for cloth in cloths])
    work = fields.count("work", 1, MOST_WORK, default=USUAL_WORK)
    return Planner(needs, cloths, fields.choice("grain", GRAINS, "any"), work), cloths


def _need(fields: Fields) -> Need:
    need = fields.count("need", 0, MOST_NEEDED)
    return Need(fields.text("id"), read_piece(fields), need, fields.text("fabric") if fields.has("fabric") else None)


def _cloth(fields: Fields) -> BasketCloth:
    selvage = fields.choice("selvage", ("length", "width", "none"), "none")
    return BasketCloth(
        fields.text("id"),
        fields.length("length"),
        fields.length("width"),
        fields.count("count", 0, MOST_OF_A_KIND, default=1),
        fields.text("fabric") if fields.has("fabric") else None,
        None if selvage == "none" else selvage,
        fields.flag("one_way"),
    )


def _check_ids(name: str, ids: list[str]) -> None:
    for i, given in enumerate(ids):
        if given in ids[:i]:
            raise Refusal(f"{name}[{i}].id", "plan_id_taken", given=given)


def _progress(planner: Planner) -> dict:
    missing, opened = planner.reached()
    least_missing, least_opened = planner.bound()
    return {
        "best": {"missing_area": missing, "area_opened": opened},
        "bound": {"missing_area": least_missing, "area_opened": least_opened},
        "steps": planner.meter.steps,
    }


def _described(planner: Planner, plan: Plan, cloths: list[BasketCloth]) -> dict:
    needs = planner.needs
    opened = {cloth.id: 0 for cloth in cloths}
    for cloth, _ in plan.layouts:
        opened[cloth.id] += 1
    drawn = sum(plan.made) <= MOST_OUTLINES
    proven = plan.proven
    return {
        "made": {need.id: made for need, made in zip(needs, plan.made)},
        "missing": {need.id: need.need - made for need, made in zip(needs, plan.made)},
        "opened": opened,
        "area_opened": plan.area_opened,
        "missing_area": plan.missing_area,
        "proven": proven,
        **({} if proven else {"bound": {"missing_area": plan.bound[0], "area_opened": plan.bound[1]}}),
        "drawn": drawn,
        "strips": sum(len(layout.strips) for _, layout in plan.layouts),
        "layouts": [_layout(*item, needs, drawn) for item in grouped(plan.layouts)],
        "steps": planner.meter.steps,
    }


def _layout(cloth: BasketCloth, times: int, layout: Layout, needs: list[Need], drawn: bool) -> dict:
    division = layout.division and {"along": layout.division[0], "at": layout.division[1]}
    return {
        "cloth": cloth.id,
        "length": cloth.length,
        "width": cloth.width,
        "times": times,
        "division": division,
        "strips": [_strip(laid, needs, drawn) for laid in layout.strips],
        "left_whole": layout.left_whole,
    }


def _strip(laid: Laid, needs: list[Need], drawn: bool) -> dict:
    need, strip = needs[laid.kind], laid.strip
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
