"""What a screen begins with before anybody has typed anything, as texts that could have been typed, and what can be
chosen there.

In inches these are the core's own usual values; how large the pieces and borders of a first quilt are, and how many
make it in a class, is common practice, no published source, and there to be changed. In centimeters round values stand
for them that are near, or those of the metric kinds of cloth: common practice, no published source.
"""

from dataclasses import dataclass
from fractions import Fraction

from .buying.bolt import STEPS
from .buying.prices import PRICED_BY, SOLD
from .buying.reading import MOST_SIZES, USUAL_SQUARE
from .figures import with_fraction
from .kinds import KINDS, USUAL_STRAIGHTEN
from .leading.labels import MADE_AS
from .leading.tools import SHARE_AN_IRON
from .pieces import CUTS, DEFAULT_SEAM, MEASURES, SHAPES, TYPED
from .plan.basket import GRAINS
from .quilt.around.backing import USUAL_OVERLAP
from .quilt.around.binding import BINDING_FOLDS, BINDING_GRAINS, USUAL_BINDING
from .quilt.around.borders import BORDER_GRAINS, CORNERS, DEFAULT_EXTRA
from .quilt.reading import ORIENTATIONS, SETTINGS
from .quilt.settings.sashing import STYLES
from .quilt.settings.stars import JOINED_BY
from .quilt.size.sizes import SIZES
from .rulers.generic import GENERIC_RULERS, METRIC_RULERS
from .rulers.ruler import EDGES, LEANS, USUAL_TICK, Ruler
from .units import parse_length

#: Angles of diamonds that are offered, in degrees, the usual one first. Any other may be typed.
ANGLES = (60, 45, 30)
#: How many cloths are counted by tapping; more of them are typed, in a basket.
MOST_TAPPED = 99
#: Lengths off the bolt that are offered, in the unit that they are sold in.
_AMOUNTS = {
    "yd": ("yardage", [Fraction(1, 8), Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(3, 4), Fraction(1)]),
    "m": ("metre_length", [Fraction(1, 4), Fraction(1, 2), Fraction(3, 4), Fraction(1)]),
}
#: Sizes of diamonds that are offered, in the unit that is the usual one.
_SIZES = {"in": [Fraction(5, 2), *map(Fraction, (3, 4, 5, 6, 8))], "cm": [*map(Fraction, (6, 8, 10, 12, 15, 20))]}
#: What is usual in inches, and the centimeters that stand for it.
_LENGTHS = {
    "size": (Fraction(4), Fraction(10)),
    "seam": (DEFAULT_SEAM, Fraction(3, 4)),
    "border": (Fraction(3), Fraction(8)),
    "next_border": (Fraction(2), Fraction(5)),
    "extra": (DEFAULT_EXTRA, Fraction(5)),
    "binding": (USUAL_BINDING, Fraction(1)),
    "overlap": (USUAL_OVERLAP, Fraction(10)),
    "straighten": (USUAL_STRAIGHTEN, Fraction(3)),
    "square": (USUAL_SQUARE, Fraction(13, 10)),
}
_FIRST_SIZE = SIZES["lap"]
#: Units whose lengths are written as fractions.
_IN_FRACTIONS = ("in", "yd")


@dataclass(frozen=True, slots=True)
class _Trade:
    """How one buys and marks where the units are usual: kinds of cloth, the shop's step, what a price is for, the
    finest tick of a ruler, and a strip of paper to practice on."""

    quarter: str
    bolt: str
    step: str
    priced_by: str
    tick: str
    paper: str


def usual(units: str) -> dict:
    """What the screens begin with where lengths are in `units`, "in" or "cm"; no other is known.

    `piece` is a diamond, `sizes` are those to tap, `cloth` is the first kind of cloth,
    `cloths` are those that are met most (common practice, no published source), `typed` a piece of a list,
    `quilt` a whole quilt with its `class` and its `buying`, `rulers` those to start from, as requests have
    them. Lengths are texts without a unit, but for `tick`, `practice` and those of the rulers.

    >>> usual("in")["piece"], usual("cm")["quilt"]["buying"]["usable_width"]
    ({'angle': '60', 'measure': 'size', 'text': '4', 'seam': '¼'}, '106')
    """
    trade, length = _TRADES[units], _lengths(units)
    piece = {"angle": str(ANGLES[0]), "measure": MEASURES[0], "text": length["size"], "seam": length["seam"]}
    return {
        "units": units,
        "piece": piece,
        "sizes": [number(size, units) for size in _SIZES[units]],
        "cloth": trade.quarter,
        "cloths": [trade.quarter, "full_width_strip", trade.bolt, "fat_eighth"],
        "tick": trade.tick,
        "practice": trade.paper,
        "rulers": [_ruler(ruler, units) for ruler in _RULERS[units]],
        "typed": {"shape": SHAPES[0], "size": length["size"], "angle": piece["angle"], "cut": CUTS[0], "need": "24"},
        "quilt": {**_quilt(length, units), "buying": _buying(length, units, trade)},
    }


