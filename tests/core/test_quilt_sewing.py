"""Sewing facts: tips, rows, bias edges, and what is to be minded."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import unary_union
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from matside import answer
from matside.quilt.outlines.offsets import offset
from matside.quilt.outlines.polygons import rhombus


def quilt(**fields):
    return answer(
        {"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4, "drawing": False, **fields}
    )


def sewing(**fields):
    return quilt(**fields)["sewing"]


def test_tips_stick_out_as_the_design_states():
    # DESIGN, geometry: 0.289 in at 60°, 0.5 in at 45°, for ¼ in.
    assert round(sewing()["tip_offset"], 3) == 0.289
    assert sewing(piece={"size": 4, "angle": 45})["tip_offset"] == 0.5


@pytest.mark.parametrize(
    "fields",
    [
        {"setting": "hexagons"},
        {"setting": "stars"},
        {"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}},
        {"piece": {"size": 4, "angle": 90}},
        {"setting": "zigzag", "piece": {"size": 4, "angle": 90}},
    ],
    ids=str,
)
def test_no_tips_stick_out_where_edges_meet_corner_to_corner(fields):
    # There two pieces that are sewn to each other have the same angles at both ends of their seam.
    found = sewing(**fields)
    assert found["tip_offset"] is None
    assert (found["tip_trim"] is None) == (fields.get("piece", {}).get("angle") == 90)


def test_squares_have_no_edge_on_the_bias():
    upright = sewing(piece={"size": 4, "angle": 90}, sashing={"width": 1, "style": "cornerstones"})["bias"]
    assert upright.keys() == {
        "side_half",
        "end_half",
        "corner_quarter",
        "cornerstone_side_half",
        "cornerstone_end_half",
    }


@given(st.integers(15, 89), st.sampled_from([0.25, 0.5]))
@settings(max_examples=15, derandomize=True, deadline=None)
def test_tips_stick_out_by_what_matching_seam_ends_leave(angle, seam):
    """Two cut diamonds laid right sides together so that the ends of their seam lines meet:
    where their cut corners lie.
    """
    turn = math.radians(angle)
    edge = 6 / math.sin(turn)
    along, slanted = (edge, 0.0), (edge * math.cos(turn), edge * math.sin(turn))
    sharp, blunt = rhombus(along, slanted), rhombus(along, (-slanted[0], slanted[1]))
    tips = []
    for finished in (sharp, blunt):
        seam_start = min(point[0] for point in finished if point[1] == min(y for _, y in finished))
        cut_start = min(point[0] for point in offset(finished, seam) if point[1] < -3 * 0.99)
        tips.append(seam_start - cut_start)
    found = sewing(piece={"finished_size": 6, "angle": angle}, seam=seam)
    assert found["tip_offset"] == pytest.approx(tips[0] - tips[1], abs=1e-9)


@given(st.integers(15, 89), st.sampled_from([0.25, 0.5]))
@settings(max_examples=15, derandomize=True, deadline=None)
def test_a_trimmed_tip_leaves_one_seam_allowance_beyond_the_point(angle, seam):
    x, y = 3 * math.cos(math.radians(angle) / 2), 3 * math.sin(math.radians(angle) / 2)
    finished = rhombus((x, y), (x, -y))
    cut_tip, point = max(x for x, _ in offset(finished, seam)), max(x for x, _ in finished)
    trim = sewing(piece={"finished_size": 6, "angle": angle}, seam=seam)["tip_trim"]
    assert cut_tip - trim == pytest.approx(point + seam, abs=1e-9)


def test_rows_of_a_touching_grid_by_hand():
    # Three across and four down, left pointed: slanting rows of 1, 3, 5, 5, 3, 1 diamonds; an edge is
    # 3.5 / sin 60° = 4.0415 in.
    edge = 3.5 / math.sin(math.radians(60))
    rows = sewing(edge="pointed")["rows"]
    assert [(row["rows"], row["pieces"]) for row in rows] == [(2, 1), (2, 3), (2, 5)]
    assert [row["length"] for row in rows] == pytest.approx([edge, 3 * edge, 5 * edge])
    assert [row["sewn"] for row in rows] == pytest.approx(
        [row["length"] + 0.5 / math.sin(math.radians(60)) for row in rows]
    )


def test_rows_with_sashing_are_longer_by_its_slanted_ends():
    edge, end = 3.5 / math.sin(math.radians(60)), 1 / math.sin(math.radians(60))
    rows = sewing(edge="pointed", sashing={"width": 1})["rows"]
    assert [row["length"] for row in rows] == pytest.approx([edge, 3 * edge + 2 * end, 5 * edge + 4 * end])


@pytest.mark.parametrize(
    "fields", [{"edge": "filled"}, {"edge": "trimmed"}, {"edge": "filled", "sashing": {"width": 1}}]
)
def test_rows_hold_every_piece_and_are_as_long_as_they_are_drawn(fields):
    found = answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4, **fields})
    rows, drawing = found["sewing"]["rows"], found["drawing"]
    pieces = [piece for piece in drawing["pieces"] if not drawing["kinds"][piece[0]].startswith("sash")]
    assert sum(row["rows"] * row["pieces"] for row in rows) == len(pieces)
    # A filled edge may end a row with a short strip, whose own end lies on the row's edge.
    in_rows = [piece for piece in drawing["pieces"] if drawing["kinds"][piece[0]] != "sash_long"]
    assert max(row["length"] for row in rows) == pytest.approx(longest_rising_line(drawing, in_rows), abs=1e-4)


def longest_rising_line(drawing, pieces):
    """The longest way along one line that rises to the right, from the first to the last piece with an edge on it."""
    lines = {}
    for _, _, shape, x, y, *_ in pieces:
        outline = [(a + x, b + y) for a, b in drawing["shapes"][shape]]
        inside = Polygon(outline).centroid
        for (a, b), (c, d) in zip(outline, outline[1:] + outline[:1], strict=True):
            if abs(abs(math.degrees(math.atan2(b - d, c - a)) % 180) - 60) < 1e-3:
                # Which line, and on which side of it the piece lies: a row's own edge.
                offset_of = round(b + a * math.tan(math.radians(60)), 3)
                below = inside.y + inside.x * math.tan(math.radians(60)) > offset_of
                lines.setdefault((offset_of, below), []).extend([(a, b), (c, d)])
    return max(LineString([min(points), max(points)]).length for points in lines.values())


def test_zigzag_rows_are_straight_and_all_alike():
    rows = sewing(setting="zigzag", edge="pointed")["rows"]
    assert [(row["rows"], row["pieces"]) for row in rows] == [(4, 3)]
    assert rows[0]["length"] == pytest.approx(3 * 3.5 / math.sin(math.radians(60)))


def test_filled_zigzag_rows_have_their_end_pieces_and_the_triangles_between_rows_are_set_in():
    # By hand, three across and four down: the outer rows end in a triangle on one side, which makes their straight
    # edge longer by its short leg, 3.5 · cot 60°; two rows meet in a notch at three places.
    found = quilt(setting="zigzag")
    rows, edge = found["sewing"]["rows"], 3.5 / math.sin(math.radians(60))
    assert [(row["rows"], row["pieces"]) for row in rows] == [(2, 3), (2, 4)]
    assert [row["length"] for row in rows] == pytest.approx([3 * edge, 3 * edge + 3.5 / math.tan(math.radians(60))])
    assert (found["pieces"]["notch_fill"], found["sewing"]["assembly"]) == (3, "straight_rows_filled")
    # With sashing no two rows meet: every row has both its ends.
    sashed = quilt(setting="zigzag", sashing={"width": 1})
    assert [(row["rows"], row["pieces"]) for row in sashed["sewing"]["rows"]] == [(4, 5)]
    assert sashed["sewing"]["assembly"] == "straight_rows"


def test_the_rows_of_a_filled_grid_by_hand():
    # Five by five at 60°: a slanting row ends in a half at the side and one at the top or the bottom; together its
    # longer edge grows by a seam times cot 15° and cot 30° (half the corners' angles) where it is sewn.
    edge = 3.5 / math.sin(math.radians(60))
    seam_ends = 0.25 * (1 / math.tan(math.radians(15)) + 1 / math.tan(math.radians(30)))
    rows = sewing(columns=5, rows=5)["rows"]
    assert [(row["rows"], row["pieces"]) for row in rows] == [(2, 1), (2, 3), (2, 5), (2, 7), (2, 9), (1, 11)]
    longer = [row["sewn"] for row in rows[:-1]]
    assert longer == pytest.approx([k * edge + seam_ends for k in (1, 3, 5, 7, 9)])
    assert [round(row["sewn"], 2) for row in rows] == [5.41, 13.49, 21.57, 29.66, 37.74, 36.58]


@pytest.mark.every(2)
@pytest.mark.parametrize("orientation", ["standing", "lying"])
@pytest.mark.parametrize("style", [None, "strips", "cornerstones"])
@pytest.mark.parametrize("edge", ["filled", "pointed", "trimmed"])
@pytest.mark.parametrize(("setting", "angle"), [("grid", 60), ("grid", 45), ("grid", 90), ("zigzag", 60)])
def test_sewn_rows_are_as_long_as_shapely_measures_them(setting, angle, edge, style, orientation):
    fields = {"sashing": {"width": 1, "style": style}} if style else {}
    found = answer(
        {
            "ask": "quilt",
            "piece": {"size": 4, "angle": angle},
            "setting": setting,
            "columns": 4,
            "rows": 3,
            "edge": edge,
            "orientation": orientation,
            **fields,
        }
    )
    along = row_direction(setting, angle, orientation)
    wanted = []
    for parts in drawn_rows(found["drawing"], setting, orientation, along):
        # Hairlines of the drawing's rounding are closed; a hundred-thousandth does not show in what is measured.
        row = unary_union([part.buffer(1e-5, join_style="mitre", mitre_limit=100) for part in parts])
        assert row.geom_type == "Polygon"
        sewn = straightened(row).buffer(0.25, join_style="mitre", mitre_limit=100)
        wanted += [longest_along(sewn, along)]
    told = [row["sewn"] for row in found["sewing"]["rows"] for _ in range(row["rows"])]
    assert sorted(told) == pytest.approx(sorted(wanted), abs=1e-3)


def row_direction(setting, angle, orientation):
    """The way along the rows, as a unit vector, y running down."""
    half = math.radians(angle) / 2
    x, y = (math.sin(half), -math.cos(half)) if setting == "grid" else (1.0, 0.0)
    return (y, x) if orientation == "lying" else (x, y)


def drawn_rows(drawing, setting, orientation, along):
    """The outlines of every row: its pieces, and the short strips that lie between the row's own edges."""
    rows, strips = {}, []
    for kind, _, shape, x, y, row, column in drawing["pieces"]:
        outline, name = translate(Polygon(drawing["shapes"][shape]), x, y), drawing["kinds"][kind]
        if name == "sash":
            strips.append(outline)
        elif name not in ("sash_long", "notch_fill") and not name.startswith("cornerstone"):
            straight = column if orientation == "lying" else row
            rows.setdefault(row + column if setting == "grid" else straight, []).append(outline)
    for parts in rows.values():
        low, high = reach(parts, along)
        yield parts + [s for s in strips if low - 1e-4 < reach([s], along)[0] and reach([s], along)[1] < high + 1e-4]


