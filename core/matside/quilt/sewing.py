"""Sewing facts that go with the pieces."""

from .. import angles
from .geometry import Geometry, Ground
from .sewn.rows import BETWEEN_ROWS, rows

#: How each setting is put together, which way its seams are pressed (codes of the wording).
ASSEMBLY = {
    "grid": ("slanting_rows", "rows_by_turns"),
    "zigzag": ("straight_rows", "rows_by_turns"),
    "hexagons": ("set_in_hexagons", "round_by_turns"),
    "stars": ("set_in_stars", "round_one_way"),
    "eight_pointed": ("set_in_blocks", "round_one_way"),
}
#: Which edges of a piece lie on the bias when it is cut from a strip along the grain.
BIAS = {
    "diamond": "two_slanted",
    "side_half": "both_legs",
    "end_half": "both_legs",
    "notch_fill": "both_legs",
    "side_triangle": "both_legs",
    "corner_quarter": "long_edge",
    "row_end_fill": "long_edge",
    "sash": "two_slanted",
    "cornerstone": "two_slanted",
    "cornerstone_side_half": "both_legs",
    "cornerstone_end_half": "both_legs",
}
#: Which way the grain of the outer pieces runs along the quilt's edge.
OUTER_GRAIN = {"pointed": "half_bias", "trimmed": "bias", "filled": "straight"}
#: Whole diamonds lie along these settings' filled edges: it is on the grain only where they are turned for it.
TURNED_GRAIN = {"zigzag": "straight_along_rows", "hexagons": "straight_outwards"}


def facts(geometry: Geometry, ground: Ground) -> dict:
    """Tips, rows, pressing and bias edges; lengths in inches."""
    assembly, press = _assembly(geometry, ground)
    kinds = ground.patchwork.counts() | (ground.sashing.counts() if ground.sashing else {})
    straight_sash = geometry.setting != "grid"
    return {
        "seam": geometry.piece.seam,
        "tip_offset": tip_offset(geometry),
        "tip_trim": tip_trim(geometry),
        "assembly": assembly,
        "press": "toward_sashing" if ground.sashing else press,
        "rows": rows(geometry, ground),
        "bias": {k: BIAS[k] for k in kinds if k in BIAS and not (straight_sash and k in ("sash", "cornerstone"))},
        "outer_edge": _outer_grain(geometry),
    }


def _assembly(geometry: Geometry, ground: Ground) -> tuple[str, str]:
    """How it is put together; upright diamonds lean neither way, and their zigzag rows are all alike."""
    assembly, press = ASSEMBLY[geometry.setting]
    if geometry.setting != "zigzag":
        return assembly, press
    if geometry.piece.angle == 90:
        return f"{assembly}_upright", press
    return (f"{assembly}_filled" if BETWEEN_ROWS in ground.patchwork.counts() else assembly), press


def _outer_grain(geometry: Geometry) -> str:
    """The grain along the quilt's edge, as far as the pieces can be turned for it. Squares
    have all edges on the grain.
    """
    if geometry.edge == "filled" and geometry.piece.angle < 90:
        return TURNED_GRAIN.get(geometry.setting, OUTER_GRAIN["filled"])
    return OUTER_GRAIN[geometry.edge]


def tip_offset(geometry: Geometry) -> float:
    """How far the points stick out along the edge when two pieces are laid edge to edge for a row: 2 · seam · cot θ."""
    return 2 * float(geometry.piece.seam) * angles.cot(geometry.piece.angle)


def tip_trim(geometry: Geometry) -> float:
    """What may be cut off each sharp tip, square to the long diagonal, so that a seam
    allowance is left beyond the point.

    The cut tip lies seam / sin(θ / 2) beyond the finished one, of which one seam stays.
    """
    return float(geometry.piece.seam) * (1 / angles.sin(geometry.piece.angle / 2) - 1)
