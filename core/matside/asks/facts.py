"""The ask `facts`: everything that the page must know before Python has started."""

from .. import drift
from ..guide.table import TABLE
from ..usual import choices, limits, usual
from . import habits, kinds, quilt, rulers


def answer(request: dict) -> dict:
    """The kinds of cloth, the generic rulers to start from, the guide's transition table.

    What can be chosen for a `quilt`. Of the `habits`, what can be chosen and what is usual; of the `drift`, how near
    lines are laid, and what is usual. What every screen begins with in either unit (`usual`), and the `choices` and
    `limits` of the rest.
    """
    drifts = {"placing": drift.USUAL_PLACING, "tolerance": drift.USUAL_TOLERANCE, "across": drift.USUAL_ROW}
    return {
        **kinds.answer({}),
        **rulers.answer_my_rulers({}),
        "habits": {"usual": habits.answer({}), "choices": habits.choices()},
        "drift": {"usual": drifts, "placings": drift.PLACINGS},
        "quilt": quilt.answer_choices({}),
        "table": TABLE,
        "usual": {units: usual(units) for units in ("in", "cm")},
        "choices": choices(),
        "limits": limits(),
    }
