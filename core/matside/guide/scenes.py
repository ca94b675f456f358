"""The drawings of the guide as plain data: everything as it lies before the cutter, x to the right, y away from the body.

A scene has a `view` [x, y, width, height] and moves by `advance` from piece to piece (or strip to strip):

- `still`: shapes of cloth: {"role", "points", "label"?}, points in inches;
- `pieces`: outlines in cutting order; those before the step's `at` are gone, the one at `at` is next;
- `over`: for a step's `over` name, the shapes that lie on top: rulers, the lines that matter, the cut;
- `moves`: "strip" where the cloth is slid back by `at` advances, "ruler" where what lies on top goes on by as much.

The left hand's scene is the right hand's mirrored, for good: nothing in it is turned back.
"""

from collections.abc import Callable, Iterable

from .job import ClothWork, Habits, StripWork
from .laying import Laying

Point = tuple[float, float]
Lie = Callable[[Iterable[Point]], list[Point]]

#: How far a selvage reaches beyond the usable cloth in a drawing, in inches.
_SELVAGE = 0.5
_CLOTH_MARGIN = 1.0


class Scenes:
    """Scenes made so far, each once; asking for one gives its number in `made`."""

    def __init__(self, habits: Habits, layings: dict[str, Laying]):
        self.habits = habits
        self.layings = layings
        self.made: list[dict] = []
        self._numbers: dict = {}

    def cloth(self, cloth: ClothWork, do: str) -> int:
        """The whole cloth, with what the step concerns: its selvage, or the line that divides it."""
        return self._number(("cloth", cloth.id, do), lambda: _cloth_scene(cloth, do))

    def cutting(self, cloth: ClothWork, work: StripWork, folds: int) -> int:
        """The cloth as it lies for cutting strips off it."""
        key = ("cutting", cloth.id, work, folds)
        return self._number(key, lambda: self._cutting_scene(work, folds))

    def strip(self, work: StripWork) -> int:
        """A strip as it lies for cutting pieces off it."""
        return self._number(("strip", work), lambda: self._strip_scene(work))

    def recheck(self, work: StripWork) -> int:
        """A cut piece with the length across it that shows whether its angle is right."""
        return self._number(("recheck", work), lambda: self._recheck_scene(work))

    def starter(self, work: StripWork) -> int:
        """A strip as it lies for its starter cut, turned half round where that keeps the arms uncrossed."""
        return self._number(("starter", work), lambda: self._starter_scene(work))

    def _number(self, key, make: Callable[[], dict]) -> int:
        if key not in self._numbers:
            self._numbers[key] = len(self.made)
            self.made.append(make())
        return self._numbers[key]

    def _strip_scene(self, work: StripWork) -> dict:
        lie, shape, laying = strip_lie(self.habits), work.piece.shape, self.layings[work.piece.id]
        over = {laying.over(k): _lying(_at_piece(k, laying), lie) for k in (1, 0)}
        return {
            "moves": "strip",
            "view": self._strip_view(work, lie, -0.45 * shape.advance),
            "advance": lie([(shape.advance, 0.0)])[0],
            "still": [{"role": "strip", "points": lie(_rest(work))}],
            "pieces": [lie(shape.outline(k)) for k in range(work.count)],
            "over": over,
        }

    def _recheck_scene(self, work: StripWork) -> dict:
        lie, shape = strip_lie(self.habits), work.piece.shape
        corners = shape.outline()
        # Corners run anticlockwise from the near one with the sharp angle, so the blunt ones are the second and fourth.
        across = {"role": "measure-line", "points": lie(corners[1::2]), "label": {"length": shape.short_diagonal}}
        return {
            "moves": "strip",
            "view": box(lie([(-0.2, -0.2), (corners[2][0] + 0.2, float(work.size) + 0.2)])),
            "advance": (0.0, 0.0),
            "still": [{"role": "piece", "points": lie(corners)}],
            "pieces": [],
            "over": {"recheck": [across]},
        }

    def _starter_scene(self, work: StripWork) -> dict:
        laying = self.layings[work.piece.id]
        lie = strip_lie(self.habits, turned=laying.starter_turned)
        waste = _starter_triangle(work)
        return {
            "moves": "strip",
            "view": self._strip_view(work, lie, -0.8 * work.piece.shape.advance),
            "advance": (0.0, 0.0),
            "still": [
                {"role": "strip", "points": lie(_rectangle(work.run, work.size))},
                *([{"role": "waste", "points": lie(waste)}] if waste else []),
            ],
            "pieces": [],
            "over": {"starter": _lying(laying.shapes(laying.way("starter")), lie)},
        }

    def _strip_view(self, work: StripWork, lie: Lie, left: float) -> list[float]:
        shape, high = work.piece.shape, float(work.size)
        return box(lie([(left, -0.5 * high), (shape.starter_waste + 1.7 * shape.advance, 1.5 * high)]))

    def _cutting_scene(self, work: StripWork, folds: int) -> dict:
        lie, size, laying = cutting_lie(self.habits), float(work.size), self.layings[work.piece.id]
        across, under = float(work.across), work.run / 2**folds
        run = float(under)
        shapes = laying.shapes(laying.cutting_way(under))
        squaring = _all_moved(shapes, across - size)
        margin = [(-_CLOTH_MARGIN, -2 * _CLOTH_MARGIN), (across + _CLOTH_MARGIN, run + 2 * _CLOTH_MARGIN)]
        fold = [{"role": "fold", "points": lie([(0.0, 0.0), (across, 0.0)])}] if folds else []
        return {
            "moves": "ruler",
            "view": box(lie(margin)),
            "advance": lie([(size, 0.0)])[0],
            "still": [{"role": "cloth", "points": lie(_rectangle(across, run))}, *fold],
            "pieces": [lie(_slice(k * size, (k + 1) * size, run)) for k in range(work.strips)],
            "over": {"strip": _lying(shapes, lie), "square": _lying(_without_lines(squaring), lie)},
        }