def straightened(outline):
    """Without points on its sides; simplifying keeps the first one wherever it lies, so that it is done from two."""
    once = list(outline.simplify(1e-4).exterior.coords)[1:]
    return Polygon(once).simplify(1e-4)


def reach(parts, along):
    """From where to where parts reach square to a direction."""
    found = [x * along[1] - y * along[0] for part in parts for x, y in part.exterior.coords]
    return min(found), max(found)


def longest_along(outline, along):
    """The longest straight side that runs along a direction, from corner to corner."""
    ring = list(straightened(outline).exterior.coords)
    steps = [(u - x, v - y) for (x, y), (u, v) in itertools.pairwise(ring)]
    return max(math.hypot(*step) for step in steps if abs(step[0] * along[1] - step[1] * along[0]) < 1e-3)


@pytest.mark.parametrize(
    ("fields", "assembly", "press"),
    [
        ({}, "slanting_rows", "rows_by_turns"),
        ({"sashing": {"width": 1}}, "slanting_rows", "toward_sashing"),
        ({"setting": "zigzag", "edge": "pointed"}, "straight_rows", "rows_by_turns"),
        ({"setting": "zigzag"}, "straight_rows_filled", "rows_by_turns"),
        ({"setting": "hexagons"}, "set_in_hexagons", "round_by_turns"),
        ({"setting": "stars"}, "set_in_stars", "round_one_way"),
        ({"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}}, "set_in_blocks", "round_one_way"),
    ],
)
def test_every_setting_says_how_it_is_sewn_and_pressed(fields, assembly, press):
    found = sewing(**fields)
    assert (found["assembly"], found["press"]) == (assembly, press)


def test_bias_edges_are_those_not_along_the_strip():
    # Cut from strips along the grain: a diamond's slanted cuts, a triangle's two legs, a corner's
    # long edge are on the bias.
    assert sewing()["bias"] == {
        "diamond": "two_slanted",
        "side_half": "both_legs",
        "end_half": "both_legs",
        "corner_quarter": "long_edge",
    }
    outer = [sewing(edge=edge)["outer_edge"] for edge in ("filled", "trimmed", "pointed")]
    assert outer == ["straight", "bias", "half_bias"]
    straight = sewing(setting="eight_pointed", piece={"size": 3, "angle": 45}, sashing={"width": 1})["bias"]
    assert straight == {"diamond": "two_slanted", "side_triangle": "both_legs"}


@pytest.mark.parametrize(
    ("fields", "wanted"),
    [
        ({}, ["border_or_sashing_wanted"]),
        ({"borders": [{"width": 4}]}, []),
        ({"sashing": {"width": 1}}, []),
        ({"piece": {"size": 8, "angle": 60}}, []),
        ({"edge": "pointed"}, ["sashing_wanted"]),
        ({"setting": "hexagons"}, ["border_wanted"]),
        ({"setting": "stars", "edge": "pointed"}, []),
    ],
    ids=str,
)
def test_small_diamonds_want_what_their_setting_and_edge_can_have(fields, wanted):
    # Common practice, no published source: a border and sashing are wanted more with small diamonds.
    found = quilt(**fields)["cautions"]
    assert [code for code in found if code.endswith("_wanted")] == wanted
    # What is advised is not refused.
    if "border" in "".join(wanted):
        assert quilt(**fields, borders=[{"width": 4}])["ok"]
    if "sashing" in "".join(wanted):
        assert quilt(**fields, sashing={"width": 1})["ok"]


def test_cautions_name_what_is_to_be_minded():
    assert "points_only" in quilt(edge="pointed", columns=1, rows=3)["cautions"]
    assert "points_only" not in quilt(edge="pointed")["cautions"]
    # That a trimmed edge is on the bias is said of the outer edge, once.
    assert quilt(edge="trimmed", piece={"size": 8, "angle": 60})["cautions"] == []
    assert sewing(edge="trimmed")["outer_edge"] == "bias"
    assert "round_points_bias" in quilt(edge="pointed", binding={})["cautions"]
    assert "round_points_bias" not in quilt(edge="pointed", binding={"grain": "bias"})["cautions"]
