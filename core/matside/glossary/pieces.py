"""The pieces, and how they are measured."""

from fractions import Fraction

from ..shapes import Diamond, HalfDiamond, Parallelogram, Point, half_hexagon
from .drawn import circle, line, shape, toward

_DIAMOND = Diamond(Fraction(4), Fraction(60))
_SEAM = Fraction(1, 4)


def shapes() -> dict[str, list[dict]]:
    """The pictures of these words, by code."""
    high, starter, edge = float(_DIAMOND.size), _DIAMOND.starter_waste, _DIAMOND.edge
    outline = _DIAMOND.outline()
    rim = (high - float(_DIAMOND.finished_size(_SEAM))) / 2
    return {
        "diamond": [shape("piece", outline)],
        "half_diamond": [shape("piece", HalfDiamond(Fraction(4), Fraction(60)).outline(1))],
        "trapezoid": [shape("piece", half_hexagon(Fraction(4), _SEAM).outline(1))],
        "parallelogram": [shape("piece", Parallelogram(Fraction(3), Fraction(6), Fraction(60)).outline())],
        "rectangle": [
            shape("piece", [(0, 0), (9, 0), (9, 5)]),
            shape("strip", [(0, 0), (9, 5), (0, 5)]),
            line("cut", 0, 0, 9, 5),
        ],
        "size": [shape("piece", outline), line("measure-line", starter + 1, 0, starter + 1, high)],
        "edge": [shape("piece", outline), line("measure-line", 0, 0, edge, 0)],
        "points": [
            shape("piece", outline),
            *(circle("next", *outline[i], 0.45) for i in (0, 2)),
            *(circle("whole", *outline[i], 0.45) for i in (1, 3)),
        ],
        "sharp_angle": [
            shape("piece", outline),
            shape("next", [(0, 0), *_towards(outline[1], outline[3], 1.8)]),
        ],
        "seam_allowance": [shape("other", outline), shape("piece", _finished())],
        "as_cut": [
            shape("piece", outline),
            line("measure-line", starter + 1, 0, starter + 1, high),
            shape("angle-line", [*_finished(), _finished()[0]]),
        ],
        "finished": [
            shape("other", outline),
            shape("piece", _finished()),
            line("measure-line", starter + 1, rim, starter + 1, high - rim),
        ],
    }


def _finished() -> list[Point]:
    """The finished diamond inside the cut one: the seam allowance off all four edges, as long as it is off the size."""
    share = float(_DIAMOND.finished_size(_SEAM) / _DIAMOND.size)
    middle = ((_DIAMOND.edge + _DIAMOND.starter_waste) / 2, float(_DIAMOND.size) / 2)
    return toward(_DIAMOND.outline(), middle, share)


def _towards(first, second, far: float) -> list[Point]:
    """From the corner at 0, 0: points so far out along two edges of the same length, and between them."""
    edge = _DIAMOND.edge
    ends = [(x * far / edge, y * far / edge) for x, y in (first, second)]
    between = (ends[0][0] + ends[1][0], ends[0][1] + ends[1][1])
    length = (between[0] ** 2 + between[1] ** 2) ** 0.5
    return [ends[0], (between[0] * far / length, between[1] * far / length), ends[1]]
