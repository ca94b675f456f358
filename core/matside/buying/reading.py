"""A buying list as a request describes it."""

from dataclasses import dataclass, replace
from fractions import Fraction

from ..errors import Refusal
from ..fields import Fields
from ..kinds import KINDS, USUAL_STRAIGHTEN, USUAL_WIDTH
from ..pieces import MOST_NEEDED, read_piece
from ..quilt.around.backing import Backing
from ..quilt.reading import MOST_FABRICS, quilt_within
from ..units import SHORTEST, shown
from .bolt import STEPS, Bolt
from .demands import Backed, Demand, Lengths, Pieces, with_spare
from .fat_quarters import FatQuarter
from .kits import Kits, OtherSize
from .of_quilt import batting_of, demands_of
from .prices import PRICED_BY, SOLD, Price, sold_by

MOST_PIECES = 50
MOST_SIZES = 8
#: What says how large a quilt is.
_SIZED_BY = ("target", "fit", "width", "height", "columns", "rows", "have")
#: What pieces are of that name no fabric.
UNNAMED = "cloth"
_QUARTER = {"length": KINDS["fat_quarter"].length, "width": KINDS["fat_quarter"].width}
#: Taken off the 18 in side of a fat quarter, which a shop cuts by eye, until it is square. Common
#: practice, no published source.
USUAL_SQUARE = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Fabric:
    """A fabric: its bolt, how it is sold, its fat quarter as it is cut from, its price, and what it is wanted for."""

    id: str
    bolt: Bolt
    sold: str
    quarter: FatQuarter
    price: Price | None
    demands: tuple[Demand, ...]
    #: What the same quilt wants of it in each of the other sizes of a class.
    others: tuple[tuple[Demand, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Buying:
    """Everything that a request settles about buying; `batting` is the size of the quilt's, where it wants one, and
    what that costs, or None."""

    fabrics: tuple[Fabric, ...]
    kits: Kits | None
    batting: dict | None
    batting_price: Fraction | None = None


def read_buying(fields: Fields) -> Buying:
    """The buying list that a request describes: for a `quilt`, for `pieces` (and full-width `lengths`), or for both."""
    if not any(fields.has(name) for name in ("quilt", "pieces", "lengths")):
        raise Refusal("pieces", "buying_nothing")
    wanted, batting = _read_quilt(fields.object("quilt")) if fields.has("quilt") else ({}, None)
    kits = read_kits(fields)
    others = [_other_size(fields.object("quilt"), size) for size in _sizes(fields)]
    for fabric, demand in (*_read_pieces(fields), *_read_lengths(fields)):
        wanted.setdefault(fabric, []).append(demand)
    spare = _read_spare(fields)
    given = _listed(fields)
    names = list(dict.fromkeys([*wanted, *(name for other in others for name in other), *given])) or [UNNAMED]
    empty = Fields({}, "fabrics")
    fabrics = []
    for name in names:
        fabric = _read_fabric(name, given.get(name, empty), fields, wanted.get(name, []), spare)
        more = tuple(tuple(with_spare(demand, *spare) for demand in other.get(name, [])) for other in others)
        fabrics.append(replace(fabric, others=more))
    price = read_number(fields, "batting_price", 0, 1_000_000) if batting and fields.has("batting_price") else None
    return Buying(tuple(fabrics), kits, batting, price)


def _read_quilt(fields: Fields) -> tuple[dict[str, list[Demand]], dict | None]:
    """What a quilt wants of each fabric, and its batting."""
    with quilt_within(fields) as quilt:
        return demands_of(quilt), batting_of(quilt)


def _sizes(fields: Fields) -> list[Fields]:
    """The other sizes of a class: each says its size as a quilt does."""
    kits = fields.object("kits") if fields.has("kits") else Fields({})
    found = kits.objects("sizes", MOST_SIZES) if kits.has("sizes") else []
    if found and not fields.has("quilt"):
        raise Refusal(kits.at("sizes"), "sizes_of_no_quilt")
    return found


def _other_size(quilt: Fields, size: Fields) -> dict[str, list[Demand]]:
    """What the quilt wants of each fabric in another size; what does not fit there is refused at that size.

    The sewn top that was measured is of this size alone."""
    asked = {name: value for name, value in quilt.given.items() if name not in (*_SIZED_BY, "top")}
    own = {name: value for name, value in size.given.items() if name in _SIZED_BY}
    with quilt_within(Fields({**asked, **own}, size.place)) as other:
        return demands_of(other)


def _listed(fields: Fields) -> dict[str, Fields]:
    """The listed fabrics by their ids."""
    found: dict[str, Fields] = {}
    for item in fields.objects("fabrics", MOST_FABRICS) if fields.has("fabrics") else []:
        name = item.text("id", most=40)
        if name in found:
            raise Refusal(item.at("id"), "fabric_twice", given=shown(name))
        found[name] = item
    return found


def _read_pieces(fields: Fields) -> list[tuple[str, Demand]]:
    found = []
    for k, piece in enumerate(fields.objects("pieces", MOST_PIECES) if fields.has("pieces") else []):
        need = piece.count("need", 0, MOST_NEEDED)
        takes = float(piece.length_or_zero("join_takes", Fraction(1, 2)))
        each = 2 if piece.has("halved") else 1
        demand = Pieces(piece.text("id", f"piece_{k + 1}"), read_piece(piece), need, takes, each)
        found.append((piece.text("fabric", UNNAMED, 40), demand))
    return found


def _read_lengths(fields: Fields) -> list[tuple[str, Demand]]:
    found = []
    for k, item in enumerate(fields.objects("lengths", MOST_PIECES) if fields.has("lengths") else []):
        demand = Lengths(
            item.text("id", f"length_{k + 1}"), float(item.length("length")), item.count("need", 0, 10_000, default=1)
        )
        found.append((item.text("fabric", UNNAMED, 40), demand))
    return found


def _read_spare(fields: Fields) -> tuple[Fraction, int]:
    """Spare pieces of every kind: in a hundred, and so many."""
    if not fields.has("spare"):
        return Fraction(0), 0
    spare = fields.object("spare")
    return read_number(spare, "percent", 0, 100, 0), spare.count("pieces", 0, 1000, default=0)


def _read_fabric(name: str, own: Fields, common: Fields, demands: list[Demand], spare: tuple[Fraction, int]) -> Fabric:
    """A fabric by its own fields, and by those of the whole request where it has none."""
    bolt = Bolt(
        usable_width=own.length("usable_width", _wide(demands) or common.length("usable_width", USUAL_WIDTH)),
        straighten=own.length_or_zero("straighten", common.length_or_zero("straighten", USUAL_STRAIGHTEN)),
        shrink=_read_shrink(own if own.has("shrink") else common),
        step=STEPS[common.choice("round_to", tuple(STEPS), "eighth_yard")],
    )
    price = _read_price(own, common) if own.has("price") else None
    return Fabric(
        id=name,
        bolt=bolt,
        sold=own.choice("sold", SOLD, common.choice("sold", SOLD, sold_by(price))),
        quarter=_read_quarter(own, common, bolt.shrink),
        price=price,
        demands=tuple(with_spare(demand, *spare) for demand in demands),
    )


def _wide(demands: list[Demand]) -> Fraction | None:
    """The width of a backing cloth that the quilt says is not the usual one."""
    widths = [demand.backing.usable_width for demand in demands if isinstance(demand, Backed)]
    return next((width for width in widths if width != Backing().usable_width), None)


def _read_shrink(fields: Fields) -> tuple[Fraction, Fraction]:
    """Shrinkage along the length and across the width, from percentages; a cloth that grows has a negative one."""
    if not fields.has("shrink"):
        return Fraction(0), Fraction(0)
    shrink = fields.object("shrink")
    return tuple(read_number(shrink, side, -20, 40, 0) / 100 for side in ("length", "width"))


def _read_quarter(own: Fields, common: Fields, shrink: tuple[Fraction, Fraction]) -> FatQuarter:
    """Usable sides of a fat quarter, 18 × 20 in unless given, as they are after washing, and
    what is taken off to square it.
    """
    fields = own if own.has("fat_quarter") else common
    given = fields.object("fat_quarter") if fields.has("fat_quarter") else Fields({}, fields.at("fat_quarter"))
    length, width = (
        given.length(side, usual) * (1 - loss) for (side, usual), loss in zip(_QUARTER.items(), shrink, strict=True)
    )
    return FatQuarter(length, width, _read_square(own if own.has("square") else common, length, given.at("length")))


def _read_square(fields: Fields, length: Fraction, at_length: str) -> Fraction:
    """What is taken off a side. That may not be all of it: refused at `square`, or at the
    side where only that is given.
    """
    square = fields.length_or_zero("square", USUAL_SQUARE)
    if length - square < SHORTEST:
        field = fields.at("square") if fields.has("square") else at_length
        raise Refusal(field, "square_takes_all", given=shown(fields.raw("square", "½ in")), side=float(length))
    return square


def _read_price(own: Fields, common: Fields) -> Price:
    """The price; where it does not say what it is for, it is for what the fabric is sold as."""
    by_quarter = own.raw("sold", common.raw("sold")) == "fat_quarter"
    return Price(
        read_number(own, "price", 0, 1_000_000),
        own.choice("price_by", tuple(PRICED_BY), "fat_quarter" if by_quarter else "yd"),
    )


def read_kits(fields: Fields) -> Kits | None:
    """For how many people, the leader's own spare kits, and how long a bolt is."""
    if not fields.has("kits"):
        return None
    kits = fields.object("kits")
    bolt = kits.length("bolt_length") if kits.has("bolt_length") else None
    sizes = [OtherSize(size.text("name", "–", 40), size.count("people", 1, 1000)) for size in _sizes(fields)]
    return Kits(kits.count("people", 1, 1000), kits.count("leader", 0, 100, default=1), bolt, tuple(sizes))


def read_number(fields: Fields, name: str, least: int, most: int, default: int | None = None) -> Fraction:
    """A plain number within limits, exact.

    >>> read_number(Fields({"percent": 2.5}), "percent", 0, 100)
    Fraction(5, 2)
    """
    given = fields.raw(name, default)
    if isinstance(given, str) and given.strip().replace(".", "", 1).isdecimal() and len(given) < 30:
        given = float(given.strip())  # whose own idea of a space is a narrower one
    is_number = isinstance(given, (int, float)) and not isinstance(given, bool)
    if not is_number or not least <= given <= most:
        raise Refusal(fields.at(name), "number_outside", given=shown(given), least=least, most=most)
    return Fraction(repr(given)) if isinstance(given, float) else Fraction(given)
