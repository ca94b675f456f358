"""Straight sashing with square ends: between the rows of a zigzag, and between the blocks of eight-pointed stars."""

from dataclasses import replace

from ...shapes import Outline
from ..outlines.polygons import box_outline
from .edges import Lay
from .patchwork import Patch, Patchwork
from .setting import Setting
from .tilings import Measures, Tile


def zigzag_sashing(setting: Setting, piece: Measures, sash: float, lay: Lay) -> Patchwork:
    """One strip between every two rows: as long as the row's seam where the ends are
    pointed, or else the quilt's width.

    >>> from .zigzag import zigzag
    >>> zigzag_sashing(zigzag(3.5, 60, 1), Measures(3.5, 60), 1, Lay("pointed", 4, 3)).counts()
    {'sash_long': 2}
    """
    strip = box_outline((0.0, 0.0, piece.edge, sash))
    tiles = (Tile(0, 0.0, piece.size, 0, 0), Tile(0, piece.slant, 2 * piece.size + sash, 1, 0))
    under = lay.place(replace(setting, tiling=replace(setting.tiling, shapes=(strip,), tiles=tiles)))
    rows: dict[int, list[Patch]] = {}
    for patch in under.patches:
        rows.setdefault(patch.row, []).append(patch)
    # Below the last row there is a next one only where a trimmed edge runs through the strip.
    last = lay.rows - 1 if lay.edge != "trimmed" else None
    kept = [parts for row, parts in sorted(rows.items()) if row != last]
    return _strips(under, [_seam(parts, piece.edge, sash, lay, under.width) for parts in kept])


def _seam(parts: list[Patch], edge: float, sash: float, lay: Lay, width: float) -> tuple[float, float, float, float]:
    y = parts[0].y
    if lay.edge != "pointed":
        return (0.0, y, width, y + sash)
    xs = [patch.x for patch in parts]
    return (min(xs), y, max(xs) + edge, y + sash)


def block_sashing(blocks: Patchwork, block: float, sash: float, columns: int, rows: int, style: str) -> Patchwork:
    """Strips between square blocks: one length with square cornerstones, or short ones and one
    long one between every two rows.

    >>> blocks = Patchwork(14.0, 9.0, (), (), ())
    >>> block_sashing(blocks, 4.0, 1.0, 3, 2, "cornerstones").counts() == {"sash": 7, "cornerstone": 2}
    True
    """
    step = block + sash
    across = [i * step + block for i in range(columns - 1)]
    down = [j * step + block for j in range(rows - 1)]
    upright = [("sash", x, j * step, sash, block) for j in range(rows) for x in across]
    if style == "strips":
        return _boxes(blocks, [*upright, *(("sash_long", 0.0, y, blocks.width, sash) for y in down)])
    lying = [("sash", i * step, y, block, sash) for y in down for i in range(columns)]
    return _boxes(blocks, [*upright, *lying, *(("cornerstone", x, y, sash, sash) for x in across for y in down)])


def _strips(area: Patchwork, boxes: list[tuple[float, float, float, float]]) -> Patchwork:
    found = [("sash_long", left, top, right - left, bottom - top) for left, top, right, bottom in boxes]
    return _boxes(area, found)


def _boxes(area: Patchwork, boxes: list[tuple[str, float, float, float, float]]) -> Patchwork:
    """Rectangles as patches, by kind, left, top, width and height; equal ones share their shape."""
    shapes: dict[Outline, int] = {}
    patches = []
    for kind, x, y, width, height in boxes:
        number = shapes.setdefault(box_outline((0.0, 0.0, round(width, 10), round(height, 10))), len(shapes))
        patches.append(Patch(kind, number, x, y, 0, 0))
    return Patchwork(area.width, area.height, tuple(shapes), tuple(shapes), tuple(patches))
