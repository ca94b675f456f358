"""The ask `facts`: everything that the page must know before Python has started."""

from ..guide.table import TABLE
from . import kinds


def answer(request: dict) -> dict:
    """The kinds of cloth and the guide's transition table."""
    return {**kinds.answer({}), "table": TABLE}
