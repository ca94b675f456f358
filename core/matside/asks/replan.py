"""The ask `replan`: the rest of a guide planned anew, when pieces are lost or the cloth at hand
is not the one that was told.

The request:

- `guide`: the guide's request as it was. For a plan: `pieces`, `cloths`, `layouts`, `grain`, and where they are
  known `elsewhere` (layouts that somebody else cuts), `target` (pieces wanted in all by id, as cut; else each
  `need`, less what comes from elsewhere) and `so_far` (what was cut under guides before). For one cloth:
  `piece`, `cloth`, `way`, `count`.
- `done`: `cloth`, the place of the cloth at hand among those that the guide cuts (their number when all are cut);
  `whole`, whether nothing has been cut off it; `strips`, how many strips have; and counts by kind, as the guide counts:
  `made`, all pieces of the sitting without those spoiled; `here`, those of the cloth at hand among them; `coming`, what
  it will still give; `later`, what the cloths after it will.
- `change`: `what` has changed, one of "lost" (pieces were lost, or are short); "smaller" (the cloth at hand, still
  whole, has the sides `length` and `width`, and goes by `id` from now on); "another" (the cloth of the basket with the
  id `cloth` lies there); "no_more_strips" (the strips not yet cut off the cloth at hand are dropped); "another_size"
  (the guide is for one cloth, and what lies there, still whole, has the sides `length` and `width`; it goes by `id`
  where several cloths are to be cut).
- `work`: a budget of search steps for each plan it takes.

The answer:

- `layouts`: what is left to cut as a plan's layouts, without outlines; the cloth at hand first;
- totals of the whole, over what is cut and what will be: `made` and `missing` by kind, as cut; `opened` by cloth,
  `area_opened`, `missing_area`, `strips`;
- `proven`: no plan that cuts what is not yet cut, in the cloth at hand and the whole cloths left, misses less, or
  misses as little and opens less; else `bound` says what none goes below. What is left of a cloth when its strips are
  all cut is no cloth of the basket. A cloth that is cut as somebody settled it before is as good as planned only where
  that is shown. Without a plan there is neither;
- `change`: what is other than before: cloths by id that are cut besides (`more`) or stay whole (`fewer`); the totals
  that the guide tells, `all` and `before`, with `gain`, how many pieces more; `lacking`, how many pieces stay missing;
  `next`, the cloth that is to be taken next with its sides, or null;
- `useless`: nothing is cut from the cloth that lies there; `idle`: pieces were lost, and nothing can be done about it;
- `guide`: the whole request of the guide that goes on, or null where nothing is left to cut; and `event`, how its log
  goes on: from its first step, or with `keep` from the step at hand on, the counts as they are.
"""

from collections import Counter
from collections.abc import Generator, Iterator
from dataclasses import replace
from itertools import groupby

from ..cloth import Cloth, best_way
from ..errors import Refusal
from ..fields import Fields
from ..plan.basket import BasketCloth
from ..replan.counts import added
from ..replan.guided import Done, GuidedCloth, pieces_of
from ..replan.likes import instead
from ..replan.rest import Rest, after_loss, with_another, with_no_more_strips, with_other_sides
from ..replan.search import RestPlan, RestSearch
from .guide import MOST_PIECES
from .guided import ONE_KIND, Given, cut_by, read_done, read_given
from .plan import read_grain, read_work


def answer(request: dict) -> dict:
    """The rest planned anew, searched to the budget of work."""
    *_, last = search(request)
    return last


def answer_cloths(request: dict) -> dict:
    """The `cloths` of the basket ({id, length, width}) that may lie there instead of the one
    at hand: change "another".
    """
    fields = Fields(request)
    given = read_given(fields.object("guide"))
    done = read_done(fields.object("done"), given.guided)
    cloths = instead(given.guided, done) if given.planned else []
    return {"cloths": [{"id": cloth.id, "length": cloth.length, "width": cloth.width} for cloth in cloths]}


