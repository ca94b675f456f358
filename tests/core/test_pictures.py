"""Pictures of ruler ways, of measures and of slivers: they lie as the cutter sees them and where the geometry says."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from shapely.geometry import LineString, Point, Polygon

import matside
from matside.guide.job import Habits
from matside.guide.laying import Laying
from matside.rulers import GENERIC_RULERS
from matside.shapes import Diamond

STEPS = ("strip", "starter", "following")
PIECES = [{"size": size, "angle": angle} for size in ("4 in", "8 in") for angle in (30, 60, 90)]


def drawn(ask: str, **request) -> dict:
    found = matside.answer({"ask": ask, **request})
    assert found["ok"], found
    return found


def shapes(picture: dict) -> list[dict]:
    """All that a picture shows, the cloth first."""
    scene = picture["scene"]
    return [
        *scene["still"],
        *({"role": "piece", "points": points} for points in scene["pieces"]),
        *scene["over"][picture["over"]],
    ]


def moved(picture: dict, move) -> list[tuple]:
    """All shapes by role and corners, moved; rounded to 1e-9 in against the last digit, a
    ruler's corners in no order.
    """
    return sorted(
        (shape["role"], sorted(tuple(round(v, 9) + 0.0 for v in move(*point)) for point in shape["points"]))
        for shape in shapes(picture)
    )


@pytest.mark.parametrize("piece", PIECES)
def test_there_is_a_picture_for_every_way_in_the_same_order(piece):
    ways, pictures = drawn("rulers", piece=piece), drawn("ways_drawn", piece=piece)
    for step in STEPS:
        assert len(pictures[step]) == len(ways[step]) > 0
        for way, picture in zip(ways[step], pictures[step]):
            roles = [shape["role"] for shape in picture["scene"]["over"][picture["over"]]]
            assert roles.count("ruler") == len(way["rulers"])
            assert roles.count("mark") == len(way["drawing"]["marks"])
            assert ("angle-line" in roles) == (way["drawing"]["angle_line"] is not None)


SIX_BY_24 = {"name": "6 × 24", "width": 6, "length": 24, "angles": [{"degrees": 60, "from": "long", "at": 6}]}
NARROW = {"name": "3½ × 24", "width": "3 1/2", "length": 24}


def test_where_two_rulers_lie_side_by_side_both_are_drawn():
    asked = {"piece": {"size": 8, "angle": 60}, "rulers": [SIX_BY_24, NARROW]}
    ways, pictures = drawn("rulers", **asked), drawn("ways_drawn", **asked)
    for step, index in (("strip", 0), ("following", 1)):
        way, picture = ways[step][index], pictures[step][index]
        assert len(way["rulers"]) == 2
        rulers = [one["points"] for one in picture["scene"]["over"][picture["over"]] if one["role"] == "ruler"]
        first, second = map(Polygon, rulers)
        # Edge to edge: they share a line and no area, and are as wide as they are.
        assert first.intersection(second).area < 1e-6 < 20 < first.buffer(1e-6).intersection(second.boundary).length
        assert sorted((first.area, second.area)) == pytest.approx([3.5 * 24, 6 * 24])


def test_where_two_rulers_are_slid_both_are_drawn_where_they_end():
    # No way of the rulers at hand slides a pair; the drawing of one would be the same twice.
    laying = Laying(Diamond(Fraction(4), Fraction(60)), GENERIC_RULERS, Habits(), 5)
    way = next(way for way in laying.found.strip if way.drawing.rulers[0].slid)
    laid = way.drawing.rulers[0]
    pair = replace(way, drawing=replace(way.drawing, rulers=(laid, replace(laid, name="other"))))
    assert [one["role"] for one in laying.shapes(pair)].count("ruler-slid") == 2


@pytest.mark.parametrize("lay", ["along", "away"])
@pytest.mark.parametrize("piece", PIECES)
def test_the_left_hands_pictures_are_mirror_images_of_the_right_hands(piece, lay):
    # The generic rulers' lines lean both ways, but for the squares' diagonal: those ways may differ and are left out.
    both_ways = [ruler for ruler in matside.answer({"ask": "facts"})["rulers"] if "square" not in ruler["name"]]
    right, left = (drawn("ways_drawn", piece=piece, lay=lay, rulers=both_ways, hand=hand) for hand in ("right", "left"))
    for step in STEPS:
        assert right[step], step
        assert [moved(p, lambda x, y: (-x, y)) for p in right[step]] == [
            moved(p, lambda x, y: (x, y)) for p in left[step]
        ]


def test_a_strip_that_runs_away_lies_across_one_that_lies_along():
    along, away = (drawn("ways_drawn", piece=PIECES[1], lay=lay) for lay in ("along", "away"))
    assert moved(along["following"][0], lambda x, y: (y, x)) == moved(away["following"][0], lambda x, y: (x, y))
    assert along["strip"] == away["strip"]


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("piece", PIECES)
def test_the_ruler_is_seen_on_the_side_away_from_the_cutting_hand(piece, hand):
    # Common practice, no published source: the blade runs along the ruler's edge on the cutting hand's own side.
    side = 1 if hand == "right" else -1
    for step, found in drawn("ways_drawn", piece=piece, hand=hand).items():
        for picture in found if step in STEPS else ():
            tops = picture["scene"]["over"][picture["over"]]
            ruler = Polygon(next(shape["points"] for shape in tops if shape["role"] == "ruler"))
            (x1, y1), (x2, y2) = next(shape["points"] for shape in tops if shape["role"] == "cut")
            assert abs(y2 - y1) > 0
            direction = side if y2 > y1 else -side
            to_ruler = (x2 - x1) * (ruler.centroid.y - y1) - (y2 - y1) * (ruler.centroid.x - x1)
            assert direction * to_ruler > 0, (step, picture["scene"]["over"])


@pytest.mark.parametrize("piece", PIECES)
def test_measures_lie_where_they_are_taken(piece):
    found, wanted = drawn("check_drawn", piece=piece), drawn("piece", piece=piece)
    outline = Polygon(found["outline"])
    lines = {name: LineString(points) for name, points in found["measures"].items()}
    assert found["trim"] is None
    for name, line in lines.items():
        assert line.length == pytest.approx(wanted["size" if name.startswith("across") else name], abs=1e-9)
        assert all(outline.exterior.distance(Point(point)) < 1e-9 for point in line.coords)
        assert outline.buffer(1e-9).covers(line)
    edges = [LineString(pair) for pair in zip(found["outline"], found["outline"][1:])]
    for name, edge in (("across_1", edges[0]), ("across_2", edges[1])):
        (ax, ay), (bx, by) = lines[name].coords
        (cx, cy), (dx, dy) = edge.coords
        assert (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("rulers", [None, []], ids=["turned round", "not turned"])
@pytest.mark.parametrize("found", [57.5, 62.25])
def test_the_sliver_leaves_the_wanted_angle(found, rulers):
    picture = drawn("check_drawn", piece={"size": 4, "angle": 60}, found=found, rulers=rulers)["trim"]
    assert picture["turned"] == (rulers is None)
    strip, sliver = (Polygon(shape["points"]) for shape in picture["scene"]["still"])
    left = strip.difference(sliver)
    # By sines: the triangle between two lines through one corner, `found` and 60° to the edge, 4 in high.
    assert sliver.area == pytest.approx(
        4 * 4 * abs(1 / math.tan(math.radians(found)) - 1 / math.tan(math.radians(60))) / 2
    )
    assert left.area == pytest.approx(strip.area - sliver.area)
    (x1, y1), (x2, y2) = picture["scene"]["over"]["trim"][0]["points"]
    assert math.degrees(math.atan2(abs(y2 - y1), abs(x2 - x1))) == pytest.approx(60)
    assert left.exterior.distance(Point(x1, y1)) < 1e-9 and left.exterior.distance(Point(x2, y2)) < 1e-9
    assert picture["widest_at"] == ("near_edge" if sliver.centroid.y < strip.centroid.y else "far_edge")
    left, top, width, high = picture["scene"]["view"]
    (x1, y1, x2, y2), edge = sliver.bounds, 4 / math.sin(math.radians(60))
    for room, most in ((x1 - left, edge), (left + width - x2, edge), (y1 - top, 1.2), (top + high - y2, 1.2)):
        assert 0.2 <= room <= most  # the sliver is seen whole and near


def test_nothing_is_trimmed_where_the_angle_is_right():
    assert drawn("check_drawn", piece={"size": 4, "angle": 60}, found=60)["trim"] is None


@pytest.mark.parametrize(
    ("request_", "field"),
    [
        ({"ask": "check_drawn", "piece": {"size": 4, "angle": 60}, "found": 0}, "found"),
        ({"ask": "check_drawn", "piece": {"size": 4, "angle": 60}, "found": []}, "found"),
        ({"ask": "check_drawn", "piece": {"shape": "rectangle", "size": 4, "length": 3}}, "piece.shape"),
        ({"ask": "ways_drawn", "piece": {"size": 4, "angle": 60}, "lay": "up"}, "lay"),
        ({"ask": "ways_drawn"}, "piece"),
    ],
)
def test_what_cannot_be_drawn_is_refused_at_its_field(request_, field):
    answer = matside.answer(request_)
    assert (answer["ok"], answer["error"]["field"]) == (False, field)


def test_a_chosen_way_of_cutting_strips_is_kept_for_cloths_of_any_length():
    # On a short cloth the squares need no slide and come earlier in the list: the place alone would pick another.
    piece = {"size": 4, "angle": 60}
    at = {run: [way["rulers"] for way in drawn("rulers", piece=piece, run=run)["strip"]] for run in (22, 10)}
    index = at[22].index(["square"])
    assert at[10][index] != ["square"]
    script = drawn("guide", piece=piece, cloth={"kind": "ten_inch_square"}, chosen={"strip": index})["script"]
    assert {tuple(step["values"]["way"]["rulers"]) for step in script["steps"] if step["do"] == "strip"} == {
        ("square",)
    }
