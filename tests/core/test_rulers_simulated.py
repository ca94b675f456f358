"""Every way that is offered, tried out with Shapely: the rulers lie as said, and cut by cut the piece comes out.

The second method (`ruler_bench`) shares no code with the search: it lays the ruler by its outline's corners, finds the
lines by complex numbers, and makes each cut from the way's own words (angle, measure, mark), not from its drawing.
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from ruler_bench import NOISE, asked, cases, placed, shape_of, strokes, union

FIXED = settings(derandomize=True, deadline=None, database=None, max_examples=100)
HANDS = st.sampled_from(("left", "right"))
HALF = 0.5
#: Longer than any ruler here: what stands for an endless line or strip.
FAR = 400.0


def every_way(found: dict) -> list[dict]:
    return [way for step in ("strip", "starter", "following", "following_back") for way in found[step]]


def right_handed(points: list, hand: str) -> list[tuple[float, float]]:
    """Seen in the mirror, a left hand's drawing is a right hand's."""
    side = -1 if hand == "left" else 1
    return [(side * x, y) for x, y in points]


def lying(way: dict, hand: str) -> list[Polygon]:
    """The rulers where they lie when the cut is finished."""
    return [Polygon(right_handed(laid["slid"] or laid["outline"], hand)) for laid in way["drawing"]["rulers"]]


def piece_of(way: dict, shape) -> Polygon:
    """The cloth that the ruler is laid on for this cut, in right-handed strip coordinates."""
    if way["step"] == "strip":
        return box(0, 0, float(shape.size), 22)
    if way["step"] == "starter":
        return Polygon([*way_cut(way, shape), *_strip_end(way, shape)])
    return Polygon(shape.outline(1 if way["step"] == "following_back" else 0))


def way_cut(way: dict, shape) -> list:
    """Where the cut belongs by the shape's own outlines (the strip's, `size` from its edge)."""
    size = float(shape.size)
    if way["step"] == "strip":
        return [(size, 0.0), (size, 22.0)]
    first = shape.outline(0)
    if way["step"] == "starter":
        return [first[0], first[1]] if len(first) == 3 else [first[3], first[0]]
    if way["step"] == "following_back":
        return [shape.outline(1)[1], shape.outline(1)[2]]
    return [first[1], first[2]]


def _strip_end(way: dict, shape) -> list:
    return [(FAR, 0.0), (FAR, float(shape.size))]


@FIXED
@given(cases(), HANDS)
def test_every_ruler_lies_where_its_way_says(case, hand):
    piece, rulers = case
    shape, found = shape_of(piece), asked(piece, rulers, hand)
    for way in every_way(found):
        check_outlines(way, rulers, hand)
        check_cut(way, shape, hand)
        check_angle_line(way, shape, rulers, hand)
        check_measure_line(way, shape, hand)
        check_marks(way, hand)
        check_covering(way, shape, hand)


def check_outlines(way: dict, rulers: list[dict], hand: str) -> None:
    """A ruler keeps its measures, lies face up or turned over as said, and two rulers touch without overlapping."""
    for name, laid in zip(way["rulers"], way["drawing"]["rulers"], strict=True):
        ruler = by_name(rulers, name)
        outline = Polygon(laid["outline"])
        sides = [math.dist(*laid["outline"][i : i + 2]) for i in range(3)]
        long, wide = max(ruler["width"], ruler["length"]), min(ruler["width"], ruler["length"])
        assert laid["name"] == name
        assert sides == pytest.approx([long, wide, long], abs=NOISE)
        assert outline.area == pytest.approx(long * wide, abs=NOISE * 100)
        assert outline.exterior.is_ccw != laid["turned_over"]
        assert not laid["turned_over"] or ruler["reads_through"]
    if len(way["rulers"]) == 2:
        one, two = lying(way, hand)
        assert one.intersection(two).area < NOISE * 100
        assert one.exterior.buffer(NOISE).intersection(two.exterior).length > 1


def check_cut(way: dict, shape, hand: str) -> None:
    """The blade follows the ruler's edge over the whole cut, with half an inch over, away from the
    body, ruler on what is kept.
    """
    start, end = right_handed(way["drawing"]["cut"], hand)
    wanted = way_cut(way, shape)
    turned = way["step"] == "starter"
    assert way["turn"] == ("half_turn" if turned else None)
    assert LineString([start, end]).hausdorff_distance(LineString(wanted)) < NOISE
    assert (start[1] > end[1]) == turned
    ruler, length = lying(way, hand)[0], math.dist(start, end)
    assert min(way["over"]) >= HALF - NOISE
    if way["step"] == "strip" and way["slide"]:
        return  # slid along in several steps
    near, far = (along(start, end, by) for by in (-way["over"][0], length + way["over"][1]))
    assert ruler.exterior.distance(Point(near)) < NOISE and ruler.exterior.distance(Point(far)) < NOISE
    assert math.dist(near, far) == pytest.approx(edge_of(way, ruler), abs=NOISE)
    # What is kept lies to the left of a right-handed blade, and so does the ruler.
    assert (ruler.centroid.x - start[0]) * (end[1] - start[1]) < (ruler.centroid.y - start[1]) * (end[0] - start[0])


def along(start, end, by: float) -> tuple[float, float]:
    share = by / math.dist(start, end)
    return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))


def edge_of(way: dict, ruler: Polygon) -> float:
    corners = list(ruler.exterior.coords)
    sides = sorted(math.dist(*corners[i : i + 2]) for i in (0, 1))
    return sides[1] if way["cut_edge"] == "long" else sides[0]


def by_name(rulers: list[dict], name: str) -> dict:
    return next(ruler for ruler in rulers if ruler["name"] == name)


def check_angle_line(way: dict, shape, rulers: list[dict], hand: str) -> None:
    """The printed line, laid down with its ruler, lies on the cloth's edge over the length that is told."""
    use, shown = way["angle_line"], way["drawing"]["angle_line"]
    assert (use is None) == (shown is None)
    if use is None:
        return
    laid = next(laid for laid in way["drawing"]["rulers"] if laid["name"] == use["ruler"])
    ruler = by_name(rulers, use["ruler"])
    lines = [
        placed(stroke, ruler, laid["outline"])
        for line, stroke in strokes(ruler)
        if (line["degrees"], line["from"]) == (use["degrees"], use["from"])
    ]
    shown = LineString(shown)
    if use["printed"]:
        assert min(max(line.distance(Point(*end)) for end in shown.coords) for line in lines) < 10 * NOISE
    assert shown.length == pytest.approx(way["overlap"], abs=NOISE) == pytest.approx(use["overlap"], abs=NOISE)
    assert shown.length >= use["needed"] - NOISE
    cloth = piece_of(way, shape)
    ends = [Point(*point) for point in right_handed(shown.coords, hand)]
    assert all(cloth.exterior.distance(end) < NOISE for end in ends)
    heights = {round(end.y, 6) for end in ends}
    near, far = (0.0, float(shape.size) if way["step"] != "strip" else 22.0)
    if way["turn"]:
        near, far = far, near
    assert heights == {round(near if use["laid_on"] == "near_edge" else far, 6)}


