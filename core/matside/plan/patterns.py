"""What one cloth can give: the best pattern at given prices, and every pattern that comes near it.

A price is a whole number (held in a float, see `weights`) for a piece of each kind; a pattern is worth the sum over
its pieces, as far as they are needed. Ways are taken in the order of what they could be worth at most.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from operator import mul

from ..units import SAME
from .dominance import undominated
from .filling import Filling, Item, fill, items
from .meter import Meter, Work, drained
from .ways import Partition, WeightedKind

#: Branches of one way, and of all ways together, after which a search gives up and keeps its bound.
_MOST_IN_A_WAY = 8_000
_MOST_IN_ALL = 8_000
_MOST_NEAR_IN_A_WAY = 8_000
_MOST_NEAR = 60_000
#: More patterns than these are not listed.
_MOST_FOUND = 6_000
#: Ways and tables of yields that are looked at before it is asked whether to give way.
_LOOKS_AT_ONCE = 32
_TABLES_AT_ONCE = 256
_NOTHING = float("-inf")


@dataclass(frozen=True, slots=True)
class Pattern:
    """One cloth's cutting: pieces made of each kind (none beyond the need), which way, and (part, kind, strips)."""

    made: tuple[int, ...]
    way: int
    strips: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True)
class Costs:
    """What is taken off a pattern's worth for each of its strips, by kind, and for a division; whole numbers."""

    strips: tuple[float, ...]
    division: float

    def of(self, pattern: Pattern, divided: bool) -> float:
        """What a pattern costs."""
        return sum(count * self.strips[kind] for _, kind, count in pattern.strips) + (self.division if divided else 0.0)


@dataclass(frozen=True, slots=True)
class Best:
    """The most worth that was found, what nothing can exceed (the same unless the search gave up), the pattern."""

    worth: float
    most: float
    pattern: Pattern | None
    #: What was best for a while on the way there.
    others: tuple[Pattern, ...] = ()


