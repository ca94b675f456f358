"""The drawing of the finished quilt as plain data: shapes that many pieces share, and one short row a piece."""

from ..shapes import Outline
from .cutting import Layer
from .heads import Head, head_of
from .outlines.polygons import Box


def drawing(layers: list[Layer], size: tuple[float, float], clip: Box | None) -> dict:
    """Kinds, shapes and pieces in quilt coordinates (inches, y down, the finished quilt's top left corner at 0, 0).

    A row of `pieces` is [kind, fabric, shape, x, y, row, column]: numbers into `kinds`, the quilt's fabrics and
    `shapes`, and where the shape's origin lies. The patchwork's pieces come first, in the order of the
    colouring's piece numbers: `patchwork` says how many, and no pattern colours what follows them. `heads` says of
    every shape where the head of its print lies (see `heads`), its strip cut lengthwise or crosswise. `clip` is the
    box [left, top, right, bottom] to which a trimmed edge cuts the first `clipped` pieces, or None."""
    shapes: dict[tuple[Outline, Head], int] = {}
    kinds: dict[str, int] = {}
    rows = [row for layer in layers for row in _rows(layer, shapes, kinds)]
    inside = sum(len(layer.patchwork.patches) for layer in layers[:2]) if clip else 0
    return {
        "width": size[0],
        "height": size[1],
        "kinds": list(kinds),
        "shapes": [[(round(x, 6), round(y, 6)) for x, y in shape] for shape, _ in shapes],
        "heads": [head for _, head in shapes],
        "pieces": rows,
        "patchwork": len(layers[0].patchwork.patches),
        "clip": clip,
        "clipped": inside,
    }


def _rows(layer: Layer, shapes: dict[tuple[Outline, Head], int], kinds: dict[str, int]) -> list[list]:
    numbers = {
        shape: shapes.setdefault((outline, head_of(outline, layer.cuts[shape])), len(shapes))
        for shape, outline in enumerate(layer.patchwork.shapes)
        if shape in layer.cuts
    }
    return [
        [kinds.setdefault(p.kind, len(kinds)), fabric, numbers[p.shape], round(p.x, 6), round(p.y, 6), p.row, p.column]
        for p, fabric in zip(layer.patchwork.patches, layer.fabrics, strict=True)
    ]
