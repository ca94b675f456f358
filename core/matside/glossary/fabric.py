"""How fabric comes, and its directions."""

from ..shapes import Point
from .drawn import arrow, box, line, shape


def shapes() -> dict[str, list[dict]]:
    """The pictures of these words, by code."""
    return {
        "selvage": [box("cloth", 0, 0, 18, 10), box("selvage", 0, 10, 18, 11)],
        "straight_grain": [box("cloth", 0, 0, 14, 9), *(line("measure-line", 1, y, 13, y) for y in (3, 6))],
        "lengthwise_grain": [*_beside_selvage(), *_both_ways(3, 4.5, 11, 4.5)],
        "crosswise_grain": [*_beside_selvage(), *_both_ways(7, 1.5, 7, 7.5)],
        "bias": [box("cloth", 0, 0, 14, 9), line("angle-line", 3, 1, 10, 8)],
        "fold": [box("cloth", 0, 0, 12, 9), line("fold", 0, 0, 12, 0)],
        "width_of_fabric": [box("cloth", 0, 0, 9, 42), line("measure-line", 4.5, 0, 4.5, 42)],
        "usable_width": [
            box("cloth", 0, 0, 9, 42),
            box("selvage", 0, 0, 9, 1.5),
            box("selvage", 0, 40.5, 9, 42),
            line("measure-line", 4.5, 1.5, 4.5, 40.5),
        ],
        "fat_quarter": [box("whole", 0, 0, 18, 42), box("cloth", 0, 0, 18, 21)],
        "fat_eighth": [box("whole", 0, 0, 9, 42), box("cloth", 0, 0, 9, 21)],
        "bolt": [
            box("cloth", 4, 0, 20, 21),
            box("whole", 0, -0.7, 6, 21.7),
            *(line("side", x, -0.7, x, 21.7) for x in (1.5, 3, 4.5)),
        ],
        "yardage": [box("whole", 36, 0, 66, 42), box("cloth", 0, 0, 36, 42), line("cut", 36, -2, 36, 44)],
        "scrap": [shape("cloth", [(0, 1.5), (5, 0), (9, 2.5), (8, 6), (4.5, 7), (1, 5)])],
        "pinked": [shape("cloth", [(0, 0), (10, 0), *_pinked(10, 6), (0, 6)])],
        "right_side": [*_folded_back(), *_print()],
        "one_way": [box("cloth", 0, 0, 12, 8), *(_sprig(2 + 4 * i, 1 + 3.5 * j) for i in range(3) for j in (0, 1))],
        "prewash": [
            box("whole", 0, 0, 18, 11),
            box("cloth", 0, 0, 16.5, 10.2),
            *arrow("measure-line", 20, 5, 16.9, 5),
        ],
        "straightening": [
            shape("cloth", [(0, 0), (15, 0), (15, 10), (0, 10)]),
            shape("waste", [(15, 0), (15.5, 0), (17, 10), (15, 10)]),
            line("cut", 15, 0, 15, 10),
        ],
    }


def _beside_selvage() -> list[dict]:
    return [box("cloth", 0, 0, 14, 9), box("selvage", 0, 9, 14, 10)]


def _both_ways(x: float, y: float, to_x: float, to_y: float) -> list[dict]:
    return [*arrow("measure-line", x, y, to_x, to_y), *arrow("measure-line", to_x, to_y, x, y)]


def _pinked(right: float, high: float) -> list[Point]:
    """The two edges from the lower right corner on, in teeth a quarter inch deep."""
    up = [(right - 0.25 * (i % 2), i * 0.25) for i in range(int(high * 4) + 1)]
    back = [(right - i * 0.25, high - 0.25 * (i % 2)) for i in range(int(right * 4))]
    return up + back


def _folded_back() -> list[dict]:
    """A cloth, right side up, one corner of which is folded over to show its back."""
    return [
        shape("cloth", [(0, 0), (13, 0), (13, 3.5), (7.5, 9), (0, 9)]),
        shape("other", [(13, 3.5), (7.5, 9), (7.5, 3.5)]),
    ]


def _print() -> list[dict]:
    spots = [(1.5, 1.5), (4.5, 1.5), (7.5, 1.5), (10.5, 1.5), (3, 4.2), (6, 4.2), (1.5, 6.9), (4.5, 6.9)]
    return [shape("piece", [(x, y - 0.8), (x + 0.5, y), (x, y + 0.8), (x - 0.5, y)]) for x, y in spots]


def _sprig(x: float, y: float) -> dict:
    return shape("piece", [(x - 1, y), (x + 1, y), (x, y + 2)])
