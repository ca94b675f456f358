"""Filling the parts of one way with strips: the inner loop of the search.

Depth first over items (strips of one kind in one part), most worth per width first, the greatest number of strips
first. Two bounds cut branches off: the free breadths at the best worth per width still to come, and the same with
fractions of strips and no more of a kind in each part than is needed.
"""

from dataclasses import dataclass
from typing import NamedTuple


_HOPELESS, _TOO_LITTLE, _REACHED = range(3)


class Item(NamedTuple):
    """Strips of one kind in one part: worth per width, part, kind, strip width, pieces a strip, price a piece."""

    density: float
    part: int
    kind: int
    size: float
    gives: int
    price: float


@dataclass(slots=True)
class Filling:
    """What was found: pieces made → (worth, strips); the branches looked at; whether nothing was left out."""

    found: dict[tuple[int, ...], tuple[float, tuple]]
    branches: int
    complete: bool


def items(sizes, gives_by_part, prices, needs) -> list[Item]:
    """The items of a way, most worth per width first."""
    found = [
        Item(prices[k] * g / sizes[k], part, k, sizes[k], g, prices[k])
        for part, gives in enumerate(gives_by_part)
        for k, g in enumerate(gives)
        if g and needs[k]
    ]
    return sorted(found, reverse=True)


def fill(order: list[Item], rooms: tuple[float, float], needs, above: float, most_branches: int, every: bool) -> Filling:
    """Fills two rooms (breadths) so that the pieces are worth more than `above`.

    With `every`, all fillings worth that much in which no further strip fits that would still be wanted; otherwise
    the best one only. Worths are whole numbers, so that half a unit tells more from equal.
    """
    # One long function on purpose: this loop is most of the search's work, and calls and attributes would double it.
    last = len(order)
    next_a, next_b = _next_densities(order, 0), _next_densities(order, 1)
    again = [any(item.kind == later.kind for later in order[i + 1 :]) for i, item in enumerate(order)]
    left, chosen = list(needs), [0] * last
    found: dict = {}
    goal, branches = above + 0.5, 0

    def descend(i, room_a, room_b, worth):
        nonlocal goal, branches
        branches += 1
        wanted = goal - worth
        if room_a * next_a[i] + room_b * next_b[i] < wanted:
            return _HOPELESS
        top, a, b = 0.0, room_a, room_b
        for density, part, kind, size, gives, price in order[i:]:
            need = left[kind]
            if need:
                wide = need * size / gives
                if part:
                    if wide < b:
                        top += price * need
                        b -= wide
                    else:
                        top += b * density
                        b = 0.0
                elif wide < a:
                    top += price * need
                    a -= wide
                else:
                    top += a * density
                    a = 0.0
                if top >= wanted:
                    break
        if top < wanted:
            return _TOO_LITTLE
        while i < last:
            _, part, kind, size, gives, price = order[i]
            need = left[kind]
            count = int((room_b if part else room_a) / size)
            if count and need:
                break
            i += 1
        else:
            if worth < goal:
                return _REACHED
            if not every:
                found.clear()
                goal = worth + 0.5
            elif any(left[item.kind] and item.size <= (room_b if item.part else room_a) for item in order):
                return _REACHED
            made = tuple([need - rest for need, rest in zip(needs, left)])
            if made not in found:
                found[made] = (worth, _strips(order, chosen))
            return _REACHED
        count = min(count, -(-need // gives))
        while count >= 0 and branches < most_branches:
            got = count * gives
            if got > need:
                got = need
            left[kind], chosen[i] = need - got, count
            if part:
                reached = descend(i + 1, room_a, room_b - count * size, worth + price * got)
            else:
                reached = descend(i + 1, room_a - count * size, room_b, worth + price * got)
            # Fewer full strips leave room that is worth no more than they were; but the needs they leave may be worth
            # more, where the other part can make this kind too.
            if count * gives <= need and (reached == _HOPELESS or reached == _TOO_LITTLE and not again[i]):
                break
            count -= 1
        left[kind], chosen[i] = need, 0
        return _REACHED

    descend(0, *rooms, 0.0)
    return Filling(found, branches, branches < most_branches)


def _next_densities(order: list[Item], part: int) -> list[float]:
    """For each place in the order, the most worth per width that is still to come in a part."""
    found, following = [0.0] * (len(order) + 1), 0.0
    for i in range(len(order) - 1, -1, -1):
        following = found[i] = order[i].density if order[i].part == part else following
    return found


def _strips(order: list[Item], chosen: list[int]) -> tuple[tuple[int, int, int], ...]:
    return tuple((item.part, item.kind, count) for item, count in zip(order, chosen) if count)
