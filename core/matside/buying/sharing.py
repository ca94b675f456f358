"""Strips of one width that share their pieces: as few as the best of several orders finds."""

from collections.abc import Callable, Iterator, Sequence

from ..units import SAME
from .filling import Fill, KindInStrip, fullest
from .mixing import Mixing, mixing

#: How often each filling is cut.
Filled = list[tuple[Fill, int]]
Filler = Callable[[Sequence[int], int, list[int]], Fill]
#: Up to so many kinds in one width, strips are filled exactly, and a programme over all fillings says how few could do.
FEW = 14


def shared(kinds: Sequence[KindInStrip], room: float) -> Filled:
    """Strips of a length that give all pieces, none more. Each kind must fit in a strip.

    Strips are filled in several orders, each beginning with another kind: plainly, one kind after the other, and where
    the kinds are few also so that as little as can be is left beside the first. What is best stays; where more strips
    are taken than any way needs at least, the rest that a mixing of fillings leaves is filled once more.

    >>> shared([KindInStrip(2.6, 5.2, 40), KindInStrip(0.0, 22.0, 10)], 42.0)
    [((3, 1), 10), ((7, 0), 1), ((3, 0), 1)]
    """
    needs = [kind.need for kind in kinds]
    if not any(needs):
        return []
    best = _best_of_orders(kinds, needs, room)
    if len(kinds) == 1 or _strips(best) <= _least(kinds, room) or len(kinds) > FEW:
        return best
    mixed = mixing(kinds, room)
    if _strips(best) <= mixed.least:
        return best
    for start in _starts(mixed):
        best = min(best, _rounded(kinds, room, start), key=_strips)
        if _strips(best) <= mixed.least:
            break
    return best


def _strips(filled: Filled) -> int:
    return sum(times for _, times in filled)


def _least(kinds: Sequence[KindInStrip], room: float) -> int:
    """No fewer strips hold the pieces themselves, laid end to end without any waste."""
    length = sum(kind.need * kind.advance for kind in kinds)
    return -int(-(length - SAME * sum(kind.need for kind in kinds)) // (room + SAME))


def _best_of_orders(kinds: Sequence[KindInStrip], needs: Sequence[int], room: float) -> Filled:
    fillers = [_plain(kinds, room)] + ([_exact(kinds, room)] if 1 < len(kinds) <= FEW else [])
    found = [_in_order(order, needs, fill) for order in _orders(kinds) for fill in fillers]
    return min(found, key=_strips)


def _orders(kinds: Sequence[KindInStrip]) -> list[list[int]]:
    """The orders that are tried: by the length of one piece, by what a run of them wastes,
    slanted or straight ones first.
    """
    numbers = range(len(kinds))
    keys = (
        lambda k: (-kinds[k].takes(1), k),
        lambda k: (-kinds[k].advance, k),
        lambda k: (kinds[k].starter_waste > 0, -kinds[k].advance, k),
        lambda k: (-kinds[k].starter_waste, -kinds[k].advance, k),
        lambda k: (kinds[k].takes(1), k),
        lambda k: (-kinds[k].need * kinds[k].advance, k),
    )
    found = [sorted(numbers, key=key) for key in keys]
    return [order for at, order in enumerate(found) if order not in found[:at]]


def _in_order(order: list[int], needs: Sequence[int], fill: Filler) -> Filled:
    """Strip after strip, each begun with the first kind of the order that is still needed,
    and as often as it can be.
    """
    left, found = list(needs), []
    while any(left):
        first = next(k for k in order if left[k])
        filling = fill(left, first, order)
        times = min(rest // count for rest, count in zip(left, filling, strict=True) if count)
        found.append((filling, times))
        left = [rest - count * times for rest, count in zip(left, filling, strict=True)]
    return found


def _plain(kinds: Sequence[KindInStrip], room: float) -> Filler:
    """As many of the first kind as there is room for, then of the next that is needed, and so on."""

    def fill(left: Sequence[int], first: int, order: list[int]) -> Fill:
        counts, rest = [0] * len(kinds), room
        for k in order:
            counts[k] = min(left[k], kinds[k].most(rest))
            rest -= kinds[k].takes(counts[k])
        return tuple(counts)

    return fill


def _exact(kinds: Sequence[KindInStrip], room: float) -> Filler:
    """So that the pieces take as much of the strip as they can, with one of the first kind at least."""
    lengths = [kind.advance for kind in kinds]
    known: dict[tuple, Fill] = {}

    def fill(left: Sequence[int], first: int, order: list[int]) -> Fill:
        limits = tuple(min(rest, kind.most(room)) for rest, kind in zip(left, kinds, strict=True))
        if (limits, first) not in known:
            known[limits, first] = fullest(kinds, limits, room, lengths, first)[0]
        return known[limits, first]

    return fill


def _starts(mixed: Mixing) -> Iterator[Filled]:
    """What is taken over from a mixing: all whole strips of it, or one less of one of its fillings."""
    whole = [(fill, int(times + SAME)) for fill, times in mixed.fillings]
    yield whole
    for at, (fill, times) in enumerate(whole):
        if times:
            yield [*whole[:at], (fill, times - 1), *whole[at + 1 :]]


def _rounded(kinds: Sequence[KindInStrip], room: float, start: Filled) -> Filled:
    """The start as far as it is needed, and the rest in the best order."""
    left, found = [kind.need for kind in kinds], []
    for fill, times in start:
        if times:
            found.append((fill, times))
            left = [rest - count * times for rest, count in zip(left, fill, strict=True)]
    rest = [kind._replace(need=need) for kind, need in zip(kinds, left, strict=True)]
    return found + (_best_of_orders(rest, left, room) if any(left) else [])
