"""The whole quilt as plain data: pieces, cuts, sizes, fabrics, sewing facts and the drawing."""

from collections import Counter

from ..shapes import MOST_OUTLINES, Rectangle
from .around.borders import bordered_size, frame, taken_by
from .around.measured import finished_size, top_fields
from .around.outside import way_round
from .cutting import CutPiece, Layer, cut_list
from .drawing import drawing
from .extras import backing_fields, batting_fields, binding_fields, cautions, could_be
from .fabrics.colours import coloured
from .geometry import Geometry, Ground, around, laid
from .layers import covered, layers_of, per_fabric, total
from .reading import Quilt
from .sewing import facts


def described(quilt: Quilt) -> dict:
    """The answer's fields; lengths in inches, areas in square inches.

    The patchwork and the drawing are as planned; where the sewn top was measured, everything round it goes by that."""
    geometry, ground = quilt.geometry, laid(quilt.geometry)
    if quilt.only == "colours":
        return recoloured(quilt, ground)
    inner = (ground.patchwork.width, ground.patchwork.height)
    finished = finished_size(quilt, ground)
    layers = layers_of(quilt, ground)
    return {
        "setting": geometry.setting,
        "edge": geometry.edge,
        **_steps(geometry, ground),
        "pieces": total(layers),
        "patchwork": _size(*inner),
        "finished": _size(*finished),
        "top": top_fields(quilt, ground),
        "bound": _size(*(length + 2 * _beyond(quilt) for length in finished)),
        "trim_to": _trim_to(geometry, ground),
        "pieced_area": covered(layers[:2]),
        "piece": _piece(geometry),
        "cut": cut_list(layers, quilt.fabrics, geometry.piece.seam),
        "fabrics": per_fabric(layers, quilt),
        **_around(quilt, ground, finished),
        "sewing": facts(geometry, ground, layers[0].fabrics),
        "could_be": could_be(quilt, ground),
        "cautions": cautions(quilt, ground),
        **_drawn(quilt, ground, layers, bordered_size(*inner, quilt.borders)),
    }


def recoloured(quilt: Quilt, ground: Ground) -> dict:
    """Just the fabric of every piece, in the drawing's order, and the counts: a quilt that only
    changes colours needs no more.
    """
    colours = coloured(ground.patchwork, quilt.colouring, lambda: around(quilt.geometry))
    counts = Counter(colours)
    return {"colours": colours, "fabrics": [{"id": name, "count": counts[k]} for k, name in enumerate(quilt.fabrics)]}


def _around(quilt: Quilt, ground: Ground, finished: tuple[float, float]) -> dict:
    """Binding, backing and batting; None for what is not wanted."""
    found = {"binding": None, "backing": None, "batting": None}
    if quilt.binding:
        around = way_round(quilt.geometry, ground, *finished)
        found["binding"] = binding_fields(quilt.binding, quilt.geometry.piece.seam, float(quilt.binding_strip), around)
        found["binding"]["fabric"] = quilt.fabrics[quilt.binding.fabric]
    if quilt.backing:
        found["backing"] = backing_fields(quilt.backing, *finished)
        found["backing"]["fabric"] = quilt.fabrics[quilt.backing.fabric]
    if quilt.batting_overlap is not None:
        found["batting"] = batting_fields(quilt.batting_overlap, *finished)
    return found


def _drawn(quilt: Quilt, ground: Ground, layers: list[Layer], finished: tuple[float, float]) -> dict:
    """The drawing, or None with the reason: it was not asked for, or there would be too many outlines."""
    if not quilt.drawing:
        return {"drawing": None, "not_drawn": "not_wanted"}
    if sum(len(layer.patchwork.patches) for layer in layers) > MOST_OUTLINES:
        return {"drawing": None, "not_drawn": "outlines_too_many"}
    shown = [*layers, *_binding_layer(quilt, finished)]
    return {"drawing": drawing(shown, finished, _clip(quilt, ground)), "not_drawn": None}


def _binding_layer(quilt: Quilt, finished: tuple[float, float]) -> list[Layer]:
    """The binding as it shows round a straight edge."""
    if not quilt.binding or quilt.geometry.edge == "pointed":
        return []
    binding = quilt.binding
    ring = frame(*finished, _beyond(quilt), float(binding.width))
    grain = "bias" if binding.grain == "bias" else "any"
    strip = CutPiece("binding", Rectangle(binding.strip_width, quilt.binding_strip), grain=grain)
    return [Layer(ring, dict.fromkeys(range(len(ring.shapes)), strip), [binding.fabric] * len(ring.patches))]


def _clip(quilt: Quilt, ground: Ground) -> tuple[float, float, float, float] | None:
    if quilt.geometry.edge != "trimmed":
        return None
    inset = float(taken_by(quilt.borders)) / 2
    return (inset, inset, inset + ground.patchwork.width, inset + ground.patchwork.height)


def _steps(geometry: Geometry, ground: Ground) -> dict:
    """Columns and rows as the quilt hangs; none where a trimmed edge runs where it is wanted."""
    columns, rows = ground.lay.columns, ground.lay.rows
    if not columns:
        return {"columns": None, "rows": None}
    return {"columns": rows, "rows": columns} if geometry.lying else {"columns": columns, "rows": rows}


def _size(width: float, height: float) -> dict:
    return {"width": width, "height": height}


def _beyond(quilt: Quilt) -> float:
    """How far the bound quilt reaches beyond the finished one on each side."""
    return float(quilt.binding.beyond(quilt.geometry.piece.seam)) if quilt.binding else 0.0


def _trim_to(geometry: Geometry, ground: Ground) -> dict | None:
    """What a trimmed patchwork is cut to: its finished size and the seam allowance all round."""
    if geometry.edge != "trimmed":
        return None
    all_round = 2 * float(geometry.piece.seam)
    return _size(ground.patchwork.width + all_round, ground.patchwork.height + all_round)


def _piece(geometry: Geometry) -> dict:
    """The diamond's own measures, cut and finished."""
    measures, diamond = geometry.measures, geometry.piece.diamond
    return {
        "size": diamond.size,
        "angle": diamond.angle,
        "seam": geometry.piece.seam,
        "finished_size": measures.size,
        "finished_edge": measures.edge,
        "finished_short_diagonal": measures.short,
        "finished_long_diagonal": measures.long,
    }
