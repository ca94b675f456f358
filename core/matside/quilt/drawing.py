"""The drawing of the finished quilt as plain data: shapes that many pieces share, and one short row a piece."""

from ..shapes import Outline
from .cutting import Layer
from .outlines.polygons import Box


def drawing(layers: list[Layer], size: tuple[float, float], clip: Box | None) -> dict:
    """Kinds, shapes and pieces in quilt coordinates (inches, y down, the finished quilt's top left corner at 0, 0).

    A row of `pieces` is [kind, fabric, shape, x, y, row, column]: numbers into `kinds`, the quilt's fabrics and
    `shapes`, and where the shape's origin lies. The patchwork's pieces come first, in the order of the
    colouring's piece numbers: `patchwork` says how many, and no pattern colours what follows them. `clip` is the box
    [left, top, right, bottom] to which a trimmed edge cuts the first `clipped` pieces, or None."""
    shapes: dict[Outline, int] = {}
    kinds: dict[str, int] = {}
    rows = [row for layer in layers for row in _rows(layer, shapes, kinds)]
    inside = sum(len(layer.patchwork.patches) for layer in layers[:2]) if clip else 0
    return {
        "width": size[0],
        "height": size[1],
        "kinds": list(kinds),
        "shapes": [[(round(x, 6), round(y, 6)) for x, y in shape] for shape in shapes],
        "pieces": rows,
        "patchwork": len(layers[0].patchwork.patches),
        "clip": clip,
        "clipped": inside,
    }


def _rows(layer: Layer, shapes: dict[Outline, int], kinds: dict[str, int]) -> list[list]:
    numbers = [shapes.setdefault(shape, len(shapes)) for shape in layer.patchwork.shapes]
    return [
        [kinds.setdefault(p.kind, len(kinds)), fabric, numbers[p.shape], round(p.x, 6), round(p.y, 6), p.row, p.column]
        for p, fabric in zip(layer.patchwork.patches, layer.fabrics, strict=True)
    ]
