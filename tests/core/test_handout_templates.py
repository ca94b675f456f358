"""Templates: their outlines against the core's pieces and Shapely's buffers, and their pages measured as they lie."""

import itertools
import math
from collections import Counter, defaultdict
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity, box, union_all
from shapely.geometry import LineString, Polygon

from handout_pages import TENTH, drawn, laid, lines, outline, text_box
from matside import answer
from matside.fields import Fields
from matside.handout.texts import wrapped
from matside.pieces import read_piece
from matside.words.catalogue import languages
from matside.words.saying import say

PIECES = [
    {"size": 4, "angle": 60, "need": 12},
    {"id": "star & <point>", "size": "2 1/2 in", "angle": 45, "grain": "lengthwise"},
    {"shape": "half-diamond", "size": 3, "angle": 60, "cut": "long"},
    {"shape": "half-diamond", "size": "6 cm", "angle": 45},
    {"shape": "parallelogram", "size": 2, "across": 3, "angle": 50, "mirrored": True},
    {"shape": "trapezoid", "size": 3},
    {"shape": "rectangle", "size": 2, "length": "7 in"},
    {"size": 9, "angle": 60},
    {"shape": "rectangle", "size": 3, "length": 8},
    {"shape": "parallelogram", "size": 2, "across": 12, "angle": 30},
]
QUILTS = {
    "grid": {"piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4},
    "lying": {"piece": {"size": 3, "angle": 45}, "columns": 3, "rows": 4, "orientation": "lying", "seam": "1 cm"},
    "zigzag": {"piece": {"size": 4, "angle": 60}, "columns": 4, "rows": 4, "setting": "zigzag"},
    "stars": {"piece": {"size": 3, "angle": 60}, "columns": 2, "rows": 2, "setting": "stars"},
    "eight-pointed": {"piece": {"size": 3, "angle": 45}, "columns": 2, "rows": 2, "setting": "eight_pointed"},
    "sashing": {
        "piece": {"size": 3, "angle": 60},
        "columns": 2,
        "rows": 3,
        "sashing": {"width": 1},
        "borders": [{"width": 2}],
    },
}
SHEETS = {"a4": (210 / 25.4, 297 / 25.4), "letter": (8.5, 11)}
MITRE_LIMIT = 50


@cache
def of_pieces(paper: str = "letter") -> dict:
    return templates(pieces=PIECES, paper=paper)


@cache
def of_quilt(name: str, paper: str = "letter") -> dict:
    return templates(quilt=QUILTS[name], paper=paper)


def templates(**fields) -> dict:
    found = answer({"ask": "templates", **fields})
    assert found["ok"], found["error"]
    return found


def by_id(found: dict) -> dict[str, dict]:
    wedges = {one["id"]: {"cut": one["outline"], **one} for one in found["wedges"]}
    return {template["id"]: template for template in found["templates"]} | wedges


EVERYTHING = [of_pieces, *(lambda paper="letter", name=name: of_quilt(name, paper) for name in QUILTS)]
ALL = pytest.mark.parametrize("made", EVERYTHING, ids=["pieces", *QUILTS])
PAPERS = pytest.mark.parametrize("paper", SHEETS)


# --- The templates themselves -------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(len(PIECES)))
def test_the_cut_outline_is_the_cores_own_seen_from_the_right_side(number):
    template = of_pieces()["templates"][number]
    shape = read_piece(Fields(PIECES[number]))
    # In a strip y runs away from the body, on paper toward it. A mirrored piece is cut with the wrong side up, so that
    # from the right side its outline is turned over once more.
    up = -1 if not getattr(shape, "mirrored", False) else 1
    lying = affinity.scale(Polygon(shape.outline()), 1, up, origin=(0, 0))
    lying = affinity.translate(lying, -lying.bounds[0], -lying.bounds[1])
    assert outline(template).hausdorff_distance(lying) < 1e-9 < TENTH
    assert (template["width"], template["height"]) == pytest.approx(lying.bounds[2:], abs=1e-9)


@ALL
def test_the_seam_line_is_shapelys_buffer_inward(made):
    # Shapely's mitred buffer. A tenth of a millimeter is what is asked for.
    found = made()
    seam = 1 / 2.54 if found == of_quilt("lying") else 0.25
    for template in found["templates"]:
        inside = outline(template).buffer(-seam, join_style="mitre", mitre_limit=MITRE_LIMIT)
        assert outline(template, "seam").hausdorff_distance(inside) < 1e-6 < TENTH, template["id"]


@given(st.floats(1, 9), st.integers(15, 90), st.sampled_from(["1/8 in", "1/4 in", "1 cm"]))
@settings(max_examples=15, derandomize=True, deadline=None, database=None)
def test_diamonds_of_any_angle_have_their_seam_line_or_are_refused(size, angle, seam):
    found = answer({"ask": "templates", "pieces": [{"size": size, "angle": angle}], "seam": seam})
    inches = answer({"ask": "length", "length": seam})["length"]
    assert found["ok"] == (size > 2 * inches)
    for template in found.get("templates", ()):
        inside = outline(template).buffer(-inches, join_style="mitre", mitre_limit=MITRE_LIMIT)
        assert outline(template, "seam").hausdorff_distance(inside) < 1e-6


def walk(points) -> list[tuple[float, float]]:
    """The sides of an outline by length and turn into the next, in order: alike for outlines that are only turned."""
    found = []
    for a, b, c in zip(points, points[1:] + points[:1], points[2:] + points[:2], strict=True):
        turn = math.atan2(c[1] - b[1], c[0] - b[0]) - math.atan2(b[1] - a[1], b[0] - a[0])
        found.append((math.dist(a, b), math.remainder(turn, math.tau)))
    return found


def same(one, other) -> bool:
    """Whether an outline is another one, turned and moved but not turned over."""
    first, second = walk(one), walk(other)
    rolled = (second[k:] + second[:k] for k in range(len(second)))
    return len(first) == len(second) and any(
        all(math.dist(a, b) < 1e-4 for a, b in zip(first, roll, strict=True)) for roll in rolled
    )


@pytest.mark.parametrize("name", QUILTS)
def test_every_piece_of_a_quilts_drawing_is_one_template_turned_or_turned_over(name):
    drawing = answer({"ask": "quilt", **QUILTS[name]})["drawing"]
    pieces = defaultdict(list)
    for kind, _, shape, *_ in drawing["pieces"]:
        pieces[drawing["kinds"][kind]].append([tuple(point) for point in drawing["shapes"][shape]])
    found = of_quilt(name)
    left_out = {one["id"].split("/")[0] for one in found["left_out"]}
    for kind, outlines in pieces.items():
        own = [template for template in found["templates"] if template["id"].split("/")[0] == kind]
        counts, over = Counter(), Counter()
        for points in outlines:
            for template in own:
                seam = [tuple(point) for point in template["seam"]]
                if same(points, seam):
                    counts[template["id"]] += 1
                    break
                if same(points, [(-x, y) for x, y in reversed(seam)]):
                    counts[template["id"]] += 1
                    over[template["id"]] += 1
                    break
        if kind not in left_out:
            assert counts.total() == len(outlines), kind
        assert {template["id"]: template["count"] for template in own} == dict(counts)
        for template in own:
            if kind != "diamond":  # a diamond that leans back is its own mirror image on another grain
                assert template["turned"] == over[template["id"]], template["id"]


def test_in_zigzag_rows_half_of_the_diamonds_are_turned_over_for_the_grain():
    # What the quilt's own words say: that half is cut from strips laid wrong side up.
    (diamond,) = [one for one in of_quilt("zigzag")["templates"] if one["id"] == "diamond"]
    assert (diamond["count"], diamond["turned"]) == (16, 8)


@ALL
def test_the_arrow_runs_along_two_edges_as_far_apart_as_the_strip_is_wide(made):
    for template in made()["templates"]:
        (x, y), (u, v) = template["grain"]["from"], template["grain"]["to"]
        assert y == v and u - x > 0.3
        assert outline(template).buffer(-0.1).contains(LineString([(x, y), (u, v)]))
        size = template["notes"][0]["values"]["size"]
        corners = template["cut"]
        level = {
            round(a[1], 6) for a, b in zip(corners, corners[1:] + corners[:1], strict=True) if abs(a[1] - b[1]) < 1e-6
        }
        halved = template["notes"][0]["code"] == "handout.halved"
        assert template["height"] == pytest.approx(size, abs=1e-6)
        assert {0.0, round(size, 6)} & level and (
            halved or template["id"].startswith(("half", "side", "end", "notch")) or len(level) == 2
        )


def test_the_arrow_says_which_way_the_strips_run():
    runs = [template["grain"]["strips"] for template in of_pieces()["templates"]]
    assert runs[:3] == ["any", "lengthwise", "any"]
    quilt = {**QUILTS["grid"], "fabrics": [{"id": "leaves", "one_way": True}]}
    assert {one["grain"]["strips"] for one in templates(quilt=quilt)["templates"]} == {"lengthwise"}
    assert {one["grain"]["strips"] for one in of_quilt("grid")["templates"]} == {"crosswise"}


def test_there_is_a_wedge_for_every_slanted_angle():
    assert [one["angle"] for one in of_pieces()["wedges"]] == [67.5, 60, 50, 45, 30]
    assert [one["angle"] for one in of_quilt("eight-pointed")["wedges"]] == [45]
    assert templates(pieces=[{"shape": "rectangle", "size": 2, "length": 3}])["wedges"] == []


@pytest.mark.parametrize("angle", [15, 22.5, 30, 45, 60, 75, 89])
def test_a_wedge_has_a_straight_base_and_its_angle(angle):
    ((wedge,),) = (templates(pieces=[{"size": 3, "angle": angle}])["wedges"],)
    (x, y), (u, v) = wedge["outline"][0], wedge["outline"][1]
    end = wedge["outline"][-1]
    assert y == end[1] and end[0] - x >= 2
    assert math.degrees(math.atan2(y - v, u - x)) == pytest.approx(angle, abs=1e-9)
    assert math.hypot(u - x, y - v) > 6
    assert Polygon(wedge["outline"]).is_valid


def test_what_is_trimmed_later_and_what_is_too_large_is_left_out_with_its_reason():
    quilt = {**QUILTS["grid"], "borders": [{"width": 2, "corners": "mitered"}]}
    left = [(one["id"], one["code"]) for one in templates(quilt=quilt)["left_out"]]
    assert left == [("border_end", "trimmed_later"), ("border_side", "trimmed_later")]
    found = templates(pieces=[{"size": 2, "angle": 60}, {"shape": "rectangle", "size": 2, "length": 60}])
    assert [(one["id"], one["code"]) for one in found["left_out"]] == [("rectangle", "too_large")]
    placed = {place["id"] for page in found["pages"] for place in page["placed"]}
    assert placed == {"diamond", "wedge/60"}


# --- The pages ----------------------------------------------------------------------------------------------------


@ALL
@PAPERS
def test_the_paper_is_of_its_standard_size(made, paper):
    # A4 by ISO 216: 210 × 297 mm. Letter by ASME Y14.1: 8.5 × 11 in.
    found = made(paper)
    assert found["pages"] and found["paper"]["code"] == paper
    for sheet in (*found["pages"], found["paper"]):
        assert (sheet["width"], sheet["height"]) == pytest.approx(SHEETS[paper], abs=1e-9)


@ALL
@PAPERS
def test_on_every_page_are_both_bars_both_ways(made, paper):
    for page in made(paper)["pages"]:
        ways = {(bar["code"], bar["from"][0] == bar["to"][0]) for bar in page["bars"]}
        assert ways == set(itertools.product(("bar_mm", "bar_in"), (False, True)))
        for bar in page["bars"]:
            # 100 mm and 4 in; 1 in = 25.4 mm by NIST Handbook 44, Appendix C [2nd].
            wanted = {"bar_mm": 100 / 25.4, "bar_in": 4}[bar["code"]]
            assert math.dist(bar["from"], bar["to"]) == pytest.approx(wanted, abs=1e-9)
            ends = LineString([bar["from"], bar["to"]])
            assert any(shown.hausdorff_distance(ends) < 2e-6 for shown in lines(page, "bar"))


@pytest.mark.every(3)
@ALL
@PAPERS
def test_nothing_lies_on_anything_else_or_in_the_margins(made, paper):
    found = made(paper)
    for page in found["pages"]:
        paper_inside = box(0.5, 0.5, page["width"] - 0.5, page["height"] - 0.5).buffer(1e-6)
        bars = [line.buffer(0.01) for line in (drawn(page, "bar"),)]
        texts = [text_box(text) for text in page["texts"] if text["role"] != "mark"]
        things = [*laid(page, by_id(found)), *bars, *texts]
        assert all(paper_inside.buffer(0.02).contains(thing) for thing in things)
        assert all(paper_inside.contains(LineString(shape["points"])) for shape in page["shapes"])
        for one, other in itertools.combinations(things, 2):
            assert one.intersection(other).area < 1e-6
        assert all(text["size"] >= 9 for text in page["texts"])


@ALL
def test_every_template_lies_once_whole_or_in_tiles_that_cover_it(made):
    found = made()
    places = defaultdict(list)
    for page in found["pages"]:
        for place in page["placed"]:
            places[place["id"]].append((page, place))
    too_large = {one["id"] for one in found["left_out"]}
    assert places.keys() == by_id(found).keys() - too_large
    for name, parts in places.items():
        template = by_id(found)[name]
        role = "wedge" if name.startswith("wedge/") else "cut"
        shown = union_all(
            [
                affinity.translate(drawn(page, role), -place["at"][0], -place["at"][1]).intersection(
                    box(*place["window"]).buffer(1e-6)
                )
                for page, place in parts
            ]
        )
        whole = outline(template)
        if turned_by_a_quarter(parts, whole):
            whole = affinity.translate(affinity.rotate(whole, 90, origin=(0, 0)), whole.bounds[3], 0)
        assert whole.boundary.difference(shown.buffer(1e-5)).length < 1e-4, name
        assert whole.difference(union_all([box(*place["window"]) for _, place in parts])).area < 1e-6
        assert len(parts) == (1 if parts[0][1]["tile"] is None else parts[0][1]["tile"]["of"]) <= 16


def turned_by_a_quarter(parts, whole: Polygon) -> bool:
    """Whether all windows together are as wide as the template is high."""
    windows = union_all([box(*place["window"]) for _, place in parts]).bounds
    return abs(windows[2] - whole.bounds[2]) > 1e-6


def test_tiles_share_half_an_inch_and_their_joins_lie_on_the_same_line():
    found = of_pieces()
    joins = defaultdict(list)
    for page in found["pages"]:
        for place in page["placed"]:
            back = (-place["at"][0], -place["at"][1])
            own = [affinity.translate(line, *back) for line in lines(page, "join")]
            for letter in (place["tile"] or {"letters": ()})["letters"]:
                joins[place["id"], letter].append((place, own))
    assert len(joins) >= 4
    for (name, letter), both in joins.items():
        (one, first), (other, second) = both
        common = box(*one["window"]).intersection(box(*other["window"]))
        wide, high = common.bounds[2] - common.bounds[0], common.bounds[3] - common.bounds[1]
        assert min(wide, high) == pytest.approx(0.5, abs=1e-6), (name, letter)
        shared = [line for line in first if any(line.hausdorff_distance(like) < 1e-5 for like in second)]
        assert any(common.buffer(1e-5).contains(line) for line in shared)
    letters = [text["text"] for page in found["pages"] for text in page["texts"] if text["role"] == "mark"]
    assert Counter(letters) == Counter(letter for _, letter in joins for _ in range(2))


@pytest.mark.every(4)
@ALL
@pytest.mark.parametrize("language", languages())
def test_every_text_has_the_room_that_it_takes_in_every_language(made, language):
    for paper in SHEETS:
        for page in made(paper)["pages"]:
            for text in page["texts"]:
                said = text["text"] if "text" in text else say(text["code"], text["values"], language)
                assert len(wrapped(said, text["size"], text["room"])) <= text["lines"], said


@pytest.mark.parametrize(
    "fields, place, code",
    [
        ({}, "pieces", "list_wanted"),
        ({"pieces": []}, "pieces", "list_length"),
        ({"pieces": [{"size": 2, "angle": 60}, {"size": 0, "angle": 60}]}, "pieces[1].size", "length_not_positive"),
        ({"pieces": [{"size": 2, "angle": 60, "grain": "bias"}]}, "pieces[0].grain", "choice"),
        ({"pieces": [{"size": 2, "angle": 60, "need": -1}]}, "pieces[0].need", "count_outside"),
        ({"pieces": [{"size": 2, "angle": 60}], "seam": 1}, "seam", "seam_takes_piece"),
        ({"pieces": [{"size": 2, "angle": 60}], "seam": "-1"}, "seam", "length_negative"),
        ({"pieces": [{"size": 2, "angle": 60}], "paper": "a3"}, "paper", "choice"),
        ({"quilt": {"piece": {"size": 4, "angle": 60}}}, "quilt.target", "quilt_size_missing"),
        ({"quilt": 4}, "quilt", "object_wanted"),
    ],
)
def test_what_is_wrong_is_refused_with_its_field(fields, place, code):
    error = answer({"ask": "templates", **fields})["error"]
    assert (error["field"], error["code"]) == (place, code)


def test_without_a_seam_allowance_there_is_no_seam_line():
    found = templates(pieces=[{"size": 2, "angle": 60}], seam=0)
    assert found["templates"][0]["seam"] is None
    assert not lines(found["pages"][0], "seam")
