"""Whether given cloths can give all that is wanted, or all but so much: found, or proved impossible.

At prices that prove a bound, whatever a cutting falls short of the bound splits up exactly: what each cloth's
pattern is worth less than the best, what is made beyond the need, and what is missing at weight less price. So only
patterns within the gap between the bound and the goal need be looked at, and the gap is spent on the way down. First
only a small part of it may be spent, which finds most plans soon; in the end all of it, which proves what is left.
The last cloth is cut as well as it can be for whatever the others leave.
"""

from collections.abc import Iterator
from operator import itemgetter

from .patterns import Pattern
from .prices import Book, Prices, mixture
from .problem import dot, less

#: The parts of the gap that are tried one after another.
_PARTS = (0.02, 0.1, 0.4, 1.0)
_MOST_PRICES = 6
#: With more cloths than this, those that the linear programme cuts alike are taken from it as they are.
_MOST_CLOTHS = 18

first = itemgetter(0)
_END = object()

Cutting = list[tuple[int, Pattern]]


class Fit:
    """Looks for a cutting of so many cloths of each sort that leaves no more than `allowed` (a weight) missing.

    With `improve` it goes on from each one found to a better one. `found` is the last one and `missing` its weight;
    `settled` says that there is no other answer to expect: found, or proved impossible (to find, or to improve).
    """

    def __init__(self, book: Book, opened: tuple[int, ...], allowed: float, improve: bool = False):
        self.book = book
        self.problem = book.problem
        self.opened = opened
        self.needs = book.problem.needs
        self.allowed = allowed
        self.improve = improve
        self.found: Cutting | None = None
        self.missing = 0.0
        self.settled = False
        self.last_step = 0
        self.effort = 0
        self._prices: Prices | None = None
        self._fixed: Cutting = []
        self._stages = self._start()

    def attempt(self, effort: int) -> Iterator[None]:
        """Spends about `effort` steps; goes on where the last attempt stopped."""
        self.last_step = self.problem.meter.steps + effort
        if self.book.missing(self.opened) > self.allowed:
            self.settled = True
        while not self.settled and self._stages:
            stage = self._stages[0]
            if stage is None:
                yield from self._reprice()
                finished = True
            elif stage == 0.0:
                finished = True
                for p in self.book.tightest_few(self.opened, 4):
                    yield from self._dive(p)
                    if self.done: break
            else:
                finished = yield from self._descend(stage)
            self.settled = self.settled or self.done
            if self.problem.meter.steps > self.last_step and not finished:
                return
            self._stages.pop(0)
            if self.problem.meter.steps > self.last_step:
                return

    @property
    def done(self) -> bool:
        """Whether nothing more is looked for."""
        return self.found is not None and (not self.improve or self.missing <= 0)

    def take(self, cutting: Cutting, missing: float) -> None:
        """Keeps a cutting if it is good enough, and asks for more of the next one."""
        if missing <= self.allowed:
            self.found, self.missing = [*self._fixed, *cutting], missing
            self.allowed = missing - 1.0 if self.improve else self.allowed

    def _start(self) -> list[float | None]:
        number = sum(self.opened)
        if number > _MOST_CLOTHS:
            return [None, *_PARTS]
        self._prices = self.book.tightest(self.opened)
        if number <= 1 and self._prices: return [1.0]
        return [0.0, _PARTS[0], None, *_PARTS] if self._prices else [None, *_PARTS]

    def _reprice(self) -> Iterator[None]:
        """Finds prices that bound well for these cloths; settles the matter when they prove too much missing."""
        for aim in ("missing", "area") if self.allowed > 0 else ("area",):
            mixed = yield from mixture(self.book, self.opened, aim, self.allowed)
            self.settled = mixed.missing > self.allowed
            if mixed.missing > 0:
                break
        self._prices = mixed.prices
        if sum(self.opened) > _MOST_CLOTHS and not self.settled:
            self._fix(mixed.mixed)

    def _fix(self, mixed) -> None:
        """Takes over whole cloths from the mixture, so that few are left to decide."""
        left = list(self.opened)
        for sort, made, times in mixed:
            pattern = self.book.patterns[sort][made]
            for _ in range(int(times + 1e-6)):
                self._fixed.append((sort, pattern))
                self.needs = less(self.needs, made)
                left[sort] -= 1
        self.opened = tuple(left)

    def _dive(self, prices: Prices) -> Iterator[None]:
        """Cuts each cloth as well as it can be at these prices for what is still needed, without looking back."""
        descent = _Descent(self, prices)
        needs, cutting = self.needs, []
        for place, sort in enumerate(descent.order):
            if not any(needs): break
            if any(dot(p, needs) - worths[place] > self.allowed for p, worths in descent.bounds):
                return
            at = prices.prices if place < len(descent.order) - 2 else self.problem.weights
            best = self.problem.sorts[sort].patterns.best(at, needs)
            yield from self.problem.meter.pause()
            if best.pattern:
                cutting.append((sort, best.pattern))
                needs = less(needs, best.pattern.made)
        self.take(cutting, self.problem.missing(needs))

    def _descend(self, part: float) -> Iterator[None]:
        """One depth-first search that spends so much of the gap; whether it came to its end (`yield from`)."""
        descent = _Descent(self, self._prices)
        descent.part = part
        if not descent.order:
            self.take([], self.problem.missing(self.needs))
            return True
        gap = (self.allowed - descent.bound) * part
        complete = yield from descent.prepare(gap)
        finished = yield from descent.run(gap)
        if finished and part == 1.0:
            self.settled = complete and descent.exact and not self._fixed
        return finished


