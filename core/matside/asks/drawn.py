"""The asks `ways_drawn` and `check_drawn`: pictures of what the asks `rulers` and `check`
answer, as the cutter sees it.
"""

from fractions import Fraction

from ..fields import Fields
from ..guide.pictures import measures, trim_picture, way_pictures
from ..pieces import read_diamond, read_piece
from .guide import read_laying

#: Whatever is measured lies between; `drift.fitted` refuses the rest.
_SHARPEST, _BLUNTEST = 1, 179


def answer_ways(request: dict) -> dict:
    """A picture of every way that the ask `rulers` gives for the same `piece`, `rulers` and `hand`, in the same order.

    `lay` says how the strip lies, as in the ask `guide`.
    """
    fields = Fields(request)
    laying = read_laying(fields, read_piece(fields.object("piece")))
    return {step: way_pictures(laying, step) for step in ("strip", "starter", "following")}


def answer_check(request: dict) -> dict:
    """Where a diamond is measured: its `outline` and the `measures` on it; and the picture of the `trim`, or None.

    `found` is the angle that the ask `check` found. `rulers`, `hand` and `lay` say how the strip
    lies when it is trimmed."""
    fields = Fields(request)
    piece = read_diamond(fields.object("piece"))
    return {"outline": piece.outline(), "measures": measures(piece), "trim": _trim(fields, piece)}


def _trim(fields: Fields, piece) -> dict | None:
    if not fields.has("found"):
        return None
    laying = read_laying(fields, piece)
    found: Fraction = fields.angle("found", least=_SHARPEST, most=_BLUNTEST)
    return trim_picture(piece, float(found), laying.habits, laying.starter_turned)
