"""Seams that are set in, step by step, and the rows with their letters, against the drawing and Shapely."""

import itertools
import json
import math
from collections import Counter
from pathlib import Path

import pytest
from shapely import unary_union
from shapely.geometry import LineString, Point, Polygon

import matside
from matside import answer

SEAM = 0.25
SETTINGS = {
    "hexagons": {"setting": "hexagons"},
    "hexagons lying": {"setting": "hexagons", "orientation": "lying"},
    "stars": {"setting": "stars"},
    "stars with hexagons": {"setting": "stars", "joined_by": "hexagons", "orientation": "lying"},
    "blocks": {"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}, "sashing": {"width": 1}},
    "zigzag": {"setting": "zigzag"},
    "zigzag lying": {"setting": "zigzag", "piece": {"size": 4, "angle": 40}, "orientation": "lying"},
}
WORDS = json.loads((Path(matside.__file__).parent / "words/en/quilt.json").read_text("utf-8"))["quilt"]


def quilt(**fields):
    found = answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 4, "rows": 4, **fields})
    assert found["ok"], found["error"]
    return found


def steps_of(name):
    return quilt(drawing=False, **SETTINGS[name])["sewing"]["steps"]


def groups_of(step):
    """The outlines of each group that is sewn together already."""
    found = {}
    for piece in step["pieces"]:
        found.setdefault(piece["group"], []).append(Polygon(piece["outline"]))
    return [found[number] for number in sorted(found)]


def cut(outline):
    return outline.buffer(SEAM, join_style="mitre", mitre_limit=100)


def common(step):
    """The edges that pieces of different groups share, by Shapely: the pieces, a hair larger, cross in slivers."""
    lines = []
    for one, other in itertools.combinations(groups_of(step), 2):
        for first, second in itertools.product(one, other):
            shared = first.exterior.intersection(second.exterior.buffer(1e-7))
            lines += [line for line in getattr(shared, "geoms", [shared]) if line.length > 0.1]
    return unary_union(lines)


@pytest.mark.parametrize("name", SETTINGS)
def test_every_edge_between_what_is_sewn_together_is_sewn_once(name):
    for step in steps_of(name):
        lines = [LineString(seam["line"]) for seam in step["seams"]]
        shared = common(step)
        assert shared.difference(unary_union([line.buffer(1e-5) for line in lines])).length < 1e-4
        on_edges = [line.intersection(shared.buffer(1e-5)).length for line in lines]
        assert sum(on_edges) == pytest.approx(shared.length, abs=1e-3), "none is sewn twice"
        # Nothing is stitched but shared edges, and at most from there to a cut edge.
        for line, on_edge, seam in zip(lines, on_edges, step["seams"], strict=True):
            assert line.length - on_edge < seam["stops"].count(False) * SEAM / math.sin(math.radians(20)) + 1e-4


@pytest.mark.parametrize("name", SETTINGS)
def test_a_seam_stops_a_seam_allowance_inside_the_cut_edges_or_runs_off_them(name):
    for step in steps_of(name):
        pieces = [piece for group in groups_of(step) for piece in group]
        for seam in step["seams"]:
            for end, stops in zip(seam["line"], seam["stops"], strict=True):
                here = Point(end)
                if stops:
                    at_corner = [p for p in pieces if min(here.distance(Point(c)) for c in p.exterior.coords) < 1e-6]
                    assert len(at_corner) >= 2
                    assert all(cut(p).exterior.distance(here) == pytest.approx(SEAM, abs=1e-6) for p in at_corner)
                else:
                    line = LineString(seam["line"])
                    sewn = [p for p in pieces if p.exterior.intersection(line.buffer(1e-6)).length > 1]
                    assert sewn and not any(cut(p).buffer(-1e-6).contains(here) for p in sewn)
                    assert min(cut(p).exterior.distance(here) for p in sewn) < 1e-6


