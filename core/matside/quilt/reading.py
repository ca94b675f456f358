"""A quilt as a request describes it."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction

from ..errors import Refusal
from ..fields import Fields
from ..kinds import USUAL_WIDTH
from ..pieces import DEFAULT_SEAM, read_diamond
from ..shapes import SMALLEST
from ..units import shown
from .around.backing import USUAL_OVERLAP, Backing
from .around.binding import BINDING_FOLDS, BINDING_GRAINS, JOINS, USUAL_BINDING, Binding
from .around.borders import BORDER_GRAINS, CORNERS, DEFAULT_EXTRA, Border, taken_by
from .fabrics.colours import WAYS, Colouring
from .geometry import MOST_PIECES, Geometry, Size
from .outlines.cuts import Piece
from .settings.sashing import STYLES
from .settings.setting import EDGES
from .settings.stars import JOINED_BY
from .size.fitting import FITS, Target
from .size.sizes import DEFAULT_DROP, OLD_NAMES, SIZES

SETTINGS = ("grid", "zigzag", "hexagons", "stars", "eight_pointed")
ORIENTATIONS = ("standing", "lying")
#: The one angle that a setting is possible with, in degrees.
ANGLES = {"hexagons": 60, "stars": 60, "eight_pointed": 45}
SASHED = ("grid", "zigzag", "eight_pointed")
#: What is to be answered: everything, or just which fabric each piece is of.
ONLY = ("all", "colours")
MOST_STEPS = 10_000
MOST_FABRICS = 50
MOST_BORDERS = 10


class Fabrics:
    """The quilt's fabrics: those the request lists, and one for each use that names none of them.

    >>> fabrics = Fabrics(Fields({"fabrics": [{"id": "red"}], "sashing": {"fabric": "red"}, "binding": {}}))
    >>> fabrics.read(Fields({"fabric": "red"}), "fabric", "sashing"), fabrics.read(Fields({}), "fabric", "binding")
    (0, 1)
    >>> fabrics.ids
    ['red', 'binding']
    """

    def __init__(self, fields: Fields):
        listed = fields.objects("fabrics", MOST_FABRICS) if fields.has("fabrics") else []
        self.ids = [fabric.text("id", most=40) for fabric in listed]
        self.listed = len(self.ids)
        self._one_way = [fabric.flag("one_way") for fabric in listed]
        doubles = [k for k, name in enumerate(self.ids) if name in self.ids[:k]]
        if doubles:
            raise Refusal(f"fabrics[{doubles[0]}].id", "fabric_twice", given=shown(self.ids[doubles[0]]))
        if not self.ids:
            self.ids, self.listed = ["patchwork"], 1

    def read(self, fields: Fields, name: str, use: str) -> int:
        """The number of the fabric that a field names by its id; where it names none, of a
        fabric called after its use.
        """
        if fields.has(name):
            return self.number(fields.raw(name), fields.at(name))
        if use not in self.ids:
            self.ids.append(use)
        return self.ids.index(use)

    @property
    def one_way(self) -> tuple[bool, ...]:
        """Of each fabric whether its print runs one way."""
        return (*self._one_way, *(False for _ in self.ids[len(self._one_way) :]))

    def number(self, given, place: str) -> int:
        """The number of a listed fabric, from its id or its number."""
        if isinstance(given, int) and not isinstance(given, bool) and 0 <= given < self.listed:
            return given
        if not isinstance(given, str) or given not in self.ids[: self.listed]:
            raise Refusal(place, "fabric_unknown", given=shown(given))
        return self.ids.index(given)


@dataclass(frozen=True, slots=True)
class Quilt:
    """Everything that a request settles about a quilt."""

    geometry: Geometry
    fabrics: tuple[str, ...]
    one_way: tuple[bool, ...]
    colouring: Colouring
    sash: Fraction
    sash_fabrics: tuple[int, int]
    borders: tuple[Border, ...]
    top: tuple[Fraction, Fraction] | None
    binding: Binding | None
    binding_strip: Fraction
    backing: Backing | None
    batting_overlap: Fraction | None
    drawing: bool
    only: str


def read_quilt(fields: Fields) -> Quilt:
    """The quilt that a request describes; refused where parts of it contradict each other."""
    fabrics = Fabrics(fields)
    piece, sash = read_quilt_piece(fields), read_sash(fields)
    colouring = read_colouring(fields, fabrics)
    sashing = _part(fields, "sashing")
    sash_fabric = fabrics.read(sashing, "fabric", "sashing") if sash else 0
    stone_fabric = (
        fabrics.number(sashing.raw("cornerstones"), sashing.at("cornerstones")) if sashing.has("cornerstones") else None
    )
    borders = read_borders(fields, fabrics)
    return Quilt(
        geometry=read_geometry(fields, piece, sash, borders),
        colouring=colouring,
        sash=sash,
        sash_fabrics=(sash_fabric, sash_fabric if stone_fabric is None else stone_fabric),
        borders=borders,
        top=read_top(fields, piece) if fields.has("top") else None,
        binding=read_binding(fields, fabrics, piece.seam) if fields.has("binding") else None,
        binding_strip=_part(fields, "binding").length("strip_length", USUAL_WIDTH),
        backing=read_backing(fields, fabrics) if fields.has("backing") else None,
        batting_overlap=_part(fields, "batting").length_or_zero("overlap", USUAL_OVERLAP)
        if fields.has("batting")
        else None,
        drawing=fields.flag("drawing", True),
        only=fields.choice("only", ONLY, "all"),
        fabrics=tuple(fabrics.ids),
        one_way=fabrics.one_way,
    )


@contextmanager
def quilt_within(fields: Fields) -> Iterator[Quilt]:
    """The quilt of a larger request: its own refusals, and those of what is done with it, name its
    fields by their place there.

    >>> with quilt_within(Fields({"piece": {"size": 4, "angle": 6}}, "quilt")) as quilt:
    ...     pass
    Traceback (most recent call last):
    matside.errors.Refusal: quilt.piece.angle: angle_outside {'given': '6', 'least': 15, 'most': 90}
    """
    try:
        yield read_quilt(Fields(fields.given))
    except Refusal as refusal:
        raise Refusal(fields.at(refusal.field), refusal.code, **refusal.values) from None


def _part(fields: Fields, name: str) -> Fields:
    """An object of the request; an empty one where there is none."""
    return fields.object(name) if fields.has(name) else Fields({}, fields.at(name))


def read_quilt_piece(fields: Fields) -> Piece:
    """The diamond with its seam allowance: `seam` beside the piece or in it, ¼ in where neither is given."""
    given = fields.object("piece")
    seam = fields.length_or_zero("seam", given.length_or_zero("seam", DEFAULT_SEAM))
    return Piece(read_diamond(Fields({**given.given, "seam": seam}, given.place)), seam)


def read_geometry(fields: Fields, piece: Piece, sash: Fraction, borders: tuple[Border, ...]) -> Geometry:
    """Setting, edge, size and sashing, which must go together."""
    setting = fields.choice("setting", SETTINGS, "grid")
    if setting in ANGLES and piece.angle != ANGLES[setting]:
        raise Refusal("piece.angle", "angle_for_setting", given=float(piece.angle), wanted=ANGLES[setting])
    if sash and setting not in SASHED:
        raise Refusal("sashing", "sashing_not_here")
    if sash > piece.size:
        raise Refusal("sashing.width", "sashing_wider", given=float(sash), most=piece.size)
    if sash and sash + 2 * piece.seam < SMALLEST:
        raise Refusal("sashing.width", "piece_too_small", given=float(sash), least="¼ in")
    edge = fields.choice("edge", EDGES, "filled")
    if borders and edge == "pointed":
        raise Refusal("borders", "borders_pointed")
    return Geometry(
        piece=piece,
        setting=setting,
        joined_by=fields.choice("joined_by", JOINED_BY, "diamonds"),
        lying=fields.choice("orientation", ORIENTATIONS, "standing") == "lying",
        edge=edge,
        size=read_size(fields, borders),
        sash=float(sash),
        sash_style=_part(fields, "sashing").choice("style", STYLES, "strips"),
    )


def read_sash(fields: Fields) -> Fraction:
    """The sashing's finished width; 0 for none."""
    return fields.object("sashing").length_or_zero("width") if fields.has("sashing") else Fraction(0)


