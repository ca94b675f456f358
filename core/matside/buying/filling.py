"""What one strip is filled with: so many pieces of each kind, one kind after the other, each slanted
one with its own starter cut.
"""

from collections.abc import Sequence
from typing import NamedTuple

from ..units import SAME

#: What one strip gives: how many of each kind, by the kinds' numbers.
Fill = tuple[int, ...]
#: Fillings that are looked at before the best so far is taken.
_MOST_STEPS = 1_000


class KindInStrip(NamedTuple):
    """Pieces of one kind in a strip: what the starter cut of a run of them takes, what each takes along
    the strip, how many are needed.
    """

    starter_waste: float
    advance: float
    need: int = 1

    def takes(self, count: int) -> float:
        """The length of strip that so many take; 0 for none.

        >>> KindInStrip(2.0, 5.0).takes(3), KindInStrip(2.0, 5.0).takes(0)
        (17.0, 0.0)
        """
        return self.starter_waste + count * self.advance if count else 0.0

    def most(self, room: float) -> int:
        """How many a length of strip gives; a strip that is exactly long enough gives its last piece.

        >>> KindInStrip(2.0, 5.0).most(17.0), KindInStrip(2.0, 5.0).most(1.0)
        (3, 0)
        """
        return max(0, int((room - self.starter_waste + SAME) / self.advance))


def taken(kinds: Sequence[KindInStrip], fill: Fill) -> float:
    """The length of strip that a filling takes."""
    return sum(kind.takes(count) for kind, count in zip(kinds, fill, strict=True))


def fullest(
    kinds: Sequence[KindInStrip], left: Sequence[int], room: float, values: Sequence[float], begun: int | None = None
) -> tuple[Fill, bool]:
    """The filling of the greatest value, of pieces that are left, and whether no other is worth more.

    At least one piece is of the kind `begun`, where one is named. Every filling that could still be better is looked
    at, up to a number of steps. Kinds that are worth nothing stay out.

    >>> fullest([KindInStrip(0.0, 22.0), KindInStrip(2.6, 5.2)], [10, 40], 42.0, [22.0, 5.2])
    ((1, 3), True)
    """
    search = _FillSearch(kinds, left, values, begun)
    search.go(0, room, 0.0)
    return search.best, search.steps < _MOST_STEPS


class _FillSearch:
    """Depth first through the kinds, those worth most for their length first; the best filling so far."""

    def __init__(self, kinds: Sequence[KindInStrip], left: Sequence[int], values: Sequence[float], begun: int | None):
        self.kinds, self.left, self.values, self.begun = kinds, left, values, begun
        worth = [value / kind.advance for kind, value in zip(kinds, values, strict=True)]
        able = [k for k in range(len(kinds)) if left[k] and (values[k] > 0 or k == begun)]
        self.order = sorted(able, key=lambda k: (k != begun, -worth[k], k))
        # By the length that is left, no kind still to come is worth more than this.
        self.ahead = [max((worth[k] for k in self.order[at:]), default=0.0) for at in range(len(self.order) + 1)]
        self.best: Fill = (0,) * len(kinds)
        self.most = 0.0
        self.counts = [0] * len(kinds)
        self.steps = 0

    def go(self, at: int, room: float, value: float) -> None:
        """Looks at everything that the kinds from `at` on can add."""
        self.steps += 1
        if value > self.most + SAME:
            self.most, self.best = value, tuple(self.counts)
        if at == len(self.order) or self.steps >= _MOST_STEPS or value + room * self.ahead[at] <= self.most + SAME:
            return
        number = self.order[at]
        kind = self.kinds[number]
        least = 1 if number == self.begun else 0
        for count in range(min(self.left[number], kind.most(room)), least - 1, -1):
            self.counts[number] = count
            self.go(at + 1, room - kind.takes(count), value + count * self.values[number])
        self.counts[number] = 0
