"""Drawings as plain data: the parts that every scene is made of, and scenes each made once.

A scene has a `view` [x, y, width, height] and moves by `advance` from piece to piece (or strip to strip):

- `still`: shapes of cloth: {"role", "points", "label"?}, points in inches, x to the right, y away from the body;
- `pieces`: outlines in cutting order; those before the step's `at` are gone, the one at `at` is next;
- `over`: for a step's `over` name, the shapes that lie on top: rulers, the lines that matter, the cut;
- `moves`: "strip" where the cloth is slid back by `at` advances, "ruler" where what lies on top goes on by as much;
- `turned`: the quarter turns of what lies there; the picture turns when it changes.

A label is {"length"}, {"degrees"} or {"word"}, a code of the catalogue's labels.
"""

from collections.abc import Callable, Iterable

from ..shapes import Point

Lie = Callable[[Iterable[Point]], list[Point]]


class Drawn:
    """Scenes made so far, each once; asking for one gives its number in `made`."""

    def __init__(self):
        self.made: list[dict] = []
        self._numbers: dict = {}

    def number(self, key, make: Callable[[], dict]) -> int:
        """The number of the scene of that key, made now where it is the first."""
        if key not in self._numbers:
            self._numbers[key] = len(self.made)
            self.made.append(make())
        return self._numbers[key]


def scene(view: list[float], still: list[dict], **more) -> dict:
    """A scene that does not move, or does as `more` says."""
    usual = {"moves": "strip", "advance": (0.0, 0.0), "pieces": [], "over": {}, "turned": 0}
    return {**usual, "view": view, "still": still, **more}


def shape(role: str, points: Iterable[Point], **label) -> dict:
    """A shape, with its label where it has one."""
    return {"role": role, "points": list(points), **({"label": label} if label else {})}


def rectangle(left, low, right, high) -> list[Point]:
    """The corners of an upright rectangle, anticlockwise."""
    left, low, right, high = float(left), float(low), float(right), float(high)
    return [(left, low), (right, low), (right, high), (left, high)]


def box(points: Iterable[Point]) -> list[float]:
    """The view that just holds some points."""
    points = list(points)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return [min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)]


def laid(shapes: Iterable[dict], lie: Lie) -> list[dict]:
    """Shapes as they lie before the cutter."""
    return [{**one, "points": lie(one["points"])} for one in shapes]


def moved(shapes: Iterable[dict], by: float) -> list[dict]:
    """Shapes moved along x."""
    return [{**one, "points": [(x + by, y) for x, y in one["points"]]} for one in shapes]
