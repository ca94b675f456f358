"""What a plan as good as the best may open and miss: the cases for which the fewest strips
are looked for one by one.
"""

from .meter import Work
from .opened import sets
from .problem import Problem
from .searching import Searching
from .strip_programme import StripProgramme

_MOST_SETS = 300
_MOST_CASES = 30
_MOST_LOOKS = 20_000


def cases(search: Searching) -> Work[list[StripProgramme]]:
    """Programmes of which one at least has the plan with the fewest strips among those as good as
    the search's.

    For each set of cloths and for each way to miss as little, where no plan misses or opens less and they are few;
    otherwise one for all of them."""
    problem, missing, area = search.problem, search.missing, search.area
    if not search.proven:
        # Plans that miss or open less are not ruled out: they count as well.
        return [StripProgramme(problem, problem.counts, missing, area)]
    found, complete = yield from sets(search.book, area + 1, missing, _MOST_SETS)
    opened = [numbers for size, numbers in found if size == area] if complete else []
    lacks = _lacks(problem, missing)
    if not opened or not lacks or len(opened) * len(lacks) > _MOST_CASES:
        opened = opened if 0 < len(opened) <= _MOST_CASES else [problem.counts]
        return [StripProgramme(problem, numbers, missing, area) for numbers in opened]
    parts = [_without(problem, lack) for lack in lacks]
    return [StripProgramme(part, numbers, 0.0, area) for part in parts for numbers in opened]


def _without(problem: Problem, lack: tuple[int, ...]) -> Problem:
    if not any(lack):
        return problem
    needs = tuple(need - number for need, number in zip(problem.needs, lack))
    return Problem(problem.kinds, problem.sorts, problem.meter, problem.heaviness, needs)


def _lacks(problem: Problem, missing: float) -> list[tuple[int, ...]]:
    """The ways to miss pieces of just this weight, or none where they are too many."""
    order = sorted(range(len(problem.needs)), key=lambda k: -problem.weights[k])
    found: list[tuple[int, ...]] = []
    looks = 0
    stack: list[tuple[int, float, tuple[int, ...]]] = [(0, missing, ())]
    rest = [sum(problem.weights[k] * problem.needs[k] for k in order[i:]) for i in range(len(order) + 1)]
    while stack:
        place, left, numbers = stack.pop()
        looks += 1
        if looks > _MOST_LOOKS or len(found) > _MOST_CASES:
            return []
        if left > rest[place]:
            continue
        if place == len(order):
            if left == 0:
                found.append(tuple(number for _, number in sorted(zip(order, numbers))))
            continue
        weight, need = problem.weights[order[place]], problem.needs[order[place]]
        for number in range(min(need, int(left // weight)) + 1):
            stack.append((place + 1, left - number * weight, (*numbers, number)))
    return found