@pytest.mark.parametrize("name", SETTINGS)
def test_in_a_notch_both_seams_begin_at_its_inner_corner(name):
    bends = 0
    for step in steps_of(name):
        for one, other in itertools.combinations(step["seams"], 2):
            if math.dist(one["line"][0], other["line"][0]) < 1e-6 and one["stops"][0]:
                bends += 1
                # What is set in fills the corner between the two seams.
                (x, y), (u, v) = (
                    (s["line"][1][0] - s["line"][0][0], s["line"][1][1] - s["line"][0][1]) for s in (one, other)
                )
                assert abs(x * v - y * u) > 0.1
            else:
                ends = [one["line"][0], one["line"][1], other["line"][0], other["line"][1]]
                assert not any(
                    math.dist(ends[k], ends[2 + m]) < 1e-6 and (k, m) in ((0, 1), (1, 0))
                    for k in (0, 1)
                    for m in (0, 1)
                ), "no seam is sewn into a corner that another one leaves"
    assert bends >= 1


@pytest.mark.parametrize("name", SETTINGS)
def test_what_is_drawn_are_the_quilts_own_pieces_and_every_step_has_its_sentence(name):
    found = quilt(**SETTINGS[name])
    real = {round(Polygon(shape).area, 4) for shape in found["drawing"]["shapes"]}
    steps = found["sewing"]["steps"]
    for step in steps:
        assert {round(Polygon(piece["outline"]).area, 4) for piece in step["pieces"]} <= real
        assert "." in WORDS["step"][step["code"]]
        whole = unary_union([cut(Polygon(piece["outline"])) for piece in step["pieces"]])
        assert whole.geom_type == "Polygon"
    # The first step sews single pieces.
    if not name.startswith("zigzag"):
        assert all(len(group) == 1 for group in groups_of(steps[0]))


def test_straight_rows_have_no_seam_that_is_set_in():
    assert quilt()["sewing"]["steps"] == []
    assert quilt(setting="zigzag", edge="pointed")["sewing"]["steps"] == []
    assert quilt(setting="zigzag", sashing={"width": 1})["sewing"]["steps"] == []


def test_washing_and_starching_come_before_cutting():
    # Common practice, no published source.
    assert quilt()["sewing"]["before"] == ["prewash", "starch"]


# --- Rows with letters ------------------------------------------------------------------------------------------------

LAYOUTS = [
    {},
    {"orientation": "lying"},
    {"edge": "pointed"},
    {"edge": "trimmed"},
    {"sashing": {"width": 1}},
    {"setting": "zigzag"},
    {"setting": "zigzag", "orientation": "lying"},
]


def colored(**fields):
    return quilt(fabrics=[{"id": name} for name in "pqr"], coloring={"way": "random", "seed": 4}, **fields)


@pytest.mark.parametrize("fields", LAYOUTS, ids=str)
def test_rows_with_letters_are_the_drawing_read_along_its_rows(fields):
    found = colored(**fields)
    drawing, setting = found["drawing"], fields.get("setting", "grid")
    lying = fields.get("orientation") == "lying"
    rows = {}
    for kind, fabric, shape, x, y, row, column in drawing["pieces"]:
        name = drawing["kinds"][kind]
        if name.startswith(("sash", "cornerstone")) or name == "notch_fill":
            continue
        middle = Polygon([(a + x, b + y) for a, b in drawing["shapes"][shape]]).centroid
        number = row + column if setting == "grid" else (column if lying else row)
        rows.setdefault(number, []).append((middle.y if lying and setting == "zigzag" else middle.x, "ABC"[fabric]))
    wanted = [[letter for _, letter in sorted(rows[number])] for number in sorted(rows)]
    told = found["sewing"]["layout"]["rows"]
    assert [row["letters"] for row in told] == wanted
    assert [row["row"] for row in told] == list(range(1, len(wanted) + 1))
    # As many letters in a row as the rows that are told have pieces.
    lengths = Counter(len(row["letters"]) for row in told)
    assert lengths == sum((Counter({row["pieces"]: row["rows"]}) for row in found["sewing"]["rows"]), start=Counter())


@pytest.mark.parametrize("fields", LAYOUTS, ids=str)
def test_letters_are_as_many_as_a_fabric_has_pieces(fields):
    found = colored(**fields)
    letters = Counter(letter for row in found["sewing"]["layout"]["rows"] for letter in row["letters"])
    apart = Counter()
    for kind, fabric, *_ in found["drawing"]["pieces"]:
        apart["ABCDE"[fabric]] += found["drawing"]["kinds"][kind] == "notch_fill"
    told = found["sewing"]["layout"]["letters"]
    assert [(one["letter"], one["fabric"]) for one in told] == [("A", 0), ("B", 1), ("C", 2)]
    for letter, fabric in zip("ABC", found["fabrics"], strict=False):
        assert letters[letter] + apart[letter] == sum(fabric["pieces"].values())


