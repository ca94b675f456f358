"""A first plan, soon: cloth after cloth, each cut as well as it can be for what is still needed."""

from collections.abc import Iterator
from heapq import heapify, heappop, heapreplace

from .places import Cutting
from .problem import Problem, less

_MOST_BRANCHES = 1_000


def greedy(problem: Problem, cutting: Cutting) -> Iterator[None]:
    """Fills `cutting`: always the cloth that is worth most per area, and at the end the smallest that will do.

    A cloth is rated by the one kind it gives most of until its turn comes; what it is worth then only falls while
    needs are met, so that a worth worked out earlier still serves.
    """
    left, needs = list(problem.counts), problem.needs
    heap = [(_first_rate(problem, sort), sort, None, None) for sort in range(len(left))]
    heapify(heap)
    while heap and any(needs):
        rate, sort, seen, pattern = heap[0]
        if rate >= 0 or not left[sort]:
            heappop(heap)
        elif pattern is None or seen != needs and any(need < made for need, made in zip(needs, pattern.made)):
            heapreplace(heap, _rated(problem, sort, needs))
        else:
            before = needs
            needs = _repeat(cutting, left, needs, sort, pattern)
            if not any(needs):
                _smallest_that_will_do(problem, cutting, left, before)
        yield from problem.meter.pause()


def _first_rate(problem: Problem, sort: int) -> float:
    most = problem.sorts[sort].patterns.most
    return -max(weight * number for weight, number in zip(problem.weights, most)) / problem.sorts[sort].area


def _rated(problem: Problem, sort: int, needs):
    """What the cloth is worth per area for what is still needed, as an item of the heap; 0 when it gives nothing."""
    best = problem.sorts[sort].patterns.best(problem.weights, needs, most_branches=_MOST_BRANCHES)
    return -best.worth / problem.sorts[sort].area if best.pattern else 0.0, sort, needs, best.pattern


def _repeat(cutting, left, needs, sort, pattern):
    """Cuts the pattern as often as all of it is needed, but once at least."""
    times = min(need // made for need, made in zip(needs, pattern.made) if made)
    times = max(1, min(times, left[sort]))
    cutting.append((sort, pattern, times))
    left[sort] -= times
    return less(needs, tuple(times * made for made in pattern.made))


def _smallest_that_will_do(problem: Problem, cutting: Cutting, left, needs) -> None:
    """Takes a smaller cloth instead of the last one, where one gives all of the last needs."""
    last, _, times = cutting[-1]
    if times > 1:
        return
    smaller = [s for s, n in enumerate(left) if n and problem.sorts[s].area < problem.sorts[last].area]
    for sort in sorted(smaller, key=lambda s: problem.sorts[s].area):
        wanted = problem.missing(needs)
        best = problem.sorts[sort].patterns.best(problem.weights, needs, wanted - 1.0)
        if best.pattern:
            cutting[-1] = (sort, best.pattern, 1)
            return