def check_measure_line(way: dict, shape, hand: str) -> None:
    """The ruler's line at the distance lies on the cut before, on cloth, within the ruler."""
    shown = way["drawing"]["measure_line"]
    assert (way["measure"] is None) == (shown is None)
    if shown is None:
        return
    line = LineString(right_handed(shown, hand))
    before = LineString([(0, 0), (0, 22)] if way["step"] == "strip" else way_cut({**way, "step": "starter"}, shape))
    assert all(before.distance(Point(point)) < NOISE for point in line.coords)
    edge = right_handed(way["drawing"]["cut"], hand)
    long_edge = LineString([along(*edge, -FAR), along(*edge, FAR)])
    assert all(long_edge.distance(Point(point)) == pytest.approx(way["measure"], abs=NOISE) for point in line.coords)
    measuring = lying(way, hand)[way["rulers"].index(way["measure_on"]["ruler"])]
    assert measuring.buffer(NOISE).covers(line)
    if len(way["rulers"]) == 2:
        assert lying(way, hand)[0].distance(line) == pytest.approx(way["measure_on"]["distance"], abs=NOISE)


def check_marks(way: dict, hand: str) -> None:
    """Marks lie at the ends of the cut: both for two marks, and on the edge of the angle line for one."""
    marks, cut = right_handed(way["drawing"]["marks"], hand), right_handed(way["drawing"]["cut"], hand)
    wanted = {
        "two_marks": cut,
        "mark_and_angle": [cut[0 if (way["angle_line"] or {}).get("laid_on") == "near_edge" else 1]],
    }
    assert marks == [pytest.approx(point, abs=NOISE) for point in wanted.get(way["kind"], [])]


def check_covering(way: dict, shape, hand: str) -> None:
    """Whether the rulers cover the whole piece, by Shapely's own union."""
    if way["step"] == "starter":
        assert way["covers_piece"] is None
        return
    covered = union(lying(way, hand)).buffer(NOISE).covers(piece_of(way, shape))
    if not (way["step"] == "strip" and way["slide"]):
        assert way["covers_piece"] == covered


@pytest.mark.long
@settings(FIXED, max_examples=150)
@given(cases().filter(lambda case: case[0]["shape"] in ("trapezoid", "half-diamond")), HANDS)
def test_a_piece_whose_sides_end_at_different_depths_is_covered_where_it_says(case, hand):
    piece, rulers = case
    for way in every_way(asked(piece, rulers, hand)):
        check_covering(way, shape_of(piece), hand)


