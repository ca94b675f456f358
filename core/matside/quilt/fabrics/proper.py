"""Colours at random from a seed, with no two alike touching along an edge (a proper colouring)."""

import random
from collections import deque
from collections.abc import Iterator

from ...errors import Refusal
from ..settings.neighbours import Around
from ..settings.patchwork import Patchwork

#: How often every piece is given the chance of another colour: enough to hide the pattern that was started from.
_ROUNDS = 4


def proper(
    patchwork: Patchwork,
    around: Around,
    free: list[bool],
    fabrics: tuple[int, ...],
    dice: random.Random,
    place: str = "coloring",
) -> list[int]:
    """A fabric for every patch so that free patches that touch differ; patches that are not free get the first fabric.

    Refused, at the `fabrics` of a field `place`, when there are fewer fabrics than the setting needs: none of two when
    three pieces touch each other all round."""
    start = _start(patchwork, around, free)
    needed = max(start, default=0) + 1
    if needed > len(set(fabrics)):
        raise Refusal(f"{place}.fabrics", "colours_too_few", given=len(set(fabrics)), least=needed)
    kinds = _shuffled(sorted(set(fabrics)), dice)
    near = [[other for other in others if free[other]] for others in around]
    order = _shuffled([number for number, is_free in enumerate(free) if is_free], dice)
    return [kinds[colour] for colour in _stirred(start, near, order, len(kinds), dice)]


def _stirred(found: list[int], near: Around, order: list[int], colours: int, dice: random.Random) -> list[int]:
    """Gives every piece in turn any colour that none of its neighbours has, a few times over."""
    choices: dict[int, list[int]] = {}
    for _ in range(_ROUNDS):
        for number in order:
            taken = 0  # a bit for every colour: sets would be much slower here
            for other in near[number]:
                taken |= 1 << found[other]
            if taken not in choices:
                choices[taken] = [colour for colour in range(colours) if not taken >> colour & 1]
            free = choices[taken]
            found[number] = free[int(dice.random() * len(free))]
    return found


def _shuffled(items: list[int], dice: random.Random) -> list[int]:
    # Only random() is promised to give the same numbers for a seed in every version of Python.
    return [item for _, item in sorted((dice.random(), item) for item in items)]


def _start(patchwork: Patchwork, around: Around, free: list[bool]) -> list[int]:
    """A proper colouring by as few numbers as can be: 1, 2, or else 3 by how the settings are built."""
    two = _two_coloured(around, free)
    if two is not None:
        return two
    return next(colours for colours in _by_setting(patchwork, around, free) if _is_proper(colours, around, free))


def _two_coloured(around: Around, free: list[bool]) -> list[int] | None:
    """Numbers 0 and 1 by turns; none where three pieces, or any odd ring of them, touch in turn."""
    found = [-1] * len(around)
    for first, is_free in enumerate(free):
        if is_free and found[first] < 0:
            found[first] = 0
            waiting = deque([first])
            while waiting:
                number = waiting.popleft()
                for other in around[number]:
                    if free[other] and found[other] < 0:
                        found[other] = 1 - found[number]
                        waiting.append(other)
    found = [max(number, 0) for number in found]
    return found if _is_proper(found, around, free) else None


def _by_setting(patchwork: Patchwork, around: Around, free: list[bool]) -> Iterator[list[int]]:
    """Three numbers: by the diamonds' direction; with the fills apart; with blocks by turns. One
    of them suits every setting.
    """
    patches = patchwork.patches
    yield [patch.turn % 3 for patch in patches]
    whole = [is_free and patch.kind == "diamond" for is_free, patch in zip(free, patches, strict=True)]
    inner = _two_coloured(around, whole)
    if inner is not None:
        yield [number if is_whole else 2 for number, is_whole in zip(inner, whole, strict=True)]
        shifts = [(patch.row + patch.column) % 2 for patch in patches]
        yield [((n if is_whole else 2) + shift) % 3 for n, is_whole, shift in zip(inner, whole, shifts, strict=True)]


def _is_proper(colours: list[int], around: Around, free: list[bool]) -> bool:
    pairs = ((number, other) for number, others in enumerate(around) if free[number] for other in others)
    return not any(free[other] and colours[number] == colours[other] for number, other in pairs)
