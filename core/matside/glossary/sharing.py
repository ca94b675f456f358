"""Quilting in company."""

from fractions import Fraction

from ..shapes import Diamond
from .drawn import arrow, box, moved, shape

_DIAMOND = Diamond(Fraction(2), Fraction(60))


def shapes() -> dict[str, list[dict]]:
    """The pictures of these words, by code."""
    return {
        "kit": _bundle(0),
        "spare_kit": [*_bundle(0), *_bundle(15), *_bundle(30, "next", "next", "next")],
        "cut_along": [
            each for week, role in enumerate(("piece", "piece", "next", "other")) for each in _week(week, role)
        ],
        "swap": [
            *(shape("piece", moved(_DIAMOND.outline(), 0.4 * i, 0.5 * i)) for i in range(3)),
            *(shape("strip", moved(_DIAMOND.outline(), 12 + 0.4 * i, 0.5 * i)) for i in range(3)),
            *arrow("measure-line", 4.5, 3, 11.5, 3),
            *arrow("measure-line", 11, -0.6, 4, -0.6),
        ],
    }


def _bundle(x: float, *roles: str) -> list[dict]:
    """Folded fabrics on each other, tied."""
    fabrics = roles or ("cloth", "piece", "other")
    return [
        *(box(role, x, 2.2 * layer, x + 12, 2.2 * (layer + 1)) for layer, role in enumerate(fabrics)),
        box("whole", x + 5.2, -0.2, x + 6.8, 6.8),
    ]


def _week(week: int, role: str) -> list[dict]:
    """The pieces of one week: cut, being cut, or still to come."""
    return [shape(role, moved(_DIAMOND.outline(), week * 4.5, -2.4 * number)) for number in range(3)]
