"""The ask `strip`: how many pieces a strip gives, in one layer or several."""

from ..fields import Fields
from ..pieces import read_piece
from ..strips import strip_yield

MOST_LAYERS = 12
#: Above this, layers shift under the ruler and the lower pieces come out off size. Common
#: practice, no published source.
LAYERS_ADVISED = 4


def answer(request: dict) -> dict:
    """Pieces of all layers together, the advance, the starter waste, what is left over and what one more needs."""
    fields = Fields(request)
    piece = read_piece(fields.object("piece"))
    layers = fields.count("layers", 1, MOST_LAYERS, default=1)
    found = strip_yield(piece, fields.length("length"))
    return {
        "pieces": found.pieces * layers,
        "per_layer": found.pieces,
        "layers": layers,
        "advance": found.advance,
        "starter_waste": found.starter_waste,
        "left_over": found.left_over,
        "short_by": found.short_by,
        "cautions": ["layers_many"] if layers > LAYERS_ADVISED else [],
    }
