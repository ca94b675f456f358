"""Settings, and what goes around them."""

from collections.abc import Callable
from fractions import Fraction

from ..quilt.geometry import Geometry, Size, laid
from ..quilt.outlines.cuts import Piece
from ..quilt.settings.patchwork import Patch
from ..shapes import Diamond, HalfDiamond, Point
from .drawn import arrow, box, circle, line, moved, shape

_FABRICS = ("piece", "strip", "other")


def shapes() -> dict[str, list[dict]]:
    """The pictures of these words, by code."""
    return {**_settings(), **_edges(), **_sewing(), **_around()}


def _settings() -> dict[str, list[dict]]:
    grid, zigzag = _laid("grid", 3, 3), _laid("zigzag", 3, 3)
    return {
        "patchwork": _laid("grid", 3, 3, role=lambda patch: _FABRICS[patch.row % 3]),
        "setting": [*grid, *_beside(_laid("zigzag", 2, 3), grid)],
        "grid": grid,
        "zigzag": zigzag,
        "hexagons": _laid("hexagons", 2, 2, role=lambda patch: _FABRICS[patch.shape % 3]),
        "star_six": _star(),
        "star_eight": _laid("eight_pointed", 1, 1, "filled", role=_but("diamond")),
        "lying": [*grid, *_beside(_laid("grid", 3, 3, lying=True), grid)],
        "row": _laid("grid", 3, 3, role=lambda patch: "next" if patch.row == 2 else "strip"),
    }


def _edges() -> dict[str, list[dict]]:
    """A quilt's edge with the pieces that fill it set off from the diamonds."""
    grid = ("grid", 3, 2, "filled")
    return {
        "halves": _laid(*grid, role=_but("side_half", "end_half")),
        "corner_quarter": _laid(*grid, role=_but("corner_quarter")),
        "fill_triangle": _laid("zigzag", 3, 4, "filled", role=_but("notch_fill", "row_end_fill")),
        "sashing": _sashed(("sash", "sash_long")),
        "cornerstone": _sashed(("cornerstone", "cornerstone_side_half", "cornerstone_end_half")),
    }


def _sewing() -> dict[str, list[dict]]:
    half = HalfDiamond(Fraction(5), Fraction(60)).outline(1)
    return {
        "stay_stitch": [shape("piece", half), shape("angle-line", _along(half, 0.4))],
        "set_in_seam": _set_in(),
        "pinwheel": _pinwheel(),
        "seams_lock": [
            box("piece", 0, 3, 5, 6), box("strip", 5, 3, 10, 6), box("other", 4, 3, 5, 6),
            box("strip", 0, 0, 5, 3), box("piece", 5, 0, 10, 3), box("other", 5, 0, 6, 3),
        ],
        "joined": [
            shape("strip", [(0, 0), (7, 0), (9.5, 2.5), (0, 2.5)]),
            shape("piece", [(7, 0), (16, 0), (16, 2.5), (9.5, 2.5)]),
            box("strip", 0, -4, 8, -1.5),
            box("piece", 8, -4, 16, -1.5),
        ],
    }  # fmt: skip


def _around() -> dict[str, list[dict]]:
    return {
        "quilt_top": _bordered(_laid("zigzag", 3, 4, "filled", role=lambda patch: _FABRICS[2 * (patch.row % 2)])),
        "border": [box("strip", 0, 0, 16, 12), box("piece", 2, 2, 14, 10)],
        "mitered": [
            box("other", 2, 2, 9, 7),
            shape("strip", [(0, 0), (9, 0), (9, 2), (2, 2)]),
            shape("piece", [(0, 0), (2, 2), (2, 7), (0, 7)]),
            line("cut", 0, 0, 2, 2),
        ],
        "binding": [box("piece", 0, 0, 16, 10), box("strip", 0, 0, 16, 0.8)],
        "double_fold": [
            box("whole", 0, 0, 14, 5),
            box("strip", 0, 0, 14, 2.5),
            line("fold", 0, 2.5, 14, 2.5),
            *arrow("measure-line", 12.5, 4.6, 12.5, 0.8),
        ],
        "bias_binding": [
            box("cloth", 0, 0, 18, 14),
            box("piece", 0, 0.5, 18, 2.5),
            shape("next", [(3, 2.5), (5.83, 2.5), (17.33, 14), (14.5, 14)]),
        ],
        "backing": [box("cloth", -2, -2, 18, 14), box("piece", 0, 0, 16, 12)],
        "panel": [box("cloth", 0, 0, 14, 18), box("strip", 14, 0, 28, 18), line("cut", 14, 0, 14, 18)],
        "batting": [box("other", -1, -1, 17, 13), box("piece", 0, 0, 16, 12)],
        "drop": [
            box("whole", 0, 0, 26, 9),
            box("piece", -1.2, 9, 27.2, 10.5),
            box("piece", -1.2, 2, 0, 9),
            box("piece", 26, 2, 27.2, 9),
            line("measure-line", -3, 2, -3, 10.5),
        ],
    }


