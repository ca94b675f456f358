"""Rulers as a request describes them."""

from fractions import Fraction

from ..errors import Refusal
from ..fields import Fields
from .generic import GENERIC_RULERS
from .ruler import EDGES, LEANS, USUAL_TICK, AngleLine, Ruler

MOST_RULERS = 20
MOST_LINES = 24


def read_rulers(fields: Fields, name: str = "rulers") -> tuple[Ruler, ...]:
    """The rulers under `name`; the generic ones when there is no such field, none at all for an empty list.

    Each is `{name, width, length, tick?, reads_through?, angles?: [{degrees, from, at?, line_length?, lean?,
    hard_to_see?}]}`. Which side is the longer one does not matter. Refused with the field: two rulers of one name, a
    ruler narrower than its tick, a line under 1° or over 179°, a line that starts off its edge.

    >>> read_rulers(Fields({"rulers": [{"name": "mine", "width": 24, "length": "6 in"}]}))[0].length
    Fraction(24, 1)
    """
    if not fields.has(name):
        return GENERIC_RULERS
    rulers = [_ruler(item) for item in fields.objects(name, MOST_RULERS)]
    refuse_same_names(rulers, fields.at(name))
    return tuple(rulers)


def refuse_same_names(rulers, place: str = "rulers") -> None:
    """Refuses two rulers of one name: a way names its rulers."""
    names = [ruler.name for ruler in rulers]
    for i, name in enumerate(names):
        if name in names[:i]:
            raise Refusal(f"{place}[{i}].name", "ruler_name_taken", given=name)


def _ruler(fields: Fields) -> Ruler:
    sides = (fields.length("width"), fields.length("length"))
    return _placed(
        fields,
        lambda: Ruler(
            fields.text("name", most=60),
            min(sides),
            max(sides),
            fields.length("tick", USUAL_TICK),
            tuple(_line(line) for line in _lines(fields)),
            fields.flag("reads_through", True),
        ),
    )


def _lines(fields: Fields) -> list[Fields]:
    return fields.objects("angles", MOST_LINES) if fields.has("angles") else []


def _line(fields: Fields) -> AngleLine:
    return _placed(
        fields,
        lambda: AngleLine(
            _degrees(fields),
            fields.choice("from", EDGES, "long"),
            fields.length_or_zero("at") if fields.has("at") else None,
            fields.length("line_length") if fields.has("line_length") else None,
            fields.choice("lean", LEANS, "both"),
            fields.flag("hard_to_see"),
        ),
    )


def _degrees(fields: Fields) -> Fraction:
    return fields.angle("degrees", least=0, most=180)


def _placed(fields: Fields, make):
    """What `make` makes; a value's own refusal is told with its place in the request."""
    try:
        return make()
    except Refusal as refusal:
        if refusal.field.startswith(fields.place):
            raise
        raise Refusal(fields.at(refusal.field), refusal.code, **refusal.values) from None
