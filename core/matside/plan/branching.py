"""Branch and bound over how often each pattern is cut: for many like cloths, where few patterns come near the best.

At prices that prove a bound, a plan that is better than the best so far can only be made of patterns that lose no more
than what lies between the two. They are listed once; whatever is searched then is a small whole-number programme. A
branch ends where its prices prove, in whole numbers, that nothing better lies in it.
"""

from collections.abc import Callable, Iterator
from heapq import heappop, heappush
from math import floor

from .meter import Work
from .places import Cutting
from .prices import Book
from .problem import dot
from .programme import Master, Programme

#: With more patterns than this the programme takes too long.
_MOST_PATTERNS = 1_500
_MOST_BRANCHES = 60_000
#: With more branches still open than this they take too much memory: a search ends without a proof then.
_MOST_OPEN = 4_000
_HAIR = 1e-6


class Branching:
    """Searches a programme for cuttings that cost no more than `goal` says, which falls as they are handed to `offer`.

    `complete` says that none of these patterns' cuttings is left to find, once `run` has come to its end.
    """

    def __init__(self, programme: Master, goal: Callable[[], int], offer: Callable[[Cutting], None]):
        self.root = programme
        self.meter = programme.problem.meter
        self.goal = goal
        self.offer = offer
        self.complete = False
        self._number = 0

    def run(self, last_step: int) -> Iterator[None]:
        """Searches until everything is searched or so many steps are done."""
        yield from self.root.optimise()
        open_ones: list[tuple[float, int, Master]] = []
        current: Master | None = self.root
        while current and self.meter.steps < last_step:
            feasible = yield from current.mend()
            yield from self.meter.pause()
            if feasible is None:
                return
            if not feasible or self._is_hopeless(current):
                current = heappop(open_ones)[2] if open_ones else None
                continue
            branches = self._branches(current)
            if branches is None or len(open_ones) > _MOST_OPEN:
                return
            current, *others = branches
            for other in others:
                self._number += 1
                heappush(open_ones, (current.value, -self._number, other))
        self.complete = current is None

    def _is_hopeless(self, programme: Master) -> bool:
        self.meter.add(len(programme.columns) // 4)
        return programme.value > self.goal() * (1 - _HAIR) and programme.proved() > self.goal()

    def _branches(self, programme: Master) -> list[Master] | None:
        """Two branches of a programme with fractions, the promising one first; a solution in whole numbers is offered.

        None when floats do not tell enough to go on.
        """
        place, value = self._fraction(programme)
        if place < 0:
            before = self.goal()
            self.offer([(sort, pattern, round(times)) for sort, pattern, times in programme.mixed() if round(times)])
            return [programme] if self.goal() < before else None
        other, simplex = programme.fork(), programme.simplex
        other.simplex.bound(place, simplex.low[place], float(floor(value)))
        simplex.bound(place, floor(value) + 1.0, simplex.high[place])
        return [other, programme] if value - floor(value) < 0.5 and place in self.root.sums else [programme, other]

    def _fraction(self, programme: Master) -> tuple[int, float]:
        """A column that is used a fraction of times, cloths of a sort before patterns; -1 when there is none."""
        best, chosen, used = _HAIR, (-1, 0.0), programme.simplex.solution()
        for places in (self.root.sums, [column.place for column in programme.columns]):
            for place in places:
                value = used.get(place, 0.0)
                off = abs(value - round(value))
                if off > best:
                    best, chosen = off, (place, value)
            if chosen[0] >= 0:
                return chosen
        return chosen


def near(book: Book, root: Programme, goal: int) -> Work[Programme | None]:
    """The programme of all patterns that a plan which reaches the goal may be made of; None
    when they are too many to list.

    `root` is a programme that is solved, and the prices of its solution are known.
    """
    known, problem = book.prices[root.whole_prices()], root.problem
    programme = Programme(problem, root.opened, root.aim, root.allowed, in_whole=True)
    for sort, least in _least(root, known.worths, goal).items():
        found, complete = yield from problem.sorts[sort].patterns.near(known.prices, least, _MOST_BRANCHES)
        if not complete or len(programme.columns) + len(found) > _MOST_PATTERNS:
            return None
        for _, pattern in found:
            programme.take(sort, pattern)
    return programme


def _least(root: Programme, worths: dict[int, float], goal: int) -> dict[int, float]:
    """What a pattern of each sort must be worth at least so that a plan with it may reach the goal."""
    problem, prices = root.problem, [int(price) for price in root.whole_prices()]
    of_area, of_weight = (0, 1) if root.aim == "missing" else (round(root.scale), root.largest)
    rents = {sort: of_area * problem.sorts[sort].area - of_weight * int(worths[sort]) for sort in root.sorts}
    spare = (of_area or 1) * goal - of_weight * (dot(prices, problem.needs) - int(root.allowed))
    spare -= sum(root.opened[sort] * min(0, rent) for sort, rent in rents.items())
    return {sort: worths[sort] - float((spare - max(0, rent)) // of_weight) for sort, rent in rents.items()}