def _geometry(setting: str, columns: int, rows: int, edge: str, **more) -> Geometry:
    angle = 45 if setting == "eight_pointed" else 60
    piece = Piece(Diamond(Fraction(5, 2), Fraction(angle)), Fraction(1, 4))
    return Geometry(piece, setting, "diamonds", more.pop("lying", False), edge, Size(None, columns, rows), **more)


def _laid(setting: str, columns: int, rows: int, edge: str = "pointed", role=None, **more) -> list[dict]:
    """A patchwork as the quilt lays it, each piece in the role that `role` gives it."""
    ground = laid(_geometry(setting, columns, rows, edge, **more))
    role = role or (lambda patch: _FABRICS[patch.row % 2])
    return [
        shape(role(patch), _placed(patchwork.shapes[patch.shape], patch))
        for patchwork in (ground.patchwork, ground.sashing)
        if patchwork
        for patch in patchwork.patches
    ]


def _placed(outline, patch: Patch) -> list[Point]:
    """A quilt is told from its top left corner, y down."""
    return [(x + patch.x, -y - patch.y) for x, y in outline]


def _bordered(patchwork: list[dict]) -> list[dict]:
    """A patchwork with a border around it."""
    xs, ys = zip(*(point for each in patchwork for point in each["points"]), strict=True)
    return [box("strip", min(xs) - 1.5, min(ys) - 1.5, max(xs) + 1.5, max(ys) + 1.5), *patchwork]


def _but(*kinds: str) -> Callable[[Patch], str]:
    """These kinds set off from the others."""
    return lambda patch: "next" if patch.kind in kinds else "strip"


def _beside(shapes: list[dict], others: list[dict]) -> list[dict]:
    """Shapes to the right of others."""
    right = max(x for each in others for x, _ in each["points"]) + 2
    left = min(x for each in shapes for x, _ in each["points"])
    return [{**each, "points": moved(each["points"], right - left)} for each in shapes]


def _sashed(kinds: tuple[str, ...]) -> list[dict]:
    return _laid("grid", 3, 2, "filled", role=_but(*kinds), sash=0.7, sash_style="cornerstones")


def _star() -> list[dict]:
    """The first star of that setting, alone."""
    return [{**each, "role": _FABRICS[number % 2]} for number, each in enumerate(_laid("stars", 1, 1)[:6])]


def _set_in() -> list[dict]:
    """Two diamonds of a hexagon, and the third between them, with dots where its seams begin and end."""
    first, second, third = _laid("hexagons", 1, 1)[:3]
    beside = {_near(point) for each in (first, second) for point in each["points"]}
    shared = [point for point in third["points"] if _near(point) in beside]
    return [
        {**first, "role": "strip"},
        {**second, "role": "strip"},
        {**third, "role": "piece"},
        shape("measure-line", shared),
        *(circle("next", x, y, 0.22) for x, y in shared),
    ]


def _near(point: Point) -> Point:
    return round(point[0], 3), round(point[1], 3)


def _pinwheel() -> list[dict]:
    """A star from the back: every seam allowance lies to the same side of its seam, around the middle."""
    star = _star()
    corners = [_near(point) for each in star for point in each["points"]]
    middle = max(set(corners), key=corners.count)
    ends = sorted({point for point in corners if point != middle and corners.count(point) == 2})
    return [*star, *(_allowance(middle, end) for end in ends)]


def _allowance(middle: Point, end: Point) -> dict:
    x, y = end[0] - middle[0], end[1] - middle[1]
    side = (-y * 0.16, x * 0.16)
    corners = [
        middle,
        end,
        (end[0] + side[0] - x * 0.1, end[1] + side[1] - y * 0.1),
        (middle[0] + side[0], middle[1] + side[1]),
    ]
    return shape("next", corners)


def _along(corners, inward: float) -> list[Point]:
    """A line just inside the edge from the second corner to the third, short of both."""
    (x, y), (to_x, to_y) = corners[1], corners[2]
    wide, high = to_x - x, to_y - y
    share = inward / (wide**2 + high**2) ** 0.5
    return [(x + wide * at - high * share, y + high * at + wide * share) for at in (0.1, 0.9)]
