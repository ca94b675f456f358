"""What goes with the patchwork as plain data: binding, backing, batting, other sizes it could have, and cautions."""

from fractions import Fraction

from .around.backing import Backing, Panels, panels
from .around.binding import Binding, bias_depth
from .around.borders import bordered_size, taken_by
from .around.measured import top_fields
from .geometry import Geometry, Ground
from .reading import SASHED, Quilt
from .size.having import Made

#: With diamonds up to this size a border or sashing is wanted more. Common practice, no published
#: source; the bound is ours.
SMALL_PIECE = 5


def binding_fields(binding: Binding, seam: Fraction, strip_length: float, around: float) -> dict:
    """Length of the binding and what it is cut from: straight strips, or a length of cloth cut on the bias.

    It is sewn at its own width, `seam_taken`, and of that `takes` lies beyond the `seam` that the patchwork has left at
    its edge. `strip_length` is the usable width that straight strips are cut across, and that bias cloth has. Inches.
    `piece` is a straight strip as a piece of a request."""
    found = {
        "width": binding.width,
        "seam_taken": binding.width,
        "takes": binding.covers(seam),
        "fold": binding.fold,
        "grain": binding.grain,
        "join": binding.join,
        "cut_width": binding.strip_width,
        "around": around,
        "tail": binding.tail,
        "join_takes": binding.join_takes,
        "length": binding.length(around),
        "strip_length": strip_length,
    }
    if binding.grain == "bias":
        return found | {"cloth_length": bias_depth(strip_length, found["length"], binding)}
    strips = binding.strips(around, strip_length)
    piece = {"id": "binding", "shape": "rectangle", "size": binding.strip_width, "length": strip_length, "need": strips}
    return found | {"strips": strips, "joins": strips - 1, "piece": piece}


def backing_fields(backing: Backing, width: float, height: float) -> dict:
    """The backing's size with its overlap, and the panels it is joined from, the way with less
    cloth and the other one.
    """
    best, other = panels(width, height, backing)
    overlap = 2 * float(backing.overlap)
    size = {"width": width + overlap, "height": height + overlap, "overlap": backing.overlap, "seam": backing.seam}
    return {**size, "usable_width": backing.usable_width, **_panels(best), "other_way": _panels(other)}


def _panels(way: Panels) -> dict:
    return {"run": way.run, "panels": way.panels, "panel_length": way.panel_length, "length": way.length}


def batting_fields(overlap, width: float, height: float) -> dict:
    """The batting's size with its overlap all round."""
    return {"width": width + 2 * float(overlap), "height": height + 2 * float(overlap), "overlap": overlap}


def could_be(quilt: Quilt, ground: Ground) -> list[dict]:
    """Other sizes near the one chosen: what else the pieces at hand make, or one column or row more or fewer.

    `patchwork` is without the borders, `finished` with them."""
    return [_made(quilt, made) for made in ground.others]


def _made(quilt: Quilt, made: Made) -> dict:
    columns, rows, width, height = made.columns, made.rows, made.width, made.height
    if quilt.geometry.lying:
        columns, rows, width, height = rows, columns, height, width
    return {
        "columns": columns,
        "rows": rows,
        "diamonds": made.diamonds,
        "patchwork": {"width": width, "height": height},
        "finished": dict(zip(("width", "height"), bordered_size(width, height, quilt.borders), strict=True)),
    }


def cautions(quilt: Quilt, ground: Ground) -> list[str]:
    """Codes of what the maker ought to know."""
    geometry, lay = quilt.geometry, ground.lay
    takes = quilt.binding.covers(geometry.piece.seam) if quilt.binding else 0
    cut_off = geometry.edge != "trimmed" and takes > taken_by(quilt.borders) / 2
    pointed_binding = bool(quilt.binding) and geometry.edge == "pointed"
    single = geometry.setting == "grid" and geometry.edge == "pointed" and lay.columns + lay.rows > 2
    found = {
        "points_only": single and min(lay.columns, lay.rows) == 1,
        "round_points_bias": pointed_binding and quilt.binding.grain == "straight",
        "binding_takes_points": cut_off and geometry.edge == "filled",
        "binding_takes_points_pointed": cut_off and geometry.edge == "pointed",
        "top_far": bool(quilt.top) and top_fields(quilt, ground)["far"],
        _wanted(geometry): geometry.piece.diamond.size <= SMALL_PIECE and not (quilt.borders or geometry.sash),
        "hands_matter": bool(geometry.sash) and geometry.setting == "grid" and geometry.piece.angle < 90,
    }
    return [code for code, holds in found.items() if holds and code]


def _wanted(geometry: Geometry) -> str:
    """What could part small diamonds from the edge: a border needs a straight one, sashing its settings; "" for
    neither."""
    border, sashing = geometry.edge != "pointed", geometry.setting in SASHED
    return {
        (True, True): "border_or_sashing_wanted",
        (True, False): "border_wanted",
        (False, True): "sashing_wanted",
    }.get((border, sashing), "")
