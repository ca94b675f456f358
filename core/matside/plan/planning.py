"""From needs and a basket to a plan: the search's problem, its best cutting, and the layouts of it."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from math import lcm

from .basket import BasketCloth, Need
from .layouts import Layout, laid_out, simplest
from .meter import Meter, WorkDone
from .patterns import Patterns
from .problem import Problem, Sort
from .search import Search
from .ways import Divider, Kind
from .weights import weights

#: Places of a division that are looked at one by one; beyond, they are thinned and the bound stays true.
MOST_PLACES = 200


@dataclass(slots=True)
class Plan:
    """A plan: made and missing by kind, the cloths opened, their layouts, and how much better any plan could be at best.

    Areas in square inches. `bound` is (area missing, area opened) that no plan goes below.
    """

    made: list[int]
    missing_area: float
    area_opened: float
    proven: bool
    bound: tuple[float, float]
    layouts: list[tuple[BasketCloth, Layout]] = field(default_factory=list)


class Planner:
    """One search, resumable: `run` yields after every slice of work; `best` is the plan so far, at any moment."""

    def __init__(self, needs: list[Need], cloths: list[BasketCloth], grain: str, work: int):
        self.needs = needs
        self.shapes = [need.shape for need in needs]
        self.meter = Meter(work)
        self._quantum = lcm(*(cloth.length.denominator * cloth.width.denominator for cloth in cloths), 1)
        self._area = sum(need.shape.area * need.need for need in needs)
        kinds = self._kinds()
        self.cloths, sorts = self._sorts(kinds, cloths, grain)
        self.search = Search(Problem(kinds, sorts, self.meter)) if sorts and self._area else None

    def run(self) -> Iterator[None]:
        """Searches until a plan is proved best, or the budget of work is spent."""
        if self.search is None:
            return
        try:
            yield from self.search.run()
        except WorkDone:
            return

    def best(self) -> Plan:
        """The best plan so far with its layouts."""
        if self.search is None:
            return Plan([0] * len(self.needs), self._area, 0.0, True, (self._area, 0.0))
        left = [need.need for need in self.needs]
        # Cloths of a sort are taken one after another, all of one entry of the basket before the next.
        waiting = [(cloth for cloth in group for _ in range(cloth.count)) for group in self.cloths]
        layouts = [(next(waiting[sort]), self._laid(sort, pattern, left)) for sort, pattern in self._in_order()]
        made = [need.need - rest for need, rest in zip(self.needs, left)]
        used = [(cloth, layout) for cloth, layout in layouts if layout.strips]
        opened = float(sum(cloth.length * cloth.width for cloth, _ in used))
        missing = sum(need.shape.area * rest for need, rest in zip(self.needs, left))
        return Plan(made, missing, opened, self.search.proven, self.bound(), used)

    def bound(self) -> tuple[float, float]:
        """The area missing and the area opened that no plan goes below."""
        if self.search is None:
            return self._area, 0.0
        share = self.search.least_missing / self.search.problem.total
        return share * self._area, self.search.least_area / self._quantum

    def reached(self) -> tuple[float, float]:
        """The area missing and the area opened of the best plan so far."""
        if self.search is None:
            return self._area, 0.0
        return self.search.missing / self.search.problem.total * self._area, self.search.area / self._quantum

    def _laid(self, sort: int, pattern, left: list[int]) -> Layout:
        ways = self.search.problem.sorts[sort].patterns.ways
        wanted = tuple(min(made, rest) for made, rest in zip(pattern.made, left))
        tidy = simplest(pattern, wanted, ways, [float(shape.size) for shape in self.shapes])
        return laid_out(tidy, ways[tidy.way], self.shapes, left)

    def _in_order(self):
        """Large cloths first: they take the big strips, and what they give too much is left out of the small ones."""
        cuts = [(sort, pattern) for sort, pattern, times in self.search.cutting for _ in range(times)]
        return sorted(cuts, key=lambda item: -self.search.problem.sorts[item[0]].area)

    def _kinds(self) -> list[Kind]:
        heavy = weights([need.shape.area for need in self.needs], [need.need for need in self.needs])
        return [
            Kind(float(need.shape.size), need.shape.starter_waste, need.shape.advance, weight, need.need)
            for need, weight in zip(self.needs, heavy)
        ]

    def _sorts(self, kinds: list[Kind], cloths: list[BasketCloth], grain: str) -> tuple[list[list[BasketCloth]], list[Sort]]:
        """The cloths that give anything, those alike together: for the search they are one sort."""
        alike: dict[tuple, list[BasketCloth]] = {}
        for cloth in cloths:
            allowed = tuple(cloth.takes(need) and need.need > 0 for need in self.needs)
            if cloth.count and any(allowed):
                alike.setdefault((cloth.length, cloth.width, allowed, cloth.sides(grain)), []).append(cloth)
        divider, kept, sorts = Divider(kinds, MOST_PLACES), [], []
        for (length, width, allowed, sides), group in alike.items():
            ways = divider.ways(float(length), float(width), allowed, sides)
            if ways:
                kept.append(group)
                area, count = int(length * width * self._quantum), sum(cloth.count for cloth in group)
                sorts.append(Sort(Patterns(kinds, ways, self.meter), area, count))
        return kept, sorts


def grouped(layouts: list[tuple[BasketCloth, Layout]]) -> list[tuple[BasketCloth, int, Layout]]:
    """Layouts that are the same for cloths of a kind, with how often they are cut."""
    counted: dict[tuple[str, Layout], list] = {}
    for cloth, layout in layouts:
        counted.setdefault((cloth.id, layout), [cloth, 0, layout])[1] += 1
    return [tuple(item) for item in counted.values()]