def read_size(fields: Fields, borders: tuple[Border, ...] = ()) -> Size:
    """One of `target` (or `width` and `height`), `columns` with `rows`, or `have` (with a
    target for its proportion).
    """
    target = any(fields.has(name) for name in ("target", "width", "height"))
    counted = fields.has("columns") or fields.has("rows")
    if counted and (target or fields.has("have")):
        raise Refusal("columns", "quilt_size_twice", other="target" if target else "have")
    if counted:
        return Size(columns=fields.count("columns", 1, MOST_STEPS), rows=fields.count("rows", 1, MOST_STEPS))
    if not target and not fields.has("have"):
        raise Refusal("target", "quilt_size_missing")
    wanted = read_target(fields, borders) if target else None
    if fields.has("have"):
        return Size(target=wanted, have=fields.count("have", 1, MOST_PIECES))
    return Size(target=wanted, fit=fields.choice("fit", FITS, "at_least"))


def read_target(fields: Fields, borders: tuple[Border, ...] = ()) -> Target:
    """The wanted size of the patchwork inside the borders, from the finished size of the quilt."""
    place = fields.object("target") if fields.has("target") else fields
    if place.has("size"):
        name = place.raw("size")
        size = SIZES[OLD_NAMES[name] if name in OLD_NAMES else place.choice("size", tuple(SIZES))]
        width, height = size.with_drop(place.length_or_zero("drop", DEFAULT_DROP))
    else:
        width, height = place.length("width"), place.length("height")
    taken = taken_by(borders)
    for name, length in (("width", width), ("height", height)):
        if length <= taken:
            raise Refusal(place.at(name), "borders_fill", given=float(length), borders=float(taken))
    return Target(float(width - taken), float(height - taken), (place.at("width"), place.at("height")))


