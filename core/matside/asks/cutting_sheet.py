"""The ask `cutting_sheet`: what is printed so that one can cut without a phone; it takes what the ask `guide` takes."""

from ..fields import Fields
from ..handout.cutting_sheet import cutting_sheet
from .guide import read_script


def answer(request: dict) -> dict:
    """The sheet: cautions, pieces, cloths with their drawings and rows, scenes and totals."""
    return {"sheet": cutting_sheet(*read_script(Fields(request), afresh=True))}
