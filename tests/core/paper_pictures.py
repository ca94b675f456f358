"""Holds each step's drawing against what lies on the paper cutter's table.

A drawing may be placed anywhere, but not turned: its areas must be what lies there before the step (after
it, where hands lay the cloth anew), its cut the cut that the words gave, and each label the distance or
the angle that it labels."""

import math
from dataclasses import dataclass

from shapely import affinity, unary_union
from shapely.geometry import LineString, Polygon, box

from paper_cloth import BAND, FAR, OPPOSITE
from paper_cutter import Cutter
from paper_table import MARK, MARK_DEGREES, SAME, Shown, Wrong, must
from paper_words import shown as sentence_values

#: Acts by which what lies on the table comes to lie otherwise: the drawing shows it as it lies then.
LAID_ANEW = ("place", "fold", "half_turn", "take_part", "lay", "turn")
#: What these steps show does not lie before the cutter yet, or any more.
AWAY = ("swap", "press", "join", "finish", "done")
#: Drawn shorter than it is.
SCHEMATIC = ("join", "finish")
#: Values that are distances to set or to read off.
MEASURED = ("distance", "waste", "mark", "near_step", "far_step", "long_step", "short_diagonal")
LYING = ("cloth", "strip", "part", "piece")


@dataclass
class Drawn:
    """A scene's shapes at a step, where the page shows them."""

    scene: dict
    step: dict

    @property
    def _shift(self) -> tuple[tuple[float, float], tuple[float, float]]:
        at, (dx, dy) = self.step["at"], self.scene["advance"]
        return (
            ((-at * dx, -at * dy), (0.0, 0.0)) if self.scene["moves"] == "strip" else ((0.0, 0.0), (at * dx, at * dy))
        )

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
    if step["scene"] is None:
        return
    drawn = Drawn(cutter.script["scenes"][step["scene"]], step)
    try:
        _compare_lie(drawn, shown, cutter)
        _compare_sides(drawn)
        if step["do"] in AWAY:
            return
        if step["do"] == "unfold":
            return _compare_strips(drawn, step, cutter)
        shift = _compare_areas(drawn, shown, cutter)
        if shift is not None:
            _compare_selvages(drawn, shown, shift, cutter)
            _compare_cut(drawn, shown, shift)
            _compare_labels(drawn, shown, shift, cutter)
    except Wrong as wrong:
        raise Wrong(wrong.code, f"step {cutter.at} ({step['say']}), scene {step['scene']}: {wrong}") from None


def _compare_lie(drawn: Drawn, shown: Shown, cutter: Cutter) -> None:
    """The way that the cloth is seen changes where the words turn it, by as much, and nowhere else. `turned` counts
    clockwise, for a left hand the other way.
    """
    do = shown.step["do"]
    if cutter.bench is not None or do in (*AWAY, "unfold", "strip_done"):
        return
    turned = drawn.scene["turned"]
    before = cutter.divided_turned if do == "take_part" else cutter.seen_turned
    if do != "place" and before is not None:
        way = -1 if cutter.hand == "right" else 1
        quarters, wanted = (turned - before) % 4, round(way * cutter.turned / 90) % 4
        must(
            quarters == wanted,
            "picture",
            f"the cloth is seen turned by {quarters} quarters, and was turned by {wanted}",
        )
    cutter.seen_turned = turned
    if do == "divide":
        cutter.divided_turned = turned


def _compare_sides(drawn: Drawn) -> None:
    for points, label in drawn.lines("side"):
        must(label is not None and "length" in label, "picture", "a side has no length")
        if drawn.step["do"] in SCHEMATIC:
            must(
                label["length"] == drawn.step["values"]["length"],
                "picture",
                f"{label} is drawn, the sentence says otherwise",
            )
        else:
            _long_as_said(points, label["length"])


def _compare_strips(drawn: Drawn, step: dict, cutter: Cutter) -> None:
    """What was opened: the strips side by side, each as wide and as long as one that lies there."""
    strips = drawn.areas("strip")
    must(len(strips) == step["values"]["strips"], "picture", f"{len(strips)} strips are drawn")
    there = sorted((round(strip.size, 1), round(strip.run, 1)) for strip in cutter.strips[-len(strips) :])
    found = sorted((round(box[2] - box[0], 1), round(box[3] - box[1], 1)) for box in (strip.bounds for strip in strips))
    must(
        all(math.dist(one, other) <= 0.1 + cutter.slivers for one, other in zip(found, there)),
        "picture",
        f"{found} are drawn, {there} lie there",
    )


