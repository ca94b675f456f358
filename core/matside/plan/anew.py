"""Parts of a plan planned anew: for baskets that are too large to be searched as a whole.

A few opened cloths at a time are put back, those with most waste first, and what they gave is planned anew from them
and from a few cloths that are not opened. That never makes the plan worse; it proves nothing.
"""

from collections.abc import Iterator

from .meter import Work
from .patterns import Pattern
from .places import Cutting
from .prices import Mixture
from .problem import Problem, Sort, dot
from .searching import Searching, Starts

#: So many cloths are put back at a time; so many other sorts are offered; so many steps each part is searched.
_SIZES = (3, 5)
_OTHERS = 6
_EFFORT = 8_000
#: Of cloths that are cut alike only so many are looked at, and of all only so many.
_ALIKE = 2
_MOST_CLOTHS = 300
_MOST_OF_A_SORT = 8
_HAIR = 1e-6


def improve(search: Searching, start: Starts) -> Iterator[None]:
    """Improves the search's cutting part by part, until no part of it can be improved; `start` makes a search."""
    for size in _SIZES:
        improved = True
        while improved:
            improved = False
            for window in _windows(search, size):
                improved = (yield from _replan(search, window, start)) or improved


def _windows(search: Searching, size: int) -> Iterator[list[tuple[int, Pattern]]]:
    """Cloths to put back together, most waste first; those already planned anew meanwhile are left out."""
    problem = search.problem
    singles = [(sort, pattern) for sort, pattern, times in search.cutting for _ in range(min(times, _ALIKE))]
    waste = {
        id(item): problem.weight_of(problem.sorts[item[0]].area) - dot(problem.weights, item[1].made)
        for item in singles
    }
    singles = sorted(singles, key=lambda item: -waste[id(item)])[:_MOST_CLOTHS]
    for first in range(0, max(1, len(singles) - size // 2), max(1, size // 2)):
        yield singles[first : first + size]


def _replan(search: Searching, window: list[tuple[int, Pattern]], start: Starts) -> Work[bool]:
    """Plans the pieces of these cloths anew, if they are still cut so; whether that was better."""
    kept = _without(search.cutting, window)
    return False if kept is None else (yield from fill_up(search, kept, {sort for sort, _ in window}, start))


def round_off(search: Searching, mixed: Mixture, start: Starts) -> Iterator[None]:
    """Takes whole cloths from a mixture, and plans what is lacking then anew; few cloths are cut into fractions."""
    kept = [(sort, pattern, int(times + _HAIR)) for sort, pattern, times in mixed.mixed]
    parts = {sort for sort, _, times in mixed.mixed if times - int(times + _HAIR) > _HAIR}
    yield from fill_up(search, [cut for cut in kept if cut[2]], parts, start)


def fill_up(search: Searching, kept: Cutting, own: set[int], start: Starts) -> Work[bool]:
    """Plans what a cutting lacks from sorts of its own and a few others; whether that was better."""
    problem, before = search.problem, (search.missing, search.area)
    numbers, part = _part(problem, own, problem.left(kept), problem.opened(kept))
    inner, last_step = start(part), problem.meter.steps + _EFFORT
    for _ in inner.run() if part.total else ():
        yield
        if problem.meter.steps > last_step or inner.proven:
            break
    search.take(kept + [(numbers[sort], pattern, times) for sort, pattern, times in inner.cutting])
    return (search.missing, search.area) < before


def _without(cutting: Cutting, window: list[tuple[int, Pattern]]) -> Cutting | None:
    """The cutting with these cloths put back; None when it has not all of them any more."""
    left = [[sort, pattern, times] for sort, pattern, times in cutting]
    for sort, pattern in window:
        item = next((item for item in left if item[0] == sort and item[1] is pattern and item[2]), None)
        if item is None:
            return None
        item[2] -= 1
    return [tuple(item) for item in left if item[2]]


def _part(problem: Problem, own: set[int], needs, opened) -> tuple[list[int], Problem]:
    """The numbers of the sorts that a part may use, and its problem."""
    spare = {
        s: sort.count - number for s, (sort, number) in enumerate(zip(problem.sorts, opened)) if sort.count > number
    }
    others = sorted((s for s in spare if s not in own), key=lambda s: _rate(problem.sorts[s], problem.weights, needs))
    largest = max((problem.sorts[s].area for s in own), default=0)
    smallest = sorted((s for s in others if problem.sorts[s].area < largest), key=lambda s: problem.sorts[s].area)
    numbers = sorted((own & spare.keys()) | set(others[: _OTHERS // 2]) | set(smallest[: _OTHERS // 2]))
    sorts = [problem.sorts[s].fewer(min(spare[s], _MOST_OF_A_SORT)) for s in numbers]
    return numbers, Problem(problem.kinds, sorts, problem.meter, problem.heaviness, needs)


def _rate(sort: Sort, weights, needs) -> float:
    """What a cloth gives of the one kind it gives most of, per area; negative, so that the best come first."""
    return -max(weight * min(most, need) for weight, most, need in zip(weights, sort.most, needs)) / sort.area
