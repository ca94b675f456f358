"""From needs and a basket to a plan: its groups searched by turns, the best cutting of each, and the layouts."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import lcm

from .basket import BasketCloth, Need
from .fit import MOST_CLOTHS
from .groups import Built, Group, Task, build, groups
from .layouts import Claims, CommonCuts, Layout, laid_out
from .lifted import Lifted
from .meter import Work, drained
from .proof import Proof, proof
from .search import Search
from .start import Started, started
from .weights import weights

#: This part of the work is kept for the search for the fewest strips.
_FOR_STRIPS = 8
#: Where many cloths are opened, searches under a restriction keep pace with the one without it for so many steps.
_FOR_RESTRICTED = 300_000


@dataclass(frozen=True, slots=True)
class CutCloths:
    """So many cloths of one kind, cut alike."""

    cloth: BasketCloth
    times: int
    layout: Layout


@dataclass(frozen=True, slots=True)
class Plan:
    """A plan: pieces made by need, the cloths that are cut, and how much better any plan could be at best.

    Areas in square inches. `bound` is (area missing, area opened) that no plan goes below. No plan that misses and
    opens as little takes fewer strips than `strips_bound`."""

    made: list[int]
    missing_area: float
    area_opened: float
    proven: bool
    bound: tuple[float, float]
    strips_proven: bool
    strips_bound: int
    cut: list[CutCloths]


class Planner:
    """One search, resumable: `run` yields after every slice of work; `best` is the plan so far, at any moment."""

    def __init__(
        self,
        needs: list[Need],
        cloths: list[BasketCloth],
        grain: str,
        work: int,
        start: Sequence[Started] = (),
        as_given: bool = False,
    ):
        self.needs = needs
        self.cloths = cloths
        self.grain = grain
        self.work = work
        self._start = list(start)
        self._as_given = as_given
        quantum = lcm(*(cloth.length.denominator * cloth.width.denominator for cloth in cloths), 1)
        heavy = weights([need.shape.area for need in needs], [need.need for need in needs])
        self._task = Task(
            needs,
            heavy,
            cloths,
            grain,
            quantum,
            max(weight / need.shape.area for weight, need in zip(heavy, needs)) / quantum,
        )
        self._groups: list[Group] | None = None
        self._built: list[Built] = []
        self._searches: list[Search] = []

    @property
    def steps(self) -> int:
        """Steps of work so far."""
        return sum(search.problem.meter.steps for search in self._searches)

    def run(self) -> Iterator[None]:
        """Searches, the groups by turns, until a plan is proved best or the budget of work is spent,
        but to a first plan at least. A plan that is wanted as it was given is laid out, and nothing is searched.
        """
        self._groups = yield from groups(self._task)
        for group in self._groups:
            built = yield from build(group, self._task)
            self._built.append(built)
            self._searches.append(Search(built.problem))
        running = [search.run() for search in self._searches]
        for search, steps in zip(self._searches, running):
            while not search.begun:
                next(steps, _END)
                yield
        if self._as_given:
            for built, search in self._pairs():
                search.put_in_place(started(self._start, built, self.needs, self.cloths))
            return
        for built, search in self._pairs():
            if self._start:
                yield from search.go_on_from(started(self._start, built, self.needs, self.cloths))
        restricted = [[_Running(item) for item in self._lifted(*pair) if item.bounded] for pair in self._pairs()]
        # The last part of the work is for the strips, whether or not the plan is proved best.
        yield from self._best_of(running, restricted, self.work - self.work // _FOR_STRIPS)
        for items in restricted:
            yield from _up_to(self.work, items)
        yield from self._fewest_strips()
        yield from self.neaten()

    def _lifted(self, built: Built, search: Search) -> list[Lifted]:
        return [Lifted(built, search, self._task, across) for across in (False, True)]

    def _best_of(
        self, running: list[Iterator[None]], restricted: list[list["_Running"]], last_step: int
    ) -> Iterator[None]:
        """The groups' searches by turns. Beside one that opens many cloths those under a
        restriction keep pace for a while.

        They do so whatever the work, so that more of it only goes on where less has stopped.
        """
        beside = [items if search.opened > MOST_CLOTHS else [] for search, items in zip(self._searches, restricted)]
        going = list(zip(self._searches, running, beside))
        while going and self.steps < last_step:
            for item in list(going):
                search, steps, items = item
                if next(steps, _END) is _END:
                    going.remove(item)
                yield
                yield from _up_to(min(search.problem.meter.steps, _FOR_RESTRICTED), items)

    def _fewest_strips(self) -> Iterator[None]:
        running = [search.fewest.run() for search in self._searches]
        while running and self.steps < self.work:
            for steps in list(running):
                if next(steps, _END) is _END:
                    running.remove(steps)
                yield

    def neaten(self) -> Iterator[None]:
        """Makes the best plan so far ready to be shown: cut with fewer strips; one that is wanted as given stays."""
        for search in () if self._as_given else self._searches:
            yield from search.fewest.neaten()

    @property
    def begun(self) -> bool:
        """Whether the best so far is a first plan from the whole basket, and not a part of one."""
        return self._ready and all(search.begun for search in self._searches)

    def best(self) -> Plan:
        """The best plan so far with its layouts."""
        return drained(self.laid())

    def laid(self) -> Work[Plan]:
        """The same, giving way after every layout."""
        left, cut = [need.need for need in self.needs], []
        for built, search in zip(self._built, self._searches):
            for item in self._laid(built, search, left):
                cut.append(item)
                yield
        made = [need.need - rest for need, rest in zip(self.needs, left)]
        opened = sum(item.cloth.length * item.cloth.width * item.times for item in cut)
        strips_bound = sum(search.fewest.bound for search in self._searches)
        strips_proven = self.proven and all(search.fewest.proven for search in self._searches)
        return Plan(made, self._area(left), float(opened), self.proven, self.bound(), strips_proven, strips_bound, cut)

    @property
    def proven(self) -> bool:
        """Whether no plan does better than the best so far."""
        return self._ready and all(search.proven for search in self._searches)

    @property
    def _ready(self) -> bool:
        return self._groups is not None and len(self._searches) == len(self._groups)

    def proofs(self) -> list[Proof]:
        """What it rests on that no plan does better, group by group."""
        return [proof(built, search, self._task.quantum) for built, search in self._pairs()]

    def bound(self) -> tuple[float, float]:
        """The area missing and the area opened that no plan goes below."""
        if self.proven:
            return self.reached()
        in_groups = {number for group in self._groups or [] for number in group.needs}
        never = sum(self._needed(n) for n in range(len(self.needs)) if self._groups is not None and n not in in_groups)
        least = sum(
            search.least_missing / search.problem.total * sum(map(self._needed, built.group.needs))
            for built, search in self._pairs()
        )
        return never + least, sum(search.least_area for search in self._searches) / self._task.quantum

    def reached(self) -> tuple[float, float]:
        """The area missing and the area opened of the best plan so far."""
        left = [need.need for need in self.needs]
        for built, search in self._pairs():
            for number, rest in zip(built.group.needs, search.left):
                left[number] = rest
        return self._area(left), sum(search.area for search in self._searches) / self._task.quantum

    def _pairs(self):
        return zip(self._built, self._searches)

    def _area(self, pieces: list[int]) -> float:
        return sum(need.shape.area * number for need, number in zip(self.needs, pieces))

    def _needed(self, number: int) -> float:
        return self.needs[number].shape.area * self.needs[number].need

    def _laid(self, built: Built, search: Search, left: list[int]) -> Iterator[CutCloths]:
        """The layouts of a group's cutting, large cloths first; takes the pieces off `left`."""
        problem, kinds = built.problem, built.group.needs
        shapes = [self.needs[n].shape for n in kinds]
        claims = Claims([left[n] for n in kinds], [0] * len(kinds))
        stock = [[[self.cloths[c], self.cloths[c].count] for c in numbers] for numbers in built.members]
        cutting = sorted(search.fewest.cutting, key=lambda cut: (-problem.sorts[cut[0]].area, cut[0], -cut[2]))
        common = CommonCuts(shapes)
        for sort, pattern, times in cutting:
            common.add(sort, pattern, problem.sorts[sort].patterns.ways[pattern.way], times)
            for _, kind, count in pattern.strips:
                claims.to_come[kind] += count * times
        for sort, pattern, times in cutting:
            for _, kind, count in pattern.strips:
                claims.to_come[kind] -= count * times
            way = problem.sorts[sort].patterns.ways[pattern.way]
            orders = [common.order(sort, pattern, way, number) for number in range(len(way.parts))]
            for number, layout in laid_out(pattern, way, kinds, shapes, claims, times, orders):
                for cloth, some in _taken(stock[sort], number):
                    yield CutCloths(cloth, some, layout)
        for n, number in zip(kinds, claims.left):
            left[n] = number


class _Running:
    """A search under a restriction, and how far it is."""

    def __init__(self, lifted: Lifted):
        self.lifted = lifted
        self.steps = lifted.run()
        self.ended = False


def _up_to(last_step: int, items: list[_Running]) -> Iterator[None]:
    """Searches under a restriction to so many steps each, while the plan without it is not proved best."""
    for item in items:
        while not item.ended and not item.lifted.search.proven and item.lifted.steps < last_step:
            item.ended = next(item.steps, _END) is _END
            yield


_END = object()


def _taken(stock: list, number: int) -> Iterator[tuple[BasketCloth, int]]:
    """Takes so many cloths from the first that are left, and says which."""
    for item in stock:
        some = min(number, item[1])
        if some:
            item[1] -= some
            number -= some
            yield item[0], some
