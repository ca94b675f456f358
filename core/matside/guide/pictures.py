"""Single pictures as the cutter sees them: a ruler way before it is used, what is measured
of a piece, a sliver to trim.

A picture is a scene with the names that pick its shapes out.
"""

from fractions import Fraction

from ..drift import trim
from ..rulers import USUAL_RUN
from ..shapes import Diamond, Point, Segment, Shape
from .cloth_scenes import ClothScenes
from .drawn import Drawn, box, scene, shape
from .job import ClothWork, Habits, PieceKind, StripWork
from .laying import Laying
from .places import Place
from .sheet import CUT, RAW, whole
from .strip_scenes import StripScenes, strip_lie

#: The pieces that a strip in a picture gives, and the strips that a cloth in a picture gives.
_FEW = 3


def way_pictures(laying: Laying, step: str) -> list[dict]:
    """A picture of each of the ways for "strip", "starter" or "following", in their order."""
    return [_way_picture(laying.using(step, index), step) for index in range(len(getattr(laying.found, step)))]


def _way_picture(laying: Laying, step: str) -> dict:
    drawn = Drawn()
    if step == "strip":
        number = _cutting(laying, drawn)
        return {"scene": drawn.made[number], "over": "strip", "at": 0, "next": 0}
    work = _work(laying.piece, _run(laying.piece))
    scenes = StripScenes(drawn, work, laying, work.run, RAW, Fraction(0))
    number, over, following = (
        (scenes.starter(), "starter", None) if step == "starter" else (scenes.pieces(), "piece", 0)
    )
    return {"scene": drawn.made[number], "over": over, "at": 0, "next": following}


def _cutting(laying: Laying, drawn: Drawn) -> int:
    """A cloth with its straight edge at the left, for the first of a few strips."""
    work = _work(laying.piece, USUAL_RUN)
    cloth = ClothWork("", work.run, (_FEW + 1) * work.size, None, ())
    sheet = whole(cloth, "length").with_edge(Place.LEFT, CUT)
    return ClothScenes(laying.habits, drawn).cutting(sheet, work, laying, laying.way("strip"))


def _run(piece: Shape) -> Fraction:
    """The length of a strip that gives a few pieces and some more."""
    return Fraction(piece.starter_waste + (_FEW + 1) * piece.advance)


def _work(piece: Shape, run: Fraction) -> StripWork:
    return StripWork(PieceKind("piece", piece), run, _FEW, _FEW, "width")


def measures(piece: Diamond) -> dict[str, Segment]:
    """Where each measure of the ask `check` is taken on a piece, as segments in strip coordinates.

    The two distances across are mirror images of each other by the long diagonal.

    >>> measures(Diamond(Fraction(4), Fraction(90)))["across_1"]
    ((2.0, 0.0), (2.0, 4.0))
    """
    near, right, far, left = piece.outline()
    middle = (near[0] + far[0]) / 2
    across = ((middle, 0.0), (middle, float(piece.size)))
    return {
        "edge": (near, right),
        "short_diagonal": (right, left),
        "long_diagonal": (near, far),
        "across_1": across,
        "across_2": tuple(_mirrored(point, near, far) for point in across),
    }


def _mirrored(point: Point, first: Point, second: Point) -> Point:
    """A point's mirror image by the line through two others."""
    a, b = second[0] - first[0], second[1] - first[1]
    x, y = point[0] - first[0], point[1] - first[1]
    along = 2 * (x * a + y * b) / (a * a + b * b)
    return (first[0] + along * a - x, first[1] + along * b - y)


def trim_picture(piece: Diamond, angle: float, habits: Habits, turned: bool) -> dict | None:
    """The slanted end of a strip whose last cut leans at `angle`, with the sliver to trim; None where there is nothing.

    The strip lies as for its starter cut: `turned` half round where the ruler is to cover what is kept. `widest_at`
    says on which edge the sliver then lies as the cutter sees it, "near_edge" or "far_edge"."""
    found = trim(piece, angle)
    if found is None:
        return None
    lie, high, edge = strip_lie(habits, turned), float(piece.size), piece.edge
    low, top = found.sliver[0], found.sliver[-1]
    strip = [low, (top[0] + 2 * edge, 0.0), (top[0] + 2 * edge, high), top]
    view = box(lie([(-0.25 * edge, -0.25 * high), (piece.starter_waste + 0.75 * edge, 1.25 * high)]))
    still = [shape("strip", lie(strip)), shape("waste", lie(found.sliver))]
    drawn = scene(view, still, over={"trim": [shape("cut", lie(found.cut))]})
    other = {"near_edge": "far_edge", "far_edge": "near_edge"}
    widest_at = other[found.widest_at] if turned else found.widest_at
    return {"scene": drawn, "over": "trim", "at": 0, "next": None, "turned": turned, "widest_at": widest_at}
