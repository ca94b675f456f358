"""The ask `buying`: what to buy of each fabric, off the bolt or in fat quarters, for one quilt or for kits."""

from ..buying.listed import described
from ..buying.reading import read_buying
from ..fields import Fields


def answer(request: dict) -> dict:
    """A line for every fabric: strips, length off the bolt, fat quarters, price, other
    widths, kits; see `buying.listed`.
    """
    return described(read_buying(Fields(request)))
