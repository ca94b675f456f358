"""What one cuts with."""

from .. import angles
from .drawn import box, circle, line, shape

#: A rotary blade of the common kind is 45 mm across. Common practice, no published source.
_BLADE = 45 / 25.4 / 2


def shapes() -> dict[str, list[dict]]:
    """The pictures of these words, by code."""
    across = 6 * angles.cot(60)
    return {
        "rotary_cutter": [
            line("cut", -2, 0, 6, 0),
            shape("piece", [(0.7, 1.3), (1.4, 0.5), (6, 3), (5.6, 3.9)]),
            circle("whole", _BLADE, _BLADE, _BLADE),
            circle("piece", _BLADE, _BLADE, 0.22),
        ],
        "blade": [circle("whole", 0, 0, _BLADE), circle("piece", 0, 0, 0.17), line("measure-line", 0, 0, _BLADE, 0)],
        "cutting_mat": [
            box("whole", 0, 0, 24, 18),
            *(line("side", x, 0, x, 18) for x in range(4, 24, 4)),
            *(line("side", 0, y, 24, y) for y in (3, 6, 9, 12, 15)),
            box("cloth", 5, 4, 17, 13),
        ],
        "ruler": _ruler(24, 6),
        "angle_line": [*_ruler(18, 6), line("angle-line", 7, 0, 7 + across, 6)],
        "square_line": [
            box("strip", 0, 0, 14, 5),
            box("ruler", 5, -3, 9, 9),
            line("measure-line", 5, 5, 9, 5),
            line("cut", 9, -0.5, 9, 5.5),
        ],
        "smallest_marks": [box("ruler", 0, 0, 3, 1.3), *(_tick(eighth) for eighth in range(1, 24))],
    }


def _ruler(length: int, width: int) -> list[dict]:
    return [
        box("ruler", 0, 0, length, width),
        *(line("ruler-line", x, 0, x, width) for x in range(1, length)),
        *(line("ruler-line", 0, y, length, y) for y in range(1, width)),
    ]


def _tick(eighth: int) -> dict:
    """A mark at so many eighths of an inch: whole inches and halves have longer ones."""
    high = 0.3 if eighth % 4 else 0.55 if eighth % 8 else 0.9
    return line("side", eighth / 8, 0, eighth / 8, high)
