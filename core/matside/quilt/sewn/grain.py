"""The grain: which edges of a piece lie on the bias, and how it runs along the quilt's edge."""

from ...shapes import Point
from ...units import SAME
from ..geometry import Geometry, Ground
from ..outlines.cuts import is_mirrored
from ..outlines.polygons import sides
from ..settings.patchwork import Patch, Patchwork

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
#: How the grain runs along the outer edge where diamonds lie every way.
OUTER = {"pointed": "half_bias", "trimmed": "bias", "filled": "straight"}
#: Zigzag diamonds lie with their strip edges along the rows: a cut along or across the rows is on the grain.
OUTER_ZIGZAG = {
    "pointed": "rows_straight_ends_bias",
    "trimmed": "straight_along_rows",
    "filled": "straight_along_rows",
}


def bias_edges(geometry: Geometry, ground: Ground) -> dict[str, str]:
    """For every kind of piece that has some: which of its edges lie on the bias."""
    kinds = ground.patchwork.counts() | (ground.sashing.counts() if ground.sashing else {})
    return {kind: BIAS[kind] for kind in kinds if kind in BIAS and kind not in _squared(geometry)}


def _squared(geometry: Geometry) -> tuple[str, ...]:
    """Kinds that have square corners here: all their edges are on the grain."""
    if geometry.piece.angle == 90:
        return ("diamond", "sash", "cornerstone")
    return () if geometry.setting == "grid" else ("sash", "cornerstone")


def outer_grain(geometry: Geometry, leans: dict | None) -> str:
    """The grain along the quilt's edge, as far as the pieces can be cut and turned for it; `leans` as `edge_leans`."""
    upright = geometry.piece.angle == 90
    if upright and (geometry.edge == "pointed" or geometry.setting == "zigzag"):
        return "straight"
    if geometry.setting == "zigzag":
        return OUTER_ZIGZAG[geometry.edge]
    return "straight_outward" if leans else OUTER[geometry.edge]


def edge_leans(geometry: Geometry, ground: Ground) -> dict | None:
    """How many whole diamonds lie with an edge along a filled edge of the quilt, and how many of them are to be cut
    from strips laid wrong side up, so that it is an edge of their strip.

    The others have it there when they are turned; no turning does it for these. None where there are no such
    diamonds, or where the cut list tells them apart already, as for zigzag rows."""
    if geometry.edge != "filled" or geometry.setting == "zigzag" or geometry.piece.angle == 90:
        return None
    patchwork = ground.patchwork
    found = [
        (patch, way) for patch in patchwork.patches if patch.kind == "diamond" for way in _outside(patchwork, patch)
    ]
    wrong = sum(is_mirrored(patchwork.shapes[patch.shape], way) for patch, way in found)
    return {"diamonds": len(found), "wrong_side_up": wrong} if found else None


def _outside(patchwork: Patchwork, patch: Patch) -> list[Point]:
    """The directions in which a patch has an edge along the outside, as unit vectors."""
    found = []
    for (x, y), (u, v) in sides(patchwork.outline(patch)):
        if any(abs(x - at) < SAME and abs(u - at) < SAME for at in (0.0, patchwork.width)):
            found.append((0.0, 1.0))
        if any(abs(y - at) < SAME and abs(v - at) < SAME for at in (0.0, patchwork.height)):
            found.append((1.0, 0.0))
    return found
