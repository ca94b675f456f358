"""Which pieces touch along an edge, and how far each is from the outside."""

from collections import deque

from ...shapes import Outline, Point
from .patchwork import Patchwork

Around = list[list[int]]
#: Midpoints of edges are told apart by whole multiples of this. It is far below any edge and far above float noise, and
#: no fraction of an inch, so that no midpoint of a quilt falls just between two multiples.
_GRAIN = 0.0007071067811865


def touching(patchwork: Patchwork) -> Around:
    """For every patch the numbers of the patches that share an edge with it; across sashing counts as touching.

    >>> from .edges import pointed
    >>> from .grid import grid
    >>> [sorted(others) for others in touching(pointed(grid(1, 60), 2, 2))]
    [[2], [2], [0, 1, 3, 4], [2], [2]]
    """
    found: Around = [[] for _ in patchwork.patches]
    open_edges: dict[tuple[int, int], int] = {}
    middles = [_middles(cell) for cell in patchwork.cells]
    for number, patch in enumerate(patchwork.patches):
        for x, y in middles[patch.shape]:
            key = (round((patch.x + x) / _GRAIN), round((patch.y + y) / _GRAIN))
            other = open_edges.pop(key, None)
            if other is None:
                open_edges[key] = number
            else:
                found[number].append(other)
                found[other].append(number)
    return found


def rings(patchwork: Patchwork, around: Around) -> list[int]:
    """For every patch how many others lie between it and the outside: 0 for those with an edge on the outside.

    >>> from .edges import pointed
    >>> from .grid import grid
    >>> patchwork = pointed(grid(1, 60), 2, 2)
    >>> rings(patchwork, touching(patchwork))
    [0, 0, 1, 0, 0]
    """
    found = [-1] * len(around)
    waiting = deque()
    for number, patch in enumerate(patchwork.patches):
        if len(around[number]) < len(patchwork.cells[patch.shape]):
            found[number] = 0
            waiting.append(number)
    while waiting:
        number = waiting.popleft()
        for other in around[number]:
            if found[other] < 0:
                found[other] = found[number] + 1
                waiting.append(other)
    return found


def _middles(cell: Outline) -> list[Point]:
    return [((x + u) / 2, (y + v) / 2) for (x, y), (u, v) in zip(cell, cell[1:] + cell[:1], strict=True)]
