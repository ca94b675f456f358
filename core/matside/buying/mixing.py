"""The fewest strips where a filling may be cut any part of a time: a linear programme, whose fillings
are made as they are wanted.

No whole number of strips is below it, and most of the best whole plan can be read from it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..plan.simplex import Simplex
from .filling import Fill, KindInStrip, fullest

_MOST_ROUNDS = 60
_TINY = 1e-7


@dataclass(frozen=True, slots=True)
class Mixing:
    """How often each filling is cut, in parts too, and the least whole number of strips that any way needs."""

    fillings: list[tuple[Fill, float]]
    least: int


def mixing(kinds: Sequence[KindInStrip], room: float) -> Mixing:
    """The programme's solution; each kind must fit in a strip.

    >>> found = mixing([KindInStrip(0.0, 6.0, 3), KindInStrip(0.0, 4.0, 3)], 10.0)
    >>> found.fillings, found.least
    ([((1, 1), 3.0)], 3)
    """
    most = [min(kind.need, kind.most(room)) for kind in kinds]
    fillings = [_only(k, most) for k in range(len(kinds))]
    programme = Simplex([float(kind.need) for kind in kinds], [part for _, part in fillings])
    least = 0.0
    for _ in range(_MOST_ROUNDS):
        prices = programme.prices()
        fill, surely = fullest(kinds, most, room, prices)
        worth = sum(price * count for price, count in zip(prices, fill, strict=True))
        if surely:
            least = max(least, programme.cost / max(1.0, worth))
        if worth <= 1 + _TINY:
            break
        programme.add(tuple(map(float, fill)), 1.0)
        fillings.append((fill, 1.0))
        while programme.improve():
            pass
    found = [(fillings[j][0], value * fillings[j][1]) for j, value in programme.solution().items() if value > _TINY]
    return Mixing(found, math.ceil(least - _TINY))


def _only(number: int, most: list[int]) -> tuple[Fill, float]:
    """A strip of one kind alone, as part of which one piece of it counts."""
    return tuple(count if k == number else 0 for k, count in enumerate(most)), 1 / max(1, most[number])
