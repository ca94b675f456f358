"""A first plan, soon: cloth after cloth, each cut as well as it can be for what is still needed."""

from collections.abc import Iterator
from heapq import heapify, heappop, heapreplace

from .meter import Work
from .patterns import Pattern
from .places import Cutting
from .problem import Problem, less

#: Branches that are looked at for one cloth; fewer where there are many.
_MOST_BRANCHES = 1_000
_FEWEST_BRANCHES = 60
_BRANCHES_IN_ALL = 40_000
#: So many smaller cloths are tried instead of the last one.
_MOST_SMALLER = 30


def greedy(problem: Problem, cutting: Cutting) -> Iterator[None]:
    """Fills `cutting`: always the cloth that is worth most per area, and at the end the smallest that will do.

    A cloth is rated by the one kind it gives most of until its turn comes; what it is worth then only falls while
    needs are met, so that a worth worked out earlier still serves.
    """
    left, needs, before = list(problem.counts), problem.needs, None
    branches = max(_FEWEST_BRANCHES, min(_MOST_BRANCHES, _BRANCHES_IN_ALL // max(1, len(left))))
    heap = [(_first_rate(problem, sort), sort, None, None) for sort in range(len(left))]
    heapify(heap)
    while heap and any(needs):
        rate, sort, seen, pattern = heap[0]
        if rate >= 0 or not left[sort]:
            heappop(heap)
        elif pattern is None or seen != needs and any(need < made for need, made in zip(needs, pattern.made)):
            heapreplace(heap, (yield from _rated(problem, sort, needs, branches)))
        else:
            before, needs = needs, _repeat(cutting, left, needs, sort, pattern)
            yield
        yield from problem.meter.pause()
    if before and not any(needs):
        yield from _smallest_that_will_do(problem, cutting, left, before)


def _first_rate(problem: Problem, sort: int) -> float:
    most = problem.sorts[sort].most
    return -max(weight * number for weight, number in zip(problem.weights, most)) / problem.sorts[sort].area


def _rated(
    problem: Problem, sort: int, needs: tuple[int, ...], branches: int
) -> Work[tuple[float, int, tuple[int, ...], Pattern | None]]:
    """What the cloth is worth per area for what is still needed, as an item of the heap; 0 when it
    gives nothing.
    """
    patterns = yield from problem.sorts[sort].ready()
    best = yield from patterns.seek(problem.weights, needs, -1.0, branches)
    return -best.worth / problem.sorts[sort].area if best.pattern else 0.0, sort, needs, best.pattern


def _repeat(cutting: Cutting, left: list[int], needs: tuple[int, ...], sort: int, pattern) -> tuple[int, ...]:
    """Cuts the pattern as often as all of it is needed, but once at least; what is needed then."""
    times = min(need // made for need, made in zip(needs, pattern.made) if made)
    times = max(1, min(times, left[sort]))
    cutting.append((sort, pattern, times))
    left[sort] -= times
    return less(needs, tuple(times * made for made in pattern.made))


def _smallest_that_will_do(
    problem: Problem, cutting: Cutting, left: list[int], needs: tuple[int, ...]
) -> Iterator[None]:
    """Takes a smaller cloth instead of the last one, where one gives all of the last needs."""
    last, _, times = cutting[-1]
    wanted = problem.missing(needs)
    able = [s for s, n in enumerate(left) if n and problem.sorts[s].area < problem.sorts[last].area]
    able = [s for s in able if problem.weight_of(problem.sorts[s].area) >= wanted]
    for sort in sorted(able, key=lambda s: problem.sorts[s].area)[: _MOST_SMALLER if times == 1 else 0]:
        patterns = yield from problem.sorts[sort].ready()
        best = yield from patterns.seek(problem.weights, needs, wanted - 1.0, _MOST_BRANCHES)
        yield from problem.meter.pause()
        if best.pattern:
            cutting[-1] = (sort, best.pattern, 1)
            return
