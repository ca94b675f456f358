"""The ask `class_plan`: what a leader prepares for a class that makes a quilt, or cuts pieces."""

from ..buying.kits import Kits
from ..buying.reading import read_buying, read_number
from ..errors import Refusal
from ..fields import Fields
from ..leading.described import ClassPlan, described
from ..leading.timing import STRIP_SECONDS, USUAL_PACE, Pace
from ..leading.tools import SHARE_AN_IRON
from ..rulers import HANDS, read_rulers

MOST_WEEKS = 52
#: A swap is dealt to no more people than these.
MOST_SWAPPING = 60


def answer(request: dict) -> dict:
    """A request of the ask `buying` with `kits`, and besides: `weeks`, `swap`, the `pace` in pieces a minute and the
    `strip_seconds`, how many `share_an_iron`, and `rulers` and `hand` as the ask `rulers` takes them.

    Answers `supplies` (the buying list of one), `tools` (each, or so many that `share` one, and the `count` for all;
    "rulers" names the fewest and smallest that will do), `each` (what one piece gives, where that is more than one),
    `time` for one quilt, `weeks` (what is cut in each, strip by strip, no week over a strip more than another), `swap`
    (null unless wished), `labels` by how kits are made, and those of the other `sizes`.

    >>> piece = {"id": "d", "size": 4, "angle": 60, "need": 40, "fabric": "rose"}
    >>> found = answer({"pieces": [piece], "kits": {"people": 12}, "weeks": 2})
    >>> found["time"]["minutes"], [week["strips"] for week in found["weeks"]]
    (12, [3, 2])
    """
    fields = Fields(request)
    buying = read_buying(fields)
    if buying.kits is None:
        raise Refusal("kits", "object_missing")
    return described(
        ClassPlan(
            buying=buying,
            weeks=fields.count("weeks", 1, MOST_WEEKS, default=1),
            swap=_read_swap(fields, buying.kits),
            pace=Pace(
                _above_zero(fields, "pace", USUAL_PACE, 600), _above_zero(fields, "strip_seconds", STRIP_SECONDS, 3600)
            ),
            rulers=tuple(read_rulers(fields)),
            hand=fields.choice("hand", HANDS, "right"),
            share_an_iron=fields.count("share_an_iron", 1, 100, default=SHARE_AN_IRON),
        )
    )


def _read_swap(fields: Fields, kits: Kits) -> bool:
    swap = fields.flag("swap")
    if swap and not 2 <= kits.people <= MOST_SWAPPING:
        raise Refusal("kits.people", "swap_people", given=kits.people, least=2, most=MOST_SWAPPING)
    return swap


def _above_zero(fields: Fields, name: str, usual, most: int):
    if not fields.has(name):
        return usual
    given = read_number(fields, name, 0, most)
    if not given:
        raise Refusal(fields.at(name), "number_outside", given="0", least="¹⁄₁₀", most=most)
    return given