class Patterns:
    """All that can be cut from cloths of one sort.

    `ways` are those that can be cut. Ways that were left out are taken in too, as they count for bounds.
    """

    def __init__(self, kinds: list[WeightedKind], ways: list[Partition], meter: Meter):
        self.ways: list[Partition] = []
        self.meter = meter
        self._needs = tuple(kind.need for kind in kinds)
        self._known: dict[tuple[float, ...], tuple[float, list[tuple[float, Pattern]]]] = {}
        self._failed: dict[tuple[float, ...], tuple[float, int, list[tuple[float, Pattern]]]] = {}
        self.sizes = [kind.size for kind in kinds]
        self._tables: dict[tuple[int, ...], int] = {}
        self._outlines: list[tuple[int, float, int, float]] = []
        self._beyond: list[tuple[int, float, int, float]] = []
        self._free = Costs((0.0,) * len(kinds), 0.0)
        self._per_width: list[tuple[float, ...]] = []
        drained(self.add(ways))

    def add(self, ways: list[Partition]) -> Iterator[None]:
        """Takes in ways, giving way in between."""
        for way in ways:
            outline = self._outline(way)
            if way.real:
                self.ways.append(way)
                self._outlines.append(outline)
            else:
                self._beyond.append(outline)
            self.meter.add(2)
            yield from self.meter.pause()
        self._gives = list(self._tables)
        #: All ways, those without a division first.
        self.undivided_first = sorted(range(len(self.ways)), key=lambda number: self.ways[number].division is not None)
        #: The most of each kind that one strip gives.
        self.most_of_a_strip = tuple(max(gives) for gives in zip(*self._tables))

    def best(self, prices, needs, above: float = -1.0, most_branches: int = _MOST_IN_ALL) -> Best:
        """The pattern of most worth, if one is worth more than `above`; gives up after about so many branches."""
        return drained(self.seek(prices, needs, above, most_branches))

    def seek(self, prices, needs, above: float, most_branches: int, costs: Costs | None = None) -> Work[Best]:
        """The same, giving way in between: for searches that may take
        long, and for strips that cost.
        """
        costs = costs or self._free
        top = sum(map(mul, prices, needs))
        best, pattern, branches, others = above, None, 0, []
        ways, most = yield from self._promising(prices, needs, above + 0.5, costs)
        known: dict[int, list[Item]] = {}
        for bound, way in ways:
            if bound < best + 0.5 or best >= top:
                break
            if branches > most_branches:
                most = max(most, bound)
                break
            paid = self._division_cost(way, costs)
            filling = self._fill(
                way, prices, needs, best + paid, min(_MOST_IN_A_WAY, most_branches), False, known, costs
            )
            branches += filling.branches
            self.meter.add(filling.branches)
            if not filling.complete:
                most = max(most, bound)
            for made, (worth, strips, _) in filling.found.items():
                others += [pattern] if pattern else []
                best, pattern = worth - paid, Pattern(made, way, strips)
            yield from self.meter.pause()
        return Best(max(0.0, best), max(0.0, best, min(top, most)), pattern, tuple(others))

    def _division_cost(self, way: int, costs: Costs) -> float:
        return costs.division if self.ways[way].division else 0.0

    def near(
        self, prices: tuple[float, ...], least: float, most_branches: int = _MOST_NEAR
    ) -> Work[tuple[list[tuple[float, Pattern]], bool]]:
        """Every pattern worth at least `least`, most worth first; returns them, and whether they are all of them.

        Patterns that make no more of any kind than another one are left out.
        """
        known_from, known = self._known.get(prices, (float("inf"), []))
        if least >= known_from:
            return [item for item in known if item[0] >= least], True
        failed_from, spent, found = self._failed.get(prices, (float("-inf"), 0, []))
        if least <= failed_from and most_branches <= spent:
            return found, False
        found, complete = yield from self.near_for(prices, self._needs, least, most_branches)
        if complete:
            self._known[prices] = least, found
        else:
            self._failed[prices] = least, most_branches, found
        return found, complete

    def near_for(
        self, prices, needs, least: float, most_branches: int, costs: Costs | None = None
    ) -> Work[tuple[list[tuple[float, Pattern]], bool]]:
        """The same for other needs, none above those of the search; gives up after about `most` branches.

        Where strips cost something, patterns that make less with fewer strips are kept as well.
        """
        costs = costs or self._free
        found: dict[tuple[int, ...], tuple[tuple, float, Pattern]] = {}
        ways, beyond = yield from self._promising(prices, needs, least - 0.5, costs)
        complete, branches = beyond < least, 0
        known: dict[int, list[Item]] = {}
        for _, way in ways:
            if branches > most_branches or len(found) > _MOST_FOUND:
                complete = False
                break
            paid = self._division_cost(way, costs)
            most = min(most_branches, _MOST_NEAR_IN_A_WAY)
            filling = self._fill(way, prices, needs, least - 1.0 + paid, most, True, known, costs)
            complete = complete and filling.complete
            for made, (worth, strips, number) in filling.found.items():
                effort = number, paid
                if made not in found or costs is not self._free and effort < found[made][0]:
                    found[made] = effort, worth - paid, Pattern(made, way, strips)
            branches += filling.branches
            self.meter.add(filling.branches + 1)
            yield from self.meter.pause()
        if costs is self._free:
            worths = {made: sum(map(mul, prices, made)) for made in found}
            order = sorted(found, key=lambda made: (-worths[made], [-number for number in made]))
            kept = yield from undominated(order, self.meter)
            return [(worths[made], found[made][2]) for made in kept], complete
        # Fewer strips are better: their number counts as one more thing that a pattern gives, taken off.
        efforts = {(*made, -number): (worth, pattern) for made, ((number, _), worth, pattern) in found.items()}
        kept = yield from undominated(sorted(efforts, key=lambda gives: (-sum(gives[:-1]), -gives[-1])), self.meter)
        return [efforts[gives] for gives in kept], complete

    def _fill(
        self, way: int, prices, needs, above: float, most: int, every: bool, known: dict, costs: Costs
    ) -> Filling:
        """Fills a way; `known` keeps the items of its parts for other ways at the same prices and needs."""
        first, room, second, other_room = self._outlines[way]
        order = self._items(first, 0, prices, needs, known, costs)
        if other_room:
            order = sorted(order + self._items(second, 1, prices, needs, known, costs), reverse=True)
        return fill(order, (room, other_room), needs, above, most, every, None if costs is self._free else costs.strips)

    def _items(self, table: int, part: int, prices, needs, known: dict, costs: Costs) -> list[Item]:
        key = 2 * table + part
        if key not in known:
            known[key] = items(part, self.sizes, self._gives[table], prices, needs, costs.strips)
        return known[key]

    def _outline(self, way: Partition) -> tuple[int, float, int, float]:
        """For each part which table of yields it has, and its breadth; the breadth is 0 for
        a part that is not there.
        """
        first, second = way.parts[0], way.parts[-1]
        rooms = [first.breadth + SAME, second.breadth + SAME if len(way.parts) > 1 else 0.0]
        return self._table(first.gives), rooms[0], self._table(second.gives), rooms[1]

    def _table(self, gives: tuple[int, ...]) -> int:
        if gives not in self._tables:
            self._tables[gives] = len(self._tables)
            self._per_width.append(tuple([give / size for give, size in zip(gives, self.sizes)]))
            self.meter.add(len(gives) // 4)
        return self._tables[gives]

    def _promising(self, prices, needs, least: float, costs: Costs) -> Work[tuple[list[tuple[float, int]], float]]:
        """The ways that may be worth at least `least`, with what they are worth at most, the
        greatest first.

        Also the most that any way might be worth of those that were left out from the start.
        """
        densities = yield from self._densities(prices, costs)
        orders: dict[int, list] = {}
        found, looks = [], 0
        for way, (a, x, b, y) in enumerate(self._outlines):
            if x * densities[a] + y * densities[b] >= least:
                bound = self._most(a, x, prices, needs, orders, costs) - self._division_cost(way, costs)
                if y:
                    bound += self._most(b, y, prices, needs, orders, costs)
                if bound >= least:
                    found.append((bound, way))
                looks += 1
                if looks % _LOOKS_AT_ONCE == 0:
                    self.meter.add(_LOOKS_AT_ONCE * (2 + len(self.sizes) // 8) // 4)
                    yield from self.meter.pause()
        self.meter.add(len(self.ways) // 4)
        found.sort(reverse=True)
        beyond = max((x * densities[a] + y * densities[b] for a, x, b, y in self._beyond), default=_NOTHING)
        return found, beyond

    def _densities(self, prices, costs: Costs) -> Work[list[float]]:
        """The most that an inch of breadth is worth, by table of yields."""
        found, paid = [], [cost / size for cost, size in zip(costs.strips, self.sizes)]
        for number, per in enumerate(self._per_width, 1):
            if costs is self._free:
                found.append(max(map(mul, prices, per)))
            else:
                found.append(max(0.0, max([p * w - c for p, w, c in zip(prices, per, paid)])))
            if number % _TABLES_AT_ONCE == 0:
                self.meter.add(_TABLES_AT_ONCE * len(per) // 60)
                yield from self.meter.pause()
        return found

    def _most(self, table: int, room: float, prices, needs, orders, costs: Costs) -> float:
        """What a part is worth at most: its breadth filled with fractions of strips, no more of a kind than needed."""
        order = orders.get(table)
        if order is None:
            order = orders[table] = sorted(
                [
                    (net * gives / size, net * need, need * size / gives, size)
                    for net, gives, size, need in self._nets(table, prices, needs, costs.strips)
                ],
                reverse=True,
            )
        worth = 0.0
        if order and order[0][2] >= room:
            # Of the kind that is worth most no fraction of a strip: what room is left then goes to the next kinds.
            density, _, _, size = order[0]
            whole = int(room / size) * size
            worth, room, order = whole * density, room - whole, order[1:]
        for density, of_all, wide, _ in order:
            if wide >= room:
                return worth + room * density
            worth += of_all
            room -= wide
        return worth

    def _nets(self, table: int, prices, needs, costs):
        """Of the kinds that are worth their strips: a piece's price less its share of the strip,
        pieces a strip, strip width, need.
        """
        for price, gives, size, need, cost in zip(prices, self._gives[table], self.sizes, needs, costs):
            if gives and need and price * gives >= cost:
                yield price - cost / gives if cost else price, gives, size, need