class _Descent:
    """Cloth by cloth, most worth first, each with its patterns in the order of what they fall short."""

    def __init__(self, task: Fit, prices: Prices):
        self.task = task
        self.problem = task.problem
        self.prices = prices.prices
        self.worths = prices.worths
        opened = [(sort, number) for sort, number in enumerate(task.opened) if number]
        opened.sort(key=lambda item: -self.worths[item[0]])
        self.order = [sort for sort, number in opened for _ in range(number)]
        self.bound = dot(self.prices, task.needs) - sum(self.worths[sort] for sort in self.order)
        self.bounds = self._bounds(prices)
        self.exact = True
        self.lists: dict = {}
        self.dead: set = set()
        self.ends: dict = {}

    def _bounds(self, prices: Prices) -> list[tuple[tuple[float, ...], list[float]]]:
        """Prices with the worth of all cloths from each place in the order on."""
        wanted = set(self.order)
        known = [p for p in self.task.book.prices.values() if p is not prices and wanted <= p.worths.keys()]
        return [(p.prices, self._suffix(p)) for p in [prices, *known[:1], *known[1:][-_MOST_PRICES:]]]

    def _suffix(self, prices: Prices) -> list[float]:
        sums = [0.0]
        for sort in reversed(self.order):
            sums.append(sums[-1] + prices.worths[sort])
        return sums[::-1]

    def prepare(self, gap: float) -> Iterator[None]:
        """Lists the patterns within the gap for all cloths but the last; whether the lists are complete."""
        complete = True
        for sort in dict.fromkeys(self.order[:-1]):
            worth = self.worths[sort]
            near, all_of_them = yield from self.problem.sorts[sort].patterns.near(self.prices, worth - gap)
            complete = complete and all_of_them
            self.lists[sort] = [(worth - had, pattern.made, pattern) for had, pattern in near]
        return complete

    def run(self, gap: float) -> Iterator[None]:
        """Goes down and back; whether it came to an end before the effort did."""
        task, meter = self.task, self.problem.meter
        chosen: Cutting = []
        stack = [self._children(0, task.needs, gap)]
        while stack and not task.done:
            child = next(stack[-1], _END)
            if child is None:
                yield
                continue
            meter.add(2)
            yield from meter.pause()
            if meter.steps > task.last_step:
                return False
            if child is _END:
                stack.pop()
                if chosen:
                    chosen.pop()
                continue
            place, sort, pattern, needs, rest = child
            chosen.append((sort, pattern))
            if place == len(self.order) or not any(needs):
                task.take(list(chosen), self.problem.missing(needs))
                chosen.pop()
            else:
                stack.append(self._children(place, needs, rest))
        return True

    def _children(self, place: int, needs: tuple[int, ...], gap: float):
        """How the cloth at this place can be cut: (next place, sort, pattern, needs, gap)."""
        task, order = self.task, self.order
        if any(dot(prices, needs) - worths[place] > task.allowed for prices, worths in self.bounds):
            return
        sort, last = order[place], len(order) - 1
        if place == last:
            pattern = self._last(sort, needs)
            if pattern:
                yield place + 1, sort, pattern, less(needs, pattern.made), gap
            return
        key = (place, needs)
        if key in self.dead:
            return
        if place == last - 1 and self.part < 1.0:
            yield from self._last_but_one(place, needs)
            self.dead.add(key)
            return
        prices, allowed, worth = self.prices, task.allowed, dot(self.prices, needs)
        children = []
        for short, made, pattern in self.lists[sort]:
            if short > gap:
                break
            left = tuple([need - done if need > done else 0 for need, done in zip(needs, made)])
            rest = gap - short - dot(prices, made) + worth - dot(prices, left)
            if rest >= 0:
                children.append((rest, left, pattern))
        self.problem.meter.add(len(children))
        children.sort(key=first, reverse=True)
        for rest, left, pattern in children:
            rest -= allowed - task.allowed
            if rest >= 0:
                yield place + 1, sort, pattern, left, rest
        self.dead.add(key)

    def _last_but_one(self, place, needs):
        weights, sorts = self.problem.weights, self.problem.sorts
        rest = sorts[self.order[place + 1]].patterns.best(weights, needs).most
        sort = self.order[place]
        least = max(1.0, dot(weights, needs) - rest - self.task.allowed)
        finding = sorts[sort].patterns.near_for(weights, needs, least, 3_000)
        while True:
            try:
                next(finding)
            except StopIteration as end:
                found, _ = end.value
                break
            yield None
        for worth, pattern in found:
            yield place + 1, sort, pattern, less(needs, pattern.made), 0.0

    def _last(self, sort: int, needs: tuple[int, ...]) -> Pattern | None:
        """The best pattern for what the others leave, if it leaves no more missing than is allowed."""
        key = (sort, needs)
        if key not in self.ends:
            wanted = self.problem.missing(needs) - self.task.allowed
            best = self.problem.sorts[sort].patterns.best(self.problem.weights, needs, wanted - 1.0)
            self.exact = self.exact and (best.most < wanted or best.most <= best.worth)
            self.ends[key] = best.pattern
        return self.ends[key]
