"""Eight-pointed stars of 45° diamonds, each closed to a square block by four squares and four triangles."""

import math

from ..outlines.polygons import area, rhombus
from .setting import Extent, Setting, squared
from .tilings import Measures, Tile, Tiling


def eight_pointed(size: float, sash: float = 0.0) -> Setting:
    """Blocks of eight 45° diamonds of a finished size, with sashing between the blocks.

    With the diamond's edge e a block is e · (2 + √2) wide; its squares have the side e and its triangles the legs e.

    >>> tuple(round(length, 4) for length in eight_pointed(2 ** -0.5).finished("filled", 1, 1))
    (3.4142, 3.4142)
    """
    edge = Measures(size, 45).edge
    block = edge * (2 + math.sqrt(2))
    step = (block + sash, block + sash)
    return Setting(
        "eight_pointed", tiling(edge, block, step), step, {"filled": Extent((0.0, 0.0), (-sash, -sash))}, squared
    )


def tiling(edge: float, block: float, step: tuple[float, float]) -> Tiling:
    """One block a period.

    >>> len(tiling(1.0, 2 + 2 ** 0.5, (4.0, 4.0)).tiles)
    16
    """
    turns = [math.radians(45 * k) for k in range(9)]
    spokes = [(edge * math.cos(turn), edge * math.sin(turn)) for turn in turns]
    shapes, tiles = [rhombus(spokes[k], spokes[k + 1]) for k in range(4)], []
    for k, (u, v) in enumerate(zip(spokes, spokes[1:], strict=False)):
        tiles.append(Tile(k % 4, block / 2 + (u[0] + v[0]) / 2, block / 2 + (u[1] + v[1]) / 2, 0, 0))
    shapes.append(rhombus((edge, 0.0), (0.0, edge)))
    reach = (block - edge) / 2
    for x, y in ((1, 1), (-1, 1), (-1, -1), (1, -1)):
        tiles.append(Tile(4, block / 2 + x * reach, block / 2 + y * reach, 0, 0, "square"))
    half = edge / math.sqrt(2)
    for number, (x, y) in enumerate(((1, 0), (0, 1), (-1, 0), (0, -1)), start=5):
        # The triangle's origin is the middle of its long edge, which lies on the block's side.
        shape = ((half * y, half * x), (-half * x, -half * y), (-half * y, -half * x))
        shapes.append(shape if area(shape) > 0 else shape[::-1])
        tiles.append(Tile(number, block / 2 * (1 + x), block / 2 * (1 + y), 0, 0, "side_triangle"))
    return Tiling(tuple(shapes), tuple(tiles), *step, 1, 1)