def search(request: dict) -> Generator[dict, str | None, None]:
    """The same in slices: yields {"progress": …} after each, and last the answer's fields with "ok".

    The progress tells the best plan so far that is free to cut the cloth at hand or not, and what none goes
    below; areas are of the whole."""
    fields = Fields(request)
    given = read_given(fields.object("guide"))
    done = read_done(fields.object("done"), given.guided)
    change = fields.object("change")
    what, rest = change.raw("what"), _rest(change, given, done)
    if not given.planned:
        found = RestPlan(_without_plan(change, given, done), 0.0, 0.0, (0.0, 0.0))
        yield {"ok": True, **_described(given, done, rest, found, what)}
        return
    looking = RestSearch(given.guided, rest, read_grain(given.fields), read_work(fields))
    spent = given.so_far.and_these(rest.cuts).area
    for _ in looking.run():
        yield {"progress": _progress(looking, spent)}
    yield {"ok": True, **_described(given, done, rest, looking.found, what)}


def _progress(looking: RestSearch, spent: float) -> dict:
    named = {"best": looking.reached(), "bound": looking.bound()}
    areas = {
        name: {"missing_area": missing, "area_opened": opened + spent} for name, (missing, opened) in named.items()
    }
    return {**areas, "steps": looking.steps}


# --- What has changed -------------------------------------------------------------------------------------------------


def _rest(change: Fields, given: Given, done: Done) -> Rest:
    what, guided = change.choice("what", _changes(given, done)), given.guided
    if what == "lost":
        return after_loss(guided, done)
    if what == "no_more_strips":
        return with_no_more_strips(guided, done)
    if what == "another":
        return with_another(guided, done, _another(change, given, done))
    if not done.whole:
        raise Refusal(change.at("what"), "replan_cut_into")
    return with_other_sides(guided, done, _name(change, given, done), change.length("length"), change.length("width"))


def _changes(given: Given, done: Done) -> tuple[str, ...]:
    """What can have changed: when all is cut, only that pieces are lost."""
    there = done.cloth < len(given.guided.cuts)
    if given.planned:
        return ("lost", "smaller", "another", "no_more_strips") if there else ("lost",)
    return ("another_size", "no_more_strips") if there else ()


def _another(change: Fields, given: Given, done: Done) -> str:
    name = change.text("cloth")
    if name not in {cloth.id for cloth in instead(given.guided, done)}:
        raise Refusal(change.at("cloth"), "replan_not_there", given=name)
    return name


def _name(change: Fields, given: Given, done: Done) -> str:
    """What the cloth of other sides is called: in a guide for one cloth as the one that was
    told, where it is the only one.
    """
    told = given.guided.cuts[done.cloth].cloth.id
    if not given.planned and done.cloth + 1 == len(given.guided.cuts):
        return told
    name = change.text("id")
    if any(cloth.id == name for cloth in given.guided.stock):
        raise Refusal(change.at("id"), "plan_id_taken", given=name)
    return name


def _without_plan(change: Fields, given: Given, done: Done) -> tuple[GuidedCloth, ...]:
    """What a guide for one kind of piece cuts then: what lies there cut to the most, and the others as they were."""
    later = given.guided.cuts[done.cloth + 1 :]
    if change.raw("what") == "no_more_strips":
        return later
    wanted = given.guided.wanted[0].need
    told = given.guided.cuts[done.cloth].cloth
    cloth = Cloth(change.length("length"), change.length("width"), told.selvage)
    there = replace(told, id=_name(change, given, done), length=cloth.length, width=cloth.width, count=1)
    cut = cut_by(best_way(wanted.shape, cloth), there, wanted)
    if not cut.strips:
        raise Refusal(change.place, "guide_pieces", given=0, most=MOST_PIECES)
    return (cut, *later)


# --- The answer -------------------------------------------------------------------------------------------------------


def _described(given: Given, done: Done, rest: Rest, found: RestPlan, what: str) -> dict:
    made_anew = given.guided.counted(pieces_of(found.cuts))
    piles = added(rest.piles, made_anew)
    spent = given.so_far.and_these(rest.cuts)
    whole = spent.and_these(found.cuts)
    return {
        "layouts": _layouts(found.cuts),
        **_totals(given, piles),
        "opened": whole.opened,
        "area_opened": whole.area,
        "strips": whole.strips,
        **(_how_good(found, spent.area) if given.planned else {}),
        "change": _changed(given, done, rest, found, piles),
        "useless": _useless(rest, found),
        "idle": what == "lost" and not found.cuts and not rest.planned,
        "guide": _guide(given, done, rest, found, piles),
        "event": {"keep": True} if rest.goes_on else {"step": 0},
    }


