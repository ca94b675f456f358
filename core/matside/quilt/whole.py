"""The whole quilt put together: its pieces, their cuts, its sizes and its drawing, as plain data."""

from collections import Counter

from ..errors import Refusal
from ..shapes import Diamond, HalfDiamond
from . import edges
from .cuts import Cut, diamond_half, right_triangle
from .fitting import refuse_below_one, steps_for
from .grid import grid
from .patchwork import Patchwork
from .polygons import area
from .reading import Quilt
from .right_triangle import RightTriangle
from .settings import Setting

#: An answer has at most so many outlines; beyond them it has counts only.
MOST_OUTLINES = 20_000
#: More pieces than this are no quilt.
MOST_PIECES = 100_000


def described(quilt: Quilt) -> dict:
    """The answer's fields: see DESIGN's row for `quilt`."""
    patchwork = placed(quilt)
    cuts = cuts_of(patchwork, quilt)
    return {
        "pieces": patchwork.counts(),
        "finished": {"width": patchwork.width, "height": patchwork.height},
        "cut": cut_list(patchwork, cuts),
        **_drawing(patchwork, quilt),
    }


def placed(quilt: Quilt) -> Patchwork:
    """Every piece in its place."""
    setting = grid(quilt.piece.size, float(quilt.piece.angle))
    found = _standing(setting, quilt)
    return found.turned() if quilt.lying else found


def _standing(setting: Setting, quilt: Quilt) -> Patchwork:
    target = quilt.size.target.turned() if quilt.lying and quilt.size.target else quilt.size.target
    if quilt.edge == "trimmed":
        return _trimmed(setting, quilt, target)
    columns, rows = _steps(setting, quilt, target)
    _refuse_many(setting, columns * setting.step[0] * rows * setting.step[1])
    return (edges.filled if quilt.edge == "filled" else edges.pointed)(setting, columns, rows)


def _steps(setting: Setting, quilt: Quilt, target) -> tuple[int, int]:
    if target:
        return steps_for(setting, quilt.edge, target, quilt.size.fit)
    return (quilt.size.rows, quilt.size.columns) if quilt.lying else (quilt.size.columns, quilt.size.rows)


def _trimmed(setting: Setting, quilt: Quilt, target) -> Patchwork:
    if target:
        refuse_below_one(setting, "trimmed", target)
        width, height = target.width, target.height
    else:
        width, height = setting.finished("trimmed", *_steps(setting, quilt, target))
    _refuse_many(setting, width * height)
    return edges.trimmed(setting, width, height, float(quilt.piece.seam))


def _refuse_many(setting: Setting, finished_area: float) -> None:
    per_tile = setting.tiling.width * setting.tiling.height / len(setting.tiling.tiles)
    if finished_area / per_tile > MOST_PIECES:
        raise Refusal("target", "quilt_too_many", most=MOST_PIECES)


def cuts_of(patchwork: Patchwork, quilt: Quilt) -> dict[int, Cut]:
    """How each shape is cut."""
    kinds = {patch.shape: patch.kind for patch in patchwork.patches}
    return {shape: _cut(kind, patchwork.shapes[shape], quilt) for shape, kind in sorted(kinds.items())}


def _cut(kind: str, outline, quilt: Quilt) -> Cut:
    if kind == "diamond":
        return quilt.piece.diamond
    if kind == "corner_quarter":
        return right_triangle(outline, quilt.piece.seam)
    return diamond_half(outline, quilt.piece.diamond, kind == "side_half", quilt.piece.seam)


def cut_list(patchwork: Patchwork, cuts: dict[int, Cut]) -> list[dict]:
    """What is to be cut, one entry a kind and measure."""
    counts = Counter((patch.kind, cuts[patch.shape]) for patch in patchwork.patches)
    return [{"id": kind, "kind": kind, **as_piece(cut), "need": need} for (kind, cut), need in counts.items()]


def as_piece(cut: Cut) -> dict:
    """The cut as a piece of a request."""
    match cut:
        case Diamond():
            return {"shape": "diamond", "size": cut.size, "angle": cut.angle}
        case HalfDiamond():
            return {"shape": "half-diamond", "size": cut.size, "angle": cut.angle, "cut": cut.cut}
        case RightTriangle():
            return {"shape": "right-triangle", "across": cut.across, "down": cut.down}


def _drawing(patchwork: Patchwork, quilt: Quilt) -> dict:
    if not quilt.drawing or len(patchwork.patches) > MOST_OUTLINES:
        return {"drawing": None}
    kinds = sorted({patch.kind for patch in patchwork.patches})
    rows = [[kinds.index(p.kind), 0, p.shape, p.x, p.y, p.row, p.column] for p in patchwork.patches]
    return {"drawing": {"kinds": kinds, "shapes": patchwork.shapes, "pieces": rows}}


def covered(patchwork: Patchwork) -> float:
    """Area of all finished outlines together."""
    sizes = [area(outline) for outline in patchwork.shapes]
    return sum(sizes[patch.shape] for patch in patchwork.patches)
