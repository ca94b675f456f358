"""The best plan for the rest of a guide, and how much better any plan could be: a search in
slices, as the plan's own.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..plan.basket import BasketCloth, Need
from ..plan.meter import Work
from ..plan.planning import CutCloths, Plan, Planner
from ..units import SAME
from .guided import Guided, GuidedCloth, GuidedStrip
from .rest import Rest


@dataclass(frozen=True, slots=True)
class RestPlan:
    """A plan for the rest: the cloths in the order in which they are cut, and what it leaves missing
    and opens, in square inches.

    `bound` is (area missing, area opened) that no plan of this rest goes below; it is `proven` where that is reached.
    """

    cuts: tuple[GuidedCloth, ...]
    missing_area: float
    area_opened: float
    bound: tuple[float, float]

    @property
    def proven(self) -> bool:
        """Whether no plan does better."""
        missing, opened = self.bound
        return self.missing_area <= missing + SAME and self.area_opened <= opened + SAME


class RestSearch:
    """Looks for the plan of a rest, with a budget of `work` for each plan it takes; `found`
    is there when `run` is over.
    """

    def __init__(self, guided: Guided, rest: Rest, grain: str, work: int):
        self.rest = rest
        self.found: RestPlan | None = None
        self._guided = guided
        self._needs = guided.needs(rest.piles)
        self._grain = grain
        self._work = work
        self._planners: list[Planner] = []

    def reached(self) -> tuple[float, float]:
        """The area missing and the area opened of the best plan so far, were every cloth free to be cut or not."""
        return self._planners[0].reached() if self._planners else (0.0, 0.0)

    def bound(self) -> tuple[float, float]:
        """What no such plan goes below."""
        return self._planners[0].bound() if self._planners else (0.0, 0.0)

    @property
    def steps(self) -> int:
        """Steps of work so far."""
        return sum(planner.steps for planner in self._planners)

    def run(self) -> Iterator[None]:
        """Searches; yields after every slice of work."""
        best = yield from self._plan(self._needs, self.rest.stock)
        if self._wants_another_first(best):
            self.found = yield from self._forced(best)
        else:
            self.found = yield from self._with_held(self._ordered(best))

    def _plan(self, needs: list[Need], stock: tuple[BasketCloth, ...]) -> Work[Plan]:
        planner = Planner(needs, list(stock), self._grain, self._work)
        self._planners.append(planner)
        for _ in planner.run():
            yield
        return (yield from planner.laid())

    def _wants_another_first(self, best: Plan) -> bool:
        return self.rest.here is not None and all(item.cloth.id != self.rest.here for item in best.cut)

    def _ordered(self, plan: Plan) -> RestPlan:
        """The plan with the cloth at hand first."""
        order = sorted(plan.cut, key=lambda item: item.cloth.id != self.rest.at_hand)
        return RestPlan(_guided(order, self._needs), plan.missing_area, plan.area_opened, plan.bound)

    def _forced(self, best: Plan) -> Work[RestPlan]:
        """The cloth that lies there gives the most that it can, and what remains is planned from the others.

        What the best plan of all reaches stays the bound, as nobody shows that this one comes near it.
        """
        here = self.rest.here
        alone = yield from self._plan(self._needs, tuple(replace(c, count=1) for c in self.rest.stock if c.id == here))
        needs = [replace(need, need=need.need - made) for need, made in zip(self._needs, alone.made)]
        fewer = (replace(c, count=c.count - 1) if c.id == here else c for c in self.rest.stock)
        others = yield from self._plan(needs, tuple(cloth for cloth in fewer if cloth.count))
        cuts = _guided([*alone.cut, *others.cut], self._needs)
        return RestPlan(cuts, others.missing_area, alone.area_opened + others.area_opened, best.bound)

    def _with_held(self, found: RestPlan) -> Work[RestPlan]:
        """What is held might have been used better: unless nothing can be better, the bound is that of a plan that may.

        That plan has what is held as it was before anything was cut of it, and counts only what has been made; it pays
        for that cloth once more, which is taken off its bound. No other plan opens less."""
        held = self.rest.held
        if not held or (found.missing_area <= SAME and found.area_opened <= SAME):
            return found
        free = yield from self._plan(self._guided.needs(self.rest.made), (*self.rest.stock, *held))
        missing, opened = free.bound
        paid = float(sum(cloth.length * cloth.width for cloth in held))
        return replace(found, bound=(missing, max(0.0, opened - paid)))


def _guided(cut: list[CutCloths], needs: list[Need]) -> tuple[GuidedCloth, ...]:
    """A plan's cloths as a guide cuts them."""
    return tuple(
        GuidedCloth(
            item.cloth,
            tuple(GuidedStrip(needs[laid.need].id, laid.strip) for laid in item.layout.strips),
            item.layout.division,
            item.times,
        )
        for item in cut
    )
