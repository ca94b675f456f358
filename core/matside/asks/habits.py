"""The asks `habits` (how the user cuts, as it is read) and `length` (one length as it is
read): for what a page keeps.
"""

from dataclasses import asdict
from fractions import Fraction

from ..fields import Fields
from ..guide.job import Habits
from ..rulers import HANDS
from .strip import LAYERS_ADVISED, MOST_LAYERS

LAYS = ("along", "away")


def answer(request: dict) -> dict:
    """Hand, lay, layers and the mat's side in inches, each with its default; what the guide
    would refuse is refused here.
    """
    return asdict(read_habits(Fields(request)))


def answer_length(request: dict) -> dict:
    """The `length` of the request in inches."""
    return {"length": Fields(request).length("length")}


def read_habits(fields: Fields) -> Habits:
    """The user's habits, each with its default."""
    return Habits(
        hand=fields.choice("hand", HANDS, "right"),
        lay=fields.choice("lay", LAYS, "along"),
        layers=fields.count("layers", 1, MOST_LAYERS, default=1),
        mat=fields.length("mat", Fraction(24)),
    )


def choices() -> dict:
    """What can be chosen of the habits; of layers as many as are advised."""
    return {"hand": HANDS, "lay": LAYS, "layers": tuple(range(1, LAYERS_ADVISED + 1))}
