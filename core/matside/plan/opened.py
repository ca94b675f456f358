"""Which cloths to open: sets of cloths, by number of each sort, that no known prices rule out."""

from math import ceil, gcd

from .meter import Work
from .prices import Book, Prices
from .problem import dot

Opened = tuple[int, ...]
_HAIR = 1e-9
#: Bits times steps to list sums of areas with.
_MOST_BITS = 1_000_000_000


class Areas:
    """The areas that sets of cloths have, up to the `most`; of areas beyond that nothing is known. Where there are too
    many to list, all multiples of a common part of them.

    >>> areas = Areas([(6, 2), (4, 1)], 20)
    >>> areas.before(12), areas.after(11), areas.after(13)
    (10, 12, 16)
    """

    def __init__(self, cloths: list[tuple[int, int]], most: int):
        self.most = most
        self._unit = gcd(*(area for area, _ in cloths)) or 1
        self._bits = 0
        length, steps = most // self._unit + 1, sum(count.bit_length() for _, count in cloths)
        if length * steps <= _MOST_BITS:
            self._bits = _sums([(area // self._unit, count) for area, count in cloths], length)

    def before(self, area: int) -> int:
        """The largest that is less."""
        place = -(-area // self._unit)
        return self._unit * ((self._bits & ((1 << place) - 1)).bit_length() - 1 if self._bits else place - 1)

    def after(self, area: int) -> int:
        """The smallest that is no less."""
        place = -(-area // self._unit)
        beyond = self._bits >> place
        return self._unit * (place + ((beyond & -beyond).bit_length() - 1 if beyond else 0))


def _sums(sizes: list[tuple[int, int]], length: int) -> int:
    """A bit for each sum of sizes, each taken up to its count."""
    bits, mask = 1, (1 << length) - 1
    for size, count in sizes:
        taken = 1
        while count > 0:
            some = min(taken, count)
            bits = (bits | bits << some * size) & mask
            count -= some
            taken *= 2
    return bits


def least_area(book: Book, allowed: float) -> int:
    """The area that must be opened at least so that no more than `allowed` (a weight) is
    missing, by all known prices.
    """
    problem = book.problem
    return max((_least_area(problem, prices, allowed) for prices in book.complete(problem.counts)), default=0)


def _least_area(problem, prices: Prices, allowed: float) -> int:
    """Cloths that are worth most per area first, the last one a fraction of a cloth."""
    lacking, area = dot(prices.prices, problem.needs) - allowed, 0.0
    if lacking <= 0:
        return 0
    for number in sorted(prices.worths, key=lambda s: -prices.worths[s] / problem.sorts[s].area):
        sort, worth = problem.sorts[number], prices.worths[number]
        if worth * sort.count >= lacking:
            return ceil((area + sort.area * lacking / worth) * (1 - _HAIR))
        lacking -= worth * sort.count
        area += sort.area * sort.count
    return ceil(area)


def sets(book: Book, below: int, allowed: float, most: int) -> Work[tuple[list[tuple[int, Opened]], bool]]:
    """All sets of cloths of less area than `below` that may miss no more than `allowed`, as (area, numbers), ascending.

    Returns the list and whether it is complete; it breaks off after `most` sets
    or 20 times the branches."""
    problem = book.problem
    order = sorted(range(len(problem.sorts)), key=lambda s: (-problem.sorts[s].area, s))
    rules = [_Rule(problem, order, prices, allowed) for prices in book.complete(problem.counts)]
    rules = [rule for rule in rules if rule.wanted > 0]
    found: list[tuple[int, Opened]] = []
    branches, stack = 0, [(0, 0, (), tuple(0.0 for _ in rules))]
    while stack and branches <= 20 * most and len(found) <= most:
        place, area, numbers, worths = stack.pop()
        branches += 1
        if branches % 64 == 0:
            problem.meter.add(16 * (1 + len(rules)))
            yield from problem.meter.pause()
        if place == len(order):
            found.append((area, tuple(number for _, number in sorted(zip(order, numbers)))))
            continue
        sort = problem.sorts[order[place]]
        for number in range(min(sort.count, (below - 1 - area) // sort.area) + 1):
            now = tuple([worth + number * rule.worths[place] for worth, rule in zip(worths, rules)])
            total = area + number * sort.area
            if all(rule.possible(worth, place + 1, below - total) for worth, rule in zip(now, rules)):
                stack.append((place + 1, total, (*numbers, number), now))
    return sorted(found), not stack


class _Rule:
    """What a set of cloths must be worth at some prices."""

    def __init__(self, problem, order: list[int], prices: Prices, allowed: float):
        self.worths = [prices.worths[sort] for sort in order]
        self.wanted = dot(prices.prices, problem.needs) - allowed
        self._worth_from, self._best_from = [0.0], [0.0]
        for sort in reversed(order):
            worth, cloth = prices.worths[sort], problem.sorts[sort]
            self._worth_from.append(self._worth_from[-1] + worth * cloth.count)
            self._best_from.append(max(self._best_from[-1], worth / cloth.area * (1 + _HAIR)))
        self._worth_from.reverse()
        self._best_from.reverse()

    def possible(self, worth: float, place: int, spare: int) -> bool:
        """Whether cloths from this place on, of less area than `spare`, may add what is lacking."""
        lacking = self.wanted - worth
        return lacking <= 0 or lacking <= self._worth_from[place] and lacking <= spare * self._best_from[place]


def neighbours(book: Book, opened: Opened, least: int) -> list[tuple[int, Opened]]:
    """Sets of less area, but `least` at least: a cloth left out, or one or two changed for one or two others."""
    problem = book.problem
    found = set()
    for out in _choices(opened):
        fewer = tuple(n - m for n, m in zip(opened, out))
        spare = tuple(sort.count - n for sort, n in zip(problem.sorts, fewer))
        limit = problem.area(opened)
        for more in _choices(spare):
            changed = tuple(n + m for n, m in zip(fewer, more))
            if least <= problem.area(changed) < limit:
                found.add((problem.area(changed), changed))
    return sorted(found)


def _choices(numbers: Opened) -> list[Opened]:
    """All ways to take none, one or two of these."""
    places = range(len(numbers))
    none = (0,) * len(numbers)
    ones = [tuple(int(i == k) for k in places) for i in places if numbers[i]]
    twos = [
        tuple((i == k) + (j == k) for k in places)
        for i in places
        for j in places[i:]
        if numbers[i] and numbers[j] and (i != j or numbers[i] > 1)
    ]
    return [none, *ones, *twos]
