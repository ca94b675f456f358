"""Drift: how cut after cut the angle wanders, what was really cut, and how to put it right."""

from .walk import CAREFUL_PLACING, USUAL_ROW, USUAL_TOLERANCE, Drift, cut_error, expected, row_factor

__all__ = ["CAREFUL_PLACING", "USUAL_ROW", "USUAL_TOLERANCE", "Drift", "cut_error", "expected", "row_factor"]
