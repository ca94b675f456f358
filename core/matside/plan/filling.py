"""Filling the parts of one way with strips: the inner loop of the search.

Depth first over items (strips of one kind in one part), most worth per width first, the greatest number of strips
first. Two bounds cut branches off: the free breadths at the best worth per width still to come, and the same with
fractions of strips and no more of a kind in each part than is needed.

A strip may cost something; a piece's price is then what is left of it when its strip is paid and full.
"""

from dataclasses import dataclass

_TOO_LITTLE, _REACHED = range(2)


#: Strips of one kind in one part: worth per width, part, kind, strip width, pieces a strip, price of a piece (its share
#: of the strip's cost taken off), width a piece. A plain tuple, for a search makes very many of them.
Item = tuple[float, int, int, float, int, float, float]


@dataclass(slots=True)
class Filling:
    """What was found: pieces made → (worth, strips, how many); the branches looked at; whether nothing was left out."""

    found: dict[tuple[int, ...], tuple[float, tuple, int]]
    branches: int
    complete: bool


def items(part: int, sizes, gives, prices, needs, costs) -> list[Item]:
    """The items of one part of a way, most worth per width first; those that cost more than they
    are worth, with 0, come last.
    """
    found = []
    for kind, (size, give, price, need, cost) in enumerate(zip(sizes, gives, prices, needs, costs)):
        if give and need:
            net = price - cost / give if cost else price
            found.append((max(0.0, net * give / size), part, kind, size, give, net, size / give))
    found.sort(reverse=True)
    return found


def fill(
    order: list[Item], rooms: tuple[float, float], needs, above: float, most_branches: int, every: bool, costs
) -> Filling:
    """Fills two rooms (breadths) so that the pieces are worth more than `above`.

    With `every`, all fillings worth that much, and where strips cost nothing only those in which no further strip fits
    that would still be wanted; otherwise the best one only. `costs` are those of a strip of each kind, None where it
    costs nothing. Worths are whole numbers, so that half a unit tells more from equal."""
    # One long function on purpose: this loop is most of the search's work, and calls and attributes would double it.
    last = len(order)
    next_a, next_b, again = _ahead(order)
    left, chosen, free = list(needs), [0] * last, costs is None
    costs = costs or (0.0,) * len(needs)
    found: dict = {}
    goal, branches = above + 0.5, 1

    def descend(i, room_a, room_b, worth):
        nonlocal goal, branches
        wanted = goal - worth
        top, a, b = 0.0, room_a, room_b
        for density, part, kind, _, _, _, wide in order[i:]:
            need = left[kind]
            if need:
                wide *= need
                if part:
                    if wide < b:
                        top += density * wide
                        b -= wide
                    else:
                        top += b * density
                        b = 0.0
                elif wide < a:
                    top += density * wide
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
                for _, part, kind, size, _, _, _ in order if free else ():
                    if left[kind] and size <= (room_b if part else room_a):
                        return _REACHED
            made = tuple([need - rest for need, rest in zip(needs, left)])
            # The fewest strips for the same pieces, whatever the prices make of them.
            if made not in found or sum(chosen) < found[made][2]:
                found[made] = (worth, _strips(order, chosen), sum(chosen))
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
                # Pieces beyond the need are worth nothing, but their strip costs as much as a full one.
                now = worth + price * need - (count - need / gives) * costs[kind]
                got = need
            else:
                now = worth + price * got
            less_a, less_b = (room_a, room_b - count * size) if part else (room_a - count * size, room_b)
            if less_a * per_a + less_b * per_b < goal - now:
                # Fewer full strips leave room that is worth no more than they were, unless they cost more than that.
                if count * gives <= need and price >= 0:
                    break
            else:
                left[kind], chosen[i - 1] = need - got, count
                below = descend(i, less_a, less_b, now)  # noqa: F821 (let go below, once all is done)
                # Nor do they here, but the needs they leave may be worth more where the other
                # part can make this kind too.
                if below == _TOO_LITTLE and count * gives <= need and not again[i - 1] and price >= 0:
                    break
            count -= 1
        left[kind], chosen[i - 1] = need, 0
        return _REACHED

    descend(0, *rooms, 0.0)
    # It holds itself: let go, it is gone at once and nothing is left to be collected.
    del descend
    return Filling(found, branches, branches < most_branches)


def _ahead(order: list[Item]) -> tuple[list[float], list[float], list[int]]:
    """For each place in the order: the most worth per width to come in either part, and whether
    its kind comes again (not 0).
    """
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
