"""What one cloth is worth at most at given prices, and all its cuttings that come near that: over all
divisions, in whole numbers.

The cutting rule is read anew, nothing here is the search's: a cloth whole or divided once, each part in parallel strips
all one way, each strip of one kind of piece; a strip of n pieces is starter waste + n · advance long; no more pieces
count than are needed. Strips run along the sides that the grain and the print leave.

A division matters only where a whole number of pieces just fits before it: short of that is waste which the other part
can have, and two parts whose strips all run along the division give nothing that the whole cloth does not give."""

import math
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

HAIR = 1e-9
_OTHER = {"length": "width", "width": "length"}
_MOST_CELLS = 4_000_000
_LARGEST = 2**61


class TooMuch(Exception):
    """It cannot be worked out with as much work as this checker does."""


@dataclass(frozen=True)
class Kind:
    """A kind of piece: strip width, starter waste and advance in inches, how many are needed."""

    size: Fraction
    waste: float
    advance: float
    need: int

    def fits(self, run: float) -> int:
        """Pieces that a strip of this length gives, none beyond the need."""
        return min(self.need, max(0, math.floor((run - self.waste + HAIR) / self.advance)))


def sides_of(grain: str, selvage: str | None, one_way: bool) -> tuple[str, ...]:
    """The sides of a cloth that strips may run along.

    All pieces of a one-way print lie one way: its strips run along the print, that is along the selvage, or along the
    length where the selvage is not known. Lengthwise grain is along the selvage, crosswise grain across it, and neither
    is to be had from a cloth whose selvage is not known. Common practice, no published source."""
    wanted = {"any": {"length", "width"}, "lengthwise": {selvage}, "crosswise": {_OTHER.get(selvage)}}[grain]
    printed = {selvage or "length"} if one_way else {"length", "width"}
    return tuple(sorted(side for side in wanted & printed if side))


