"""Drift: how cut after cut the angle wanders, what was really cut, and how to put it right."""

from .measured import MEASURES, FittedDiamond, fitted
from .mend import GOOD_ANGLE, GOOD_SIZE, LEAST_SEEN, Trim, after_trim, row_growth, row_shift, trim
from .walk import (
    MOST_CUTS,
    PLACING,
    PLACINGS,
    USUAL_PLACING,
    USUAL_ROW,
    USUAL_TOLERANCE,
    Drift,
    cut_error,
    expected,
    row_factor,
)

__all__ = [
    "GOOD_ANGLE",
    "GOOD_SIZE",
    "LEAST_SEEN",
    "MEASURES",
    "PLACINGS",
    "MOST_CUTS",
    "PLACING",
    "USUAL_PLACING",
    "USUAL_ROW",
    "USUAL_TOLERANCE",
    "Drift",
    "FittedDiamond",
    "Trim",
    "after_trim",
    "cut_error",
    "expected",
    "fitted",
    "row_factor",
    "row_growth",
    "row_shift",
    "trim",
]