def _totals(given: Given, piles: dict[str, int]) -> dict:
    made = {wanted.id: wanted.as_cut(piles.get(wanted.id, 0)) for wanted in given.guided.wanted}
    missing = {wanted.id: max(0, wanted.need.need - made[wanted.id]) for wanted in given.guided.wanted}
    return {"made": made, "missing": missing}


def _how_good(found: RestPlan, spent: float) -> dict:
    missing, opened = found.bound
    bound = {"bound": {"missing_area": missing, "area_opened": opened + spent}}
    return {"missing_area": found.missing_area, "proven": found.proven, **({} if found.proven else bound)}


def _changed(given: Given, done: Done, rest: Rest, found: RestPlan, piles: dict[str, int]) -> dict:
    wanted, planned = Counter(rest.begun), Counter(rest.planned)
    for cut in found.cuts:
        wanted[cut.cloth.id] += cut.times
    total, before = given.guided.told(piles), given.guided.told(added(done.made, done.coming, done.later))
    first = next(iter(found.cuts), None)
    return {
        "more": dict(wanted - planned),
        "fewer": dict(planned - wanted),
        "all": total,
        "before": before,
        "gain": total - before,
        "lacking": sum(_totals(given, piles)["missing"].values()),
        "next": first and {"cloth": first.cloth.id, "length": first.cloth.length, "width": first.cloth.width},
    }


def _useless(rest: Rest, found: RestPlan) -> bool:
    return rest.here is not None and all(cut.cloth.id != rest.here for cut in found.cuts)


def _guide(given: Given, done: Done, rest: Rest, found: RestPlan, piles: dict[str, int]) -> dict | None:
    """The request for the guide that goes on; null where nothing is to be cut any more."""
    cuts = (*rest.cuts, *found.cuts) if rest.goes_on else found.cuts
    if not cuts:
        return None
    basket = given.guided.stock if rest.goes_on else rest.stock
    told = given.guided.cuts[done.cloth].cloth.id if done.cloth < len(given.guided.cuts) else ""
    request = {
        name: value for name, value in given.fields.given.items() if name not in ("elsewhere", "so_far", "promised")
    }
    so_far = given.so_far if rest.goes_on else given.so_far.and_these(rest.cuts)
    return {
        **request,
        **({} if given.planned else {"pieces": [{**given.fields.raw("piece"), "id": ONE_KIND}]}),
        "cloths": [given.cloth(cloth, told) for cloth in basket],
        "layouts": _layouts(cuts),
        "promised": piles,
        "so_far": {"cloths": [_sides(cloth) for cloth in so_far.cloths], "strips": so_far.strips},
        **({"target": {w.id: w.need.need for w in given.guided.wanted}} if given.planned else {}),
    }


def _sides(cloth: BasketCloth) -> dict:
    return {"id": cloth.id, "length": cloth.length, "width": cloth.width, "count": cloth.count}


def _layouts(cuts: tuple[GuidedCloth, ...]) -> list[dict]:
    """Layouts for a guide: cloths that follow on each other and are cut alike are one."""
    return [_layout(cut, list(alike)) for cut, alike in groupby(cuts, key=lambda cut: replace(cut, times=1))]


def _layout(cut: GuidedCloth, alike: list[GuidedCloth]) -> dict:
    division = cut.division and {"along": cut.division[0], "at": cut.division[1]}
    sides = {"length": cut.cloth.length, "width": cut.cloth.width}
    times = sum(one.times for one in alike)
    return {"cloth": cut.cloth.id, **sides, "times": times, "division": division, "strips": list(_strips(cut))}


def _strips(cut: GuidedCloth) -> Iterator[dict]:
    for guided in cut.strips:
        strip = guided.strip
        place = {"x": strip.x, "y": strip.y, "along": strip.along}
        yield {**place, "run": strip.run, "size": strip.size, "piece": guided.piece, "count": strip.count}
