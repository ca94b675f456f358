"""Sines and cotangents of angles in degrees, exact where the trade's angles have exact values.

`math.sin(math.radians(30))` is a hair under one half, which would make a strip that holds a whole number of
pieces come out one short. The angles with rational values are therefore looked up.
"""

import math
from fractions import Fraction

_EXACT_SIN = {30: 0.5, 90: 1.0, 150: 0.5}
_EXACT_COT = {45: 1.0, 90: 0.0, 135: -1.0}


def sin(degrees: Fraction | float) -> float:
    """The sine of an angle in degrees.

    >>> sin(30), sin(90), round(sin(60), 6)
    (0.5, 1.0, 0.866025)
    """
    return _EXACT_SIN.get(degrees) or math.sin(math.radians(degrees))


def cot(degrees: Fraction | float) -> float:
    """The cotangent of an angle in degrees, above 0 and below 180; 0 at a right angle.

    >>> cot(45), cot(90), round(cot(60), 6)
    (1.0, 0.0, 0.57735)
    """
    if degrees in _EXACT_COT:
        return _EXACT_COT[degrees]
    return 1.0 / math.tan(math.radians(degrees))


def tan_half(degrees: Fraction | float) -> float:
    """The tangent of half an angle given in degrees.

    >>> tan_half(90), round(tan_half(60), 6)
    (1.0, 0.57735)
    """
    return 1.0 if degrees == 90 else math.tan(math.radians(degrees) / 2)
