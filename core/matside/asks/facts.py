"""The ask `facts`: everything that the page must know before Python has started."""

from ..glossary import pictures
from ..guide.table import TABLE
from . import kinds, rulers


def answer(request: dict) -> dict:
    """The kinds of cloth, the generic rulers to start from, the glossary's pictures, and the guide's transition table."""
    return {**kinds.answer({}), **rulers.answer_my_rulers({}), "glossary": pictures(), "table": TABLE}
