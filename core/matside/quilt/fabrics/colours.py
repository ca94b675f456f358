"""Which fabric every piece is of."""

import random
from collections.abc import Callable
from dataclasses import dataclass

from ...errors import Refusal
from ..settings.neighbours import Around, rings
from ..settings.patchwork import Patch, Patchwork
from ..settings.tilings import JOINING
from .proper import proper

WAYS = ("single", "rows", "columns", "stripes", "rings", "directions", "units", "random", "list")


@dataclass(frozen=True, slots=True)
class Colouring:
    """How the fabrics are placed: a way over `fabrics` (numbers, in their order), a seed, and
    single pieces changed by hand.

    `rest` is the fabric of everything that is not a whole diamond (halves, corners, squares, triangles), `joining` that
    of the diamonds between stars; None lets them follow the pattern. `place` is the request's field, for refusals."""

    way: str
    fabrics: tuple[int, ...]
    seed: int = 0
    rest: int | None = None
    joining: int | None = None
    listed: tuple[int, ...] = ()
    changes: tuple[tuple[int, int], ...] = ()
    place: str = "coloring"


def coloured(patchwork: Patchwork, colouring: Colouring, around: Callable[[], Around]) -> list[int]:
    """The fabric's number for every patch, in their order; `around` is asked which patches
    touch only where that matters.

    Refused when no two alike may touch (a random colouring) and there are too few fabrics for that, or when a list or a
    change does not fit the pieces.

    >>> from ..settings.edges import pointed
    >>> from ..settings.grid import grid
    >>> from ..settings.neighbours import touching
    >>> patchwork = pointed(grid(1, 60), 2, 2)
    >>> coloured(patchwork, Colouring("rings", (0, 1)), lambda: touching(patchwork))
    [0, 0, 1, 0, 0]
    """
    found = _listed(patchwork, colouring) if colouring.way == "list" else _patterned(patchwork, colouring, around)
    for number, fabric in colouring.changes:
        if number >= len(found):
            raise Refusal(f"{colouring.place}.changes", "colour_change_outside", given=number, most=len(found) - 1)
        found[number] = fabric
    return found


def _listed(patchwork: Patchwork, colouring: Colouring) -> list[int]:
    if len(colouring.listed) != len(patchwork.patches):
        given, wanted = len(colouring.listed), len(patchwork.patches)
        raise Refusal(f"{colouring.place}.list", "colour_list_length", given=given, wanted=wanted)
    return list(colouring.listed)


def _patterned(patchwork: Patchwork, colouring: Colouring, around: Callable[[], Around]) -> list[int]:
    fabrics = colouring.fabrics
    fixed = [_fixed(patch, colouring) for patch in patchwork.patches]
    if colouring.way == "random":
        free = [fabric is None for fabric in fixed]
        found = proper(patchwork, around(), free, fabrics, random.Random(colouring.seed), colouring.place)
    else:
        found = [fabrics[number % len(fabrics)] for number in _numbers(patchwork, colouring.way, around)]
    return [fabric if own is None else own for fabric, own in zip(found, fixed, strict=True)]


def _fixed(patch: Patch, colouring: Colouring) -> int | None:
    """The fabric of a patch that does not follow the pattern."""
    if patch.kind != "diamond":
        return colouring.rest
    return colouring.joining if patch.turn >= JOINING else None


def _numbers(patchwork: Patchwork, way: str, around: Callable[[], Around]) -> list[int]:
    """What the pattern goes by: a number for every patch."""
    patches = patchwork.patches
    if way == "rings":
        return rings(patchwork, around())
    if way == "stripes":
        return _stripes([patch.row + patch.column for patch in patches])
    if way == "single":
        return [0] * len(patches)
    if way == "units":
        return _units(patches)
    key = {"rows": "row", "columns": "column", "directions": "turn"}[way]
    return [getattr(patch, key) for patch in patches]


def _units(patches: tuple[Patch, ...]) -> list[int]:
    """Stars, hexagons or blocks numbered in reading order."""
    places = sorted({(patch.row, patch.column) for patch in patches})
    numbers = {place: number for number, place in enumerate(places)}
    return [numbers[patch.row, patch.column] for patch in patches]


def _stripes(sums: list[int]) -> list[int]:
    """Rows and columns that count by half steps have sums that are all even or all odd: then two make one stripe."""
    halves = len({number % 2 for number in sums}) == 1
    return [number // 2 for number in sums] if halves else sums
