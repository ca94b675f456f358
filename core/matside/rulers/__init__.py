"""Any ruler: where to lay which of its lines to cut the strip, the starter and every following piece."""

from .checking import expected_drift
from .finding import HANDS, USUAL_RUN, strip_ways, ways
from .generic import GENERIC_RULERS, METRIC_RULERS
from .reading import read_rulers
from .ruler import AngleLine, Ruler, printed_lines
from .way import AngleUse, Check, Drawing, Lacking, LeftOut, Rounded, RulerOutline, TwoMarks, Way, Ways

__all__ = [
    "GENERIC_RULERS",
    "METRIC_RULERS",
    "HANDS",
    "USUAL_RUN",
    "AngleLine",
    "AngleUse",
    "Check",
    "Drawing",
    "Lacking",
    "LeftOut",
    "Rounded",
    "Ruler",
    "RulerOutline",
    "TwoMarks",
    "Way",
    "Ways",
    "expected_drift",
    "printed_lines",
    "read_rulers",
    "strip_ways",
    "ways",
]
