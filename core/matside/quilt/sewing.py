"""Sewing facts that go with the pieces."""

from .geometry import Geometry, Ground
from .sewn.rows import BETWEEN_ROWS, rows
from .sewn.tips import tip_offset, tip_trim

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
    """Tips, rows, pressing and bias edges; lengths in inches, None where there is nothing to say."""
    assembly, press = _assembly(geometry, ground)
    kinds = ground.patchwork.counts() | (ground.sashing.counts() if ground.sashing else {})
    return {
        "seam": geometry.piece.seam,
        "tip_offset": tip_offset(geometry),
        "tip_trim": tip_trim(geometry),
        "assembly": assembly,
        "press": "toward_sashing" if ground.sashing else press,
        "rows": rows(geometry, ground),
        "bias": {kind: BIAS[kind] for kind in kinds if kind in BIAS and kind not in _squared(geometry)},
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


def _squared(geometry: Geometry) -> tuple[str, ...]:
    """Kinds that have square corners here: all their edges are on the grain."""
    if geometry.piece.angle == 90:
        return ("diamond", "sash", "cornerstone")
    return () if geometry.setting == "grid" else ("sash", "cornerstone")


def _outer_grain(geometry: Geometry) -> str:
    """The grain along the quilt's edge, as far as the pieces can be turned for it. Squares
    have all edges on the grain.
    """
    if geometry.edge == "filled" and geometry.piece.angle < 90:
        return TURNED_GRAIN.get(geometry.setting, OUTER_GRAIN["filled"])
    return OUTER_GRAIN[geometry.edge]
