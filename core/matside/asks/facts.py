"""The ask `facts`: everything that the page must know before Python has started."""

from ..guide.table import TABLE
from . import kinds, rulers


def answer(request: dict) -> dict:
    """The kinds of cloth, the generic rulers to start from, and the guide's transition table."""
    return {**kinds.answer({}), **rulers.answer_my_rulers({}), "table": TABLE}