# --- Cut by cut ---------------------------------------------------------------------------------------------------


@FIXED
@given(cases(), HANDS)
def test_cut_by_cut_every_way_yields_the_piece(case, hand):
    piece, rulers = case
    shape, found = shape_of(piece), asked(piece, rulers, hand)
    for way in found["following"] + found["following_back"]:
        if piece["shape"] == "half-diamond":
            simulate_triangle(shape, way, hand)
        else:
            simulate(shape, way)


def slant_of(shape) -> float:
    """How far a cut runs along the strip."""
    return float(shape.size) / math.tan(math.radians(shape.angle)) if shape.angle != 90 else 0.0


def next_cut(shape, way: dict, before: tuple) -> tuple:
    """Where a cut meets the strip's near and far edge, from the way's words and the cut before alone.

    A measure line makes it parallel to the cut before, an angle line sets its angle, marks give its ends.
    """
    near, far = before
    if way["measure"] is not None:
        lean = math.atan2(float(shape.size), far - near)
        return tuple(end + way["measure"] / math.sin(lean) for end in before)
    if way["kind"] == "two_marks":
        return (near + way["mark_along"], far + way["mark_along"])
    if way["angle_line"]["laid_on"] == "near_edge":
        return (near + way["mark_along"], near + way["mark_along"] + slant_of(shape))
    return (far + way["mark_along"] - slant_of(shape), far + way["mark_along"])


def simulate(shape, way: dict) -> None:
    """Three pieces off a strip whose starter cut is made."""
    high, cut = float(shape.size), (0.0, slant_of(shape))
    strip = beside(cut, high, FAR)
    for k in range(3):
        cut = next_cut(shape, way, cut)
        freed, strip = strip.intersection(beside(cut, high, -FAR)), strip.intersection(beside(cut, high, FAR))
        same(freed, Polygon(shape.outline(k)))


def beside(cut: tuple, high: float, end: float) -> Polygon:
    """The strip from a cut to its end on either side."""
    return Polygon([(cut[0], 0), (end, 0), (end, high), (cut[1], high)])


def same(freed: Polygon, wanted: Polygon) -> None:
    assert freed.exterior.hausdorff_distance(wanted.exterior) < NOISE


def simulate_triangle(shape, way: dict, hand: str) -> None:
    """Forth from the near edge's corner, back to the far one's, each at the angle of the base."""
    base, high = shape.base, float(shape.size)
    lean = math.degrees(math.atan2(high, base / 2))
    if way["kind"] == "corner_and_angle":
        printed = way["angle_line"]["degrees"]
        assert min(abs(lean - angle) for angle in (printed, 90 - printed)) < NOISE
    cut = right_handed(way["drawing"]["cut"], hand)
    # Made of the base alone, not of the core's outlines: the first triangle hangs from the far edge, the second stands.
    corner = (0.0, high) if way["step"] == "following" else (base / 2, 0.0)
    ends = [(base / 2, 0.0), (base, high)] if way["step"] == "following" else [(base * 1.5, 0.0), (base, high)]
    same(Polygon([corner, *cut]), Polygon([corner, *ends]))
    same(Polygon([corner, *ends]), Polygon(shape.outline(0 if way["step"] == "following" else 1)))


def test_the_bench_sees_a_wrong_way():
    # The checks themselves, on a way that is spoiled by a hundredth of an inch.
    ruler = {
        "name": "r",
        "width": 6,
        "length": 24,
        "angles": [{"degrees": 60, "from": "long", "at": 6}],
        "reads_through": True,
    }
    piece = {"shape": "diamond", "size": 4, "angle": 60}
    way, shape = asked(piece, [ruler])["following"][0], shape_of(piece)
    check_angle_line(way, shape, [ruler], "right")
    moved = [[x + 0.01, y] for x, y in way["drawing"]["rulers"][0]["outline"]]
    lying_wrong = {**way, "drawing": {**way["drawing"], "rulers": [{**way["drawing"]["rulers"][0], "outline": moved}]}}
    with pytest.raises(AssertionError):
        check_cut(lying_wrong, shape, "right")
    lifted = {
        **way["drawing"],
        "rulers": [{**way["drawing"]["rulers"][0], "outline": [[x, y + 0.01] for x, y in moved]}],
    }
    with pytest.raises(AssertionError):
        check_angle_line({**way, "drawing": lifted}, shape, [ruler], "right")
    with pytest.raises(AssertionError):
        simulate(shape, {**way, "measure": 4.01})
    with pytest.raises(AssertionError):
        check_covering({**way, "covers_piece": False}, shape, "right")
    with pytest.raises(AssertionError):
        check_measure_line({**way, "measure": 4.01}, shape, "right")
