"""Sewing facts that go with the pieces."""

from .geometry import Geometry, Ground
from .sewn.grain import bias_edges, edge_leans, outer_grain
from .sewn.layout import layout
from .sewn.rows import BETWEEN_ROWS, rows
from .sewn.seam_test import SEWN, wanted_width
from .sewn.steps import steps
from .sewn.tips import tip_offset, tip_trim

#: How each setting is put together, which way its seams are pressed (codes of the wording).
ASSEMBLY = {
    "grid": ("slanting_rows", "rows_by_turns"),
    "zigzag": ("straight_rows", "rows_by_turns"),
    "hexagons": ("set_in_hexagons", "round_by_turns"),
    "stars": ("set_in_stars", "round_one_way"),
    "eight_pointed": ("set_in_blocks", "round_one_way"),
}

#: What comes before pieces with edges on the bias are cut. Common practice, no published source.
BEFORE = ("prewash", "starch")


def facts(geometry: Geometry, ground: Ground, fabrics: list[int]) -> dict:
    """Tips, rows, pressing and bias edges; lengths in inches, None where there is nothing to say.

    `fabrics` has the fabric's number of every piece of the patchwork, in order."""
    assembly, press = _assembly(geometry, ground)
    leans = edge_leans(geometry, ground)
    return {
        "seam": geometry.piece.seam,
        "tip_offset": tip_offset(geometry),
        "tip_trim": tip_trim(geometry),
        "assembly": assembly,
        "press": "toward_sashing" if ground.sashing else press,
        "rows": rows(geometry, ground),
        "bias": bias_edges(geometry, ground),
        "outer_edge": outer_grain(geometry, leans),
        "edge_leans": leans,
        "before": BEFORE,
        "steps": steps(geometry, ground),
        "seam_test": {"sewn": SEWN, "wanted": wanted_width(geometry)},
        "layout": layout(geometry, ground, fabrics),
    }


def _assembly(geometry: Geometry, ground: Ground) -> tuple[str, str]:
    """How it is put together; upright diamonds lean neither way, and their zigzag rows are all alike."""
    assembly, press = ASSEMBLY[geometry.setting]
    if geometry.setting != "zigzag":
        return assembly, press
    if geometry.piece.angle == 90:
        return f"{assembly}_upright", press
    return (f"{assembly}_filled" if BETWEEN_ROWS in ground.patchwork.counts() else assembly), press