def strip_lie(habits: Habits, turned: bool = False) -> Lie:
    """How strip coordinates lie before the cutter, for the hand and the way the strip is laid; `turned` half round.

    >>> strip_lie(Habits("left", "along"))([(1.0, 2.0)]), strip_lie(Habits("right", "away"))([(1.0, 2.0)])
    ([(-1.0, 2.0)], [(2.0, 1.0)])
    """
    side, turn = (-1 if habits.hand == "left" else 1), (-1 if turned else 1)
    if habits.lay == "away":
        return lambda points: [(turn * side * y, turn * x) for x, y in points]
    return lambda points: [(turn * side * x, turn * y) for x, y in points]


def cutting_lie(habits: Habits) -> Lie:
    """How a cloth lies for cutting strips off it: u across the strips, v along the cut, which runs away from the body."""
    side = -1 if habits.hand == "left" else 1
    return lambda points: [(side * u, v) for u, v in points]


def _lying(shapes: list[dict], lie: Lie) -> list[dict]:
    return [{**shape, "points": lie(shape["points"])} for shape in shapes]


def _at_piece(k: int, laying: Laying) -> list[dict]:
    """What lies on top for piece 0 or 1. Only a triangle's second cut is drawn where piece 1 lies before the strip is slid."""
    slid = -laying.piece.advance if laying.over(k) == "piece_back" else 0.0
    return _all_moved(laying.shapes(laying.following(k)), slid)


def _all_moved(shapes: list[dict], by: float) -> list[dict]:
    return [{**shape, "points": _moved(shape["points"], by)} for shape in shapes]


def _without_lines(shapes: list[dict]) -> list[dict]:
    return [shape for shape in shapes if shape["role"] in ("ruler", "cut")]


def _moved(points, by: float) -> list[Point]:
    return [(x + by, y) for x, y in points]


def _rectangle(run, high) -> list[Point]:
    return [(0.0, 0.0), (float(run), 0.0), (float(run), float(high)), (0.0, float(high))]


def _left_of_starter(work: StripWork) -> list[Point]:
    """The strip once its starter cut is made."""
    first, run, high = work.piece.shape.outline(0), float(work.run), float(work.size)
    low = min(x for x, y in first if y == 0)
    top = min(x for x, y in first if y == high)
    return [(low, 0.0), (run, 0.0), (run, high), (top, high)]


def _rest(work: StripWork) -> list[Point]:
    """What remains of the strip when its last piece is cut; may be a sliver with no width."""
    last, run, high = work.piece.shape.outline(work.count - 1), float(work.run), float(work.size)
    low = max(x for x, y in last if y == 0)
    top = max(x for x, y in last if y == high)
    return [(low, 0.0), (max(low, run), 0.0), (max(top, run), high), (top, high)]


def _starter_triangle(work: StripWork) -> list[Point]:
    """What the starter cut takes off; nothing where the strip's end is square already."""
    strip = _left_of_starter(work)
    low, top, high = strip[0][0], strip[3][0], float(work.size)
    corners = [(0.0, 0.0), (low, 0.0), (top, high), (0.0, high)]
    return corners if max(low, top) > 0 else []


def _slice(left: float, right: float, run: float) -> list[Point]:
    return [(left, 0.0), (right, 0.0), (right, run), (left, run)]


def box(points: list[Point]) -> list[float]:
    """The view that just holds some points."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return [min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)]


def _cloth_scene(cloth: ClothWork, do: str) -> dict:
    long, wide = float(cloth.length), float(cloth.width)
    still = [{"role": "cloth", "points": [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]}]
    if do == "selvage":
        still.append({"role": "selvage", "points": _selvage_band(cloth)})
    if do == "divide":
        still.append({"role": "cut", "points": _division(cloth)})
    margin = _CLOTH_MARGIN
    view = [-margin, -margin, long + 2 * margin, wide + 2 * margin]
    return {"moves": "strip", "view": view, "advance": (0.0, 0.0), "still": still, "pieces": [], "over": {}}


def _selvage_band(cloth: ClothWork) -> list[Point]:
    long, wide = float(cloth.length), float(cloth.width)
    if cloth.selvage == "length":
        return [(0.0, wide), (long, wide), (long, wide + _SELVAGE), (0.0, wide + _SELVAGE)]
    return [(long, 0.0), (long + _SELVAGE, 0.0), (long + _SELVAGE, wide), (long, wide)]


def _division(cloth: ClothWork) -> list[Point]:
    along, at = cloth.division
    if along == "length":
        return [(float(at), 0.0), (float(at), float(cloth.width))]
    return [(0.0, float(at)), (float(cloth.length), float(at))]
