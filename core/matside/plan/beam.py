"""Quick looks for a cutting of given cloths, with no proof when they fail."""

from operator import itemgetter

from .meter import Work
from .places import Cutting, Needs, Places
from .problem import dot, less

#: How far from the best a pattern may be, as a share of the best's worth; how many are tried; how many cuttings are
#: kept from place to place; how many of them are finished.
_NEAR = 0.02
_MOST_PATTERNS = 100
_MOST_BRANCHES = 2_000
_WIDTH = 8
_FINISHED = 3


def beam(places: Places, allowed: float) -> Work[Cutting | None]:
    """From place to place the few cuttings that have lost least; returns a cutting or None."""
    kept: list[tuple[float, Needs, Cutting]] = [(0.0, places.needs, [])]
    gap = allowed - places.bound
    for place, sort in enumerate(places.order[:-2]):
        near, _ = yield from places.near(sort, min(gap, places.worths[sort] * _NEAR), _MOST_BRANCHES)
        kept = _next(places, place, sort, near[:_MOST_PATTERNS], kept, allowed)
        yield from places.problem.meter.pause()
    for _, needs, cutting in kept[:_FINISHED]:
        if places.problem.missing(needs) <= allowed:
            return cutting
        end = yield from places.finish(needs, allowed)
        if end:
            return cutting + end
    return None


def _next(places: Places, place: int, sort: int, near, kept, allowed: float):
    """The best continuations of the cuttings that are kept, no two of them leaving the same needs."""
    prices, found = places.prices, {}
    for loss, needs, cutting in kept:
        worth = dot(prices, needs)
        for short, made, pattern in near:
            left = less(needs, made)
            total = loss + short + dot(prices, made) - worth + dot(prices, left)
            if left not in found or total < found[left][0]:
                found[left] = total, left, cutting, pattern
    places.problem.meter.add(len(kept) * len(near))
    ranked = sorted(found.values(), key=itemgetter(0, 1))
    hopeful = (item for item in ranked if not places.hopeless(place + 1, item[1], allowed))
    return [
        (loss, left, [*cutting, (sort, pattern, 1)])
        for (loss, left, cutting, pattern), _ in zip(hopeful, range(_WIDTH))
    ]


def dive(places: Places, allowed: float) -> Work[Cutting | None]:
    """Cuts each cloth as well as it can be for what is still needed, without looking back."""
    problem, needs, cutting = places.problem, places.needs, []
    for place, sort in enumerate(places.order):
        if not any(needs) or places.hopeless(place, needs, allowed):
            break
        prices = places.prices if place < len(places.order) - 2 else problem.weights
        best = problem.sorts[sort].patterns.best(prices, needs)
        yield from problem.meter.pause()
        if best.pattern:
            cutting.append((sort, best.pattern, 1))
            needs = less(needs, best.pattern.made)
    return cutting if problem.missing(needs) <= allowed else None