def _compare_areas(drawn: Drawn, shown: Shown, cutter: Cutter) -> tuple[float, float] | None:
    """How the drawing is placed on the table, once its areas are what lies there; None where nothing lies there."""
    there = _there(shown)
    if not there or (shown.step["do"] == "strip_done" and there[-1].area < 0.1):
        return None
    near = SAME + cutter.slivers + shown.drift
    missed = math.inf
    for lying in _as_drawn(drawn):
        for wanted in there:
            shift = _placing(lying, wanted, cutter)
            off = _moved(lying, shift).hausdorff_distance(wanted)
            if off <= near:
                return shift
            missed = min(missed, off)
    raise Wrong(
        "picture",
        f"what is drawn is {missed:.3f} in off what lies there: {[_corners(s) for s in _as_drawn(drawn)][:1]}, {[_corners(w) for w in there][:1]}",
    )


def _compare_selvages(drawn: Drawn, shown: Shown, shift: tuple[float, float], cutter: Cutter) -> None:
    """Selvages are drawn where they lie: on a cloth all of them, on a strip that of the worked end at most."""
    lying = shown.after if shown.step["do"] in LAID_ANEW else shown.before
    if len(lying) < 2 or shown.step["do"] in ("recheck", "halve", "strip_done") or shown.step["say"] == "keep_whole":
        return
    there, near = lying[0].difference(lying[1].buffer(1e-6)), SAME + cutter.slivers + shown.drift
    found = unary_union(drawn.areas("selvage"))
    for left, _, right, _ in (strip.bounds for strip in drawn.pieces(cut=True)):
        found = found.difference(box(left, -FAR, right, FAR))  # strips that are cut off lie there still, with theirs
    found = _moved(found, shift)
    must(found.difference(there.buffer(near)).area < 0.01, "picture", "a selvage is drawn where there is none")
    if not shown.bench_lies:
        must(there.difference(found.buffer(near)).area < 0.01, "picture", "a selvage that lies there is not drawn")


def _there(shown: Shown) -> list[Polygon]:
    """What the drawing must show."""
    step = shown.step
    if step["do"] == "recheck" or step["say"] == "halve":
        return shown.looked_at
    if step["say"] == "keep_whole":
        return shown.freed
    return shown.after if step["do"] in LAID_ANEW else shown.before


def _corners(shape) -> list:
    shapes = shape.geoms if hasattr(shape, "geoms") else [shape]
    return [
        [(round(x, 2), round(y, 2)) for x, y in one.exterior.coords[:-1]]
        for one in shapes
        if one.geom_type == "Polygon"
    ]


def _as_drawn(drawn: Drawn) -> list:
    """What is drawn as lying there, with its selvages and without."""
    left = unary_union([*drawn.areas(*LYING), *drawn.pieces(cut=False)]).difference(
        unary_union(drawn.pieces(cut=True)).buffer(1e-9)
    )
    selvages = drawn.areas("selvage")
    whole = unary_union([left, *selvages, *drawn.areas("waste")]).buffer(1e-9, join_style="mitre")
    bare = left.difference(unary_union(selvages)) if selvages else left
    return [shape for shape in (whole, left, bare) if shape.area > 1e-6]


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
        first, second = _points(points, shift)
        off = max(abs(_square_off(end, first, second)) for end in shown.cut)
        must(
            off <= SAME + 1e-6 + shown.drift,
            "picture",
            f"the cut is drawn {off:.3f} in off: {(first, second)}, {shown.cut}",
        )
        short = math.dist(*shown.cut) - math.dist(first, second)
        must(abs(short) <= 2 * BAND + shown.drift + SAME, "picture", f"the cut is drawn {short:.3f} in too short")
        must(shown.bench_lies or second[1] > first[1], "picture", "a cut through cloth begins near the body")


