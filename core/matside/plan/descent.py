"""Depth-first search through all cuttings of given cloths that lose no more than a gap.

Each cloth's patterns are taken in the order of what they lose. Where only a part of the gap may be spent, the last two
cloths may lose what they like: they have to take what the others leave.
"""

from collections.abc import Iterator
from operator import itemgetter

from .meter import Work
from .places import Cutting, Needs, Places
from .problem import dot, less

_END = object()
_REST = itemgetter(0)


class Descent:
    """One search. `offer` is called with each cutting found and its missing weight, and says what is allowed then:

    a smaller weight, to go on for a better one, or None to stop.
    """

    def __init__(self, places: Places, allowed: float, whole: bool, offer):
        self.places = places
        self.problem = places.problem
        self.allowed: float | None = allowed
        self.whole = whole
        self.offer = offer
        self.complete = True
        self._lists: dict[int, list] = {}
        self._dead: set[tuple[int, Needs]] = set()

    def run(self, gap: float, last_step: int) -> Work[bool]:
        """Goes down and back; returns whether it came to its end before that step."""
        yield from self._list(gap)
        chosen: Cutting = []
        stack = [self._children(0, self.places.needs, gap)]
        while stack:
            child = next(stack[-1], _END)
            if child is None:
                yield
                continue
            self.problem.meter.add(2)
            yield from self.problem.meter.pause()
            if child is _END:
                stack.pop()
                del chosen[len(stack) - 1 if stack else 0 :]
            elif self.problem.meter.steps > last_step:
                return False
            else:
                place, step, needs, rest = child
                chosen.append(step)
                if place < len(self.places.order) and any(needs):
                    stack.append(self._children(place, needs, rest))
                    continue
                if self.problem.missing(needs) <= self.allowed:
                    self.allowed = self.offer(list(chosen), self.problem.missing(needs))
                    if self.allowed is None:
                        return True
                chosen.pop()
        return True

    def _list(self, gap: float) -> Iterator[None]:
        """Lists the patterns within the gap for all cloths that are not cut for just what the others leave."""
        listed = self.places.order[: -1 if self.whole else -2]
        for sort in dict.fromkeys(listed):
            self._lists[sort], complete = yield from self.places.near(sort, gap)
            self.complete = self.complete and complete

    def _children(self, place: int, needs: Needs, gap: float):
        """How the cloth at this place can be cut: (next place, (sort, pattern, 1), needs, gap
        left); None for a pause.
        """
        places, key = self.places, (place, needs)
        left_over = len(places.order) - place
        if key in self._dead or places.hopeless(place, needs, self.allowed):
            return
        sort = places.order[place]
        if left_over == 1:
            pattern = places.last(needs, self.allowed)
            if pattern:
                yield place + 1, (sort, pattern, 1), less(needs, pattern.made), gap
        elif left_over == 2 and not self.whole:
            for pattern in (yield from places.last_but_one(needs, self.allowed)):
                yield place + 1, (sort, pattern, 1), less(needs, pattern.made), gap
        else:
            allowed = self.allowed
            for rest, left, pattern in self._within(sort, needs, gap):
                # What is allowed may have fallen meanwhile, and the gap with it.
                if rest >= allowed - self.allowed:
                    yield place + 1, (sort, pattern, 1), left, rest - (allowed - self.allowed)
        self._dead.add(key)

    def _within(self, sort: int, needs: Needs, gap: float) -> list:
        """The patterns that lose no more than the gap, those that lose least first: (gap left, needs, pattern)."""
        prices, found = self.places.prices, []
        # What a pattern is short of the best and what it is worth make up the best's worth.
        spare = gap + dot(prices, needs) - self.places.worths[sort]
        for short, made, pattern in self._lists[sort]:
            if short > gap:
                break
            left = tuple([need - done if need > done else 0 for need, done in zip(needs, made)])
            rest = spare - dot(prices, left)
            if rest >= 0:
                found.append((rest, left, pattern))
        self.problem.meter.add(len(found))
        found.sort(key=_REST, reverse=True)
        return found
