"""The trade's words, each with a small picture as plain data; the meanings are in the catalogue of wording.

A picture has a `view` [x, y, width, height] and `shapes` [{"role", "points"}], in inches, y up.
"""

from fractions import Fraction

from .shapes import Diamond, HalfDiamond

_DIAMOND = Diamond(Fraction(4), Fraction(60))
_SEAM = Fraction(1, 4)


def pictures() -> dict[str, dict]:
    """A picture for every word of the glossary, by its code.

    >>> pictures()["diamond"]["shapes"][0]["role"]
    'piece'
    """
    return {code: {"view": _view(shapes), "shapes": shapes} for code, shapes in _shapes().items()}


def _shapes() -> dict[str, list[dict]]:
    starter, edge = _DIAMOND.starter_waste, _DIAMOND.edge
    return {
        "strip": [_box("whole", 0, 0, 18, 12), _box("strip", 0, 4, 18, 8)],
        "diamond": [_shape("piece", _DIAMOND.outline())],
        "half_diamond": [_shape("piece", HalfDiamond(Fraction(4), Fraction(60)).outline(1))],
        "size": [_shape("piece", _DIAMOND.outline()), _shape("measure-line", [(starter + 1, 0), (starter + 1, 4)])],
        "starter_cut": [
            _box("strip", 0, 0, 14, 4),
            _shape("waste", [(0, 0), (starter, 4), (0, 4)]),
            _shape("cut", [(0, 0), (starter, 4)]),
        ],
        "selvage": [_box("cloth", 0, 0, 18, 10), _box("selvage", 0, 10, 18, 11)],
        "straight_grain": [_box("cloth", 0, 0, 14, 9), *(_line("measure-line", 1, y, 13, y) for y in (3, 6))],
        "bias": [_box("cloth", 0, 0, 14, 9), _line("angle-line", 3, 1, 10, 8)],
        "fold": [_box("cloth", 0, 0, 12, 9), _line("fold", 0, 0, 12, 0)],
        "fat_quarter": [_box("whole", 0, 0, 18, 42), _box("cloth", 0, 0, 18, 21)],
        "width_of_fabric": [_box("cloth", 0, 0, 9, 42), _line("measure-line", 4.5, 0, 4.5, 42)],
        "seam_allowance": [
            _shape("waste", _DIAMOND.outline()),
            _shape("piece", _inset(edge, starter)),
        ],
        "sashing": [_box("piece", 0, 0, 6, 6), _box("strip", 6, 0, 7.5, 6), _box("piece", 7.5, 0, 13.5, 6)],
        "border": [_box("strip", 0, 0, 16, 12), _box("piece", 2, 2, 14, 10)],
        "binding": [_box("piece", 0, 0, 16, 10), _box("strip", 0, 0, 16, 0.8)],
        "backing": [_box("cloth", -2, -2, 18, 14), _box("piece", 0, 0, 16, 12)],
        "batting": [_box("waste", -1, -1, 17, 13), _box("piece", 0, 0, 16, 12)],
    }


def _inset(edge: float, starter: float) -> list[tuple[float, float]]:
    """The finished diamond inside the cut one: the seam allowance off all four edges, as long as it is off the size."""
    share = float(_DIAMOND.finished_size(_SEAM) / _DIAMOND.size)
    middle_x, middle_y = (edge + starter) / 2, float(_DIAMOND.size) / 2
    return [(middle_x + (x - middle_x) * share, middle_y + (y - middle_y) * share) for x, y in _DIAMOND.outline()]


def _box(role: str, left: float, low: float, right: float, high: float) -> dict:
    return _shape(role, [(left, low), (right, low), (right, high), (left, high)])


def _line(role: str, x: float, y: float, to_x: float, to_y: float) -> dict:
    return _shape(role, [(x, y), (to_x, to_y)])


def _shape(role: str, points) -> dict:
    return {"role": role, "points": points}


def _view(shapes: list[dict]) -> list[float]:
    xs = [x for shape in shapes for x, _ in shape["points"]]
    ys = [y for shape in shapes for _, y in shape["points"]]
    return [min(xs) - 0.5, min(ys) - 0.5, max(xs) - min(xs) + 1, max(ys) - min(ys) + 1]