class Cuttings:
    """All that one cloth can be cut to, as ways: one or two parts, each a table of yields and a breadth."""

    def __init__(
        self, length: Fraction, width: Fraction, sides: tuple[str, ...], kinds: list[Kind], allowed: list[bool]
    ):
        self.kinds = [
            kind if may else Kind(kind.size, kind.waste, kind.advance, 0) for kind, may in zip(kinds, allowed)
        ]
        self.needs = [kind.need for kind in self.kinds]
        self._unit = math.lcm(*(kind.size.denominator for kind in kinds))
        self.widths = [int(kind.size * self._unit) for kind in kinds]
        self._rows: dict[tuple[int, ...], int] = {}
        long = {"length": float(length), "width": float(width)}
        ways = {way for along in sides for way in self._ways(long[along], long[_OTHER[along]], _OTHER[along] in sides)}
        self.ways = sorted(ways)
        self.gives = np.array(list(self._rows) or [[0] * len(kinds)], dtype=np.int64)
        self.rooms = 1 + max((max(x, y) for _, x, _, y in ways), default=0)
        if len(self.gives) * self.rooms > _MOST_CELLS:
            raise TooMuch

    def _ways(self, run: float, breadth: float, both: bool):
        """Those whose first part's strips run along the side that is divided, and the undivided one."""
        yield (*self._part(run, breadth), 0, 0)
        for at in {kind.waste + n * kind.advance for kind in self.kinds for n in range(1, kind.fits(run) + 1)}:
            first, rest = self._part(at, breadth), max(0.0, run - at)
            yield (*first, *self._part(rest, breadth))
            if both:
                yield (*first, *self._part(breadth, rest))

    def _part(self, run: float, breadth: float) -> tuple[int, int]:
        row = tuple(kind.fits(run) for kind in self.kinds)
        return self._rows.setdefault(row, len(self._rows)), math.floor((breadth + HAIR) * self._unit)

    def alone(self) -> list[int]:
        """The most pieces of each kind that the undivided cloth gives where it gives no other kind."""
        whole = [way for way in self.ways if not way[3]]
        return [
            min(need, max((room // width * int(self.gives[row][k]) for row, room, _, _ in whole), default=0))
            for k, (need, width) in enumerate(zip(self.needs, self.widths))
        ]

    def worth(self, prices: list[int], enough: int | None = None) -> int:
        """The most that a cutting is worth; where that is no more than `enough`, some number up to
        `enough` that it does not exceed.
        """
        relaxed = sorted(self._relaxed(prices), reverse=True)
        best = -1 if enough is None else enough
        if enough is not None and (not relaxed or relaxed[0][0] <= enough):
            return relaxed[0][0] if relaxed else 0
        for most, way in relaxed:
            if most <= best:
                break
            best = max(best, self._exact(self.ways[way], prices))
        return max(best, 0)

    def _relaxed(self, prices: list[int]):
        """What each way is worth at most: the parts filled best, each as if the needs were its own."""
        table = self._filled(prices, range(len(prices)))
        return [(int(table[a, x] + (table[b, y] if y else 0)), n) for n, (a, x, b, y) in enumerate(self.ways)]

    def _filled(self, prices, order) -> np.ndarray:
        """The most that strips of these kinds are worth, by table of yields and room (a knapsack, exact)."""
        if sum(int(p) * n for p, n in zip(prices, self.needs)) * 2 > _LARGEST:
            raise TooMuch
        table = np.zeros((len(self.gives), self.rooms), dtype=np.int64)
        for k in order:
            table = self._with(table, k, prices[k])
        return table

    def _with(self, table: np.ndarray, k: int, price: int) -> np.ndarray:
        gives, width, need = self.gives[:, k], self.widths[k], self.needs[k]
        if not price or not gives.any():
            return table
        least = int(gives[gives > 0].min())
        found = table.copy()
        for strips in range(1, min((self.rooms - 1) // width, -(-need // least)) + 1):
            worth = (price * np.minimum(strips * gives, need))[:, None]
            np.maximum(
                found[:, strips * width :],
                table[:, : self.rooms - strips * width] + worth,
                out=found[:, strips * width :],
            )
        return found

    def _exact(self, way: tuple, prices: list[int]) -> int:
        """The most that a way is worth: strips of both parts kind by kind, over all that is left of both breadths."""
        a, x, b, y = way
        table = np.zeros((x + 1, y + 1), dtype=np.int64)
        for k, (price, width, need) in enumerate(zip(prices, self.widths, self.needs)):
            one, other = int(self.gives[a][k]), int(self.gives[b][k])
            found = table.copy()
            for m, n in _strips(one, other, x // width, y // width, need) if price else ():
                i, j = m * width, n * width
                worth = price * min(need, m * one + n * other)
                np.maximum(found[i:, j:], table[: x + 1 - i, : y + 1 - j] + worth, out=found[i:, j:])
            table = found
        return int(table[x, y])

    def near(self, prices: list[int], least: Fraction, most_looks: int) -> set[tuple[int, ...]]:
        """What every cutting that is worth at least `least` makes of each kind; may hold what another one exceeds.

        Raises TooMuch after so many looks.
        """
        order = sorted(range(len(prices)), key=lambda k: -self.widths[k])
        # suffix[i]: filled with the kinds from place i of the order on.
        suffix = [np.zeros((len(self.gives), self.rooms), dtype=np.int64)]
        for k in reversed(order):
            suffix.append(self._with(suffix[-1], k, prices[k]))
        suffix.reverse()
        found: set[tuple[int, ...]] = set()
        for a, x, b, y in self.ways:
            if suffix[0][a, x] + suffix[0][b, y] >= least:
                tables = [(table[a].tolist(), table[b].tolist()) for table in suffix]
                most_looks = self._descend(order, tables, prices, (a, x, b, y), least, found, most_looks)
        return found

    def _descend(self, order, tables, prices, way, least, found: set, looks: int) -> int:
        a, x, b, y = way
        ones, others = self.gives[a].tolist(), self.gives[b].tolist()
        stack = [(0, x, y, 0, (0,) * len(order))]
        while stack:
            place, room, rest, worth, made = stack.pop()
            looks -= 1
            if looks < 0:
                raise TooMuch
            if place == len(order):
                found.add(made)
                continue
            k, (first, second) = order[place], tables[place + 1]
            width, need, price = self.widths[k], self.needs[k], prices[k]
            for m, n in [(0, 0), *_strips(ones[k], others[k], room // width, rest // width, need)]:
                number = min(need, m * ones[k] + n * others[k])
                now, i, j = worth + price * number, room - m * width, rest - n * width
                if now + first[i] + second[j] >= least:
                    stack.append((place + 1, i, j, now, (*made[:k], number, *made[k + 1 :])))
        return looks


def _strips(one: int, other: int, most: int, most_other: int, need: int):
    """Numbers of strips of a kind in both parts of which none is idle, all but none in either."""
    for m in range(min(most, -(-need // one)) + 1 if one else 1):
        lacking = max(0, need - m * one)
        for n in range(min(most_other, -(-lacking // other)) + 1 if other else 1):
            if m or n:
                yield m, n