def read_top(fields: Fields, piece: Piece) -> tuple[Fraction, Fraction]:
    """Width and height of the sewn top as it was measured, seam allowances included."""
    given = fields.object("top")
    for name in ("width", "height"):
        if given.length(name) <= 2 * piece.seam:
            raise Refusal(given.at(name), "top_small", given=float(given.length(name)), least=float(2 * piece.seam))
    return given.length("width"), given.length("height")


def read_borders(fields: Fields, fabrics: Fabrics) -> tuple[Border, ...]:
    """The borders from the inside out; those of no width are left out."""
    if not fields.has("borders"):
        return ()
    given = fields.objects("borders", MOST_BORDERS)
    found = [
        Border(
            one.length_or_zero("width"),
            fabrics.read(one, "fabric", f"border_{k}"),
            "mitered" if one.raw("corners") == "mitred" else one.choice("corners", CORNERS, "butted"),
            one.length_or_zero("extra", DEFAULT_EXTRA),
            one.choice("grain", BORDER_GRAINS, "any"),
        )
        for k, one in enumerate(given, start=1)
    ]
    return tuple(border for border in found if border.width)


def read_binding(fields: Fields, fabrics: Fabrics, seam: Fraction) -> Binding:
    """The binding; its strips may be given by their cut width instead of the finished one."""
    given = fields.object("binding")
    fold, ease = given.choice("fold", tuple(BINDING_FOLDS), "double"), given.length_or_zero("ease", Fraction(1, 4))
    return Binding(
        width=_binding_width(given, fold, ease),
        fold=fold,
        grain=given.choice("grain", BINDING_GRAINS, "straight"),
        ease=ease,
        tail=given.length_or_zero("tail", Fraction(10)),
        join=given.choice("join", JOINS, "diagonal"),
        seam=seam or DEFAULT_SEAM,
        cut_width=given.length("cut_width") if given.has("cut_width") else None,
        fabric=fabrics.read(given, "fabric", "binding"),
    )


def _binding_width(given: Fields, fold: str, ease: Fraction) -> Fraction:
    """The finished width: given, or what strips of the given cut width come to, or else ⅜ in."""
    if given.has("width") or not given.has("cut_width"):
        return given.length("width", USUAL_BINDING)
    width = (given.length("cut_width") - ease) / BINDING_FOLDS[fold]
    if width <= 0:
        raise Refusal(given.at("cut_width"), "binding_narrow", given=float(given.length("cut_width")), ease=float(ease))
    return width


def read_backing(fields: Fields, fabrics: Fabrics) -> Backing:
    """The backing's cloth."""
    given = fields.object("backing")
    return Backing(
        usable_width=given.length("usable_width", USUAL_WIDTH),
        overlap=given.length_or_zero("overlap", USUAL_OVERLAP),
        seam=given.length_or_zero("seam", Fraction(1, 2)),
        fabric=fabrics.read(given, "fabric", "backing"),
    )


def read_colouring(fields: Fields, fabrics: Fabrics) -> Colouring:
    """How the fabrics are placed over the pieces: all that are listed, by rows, unless the request says otherwise.

    The field was once called `colouring`, and may be so still."""
    given = _part(fields, "colouring" if fields.has("colouring") and not fields.has("coloring") else "coloring")
    listed = given.list("fabrics", MOST_FABRICS, 1) if given.has("fabrics") else list(range(fabrics.listed))
    place = given.at("fabrics")
    chosen = tuple(fabrics.number(item, f"{place}[{k}]") for k, item in enumerate(listed))
    way = given.choice("way", WAYS, "rows" if len(chosen) > 1 else "single")
    return Colouring(
        way=way,
        fabrics=chosen,
        seed=given.count("seed", 0, 2**31, default=0),
        rest=_fixed(given, "rest", fabrics),
        joining=_fixed(given, "joining", fabrics),
        listed=tuple(_numbers(given, "list", fabrics)) if way == "list" else (),
        changes=tuple(_changes(given, fabrics)) if given.has("changes") else (),
        place=given.place,
    )


def _fixed(given: Fields, name: str, fabrics: Fabrics) -> int | None:
    return fabrics.number(given.raw(name), given.at(name)) if given.has(name) else None


def _numbers(given: Fields, name: str, fabrics: Fabrics) -> list[int]:
    place = given.at(name)
    return [fabrics.number(item, f"{place}[{k}]") for k, item in enumerate(given.list(name, MOST_PIECES))]


def _changes(given: Fields, fabrics: Fabrics) -> list[tuple[int, int]]:
    """Pairs of a piece's number and its fabric."""
    found = []
    for k, pair in enumerate(given.list("changes", MOST_PIECES)):
        place = f"{given.at('changes')}[{k}]"
        if not isinstance(pair, (list, tuple)) or len(pair) != 2:
            raise Refusal(place, "colour_change_pair")
        number = Fields({"piece": pair[0]}, place).count("piece", 0, MOST_PIECES)
        found.append((number, fabrics.number(pair[1], place)))
    return found
