"""Holds each step's drawing against what lies on the paper cutter's table.

A drawing may be placed anywhere, but not turned: its areas must be what lies there before the step (after it, where hands
lay the cloth anew), its cut the cut that the words gave, and each label the distance or the angle that it labels.
"""

import math
from dataclasses import dataclass

from paper_cloth import OPPOSITE
from paper_cutter import SAME, Cutter, Shown, Wrong, must
from shapely import affinity, unary_union
from shapely.geometry import LineString, MultiPolygon, Point, Polygon

#: Acts by which what lies on the table comes to lie otherwise: the drawing shows it as it lies then.
LAID_ANEW = ("place", "fold", "half_turn", "take_part", "lay", "turn", "unfold")
LYING = ("cloth", "strip", "part", "piece")


@dataclass
class Drawn:
    """A scene's shapes at a step, where the page shows them."""

    scene: dict
    step: dict

    @property
    def _shift(self) -> tuple[tuple[float, float], tuple[float, float]]:
        at, (dx, dy) = self.step["at"], self.scene["advance"]
        return ((-at * dx, -at * dy), (0.0, 0.0)) if self.scene["moves"] == "strip" else ((0.0, 0.0), (at * dx, at * dy))

    def areas(self, *roles: str) -> list[Polygon]:
        cloth, over = self._shift
        found = [_moved(Polygon(s["points"]), cloth) for s in self.scene["still"] if s["role"] in roles]
        return found + [_moved(Polygon(s["points"]), over) for s in self._over() if s["role"] in roles]

    def pieces(self, cut: bool) -> list[Polygon]:
        """The pieces (or strips) that are drawn as cut off before this step; or those that are not."""
        found = self.scene["pieces"][: self.step["at"]] if cut else self.scene["pieces"][self.step["at"] :]
        return [_moved(Polygon(points), self._shift[0]) for points in found]

    def lines(self, role: str) -> list[tuple[list, dict | None]]:
        """Lines of a role, each with its label."""
        cloth, over = self._shift
        found = [(_points(s["points"], cloth), s.get("label")) for s in self.scene["still"] if s["role"] == role]
        return found + [(_points(s["points"], over), s.get("label")) for s in self._over() if s["role"] == role]

    def _over(self) -> list[dict]:
        return self.scene["over"].get(self.step["over"], [])


def _points(points: list, shift: tuple[float, float]) -> list[tuple[float, float]]:
    return [(x + shift[0], y + shift[1]) for x, y in points]


def _moved(shape, shift: tuple[float, float]):
    return affinity.translate(shape, *shift)


def compare(shown: Shown, cutter: Cutter) -> None:
    """Raises `Wrong` where the drawing of the step that was just done shows otherwise."""
    step = shown.step
    drawn = Drawn(cutter.script["scenes"][step["scene"]], step)
    try:
        shift = _compare_areas(drawn, shown, cutter)
        if shift is None:
            return
        _compare_cut(drawn, shown, shift)
        _compare_labels(drawn, shown, shift, cutter)
    except Wrong as wrong:
        raise Wrong(wrong.code, f"step {cutter.at} ({step['say']}), scene {step['scene']}: {wrong}") from None


def _compare_areas(drawn: Drawn, shown: Shown, cutter: Cutter) -> tuple[float, float] | None:
    """How the drawing is placed on the table, once its areas are what lies there; None where nothing lies there."""
    there = shown.after if shown.step["do"] in LAID_ANEW else shown.before
    if not there:
        return None
    near = SAME + cutter.slivers + (cutter.shown.sliver or 0.0)
    missed = math.inf
    for lying in _as_drawn(drawn):
        for wanted in there:
            shift = _placing(lying, wanted, cutter)
            off = _moved(lying, shift).hausdorff_distance(wanted)
            if off <= near:
                return shift
            missed = min(missed, off)
    raise Wrong("picture", f"what is drawn is {missed:.3f} in off what lies there: {[_corners(s) for s in _as_drawn(drawn)][:1]}, {[_corners(w) for w in there][:1]}")


def _corners(shape) -> list:
    shapes = shape.geoms if isinstance(shape, MultiPolygon) else [shape]
    return [[(round(x, 2), round(y, 2)) for x, y in one.exterior.coords[:-1]] for one in shapes]


