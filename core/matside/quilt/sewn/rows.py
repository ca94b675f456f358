"""The rows that are sewn first, and how long they are."""

from collections import Counter
from collections.abc import Iterator

from ...shapes import Outline, Point
from ..geometry import Geometry, Ground
from ..outlines.hulls import hull
from ..outlines.offsets import offset
from ..outlines.polygons import sides
from ..settings.patchwork import Patch, Patchwork
from ..settings.sashing import FALLING, rising

#: Settings that are sewn in rows; the others' seams are set in.
IN_ROWS = ("grid", "zigzag")
#: Pieces that lie in two rows: they are set in when the rows are joined.
BETWEEN_ROWS = "notch_fill"


def rows(geometry: Geometry, ground: Ground) -> list[dict]:
    """The rows that are sewn first, alike ones together: how many, of how many pieces, and how long.

    `length` is the length of a row's longer edge finished, `sewn` that before the row is joined to others, the seam
    allowances on. Short sashing between a row's pieces is in both and not among its `pieces`. Settings with set-in
    seams have no rows."""
    if geometry.setting not in IN_ROWS:
        return []
    found = Counter(_told(geometry, pieces, outline) for pieces, outline in _rows(geometry, ground))
    return [
        {"rows": count, "pieces": pieces, "length": length, "sewn": sewn}
        for (pieces, length, sewn), count in sorted(found.items())
    ]


def row_of(setting: str, patch: Patch) -> int:
    """The number of the row that a piece of a grid or a zigzag is sewn into; a grid's rows rise to the right."""
    return patch.row + patch.column if setting == "grid" else patch.row


def _told(geometry: Geometry, pieces: int, outline: Outline) -> tuple[int, float, float]:
    along = rising(float(geometry.piece.angle)) if geometry.setting == "grid" else (1.0, 0.0)
    longest = (_longest(part, along) for part in (outline, offset(outline, float(geometry.piece.seam))))
    return (pieces, *(round(length, 7) for length in longest))


def _longest(outline: Outline, along: Point) -> float:
    """The longest side of an outline that runs along a unit vector."""
    reaches = (
        ((u - x) * along[0] + (v - y) * along[1], (u - x) * along[1] - (v - y) * along[0])
        for (x, y), (u, v) in sides(outline)
    )
    return max(abs(reach) for reach, across in reaches if abs(across) < 1e-6 * max(1.0, abs(reach)))


def _rows(geometry: Geometry, ground: Ground) -> Iterator[tuple[int, Outline]]:
    """Of every row, standing, its number of pieces and its outline, which is convex: a parallelogram, cut off by a
    filled edge."""
    found: dict[int, list[Patch]] = {}
    for patch in ground.standing.patches:
        if patch.kind != BETWEEN_ROWS:
            found.setdefault(row_of(geometry.setting, patch), []).append(patch)
    between = _sashes(geometry, ground)
    for row, patches in found.items():
        corners = [*_corners(ground.standing, patches), *between.get(row, ())]
        yield len(patches), hull(corners)


def _sashes(geometry: Geometry, ground: Ground) -> dict[int, list[Point]]:
    """Corners of the short sashing strips in each row of a grid."""
    if not ground.sashing or geometry.setting != "grid":
        return {}
    sashing = ground.sashing.turned() if geometry.lying else ground.sashing
    found: dict[int, list[Point]] = {}
    for patch in sashing.patches:
        if patch.kind == "sash" and patch.shape == FALLING:
            found.setdefault(row_of("grid", patch), []).extend(sashing.outline(patch))
    return found


def _corners(patchwork: Patchwork, patches: list[Patch]) -> list[Point]:
    return [corner for patch in patches for corner in patchwork.outline(patch)]
