"""Filling the parts of one way with strips: the inner loop of the search.

Depth first over items (strips of one kind in one part), most worth per width first, the greatest number of strips
first. Two bounds cut branches off: the free breadths at the best worth per width still to come, and the same with
fractions of strips and no more of a kind in each part than is needed.
"""

from dataclasses import dataclass

_TOO_LITTLE, _REACHED = range(2)


#: Strips of one kind in one part: worth per width, part, kind, strip width, pieces a strip, price of a piece, width a piece.
#: A plain tuple, for a search makes very many of them.
Item = tuple[float, int, int, float, int, float, float]


@dataclass(slots=True)
class Filling:
    """What was found: pieces made → (worth, strips); the branches looked at; whether nothing was left out."""

    found: dict[tuple[int, ...], tuple[float, tuple]]
    branches: int
    complete: bool


def items(part: int, sizes, gives, prices, needs) -> list[Item]:
    """The items of one part of a way, most worth per width first."""
    found = [
        (price * give / size, part, kind, size, give, price, size / give)
        for kind, (size, give, price, need) in enumerate(zip(sizes, gives, prices, needs))
        if give and need
    ]
    found.sort(reverse=True)
    return found


def fill(order: list[Item], rooms: tuple[float, float], needs, above: float, most_branches: int, every: bool) -> Filling:
    """Fills two rooms (breadths) so that the pieces are worth more than `above`.

    With `every`, all fillings worth that much in which no further strip fits that would still be wanted; otherwise
    the best one only. Worths are whole numbers, so that half a unit tells more from equal.
    """
    # One long function on purpose: this loop is most of the search's work, and calls and attributes would double it.
    last = len(order)
    next_a, next_b, again = _ahead(order)
    left, chosen = list(needs), [0] * last
    found: dict = {}
    goal, branches = above + 0.5, 1

    def descend(i, room_a, room_b, worth):
        nonlocal goal, branches
        wanted = goal - worth
        top, a, b = 0.0, room_a, room_b
        for density, part, kind, _, _, price, wide in order[i:]:
            need = left[kind]
            if need:
                wide *= need
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
            _, part, kind, size, gives, price, _ = order[i]
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
            else:
                for _, part, kind, size, _, _, _ in order:
                    if left[kind] and size <= (room_b if part else room_a):
                        return _REACHED
            made = tuple([need - rest for need, rest in zip(needs, left)])
            if made not in found:
                found[made] = (worth, _strips(order, chosen))
            return _REACHED
        enough = -(-need // gives)
        if count > enough:
            count = enough
        i += 1
        per_a, per_b = next_a[i], next_b[i]
        while count >= 0 and branches < most_branches:
            branches += 1
            got = count * gives
            if got > need:
                got = need
            now = worth + price * got
            less_a, less_b = (room_a, room_b - count * size) if part else (room_a - count * size, room_b)
            if less_a * per_a + less_b * per_b < goal - now:
                # Fewer full strips leave room that is worth no more than they were.
                if count * gives <= need:
                    break
            else:
                left[kind], chosen[i - 1] = need - got, count
                # Nor do they here, but the needs they leave may be worth more where the other part can make this kind too.
                if descend(i, less_a, less_b, now) == _TOO_LITTLE and count * gives <= need and not again[i - 1]:
                    break
            count -= 1
        left[kind], chosen[i - 1] = need, 0
        return _REACHED

    descend(0, *rooms, 0.0)
    return Filling(found, branches, branches < most_branches)


def _ahead(order: list[Item]) -> tuple[list[float], list[float], list[int]]:
    """For each place in the order: the most worth per width to come in either part, and whether its kind comes again (not 0)."""
    last, dense_a, dense_b, seen = len(order), 0.0, 0.0, 0
    next_a, next_b, again = [0.0] * (last + 1), [0.0] * (last + 1), [0] * last
    for i in range(last - 1, -1, -1):
        item = order[i]
        if item[1]:
            dense_b = item[0]
        else:
            dense_a = item[0]
        next_a[i], next_b[i] = dense_a, dense_b
        bit = 1 << item[2]
        again[i] = seen & bit
        seen |= bit
    return next_a, next_b, again


def _strips(order: list[Item], chosen: list[int]) -> tuple[tuple[int, int, int], ...]:
    return tuple([(item[1], item[2], count) for item, count in zip(order, chosen) if count])
