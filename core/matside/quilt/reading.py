"""A quilt as a request describes it."""

from dataclasses import dataclass

from ..errors import Refusal
from ..fields import Fields
from ..pieces import DEFAULT_SEAM, read_diamond
from .cuts import Piece
from .fitting import FITS, Target
from .settings import EDGES

SETTINGS = ("grid",)
ORIENTATIONS = ("standing", "lying")
#: More pieces of a kind than anyone may need.
MOST_STEPS = 10_000


@dataclass(frozen=True, slots=True)
class Size:
    """How large the patchwork is to be: a target, or columns and rows, or as many pieces as there are."""

    target: Target | None = None
    columns: int = 0
    rows: int = 0
    have: int = 0
    fit: str = "at_least"


@dataclass(frozen=True, slots=True)
class Quilt:
    """Everything that a request settles about a quilt."""

    piece: Piece
    setting: str
    lying: bool
    edge: str
    size: Size
    drawing: bool


def read_quilt(fields: Fields) -> Quilt:
    """The quilt that a request describes; refused where parts of it contradict each other."""
    setting = fields.choice("setting", SETTINGS, "grid")
    return Quilt(
        piece=read_quilt_piece(fields),
        setting=setting,
        lying=fields.choice("orientation", ORIENTATIONS, "standing") == "lying",
        edge=fields.choice("edge", EDGES, "filled"),
        size=read_size(fields),
        drawing=fields.flag("drawing", True),
    )


def read_quilt_piece(fields: Fields) -> Piece:
    """The diamond with its seam allowance: `seam` beside the piece or in it, ¼ in where neither is given."""
    given = fields.object("piece")
    seam = fields.length_or_zero("seam", given.length_or_zero("seam", DEFAULT_SEAM))
    if not given.has("seam"):
        given = Fields({**given.given, "seam": float(seam)}, given.place, given.unit)
    return Piece(read_diamond(given), seam)


def read_size(fields: Fields) -> Size:
    """One of `target` (or `width` and `height`), `columns` with `rows`, or `have`."""
    ways = {"target": ("target", "width", "height"), "columns": ("columns", "rows"), "have": ("have",)}
    given = [name for name, parts in ways.items() if any(fields.has(part) for part in parts)]
    if not given:
        raise Refusal("target", "quilt_size_missing")
    if "columns" in given and len(given) > 1:
        raise Refusal("columns", "quilt_size_twice", first="columns", second=given[0] if given[0] != "columns" else given[1])
    if "columns" in given:
        return Size(columns=fields.count("columns", 1, MOST_STEPS), rows=fields.count("rows", 1, MOST_STEPS))
    target = read_target(fields) if "target" in given else None
    if "have" in given:
        return Size(target=target, have=fields.count("have", 1, 100_000))
    return Size(target=target, fit=fields.choice("fit", FITS, "at_least"))


def read_target(fields: Fields) -> Target:
    """The wanted finished width and height."""
    place = fields.object("target") if fields.has("target") else fields
    width, height = place.length("width"), place.length("height")
    return Target(float(width), float(height), (place.at("width"), place.at("height")))