def choices() -> dict:
    """What can be chosen, each as the readers of requests take it. `amounts` are offered by the unit in which a length
    is sold, with the usual one; `shapes` lists what each is described by besides its size.

    >>> choices()["shapes"]["half-diamond"], choices()["amounts"]["m"]["usual"]
    (('angle', 'cut'), '0.5')
    """
    return {
        "angles": [str(angle) for angle in ANGLES],
        "amounts": {unit: _amounts(unit, *offered) for unit, offered in _AMOUNTS.items()},
        "shapes": TYPED,
        "cuts": CUTS,
        "grains": GRAINS,
        "round_to": tuple(STEPS),
        "price_by": tuple(by for by, length in PRICED_BY.items() if length),
        "sold": SOLD,
        "made_as": MADE_AS,
        "line_from": EDGES,
        "leans": LEANS,
    }


def limits() -> dict:
    """How many cloths are counted by tapping, and how many other sizes a class can have."""
    return {"cloths": MOST_TAPPED, "sizes": MOST_SIZES}


def text(length: Fraction, unit: str) -> str:
    """A length in inches as it is typed in a unit that stands elsewhere: a fraction of inches or yards, or a decimal.

    >>> text(Fraction(5, 2), "in"), text(Fraction(9), "yd"), text(Fraction(1), "cm")
    ('2½', '¼', '2.54')
    """
    return number(length / parse_length(f"1 {unit}", "unit"), unit)


def number(amount: Fraction, unit: str) -> str:
    """So many of a unit as they are typed.

    >>> number(Fraction(5, 2), "in"), number(Fraction(5, 2), "cm"), number(Fraction(3), "in")
    ('2½', '2.5', '3')
    """
    if unit not in _IN_FRACTIONS:
        return f"{float(amount):g}"
    return with_fraction(amount)


def _lengths(units: str) -> dict[str, str]:
    """The usual lengths by what they are of."""
    return {
        name: number(centimeters, "cm") if units == "cm" else text(inches, "in")
        for name, (inches, centimeters) in _LENGTHS.items()
    }


def _ruler(ruler: Ruler, units: str) -> dict:
    """A ruler as somebody would describe it who has it in hand."""
    return {
        "name": ruler.name,
        "width": f"{text(ruler.width, units)} {units}",
        "length": f"{text(ruler.length, units)} {units}",
        "tick": f"{text(ruler.tick, units)} {units}",
        "reads_through": ruler.reads_through,
        "angles": [
            {"degrees": float(line.degrees), "from": line.edge, "lean": line.lean, "hard_to_see": line.hard_to_see,
             "at": f"{text(line.at, units)} {units}"}
            for line in ruler.angles
        ],
    }  # fmt: skip


def _quilt(length: dict[str, str], units: str) -> dict:
    """A lap quilt with a border, a binding, a backing and batting, for a class of a few weeks."""
    return {
        "target": {
            "size": _FIRST_SIZE.code,
            "width": text(_FIRST_SIZE.width, units),
            "height": text(_FIRST_SIZE.height, units),
        },
        "steps": {"columns": "9", "rows": "7"},
        "have": "41",
        "fit": "nearest",
        "setting": SETTINGS[0],
        "orientation": ORIENTATIONS[0],
        "joined_by": JOINED_BY[0],
        "edge": "filled",
        "sash_style": STYLES[0],
        "border": {
            "width": length["border"],
            "corners": CORNERS[0],
            "extra": length["extra"],
            "grain": BORDER_GRAINS[0],
        },
        "next_border": length["next_border"],
        "binding": {"grain": BINDING_GRAINS[0], "fold": next(iter(BINDING_FOLDS)), "width": length["binding"]},
        "overlap": length["overlap"],
        "class": {"weeks": "4", "share_an_iron": str(SHARE_AN_IRON), "made_as": "strips"},
    }


def _buying(length: dict[str, str], units: str, trade: _Trade) -> dict:
    quarter = KINDS[trade.quarter]
    return {
        "usable_width": text(KINDS[trade.bolt].width, units),
        "straighten": length["straighten"],
        "round_to": trade.step,
        "quarter_length": text(quarter.length, units),
        "quarter_width": text(quarter.width, units),
        "square": length["square"],
        "price_by": trade.priced_by,
        "people": "20",
        "leader": "1",
    }


def _amounts(unit: str, kind: str, offered: list[Fraction]) -> dict:
    """The amounts to tap, and the one that a kind of cloth has where nobody says another."""
    return {"usual": text(KINDS[kind].length, unit), "offered": [number(amount, unit) for amount in offered]}


_RULERS = {"in": GENERIC_RULERS, "cm": METRIC_RULERS}
_TRADES = {
    "in": _Trade("fat_quarter", "yardage", "eighth_yard", "yd", f"{text(USUAL_TICK, 'in')} in", "36 in"),
    "cm": _Trade("metric_fat_quarter", "metre_length", "ten_cm", "m", "1 mm", "90 cm"),
}
