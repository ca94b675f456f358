"""What is done at the mat, and what can go wrong there."""

from fractions import Fraction

from .. import angles
from ..shapes import Diamond
from .drawn import arrow, box, circle, line, moved, shape

_DIAMOND = Diamond(Fraction(3), Fraction(60))
_RUN = 15.5
#: Drops of a spray, which spread as they fly.
_SPRAY = ((0, 9.2), (0.5, 8), (3, 9.4), (3.5, 7.4), (6, 9.3), (6.4, 6.6), (9, 8.6), (9.4, 6.2), (12, 7.6))


def shapes() -> dict[str, list[dict]]:
    """The pictures of these words, by code."""
    high, starter = float(_DIAMOND.size), _DIAMOND.starter_waste
    return {
        "strip": [box("whole", 0, 0, 18, 12), box("strip", 0, 4, 18, 8)],
        "starter_cut": [
            box("strip", 0, 0, 11, high),
            shape("waste", [(0, 0), (starter, high), (0, high)]),
            line("cut", 0, 0, starter, high),
        ],
        "square_up": [
            box("cloth", 1.5, 0, 14, 8),
            shape("waste", [(1, 0), (1.5, 0), (1.5, 8), (0.2, 8)]),
            line("edge", 1.5, 0, 1.5, 8),
            shape("side", [(1.5, 1.2), (2.7, 1.2), (2.7, 0)]),
        ],
        "sliver": [box("strip", 0, 0, 6, 4), box("waste", 6, 0, 6.25, 4), line("cut", 6, 0, 6, 4)],
        "stack": [box("strip", 0.5 * i, 0.6 * i, 13 + 0.5 * i, 3 + 0.6 * i) for i in (3, 2, 1, 0)],
        "press": [
            box("cloth", -1, -2, 13, 7),
            shape("ruler", [(1, 2.5), (4, 4.7), (10.5, 5), (10.5, 0), (4, 0.3)]),
        ],
        "starch": [
            box("cloth", 0, 0, 14, 5),
            box("whole", -3, 6, -1.2, 10),
            *(circle("piece", x, y, 0.35) for x, y in _SPRAY),
        ],
        "lean": [
            shape("piece", _DIAMOND.outline()),
            shape("strip", moved([(-x, y) for x, y in _DIAMOND.outline()], 12)),
        ],
        "drift": _drifting(),
        "waste": _wasted(),
    }


def _drifting() -> list[dict]:
    """Cuts that lean a little more each time, drawn far larger than they are, and the last one as it should be."""
    high, advance = float(_DIAMOND.size), _DIAMOND.advance
    leans = [high * angles.cot(degrees) for degrees in (60, 57, 52, 45)]
    starts = [advance * k for k in range(4)]
    cuts = [line("side", x, 0, x + lean, high) for x, lean in zip(starts, leans, strict=True)]
    right = line("angle-line", starts[3], 0, starts[3] + leans[0], high)
    return [box("strip", 0, 0, starts[3] + leans[3] + 1, high), *cuts, right]


def _wasted() -> list[dict]:
    """A strip, the pieces out of it, and the corners that become none."""
    high, starter = float(_DIAMOND.size), _DIAMOND.starter_waste
    count = int((_RUN - starter) / _DIAMOND.advance)
    last = count * _DIAMOND.advance
    return [
        shape("waste", [(0, 0), (starter, high), (0, high)]),
        *(shape("piece", _DIAMOND.outline(k)) for k in range(count)),
        shape("waste", [(last, 0), (_RUN, 0), (_RUN, high), (last + starter, high)]),
        *arrow("measure-line", _RUN - 1, -2, _RUN - 1, -0.3),
        *arrow("measure-line", 0.8, -2, 0.8, 0.7),
    ]
