"""The ask `piece`: every measure of a diamond, whichever one it was given by."""

from ..fields import Fields
from ..pieces import DEFAULT_SEAM, read_diamond


def answer(request: dict) -> dict:
    """Size, finished size, edge and both point-to-point lengths in inches, and the outline of one diamond."""
    fields = Fields(request).object("piece")
    piece = read_diamond(fields)
    seam = fields.length_or_zero("seam", DEFAULT_SEAM)
    return {
        "size": piece.size,
        "finished_size": piece.finished_size(seam),
        "edge": piece.edge,
        "short_diagonal": piece.short_diagonal,
        "long_diagonal": piece.long_diagonal,
        "area": piece.area,
        "angle": piece.angle,
        "seam": seam,
        "outline": piece.outline(),
    }