def _as_drawn(drawn: Drawn) -> list:
    """What is drawn as lying there, with its selvages and without."""
    left = unary_union([*drawn.areas(*LYING), *drawn.pieces(cut=False)]).difference(unary_union(drawn.pieces(cut=True)).buffer(1e-9))
    selvages, waste = drawn.areas("selvage"), drawn.areas("waste")
    whole = unary_union([left, *selvages, *waste]).buffer(1e-9, join_style="mitre")
    bare = left.difference(unary_union(selvages)) if selvages else left
    return [shape for shape in (whole, left, bare) if not shape.is_empty]


def _placing(lying, wanted, cutter: Cutter) -> tuple[float, float]:
    """Corner on corner: the one from which is cut."""
    a, b = lying.bounds, wanted.bounds
    right = cutter.bench.worked == "right" if cutter.bench else cutter.H == "right"
    top = cutter.bench is not None and cutter.bench.worked == "top"
    return (b[2] - a[2] if right else b[0] - a[0], b[3] - a[3] if top else b[1] - a[1])


def _compare_cut(drawn: Drawn, shown: Shown, shift: tuple[float, float]) -> None:
    cuts = drawn.lines("cut")
    must(bool(cuts) == (shown.cut is not None), "picture", f"{len(cuts)} cuts are drawn, {shown.cut} was cut")
    for points, _ in cuts:
        line = LineString(_points(points, shift))
        off = max(line.distance(Point(end)) for end in shown.cut)
        must(off <= SAME + 1e-6, "picture", f"the cut is drawn {off:.3f} in off: {list(line.coords)}, {shown.cut}")


def _compare_labels(drawn: Drawn, shown: Shown, shift: tuple[float, float], cutter: Cutter) -> None:
    for points, label in drawn.lines("side"):
        must(label is not None and "length" in label, "picture", "a side has no length")
        _long_as_said(points, label["length"])
    for points, label in drawn.lines("measure-line"):
        if label and "length" in label:
            _measured(points, label["length"], drawn)
    for points, label in drawn.lines("angle-line"):
        _angle_line(_points(points, shift), label, shown)
    for points, _ in drawn.lines("edge"):
        _edge_line(_points(points, shift), shown, cutter)


def _long_as_said(points: list, length: float) -> None:
    must(abs(LineString(points).length - length) <= SAME, "picture", f"a line of {LineString(points).length} is labeled {length}")


def _measured(points: list, length: float, drawn: Drawn) -> None:
    """The label of a ruler's line is its distance from the cut; without a cut, the line's own length."""
    cuts = drawn.lines("cut")
    if not cuts:
        return _long_as_said(points, length)
    (first, second), _ = cuts[0]
    away = max(abs(_square_off(point, first, second)) for point in points)
    must(abs(away - length) <= SAME, "picture", f"a line {away} off the cut is labeled {length}")


def _square_off(point, first, second) -> float:
    (x, y), (x1, y1), (x2, y2) = point, first, second
    return ((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)) / math.dist(first, second)


def _angle_line(points: list, label: dict | None, shown: Shown) -> None:
    must(label is not None and "degrees" in label, "picture", "an angle line has no angle")
    (x1, y1), (x2, y2) = points[0], points[-1]
    laid_on = shown.step["values"].get("laid_on")
    if laid_on in OPPOSITE and shown.edges:
        axis = 1 if laid_on in ("bottom", "top") else 0
        off = max(abs(point[axis] - shown.edges[laid_on]) for point in points)
        must(off <= SAME, "picture", f"the angle line lies {off} off the {laid_on} edge")
    if shown.cut:
        (a1, b1), (a2, b2) = shown.cut
        turn = abs(math.degrees(math.atan2(y2 - y1, x2 - x1) - math.atan2(b2 - b1, a2 - a1))) % 180
        must(min(abs(turn - label["degrees"]), abs(180 - turn - label["degrees"])) < 0.5, "picture", f"a line at {turn}° is labeled {label}")


def _edge_line(points: list, shown: Shown, cutter: Cutter) -> None:
    """The squared edge lies at the hand that holds the ruler."""
    if cutter.bench is None and shown.sheet_edges and shown.step["do"] not in LAID_ANEW:
        off = max(abs(x - shown.sheet_edges[cutter.H]) for x, _ in points)
        must(off <= SAME, "picture", f"the squared edge is drawn {off} off")