def _compare_labels(drawn: Drawn, shown: Shown, shift: tuple[float, float], cutter: Cutter) -> None:
    _labeled(drawn, shown.step)
    marks = bool(drawn.lines("mark")) or any(way in shown.step["say"] for way in ("bare", "marks"))
    for points, label in drawn.lines("measure-line"):
        if label and "length" in label:
            _measured(points, label["length"], drawn, marks, shown)
    for points, label in drawn.lines("angle-line"):
        _angle_line(_points(points, shift), label, shown)
    for points, _ in drawn.lines("edge"):
        _edge_line(_points(points, shift), shown, cutter)
    for points, _ in drawn.lines("fold"):
        _fold_line(_points(points, shift), shown, cutter)


def _labeled(drawn: Drawn, step: dict) -> None:
    """Every distance that the sentence sets or reads off stands at a line of the drawing."""
    said = {name for name in sentence_values(step) if name in MEASURED}
    there = [
        label["length"]
        for role in ("measure-line", "mark", "side")
        for _, label in drawn.lines(role)
        if label and "length" in label
    ]
    for name in sorted(said):
        length = step["values"][name]
        must(
            any(abs(length - one) <= 1e-6 for one in there), "picture", f"{name} is {length}, the drawing shows {there}"
        )


def _long_as_said(points: list, length: float, near: float = SAME) -> None:
    must(
        abs(LineString(points).length - length) <= near,
        "picture",
        f"a line of {LineString(points).length} is labeled {length}",
    )


def _measured(points: list, length: float, drawn: Drawn, marks: bool, shown: Shown) -> None:
    """The label of a ruler's line is its distance from the cut; where marks are set, or nothing
    is cut, the line's own length.
    """
    cuts = drawn.lines("cut")
    if marks or not cuts:
        return _long_as_said(points, length, MARK if marks else SAME)
    (first, second), _ = cuts[0]
    away = max(abs(_square_off(point, first, second)) for point in points)
    values = shown.step["values"]
    if str(values.get("reads")).startswith("two_"):  # what is read off the outer ruler, which lies behind the inner one
        return must(abs(length - values["distance"]) <= SAME, "picture", f"the outer ruler's line is labeled {length}")
    must(
        abs(away - length) <= SAME + (shown.drift and MARK), "picture", f"a line {away} off the cut is labeled {length}"
    )


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
        near = MARK_DEGREES if shown.drift else 0.5
        must(
            min(abs(turn - label["degrees"]), abs(180 - turn - label["degrees"])) < near,
            "picture",
            f"a line at {turn}° is labeled {label}",
        )


def _edge_line(points: list, shown: Shown, cutter: Cutter) -> None:
    """The edge that is measured from, that was cut, or that was squared."""
    values = shown.step["values"]
    if shown.bench_lies:
        return _end_line(points, shown)
    place = {"measure": values.get("from"), "take_part": values.get("edge"), "check_edge": values.get("at")}.get(
        shown.step["do"], cutter.H
    )
    lies = shown.sheet_after if shown.step["do"] in LAID_ANEW else shown.sheet_before
    if lies:
        axis = 0 if place in ("left", "right") else 1
        off = max(abs(point[axis] - lies[place]) for point in points)
        must(off <= SAME + cutter.slivers, "picture", f"the {place} edge is drawn {off} off")


def _end_line(points: list, shown: Shown) -> None:
    """The end of the strip that is worked from, where it is one straight line."""
    place = shown.step["values"].get("at")
    if place in shown.edges:
        axis, lying = (0 if place in ("left", "right") else 1), shown.after[-1].bounds
        at = dict(zip(("left", "bottom", "right", "top"), lying))[place]
        off = max(abs(point[axis] - at) for point in points)
        must(off <= SAME, "picture", f"the {place} end is drawn {off} off")


def _fold_line(points: list, shown: Shown, cutter: Cutter) -> None:
    lies = shown.sheet_after if shown.step["do"] in LAID_ANEW else shown.sheet_before
    must(shown.fold is not None, "picture", "a fold is drawn, and nothing is folded")
    axis = 0 if shown.fold in ("left", "right") else 1
    off = max(abs(point[axis] - lies[shown.fold]) for point in points)
    must(off <= SAME + cutter.slivers, "picture", f"the fold is drawn {off} off the {shown.fold}")
