"""A plan under a restriction as the start of one without it: strips along one side of every cloth
only, as for a one-way print.

There are far fewer ways to cut such a cloth, so that a search among them comes much farther with as much work.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from ..cloth import OTHER
from .groups import Built, Group, Task, build
from .places import Cutting
from .search import Search


class Lifted:
    """The search of a group with strips along one side of each cloth: along its selvage (or length), or `across` that.

    What it finds goes to the group's own search. `bounded` is False where every cloth is restricted so
    already, or gives nothing then."""

    def __init__(self, built: Built, search: Search, task: Task, across: bool):
        self.built = built
        self.search = search
        self.task = replace(task, sides={c: self._side(task, c, across) for c in built.group.cloths})
        kinds = [(task.needs[n], task.kind(n)) for n in built.group.needs]
        able = [
            c
            for c in built.group.cloths
            if any(task.cloths[c].takes(need) and self.task.most(c, kind, need) for need, kind in kinds)
        ]
        self.group = Group(built.group.needs, tuple(able))
        self.bounded = bool(able) and any(len(task.sides_of(c)) > 1 for c in built.group.cloths)
        self._inner: Search | None = None
        self._members: list[list[int]] = []

    def _side(self, task: Task, number: int, across: bool) -> tuple[str, ...]:
        cloth, sides = task.cloths[number], task.sides_of(number)
        if len(sides) < 2:
            return sides
        along = cloth.selvage or "length"
        return (OTHER[along] if across else along,)

    @property
    def steps(self) -> int:
        """Steps of work so far."""
        return self._inner.problem.meter.steps if self._inner else 0

    def run(self) -> Iterator[None]:
        """Searches until it is proved that no restricted plan is better."""
        inner = yield from build(self.group, self.task)
        self._inner, self._members = Search(inner.problem), inner.members
        taken = None
        for _ in self._inner.run():
            if self._inner.begun and self._inner.cutting is not taken:
                taken = self._inner.cutting
                self._take(taken)
            yield

    def _take(self, cutting: Cutting) -> None:
        """Hands a cutting to the group's search, if its ways are known there."""
        stock = self._stock()
        found: Cutting = []
        for sort, pattern, times in cutting:
            way = self._inner.problem.sorts[sort].patterns.ways[pattern.way]
            for own, some in _taken(stock[sort], times):
                ways = self.search.problem.sorts[own].patterns.ways
                if way not in ways:
                    return
                found.append((own, replace(pattern, way=ways.index(way)), some))
        self.search.take(found)

    def _stock(self) -> list[Counter[int]]:
        """For each restricted sort how many cloths it has of which of the group's own sorts: cloths that differ in how
        they may be cut are one sort where only one way is left."""
        own = {c: sort for sort, numbers in enumerate(self.built.members) for c in numbers}
        stock = [Counter() for _ in self._members]
        for count, numbers in zip(stock, self._members):
            for c in numbers:
                count[own[c]] += self.task.cloths[c].count
        return stock


def _taken(stock: Counter[int], times: int) -> list[tuple[int, int]]:
    """So many cloths taken off a stock, as (sort, how many)."""
    taken = []
    for sort, there in sorted(stock.items()):
        some = min(there, times)
        if some:
            taken.append((sort, some))
            stock[sort] -= some
            times -= some
    return taken
