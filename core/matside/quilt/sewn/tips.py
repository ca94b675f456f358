"""The points of cut pieces: how far they stick out at a seam, and what may be trimmed off them."""

from ... import angles
from ..geometry import Geometry
from .rows import IN_ROWS


def tip_offset(geometry: Geometry) -> float | None:
    """How far the points stick out along the edge when two pieces are laid edge to edge for a row: 2 · seam · cot θ.

    None where edges are matched corner to corner: with upright diamonds, and in settings without rows."""
    if geometry.setting not in IN_ROWS or geometry.piece.angle == 90:
        return None
    return 2 * float(geometry.piece.seam) * angles.cot(geometry.piece.angle)


def tip_trim(geometry: Geometry) -> float | None:
    """What may be cut off each sharp tip, square to the long diagonal, so that a seam allowance is left beyond it.

    The cut tip lies seam / sin(θ / 2) beyond the finished one, of which one seam stays. None for upright diamonds:
    they have no sharp tip."""
    if geometry.piece.angle == 90:
        return None
    return float(geometry.piece.seam) * (1 / angles.sin(geometry.piece.angle / 2) - 1)
