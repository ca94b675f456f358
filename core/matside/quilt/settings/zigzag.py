"""Zigzag rows: diamonds side by side in straight rows, every second row the mirror image of the one above."""

from collections.abc import Iterator
from typing import NamedTuple

from ...errors import Refusal
from ...shapes import Outline
from ..outlines.polygons import rhombus
from .patchwork import Patch, Patchwork
from .setting import Extent, Setting, squared
from .tilings import Measures, Tile, Tiling

#: Above this angle the triangles between two rows are too flat to be cut (their own sharp angles fall below 7½°).
STEEPEST_FILLED = 82.5


def zigzag(size: float, angle: float, sash: float = 0.0) -> Setting:
    """Rows of diamonds of a finished size and sharp angle running across, with straight sashing between the rows.

    A filled edge closes the notches at both sides; the rows' ends are pointed otherwise.

    >>> setting = zigzag(3.5, 60)
    >>> tuple(round(length, 4) for length in setting.finished("pointed", 2, 3))
    (10.1036, 10.5)
    """
    piece = Measures(size, angle)
    beyond = (piece.slant, -sash)
    extents = {"pointed": Extent((0.0, 0.0), beyond), "filled": Extent((0.0, 0.0), beyond)}
    extents["trimmed"] = Extent((0.0, 0.0), (0.0, -sash))
    return Setting("zigzag", tiling(piece, sash), (piece.edge, size + sash), extents, squared)


def tiling(piece: Measures, sash: float) -> Tiling:
    """One diamond leaning to the right and, below it, its mirror image.

    >>> len(tiling(Measures(1, 60), 0).shapes)
    2
    """
    edge, high = piece.edge, piece.size
    shapes = (rhombus((edge, 0.0), (piece.slant, -high)), rhombus((edge, 0.0), (piece.slant, high)))
    x = (edge + piece.slant) / 2
    tiles = (Tile(0, x, high / 2, 0, 0), Tile(1, x, high + sash + high / 2, 1, 0))
    return Tiling(shapes, tiles, edge, 2 * (high + sash), 2, 1)


def with_fills(rows_only: Patchwork, piece: Measures, columns: int, rows: int, sash: float) -> Patchwork:
    """The pointed rows with their notches closed.

    Two rows that touch leave an isosceles notch with the tip angle 2θ ("notch_fill"); at the ends of the
    outer rows, and of every row when there is sashing, a right-angled triangle is left ("row_end_fill").
    Upright diamonds leave none."""
    if piece.slant <= 0:
        return rows_only
    if piece.angle > STEEPEST_FILLED:
        raise Refusal("edge", "notch_too_flat", given=piece.angle, most=STEEPEST_FILLED)
    shapes = list(rows_only.shapes)
    patches = list(rows_only.patches)
    for fill in _fills(piece, columns, rows, rows_only.width, sash):
        if fill.outline not in shapes:
            shapes.append(fill.outline)
        patches.append(Patch(fill.kind, shapes.index(fill.outline), fill.x, fill.y, fill.row, fill.column, 2))
    return Patchwork(rows_only.width, rows_only.height, tuple(shapes), tuple(shapes), tuple(patches))


class _Fill(NamedTuple):
    kind: str
    outline: Outline
    x: float
    y: float
    row: int
    column: int


def _fills(piece: Measures, columns: int, rows: int, width: float, sash: float) -> Iterator[_Fill]:
    """Both sides of every row; two rows that meet in a notch share one triangle, given with the upper of them."""
    for side, x, column in ((1, 0.0, -1), (-1, width, columns)):
        for row in range(rows):
            y = row * (piece.size + sash)
            # Even rows lean to the right: their left end is open at the top, their right end at the bottom.
            opens_up = (row % 2 == 0) == (side == 1)
            below, above = row + 1 < rows and not sash, row > 0 and not sash
            if not opens_up and below:
                yield _Fill("notch_fill", _notch(piece, side), x, y + piece.size, row, column)
            elif not (opens_up and above):
                corner = y if opens_up else y + piece.size
                yield _Fill("row_end_fill", _row_end(piece, side, 1 if opens_up else -1), x, corner, row, column)


def _notch(piece: Measures, side: int) -> Outline:
    outline = ((0.0, -piece.size), (side * piece.slant, 0.0), (0.0, piece.size))
    return outline if side > 0 else outline[::-1]


def _row_end(piece: Measures, side: int, down: int) -> Outline:
    outline = ((0.0, 0.0), (side * piece.slant, 0.0), (0.0, down * piece.size))
    return outline if side * down > 0 else outline[::-1]