def test_hexagons_tell_their_three_diamonds_and_stars_their_own_once():
    hexagons = quilt(
        setting="hexagons", edge="pointed", fabrics=[{"id": n} for n in "pqr"], coloring={"way": "directions"}
    )["sewing"]["layout"]
    assert [set(row["letters"]) for row in hexagons["rows"]] == [{"ABC"}] * 4
    assert [len(row["letters"]) for row in hexagons["rows"]] == [4, 3, 4, 3]
    blocks = quilt(
        setting="eight_pointed",
        piece={"size": 3, "angle": 45},
        fabrics=[{"id": n} for n in "pqr"],
        coloring={"way": "units", "fabrics": ["p", "q"], "rest": "r"},
    )["sewing"]["layout"]
    assert [row["letters"] for row in blocks["rows"]] == [["A", "B"] * 2] * 4


# --- The seam test ----------------------------------------------------------------------------------------------------


def sewn_and_measured(measured, sewn=3, **fields):
    request = {"piece": {"size": 4, "angle": 60}, "columns": 4, "rows": 4, **fields}
    return answer({"ask": "seam_test", "quilt": request, "measured": measured, "sewn": sewn})


def test_three_diamonds_by_hand():
    # Three of 3½ in finished and two seam allowances: 11 in. A sixteenth more over two seams is 1/32 in each, and
    # ⅜ in over a zigzag of twelve upright ones.
    upright = {"setting": "zigzag", "piece": {"size": 4, "angle": 90}, "columns": 12, "rows": 4}
    right = sewn_and_measured(11, **upright)
    assert (right["wanted"], right["error"], right["verdict"]) == (11, 0, "fine")
    off = sewn_and_measured("11 1/16 in", **upright)
    assert (off["error"], off["allowance"], off["by"]) == (1 / 32, 0.25 - 1 / 64, 1 / 64)
    assert (off["change"]["width"], off["verdict"]) == (pytest.approx(3 / 8), "too_large_thread")
    assert sewn_and_measured("10 15/16 in", **upright)["verdict"] == "too_small_thread"
    assert sewn_and_measured("11 1/32 in", **upright)["verdict"] == "fine"
    # Four sixteenths more are a 16th for each of the two pieces' seam allowances.
    far = sewn_and_measured("11 1/4 in", **upright)
    assert (far["by"], far["verdict"]) == (1 / 16, "too_large")
    assert quilt(**upright)["sewing"]["seam_test"] == {"sewn": 3, "wanted": 11}


@pytest.mark.parametrize("measured", [10.9, 11.0, 11.2])
@pytest.mark.parametrize(
    "fields",
    [{}, {"orientation": "lying"}, {"sashing": {"width": 1}}, {"edge": "pointed"}, *list(SETTINGS.values())],
    ids=str,
)
def test_the_quilt_it_would_be_is_the_one_laid_with_that_seam(fields, measured):
    size = fields.get("piece", {"size": 4})["size"]
    found = sewn_and_measured(measured - 3 * (4 - size), **fields)
    # The same cut pieces, the other seam; sashing is cut for the planned one, and finishes by as much larger.
    other = {**fields, "seam": found["allowance"]}
    if "sashing" in fields:
        other["sashing"] = {"width": fields["sashing"]["width"] + found["error"]}
    assert quilt(drawing=False, **other)["patchwork"] == pytest.approx(found["would_be"], abs=1e-9)


def test_what_no_seam_can_come_to_is_refused():
    for measured in (12.1, 3):
        error = sewn_and_measured(measured)["error"]
        assert (error["field"], error["code"], error["values"]["wanted"]) == ("measured", "seam_test_far", 11)
    assert sewn_and_measured(11, piece={"size": 4, "angle": 6})["error"]["field"] == "quilt.piece.angle"
    assert sewn_and_measured(11, sewn=1)["error"]["field"] == "sewn"
