"""Whether one list of needs asks for all that another does, and maybe more."""

from collections import Counter

from ..plan.basket import Need
from ..shapes import Rectangle


def outdoes(more: list[Need], less: list[Need]) -> bool:
    """Whether whatever gives `more` gives `less` too: of each fabric as many of each piece, and
    rectangles at least as long.

    Rectangles are held against each other kind by kind, the longest first, as one strip is cut into one kind.

    >>> from fractions import Fraction
    >>> def strip(length, need):
    ...     return Need("s", Rectangle(Fraction(3), Fraction(length)), need, "red")
    >>> outdoes([strip(30, 2)], [strip(28, 2)]), outdoes([strip(30, 2)], [strip(28, 3)])
    (True, False)
    """
    mine, theirs = _counted(more), _counted(less)
    plain = all(mine[key] >= number for key, number in theirs.items() if not isinstance(key[1], Rectangle))
    return plain and all(_long_enough(_lengths(mine, strip), _lengths(theirs, strip)) for strip in _strips(theirs))


def _counted(needs: list[Need]) -> Counter:
    found: Counter = Counter()
    for need in needs:
        found[need.fabric, need.shape] += need.need
    return found


def _strips(counted: Counter) -> set[tuple]:
    return {(fabric, shape.size) for fabric, shape in counted if isinstance(shape, Rectangle)}


def _lengths(counted: Counter, strip: tuple) -> list[tuple]:
    """Lengths and numbers of the rectangles of one fabric and width, the longest first."""
    found = [
        (shape.length, number)
        for (fabric, shape), number in counted.items()
        if isinstance(shape, Rectangle) and (fabric, shape.size) == strip
    ]
    return sorted(found, reverse=True)


def _long_enough(mine: list[tuple], theirs: list[tuple]) -> bool:
    if len(mine) < len(theirs):
        return False
    return all(length >= other and number >= others for (length, number), (other, others) in zip(mine, theirs))
