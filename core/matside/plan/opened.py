"""Which cloths to open: all sets of cloths, by number of each sort, that are small enough and not yet ruled out."""

from collections.abc import Iterator

from .prices import Book
from .problem import dot

Opened = tuple[int, ...]


class Ruled:
    """What a set of cloths must at least be worth, at one lot of prices."""

    def __init__(self, worths: list[float], areas: list[int], wanted: float):
        self.worths = worths
        self.wanted = wanted
        self.suffix = _suffix(worths)
        per_area = [worth / area for worth, area in zip(worths, areas)]
        self.best_per_area = [max(per_area[i:], default=0.0) for i in range(len(areas) + 1)]


def sets(book: Book, below: int, allowed: float, most: int) -> Iterator[None]:
    """All sets of cloths of less area than `below` that no known prices rule out, as (area, numbers), ascending.

    Returns (by `yield from`) the list and whether it is complete; it breaks off after `most` sets or branches.
    """
    problem = book.problem
    order = sorted(range(len(problem.sorts)), key=lambda s: -problem.sorts[s].area)
    areas = [problem.sorts[s].area for s in order]
    counts = [problem.counts[s] for s in order]
    rules = _rules(book, order, areas, counts, allowed)
    found, branches = [], 0
    stack = [(0, 0, (), tuple(0.0 for _ in rules))]
    while stack:
        place, area, numbers, have = stack.pop()
        branches += 1
        if branches % 50 == 0:
            problem.meter.add(50 * (1 + len(rules)) // 2)
            yield from problem.meter.pause()
        if branches > 20 * most or len(found) > most:
            return sorted(found), False
        if place == len(order):
            found.append((area, _in_order(order, numbers)))
            continue
        for number in range(counts[place] + 1):
            total = area + number * areas[place]
            if total >= below:
                break
            now = tuple([h + number * rule.worths[place] for h, rule in zip(have, rules)])
            if _possible(rules, now, place + 1, below - total):
                stack.append((place + 1, total, (*numbers, number), now))
    return sorted(found), True


def _rules(book: Book, order, areas, counts, allowed: float) -> list[Ruled]:
    needs = book.problem.needs
    known = [p for p in book.prices.values() if len(p.worths) == len(order)]
    rules = [Ruled([p.worths[s] for s in order], areas, dot(p.prices, needs) - allowed) for p in known]
    for rule in rules:
        rule.suffix = _suffix([worth * count for worth, count in zip(rule.worths, counts)])
    return [rule for rule in rules if rule.wanted > 0]


def _possible(rules, have, place: int, spare: int) -> bool:
    for rule, worth in zip(rules, have):
        lacking = rule.wanted - worth
        if lacking > 0 and (rule.suffix[place] < lacking or spare * rule.best_per_area[place] * (1 + 1e-9) < lacking):
            return False
    return True


def _suffix(numbers) -> list[float]:
    sums = [0.0]
    for number in reversed(numbers):
        sums.append(sums[-1] + number)
    return sums[::-1]


def _in_order(order, numbers) -> Opened:
    return tuple(number for _, number in sorted(zip(order, numbers)))
