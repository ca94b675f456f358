"""The trade's words, each with a small picture as plain data; the meanings are in the catalogue of wording.

A picture has a `view` [x, y, width, height] and `shapes` [{"role", "points"}], in inches, y up. Pieces, strips and
settings are those that the rest of the core cuts and lays; what is too thin to be seen is drawn thicker.
"""

from . import cutting, fabric, pieces, quilts, sharing, tools
from .drawn import view


def pictures() -> dict[str, dict]:
    """A picture for every word of the glossary, by its code.

    >>> pictures()["diamond"]["shapes"][0]["role"]
    'piece'
    """
    parts = (fabric, tools, cutting, pieces, quilts, sharing)
    shapes = {code: shapes for part in parts for code, shapes in part.shapes().items()}
    return {code: {"view": view(each), "shapes": _rounded(each)} for code, each in shapes.items()}


def _rounded(shapes: list[dict]) -> list[dict]:
    """A thousandth of an inch is finer than a small picture shows."""
    return [
        {"role": shape["role"], "points": [[round(float(x), 3), round(float(y), 3)] for x, y in shape["points"]]}
        for shape in shapes
    ]
