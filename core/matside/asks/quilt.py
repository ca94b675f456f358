"""The ask `quilt`: how many of what, how each is cut, and a drawing of it, for a whole quilt."""

from ..fields import Fields
from ..quilt.reading import read_quilt
from ..quilt.whole import described


def answer(request: dict) -> dict:
    """Counts, finished size, cut sizes, counts per fabric, sewing facts and the drawing; see `quilt.whole`."""
    return described(read_quilt(Fields(request)))
