"""Facts of the trade, and the ways that a quilter finds at the table: the tool comes to them
from the measures alone.
"""

import math
from fractions import Fraction

import pytest

from matside import answer
from matside.fields import Fields
from matside.rulers import GENERIC_RULERS, METRIC_RULERS, AngleLine, Ruler, printed_lines, read_rulers, ways
from matside.shapes import Diamond
from matside.usual import usual
from ruler_bench import asked, shape_of

SIX_BY_24 = {
    "name": "6 × 24",
    "width": 6,
    "length": 24,
    "angles": [{"degrees": degrees, "from": "long", "at": 6} for degrees in (30, 45, 60)],
}
SQUARE_15 = {
    "name": "square",
    "width": 15,
    "length": 15,
    "angles": [{"degrees": 45, "from": "long", "at": 0, "lean": "right"}],
}
SQUARE_12 = {**SQUARE_15, "name": "square", "width": "12 1/2 in", "length": "12 1/2 in"}
PLAIN = {"name": "plain", "width": "3 1/2 in", "length": 12}


def diamond(size, angle=60) -> dict:
    return {"shape": "diamond", "size": size, "angle": angle}


# --- Everyone gets a way --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [4, 8])
@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize(
    "ruler", [SQUARE_15, SQUARE_12, SIX_BY_24, PLAIN], ids=lambda ruler: f"{ruler['name']} {ruler['width']}"
)
def test_a_big_square_a_6_by_24_and_a_ruler_without_lines_each_get_a_way(ruler, hand, size):
    found = asked(diamond(size), [ruler], hand)
    assert all(found[step] and found[step][0]["drawing"]["cut"] for step in ("strip", "starter", "following"))
    assert not any(item["blocking"] for item in found["lacking"])


def kinds(found: dict, step: str) -> list[str]:
    return [way["kind"] for way in found[step]]


def test_the_quilter_with_a_6_by_24_lays_both_lines_for_4_inches_and_marks_8():
    four, eight = asked(diamond(4), [SIX_BY_24]), asked(diamond(8), [SIX_BY_24])
    assert (kinds(four, "starter")[0], kinds(four, "following")[0]) == ("angle_line", "both_lines")
    assert four["following"][0]["checks_angle"]
    best = eight["following"][0]
    assert (best["kind"], best["measure"], best["mark_along"]) == (
        "mark_and_angle",
        None,
        pytest.approx(8 / math.sin(math.pi / 3)),
    )
    assert best["mark"]["nearest"] == 9.25
    assert [item["reason"] for item in eight["left_out"]] == ["too_narrow"]


def test_the_beginner_with_only_a_big_square_starts_by_two_marks_and_goes_on_by_its_measure():
    for size in (4, 8):
        found = asked(diamond(size), [SQUARE_15])
        assert kinds(found, "starter") == ["two_marks"]
        best = found["following"][0]
        assert (best["kind"], best["measure"], best["checks_angle"], best["check"]["how"]) == (
            "measure_only",
            size,
            False,
            "two_marks",
        )
        assert "no_angle_line" in best["notes"]


def test_without_any_line_two_marks_do_everything():
    found = asked(diamond(8), [PLAIN])
    assert (kinds(found, "starter"), kinds(found, "following")) == (["two_marks"], ["two_marks"])
    assert len(found["following"][0]["drawing"]["marks"]) == 2


# --- Common practice, no published source
# ------------------------------------------------------------------------------


def test_8_inch_pieces_are_measured_by_the_15_inch_square_and_checked_with_the_other_ruler_after_several_cuts():
    # Common practice, no published source: a 6-inch ruler cannot measure an 8-inch piece, so a 15-inch
    # square is laid to the cut edge by its 8-inch line; it has no 60° line, so the angle is checked with the
    # other ruler after several cuts.
    found = asked(diamond(8), [SIX_BY_24, SQUARE_15], placing="1/64 in")
    best = found["following"][0]
    assert (best["rulers"], best["measure"], best["kind"]) == (["square"], 8, "measure_only")
    assert best["check"] == {"every": 5, "how": "angle_line", "ruler": "6 × 24"}
    assert found["starter"][0]["rulers"] == ["6 × 24"]
    assert {"ruler": "6 × 24", "step": "strip", "reason": "too_narrow", "values": {"needed": 8, "has": 6}} in found[
        "left_out"
    ]


def test_what_is_lower_in_the_list_but_more_exact_says_so():
    found = asked(diamond(8), [SIX_BY_24, SQUARE_15])
    notes = {(way["kind"], len(way["rulers"])): way["notes"] for way in found["following"]}
    assert "more_exact_angle_anew" in notes["mark_and_angle", 1]
    assert "more_exact_checks_angle" in notes["both_lines", 2]
    assert "safer_covers_piece" in {
        note for way in asked(diamond(8), [SIX_BY_24, {**SIX_BY_24, "name": "b"}])["following"] for note in way["notes"]
    }


def test_a_ruler_with_a_line_at_the_distance_comes_before_one_between_ticks():
    coarse, fine = ({**SIX_BY_24, "name": name, "tick": tick} for name, tick in (("a", "1/8"), ("b", "1/16")))
    following = asked({"shape": "diamond", "size": "3 11/16 in", "angle": 60}, [coarse, fine])["following"]
    assert [way["rulers"] for way in following if way["kind"] == "both_lines"] == [["b"], ["a"]]
    # One ruler that lies between ticks still comes before two that do not, and they say what they have over it.
    wide = {**SQUARE_15, "tick": "1/8"}
    narrow = [
        {"name": f"n{i}", "width": width, "length": 24, "tick": "1/16"} for i, width in enumerate(("2 1/16", "2 1/8"))
    ]
    following = asked({"shape": "diamond", "size": "4 3/16 in", "angle": 60}, [wide, *narrow])["following"]
    notes = {tuple(way["rulers"]): way["notes"] for way in following if way["measure"]}
    assert "between_ticks" in notes["square",]
    pairs = [found for rulers, found in notes.items() if len(rulers) == 2]
    assert {("between_ticks" in found, "more_exact_on_a_line" in found) for found in pairs} == {
        (True, False),
        (False, True),
    }


def test_a_longer_line_lower_in_the_list_says_so():
    short = {**SIX_BY_24, "name": "short", "angles": [{"degrees": 60, "from": "long", "at": 6, "line_length": 2}]}
    hard = {**SIX_BY_24, "name": "hard", "angles": [{**line, "hard_to_see": True} for line in SIX_BY_24["angles"]]}
    starter = asked(diamond(4), [short, hard])["starter"]
    assert (starter[0]["rulers"], starter[1]["rulers"]) == (["short"], ["hard"])
    assert "more_exact_longer_line" in starter[1]["notes"]


def test_nobody_measures_only_along_an_edge_that_also_has_the_angle_and_a_few_pairs_are_enough():
    along = [way["kind"] for way in asked(diamond(4), [SIX_BY_24])["following"] if way["cut_edge"] == "long"]
    assert along == ["both_lines", "two_marks"]
    many = [{**SIX_BY_24, "name": f"r{i}"} for i in range(5)]
    pairs = [way["kind"] for way in asked(diamond(8), many)["following"] if len(way["rulers"]) == 2]
    assert pairs and max(map(pairs.count, pairs)) == 3


def test_a_strip_that_is_longer_than_the_ruler_is_cut_in_runs():
    found = asked(diamond(4), [SQUARE_15], run="30 in")["strip"][0]
    assert (found["measure"], found["over"], found["slide"]) == (4, [0.5, 0.5], 30 + 1 - 15)
    assert asked(diamond(4), [SIX_BY_24], run=22)["strip"][0]["slide"] is None
    assert asked(diamond(4), [SIX_BY_24], run=24)["strip"][0]["slide"] == 1


def test_a_long_starter_cut_is_finished_along_its_own_first_part():
    ruler = {
        "name": "r",
        "width": 6,
        "length": 12,
        "angles": [{"degrees": 60, "from": "long", "at": 6, "lean": "left"}],
    }
    way = asked(diamond(8), [{**ruler, "reads_through": False}])["starter"][0]
    assert way["kind"] == "angle_line" and "slide_along_fresh_cut" in way["notes"]
    assert way["slide"] > 0 and way["over"][1] == pytest.approx(0.5)
    # The first part is at least half the cut: it has to guide the rest.
    assert 12 - (way["over"][0] + way["slide"]) >= 8 / math.sin(math.pi / 3) / 2


def test_how_often_to_check_follows_the_care_and_the_tolerance():
    def every(**more):
        return next(way for way in asked(diamond(8), [SIX_BY_24, SQUARE_15], **more)["following"] if way["check"])[
            "check"
        ]["every"]

    assert every(placing="1/16 in") < every() == every(placing="1/32 in") < every(placing="1/64 in")
    assert every() < every(tolerance="1/2 in")
    assert every(across=40) < every()


def test_why_a_ruler_only_measures():
    short = {"name": "r", "width": 6, "length": 24, "angles": [{"degrees": 60, "from": "long", "line_length": 1}]}
    placed = {
        "name": "r",
        "width": 5,
        "length": 6,
        "angles": [{"degrees": 60, "from": "long", "at": 1, "lean": "left", "line_length": 4}],
    }
    for ruler, note in (
        (short, "angle_line_too_short"),
        ({**placed, "reads_through": False}, "angle_line_misplaced"),
        (PLAIN | {"width": 6}, "no_angle_line"),
    ):
        only = [
            way
            for way in asked(diamond(4), [ruler])["following"]
            if way["kind"] == "measure_only" and way["cut_edge"] == "long"
        ]
        assert [note in way["notes"] for way in only] == [True]


def test_on_a_wide_strip_the_ruler_is_slid_up_until_it_passes_the_far_edge():
    # Common practice, no published source.
    low = {"name": "r", "width": 8, "length": 14, "angles": [{"degrees": 60, "from": "long", "at": 9, "lean": "left"}]}
    narrow, wide = asked(diamond(4), [low])["following"][0], asked(diamond(8), [low])["following"][0]
    assert (narrow["kind"], narrow["slide"]) == ("both_lines", None)
    assert wide["kind"] == "both_lines" and wide["slide"] > 0
    assert wide["over"][1] == pytest.approx(0.5)
    far_edge = [y for _, y in wide["drawing"]["rulers"][0]["slid"]]
    assert max(far_edge) > 8 > 0 > min(far_edge)


def test_the_cut_of_an_8_inch_60_degree_piece_is_nine_and_a_quarter_long():
    # Common practice, no published source: 9 1/4 in, and the ruler passes it by half an inch at both ends.
    for length, works in (("10 1/8", False), ("10 1/4", True)):
        ruler = {"name": "r", "width": 9, "length": length}
        found = asked(diamond(8), [ruler])
        assert bool(found["starter"]) == works
    short = asked(diamond(8), [{"name": "r", "width": 9, "length": 10}])
    assert {"step": "starter", "code": "ruler_longer", "values": {"length": 10.5}, "blocking": True} in short["lacking"]
    assert short["left_out"][0]["reason"] == "edge_too_short"


@pytest.mark.parametrize("size, width", [(8, 8.5), (4, 4.5)])
def test_what_is_lacking_is_a_wider_ruler_or_two_together(size, width):
    narrow = {"name": "r", "width": 2, "length": 3}
    lacking = {item["step"]: item for item in asked(diamond(size), [narrow])["lacking"]}
    assert (lacking["strip"]["code"], lacking["strip"]["values"]) == ("ruler_wider", {"width": width})
    assert lacking["strip"]["blocking"]


def test_a_strip_that_is_only_marked_says_what_would_help():
    found = asked(diamond(8), [SIX_BY_24])
    assert kinds(found, "strip") == ["two_marks"]
    assert found["lacking"] == [{"step": "strip", "code": "ruler_wider", "values": {"width": 8.5}, "blocking": False}]


def test_two_rulers_together_are_wide_enough():
    found = asked(diamond(8), [SIX_BY_24, {"name": "b", "width": 6, "length": 12}])
    strip = found["strip"][0]
    assert (strip["kind"], strip["rulers"], strip["measure"]) == ("measure_only", ["6 × 24", "b"], 8)
    assert strip["measure_on"]["ruler"] == "b" and strip["measure_on"]["distance"] == 2
    both = next(way for way in found["following"] if len(way["rulers"]) == 2)
    assert both["kind"] == "both_lines" and both["checks_angle"]


def test_a_small_ruler_gives_the_angle_to_a_long_one():
    small = {"name": "small", "width": 4, "length": 8, "angles": [{"degrees": 60, "from": "long"}]}
    found = asked(diamond(10), [small, {"name": "plain", "width": 4, "length": 18}])
    best = found["starter"][0]
    assert (best["rulers"], best["angle_line"]["ruler"], best["kind"]) == (["plain", "small"], "small", "angle_line")


# --- Lines
# -------------------------------------------------------------------------------------------------------------


def test_60_degrees_is_reached_by_the_30_degree_line_of_the_short_edge():
    ruler = {"name": "r", "width": 6, "length": 24, "angles": [{"degrees": 30, "from": "short", "at": 0}]}
    best = asked(diamond(4), [ruler])["following"][0]
    assert (best["kind"], best["cut_edge"], best["angle_line"]["degrees"], best["angle_line"]["from"]) == (
        "both_lines",
        "long",
        30,
        "short",
    )
    assert best["overlap"] == pytest.approx(shape_of(diamond(4)).edge)


@pytest.mark.parametrize("angle", [30, 45, 60, 75])
@pytest.mark.parametrize("edge, other", [("long", "short"), ("short", "long")])
def test_the_complement_cuts_along_the_other_edge(angle, edge, other):
    # Euclid: the sharp angles of a right-angled triangle add up to 90°.
    lines = [{"degrees": 90 - angle, "from": edge}]
    found = asked(diamond(3, angle), [{"name": "r", "width": 20, "length": 24, "angles": lines}])
    wanted = {other} if angle != 45 else {edge, other}
    assert {way["cut_edge"] for way in found["starter"] if way["angle_line"]} == wanted


def test_a_tiny_line_is_not_trusted_and_says_how_much_is_needed():
    ruler = {"name": "r", "width": 6, "length": 24, "angles": [{"degrees": 60, "from": "long", "line_length": 2}]}
    four, eight = asked(diamond(4), [ruler]), asked(diamond(8), [ruler])
    assert four["starter"][0]["angle_line"]["overlap"] == 2
    reason = next(item for item in eight["left_out"] if item["step"] == "starter")
    cut = 8 / math.sin(math.pi / 3)
    # 1/64 in of placing at either end of the line, carried to the end of the cut, is to stay within 1/16 in.
    assert reason["reason"] == "line_too_short" and reason["values"] == {
        "has": 2,
        "needed": pytest.approx(math.sqrt(2) / 64 * cut / (1 / 16)),
    }


def test_a_line_whose_place_keeps_the_edge_off_the_cloth_says_so():
    # The line meets either long edge within an inch or two of the end that it would have to reach past.
    ruler = {"name": "r", "width": 5, "length": 6, "angles": [{"degrees": 60, "from": "long", "at": 1, "lean": "left"}]}
    found = asked(diamond(4), [{**ruler, "reads_through": False}])
    reason = next(item for item in found["left_out"] if item["step"] == "starter")
    assert reason["reason"] == "line_misplaced" and reason["values"]["cut"] == pytest.approx(4 / math.sin(math.pi / 3))


def test_a_line_that_is_hard_to_see_comes_after_one_that_is_not():
    clear = {**SIX_BY_24, "name": "clear"}
    hard = {**SIX_BY_24, "name": "hard", "angles": [{**line, "hard_to_see": True} for line in SIX_BY_24["angles"]]}
    starter = asked(diamond(4), [hard, clear])["starter"]
    assert [way["rulers"] for way in starter[:2]] == [["clear"], ["hard"]]
    assert "hard_to_see" in starter[1]["notes"]


def test_a_distance_between_two_ticks_says_how_far_off_the_nearest_is():
    found = asked({"shape": "diamond", "size": "3 11/16 in", "angle": 60}, [{**SIX_BY_24, "tick": "1/8"}])
    best = next(way for way in found["following"] if way["measure"])
    assert "between_ticks" in best["notes"]
    assert abs(best["measure_on"]["off"]) == 1 / 16
    assert [best["measure_on"][name] for name in ("reads", "below", "above")] == ["between", 3.625, 3.75]
    exact = asked({"shape": "diamond", "size": "3 11/16 in", "angle": 60}, [{**SIX_BY_24, "tick": "1/16"}])[
        "following"
    ][0]
    assert "between_ticks" not in exact["notes"] and exact["measure_on"]["off"] == 0
    assert [exact["measure_on"][name] for name in ("reads", "below", "above")] == ["line", None, None]


def test_the_rulers_own_far_edge_measures_as_well_as_a_line():
    ruler = {**SIX_BY_24, "width": "3 11/16 in", "tick": "1/8"}
    best = asked({"shape": "diamond", "size": "3 11/16 in", "angle": 60}, [ruler])["following"][0]
    assert (best["kind"], best["measure_on"]["off"], best["measure_on"]["reads"]) == ("both_lines", 0, "far_edge")


def test_a_ruler_that_can_sit_anywhere_covers_the_piece_and_begins_just_before_it():
    # The piece's near corner lies h·cot 60° back along the cut; a square cut begins an inch before the cloth.
    slanted = asked(diamond(4), [SQUARE_15])["following"][0]
    square = asked({"shape": "rectangle", "size": 4, "length": 5}, [SQUARE_15])["following"][0]
    assert slanted["covers_piece"] and slanted["over"][0] == pytest.approx(4 / math.tan(math.pi / 3))
    assert square["over"][0] == 1


def test_the_mark_lies_on_the_edge_of_the_angle_line():
    low = {"name": "low", "width": 6, "length": 12, "angles": [{"degrees": 60, "from": "long", "at": 2}]}
    way = asked(diamond(8), [low])["following"][0]
    assert (way["kind"], way["angle_line"]["laid_on"]) == ("mark_and_angle", "far_edge")
    assert way["drawing"]["marks"] == [way["drawing"]["cut"][1]] and way["drawing"]["marks"][0][1] == 8


def test_the_other_lines_are_drawn_and_the_one_that_counts_is_not_drawn_twice():
    def lengths(drawing):
        return sorted(round(math.dist(*line), 6) for line in drawing["lines"])

    laid, square = asked(diamond(4), [SIX_BY_24])["following"][0], asked(diamond(4), [SQUARE_15])["following"][0]
    # Both leans of 30° and 45° and the other lean of 60°, each right across 6 in.
    assert lengths(laid["drawing"]) == sorted(
        [12.0] * 2 + [round(6 * math.sqrt(2), 6)] * 2 + [round(12 / math.sqrt(3), 6)]
    )
    assert lengths(square["drawing"]) == [round(15 * math.sqrt(2), 6)]


def test_a_shorter_line_face_up_comes_before_a_longer_one_turned_over():
    lines = [
        {"degrees": 60, "from": "long", "at": 12, "lean": "left", "line_length": 3},
        {"degrees": 60, "from": "long", "at": 12, "lean": "right"},
    ]
    starter = asked(diamond(4), [{"name": "r", "width": 6, "length": 24, "angles": lines}])["starter"]
    assert (starter[0]["turned_over"], starter[0]["overlap"]) == (False, pytest.approx(3))


def test_two_rulers_that_hardly_touch_or_hardly_reach_the_last_cut_are_not_offered():
    long, short = {"name": "long", "width": 6, "length": 24}, {"name": "short", "width": 2.5, "length": 3}
    # A third of the 9 1/4 in cut and a little more is wanted against the other ruler and on the last cut: 3.27 in.
    for length, offered in ((3, False), (3.25, False), (3.5, True)):
        found = asked(diamond(8), [long, {**short, "length": length}])
        assert any(way["measure"] for way in found["following"]) == offered


# --- Two marks
# -----------------------------------------------------------------------------------------------------------


def test_two_marks_for_a_4_inch_60_degree_strip():
    fine, coarse = (asked(diamond(4), [{**PLAIN, "tick": tick}])["two_marks"] for tick in ("1/16", "1/8"))
    assert (fine["offset"], fine["step"], round(fine["angle_error"], 2), fine["good_enough"]) == (
        2.3125,
        4.625,
        0.03,
        True,
    )
    assert (coarse["offset"], round(coarse["angle_error"], 1), coarse["good_enough"]) == (2.25, 0.6, False)
    assert coarse["halved"]["offset"] == 2.3125 and coarse["halved"]["good_enough"]


def test_two_marks_take_the_finest_ruler_at_hand():
    found = asked(diamond(4), [PLAIN, {**SQUARE_15, "tick": "1/16"}])
    assert (found["two_marks"]["ruler"], found["two_marks"]["tick"]) == ("square", 1 / 16)


@pytest.mark.parametrize("angle, factor", [(60, 1.1547), (45, 1.4142), (30, 2.0)])
def test_the_advance_that_is_marked_is_the_edge(angle, factor):
    # FACTS.md, arithmetic: edge of a diamond from a strip w: 60° × 1.1547, 45° × 1.4142, 30° × 2.
    ruler = {"name": "r", "width": 2, "length": 24, "angles": [{"degrees": angle, "from": "long"}]}
    marked = next(way for way in asked(diamond(3, angle), [ruler])["following"] if way["mark_along"])
    assert marked["mark_along"] == pytest.approx(3 * factor, abs=3 * 5e-5)


# --- Other shapes, other values
# --------------------------------------------------------------------------------------------


def test_a_rectangle_is_cut_by_its_measure_and_any_square_line():
    found = asked({"shape": "rectangle", "size": 3, "length": 5}, [{"name": "plain", "width": 6, "length": 12}])
    best = found["following"][0]
    assert (best["kind"], best["measure"], best["angle_line"]["degrees"], best["angle_line"]["printed"]) == (
        "both_lines",
        5,
        90,
        False,
    )
    assert found["two_marks"] is None


def test_triangles_lean_both_ways():
    found = asked({"shape": "half-diamond", "size": 4, "angle": 60}, [SIX_BY_24])
    assert [kinds(found, step)[0] for step in ("starter", "following", "following_back")] == [
        "angle_line",
        "corner_and_angle",
        "corner_and_angle",
    ]
    forth, back = found["following"][0]["drawing"]["cut"], found["following_back"][0]["drawing"]["cut"]
    assert forth[1][0] > forth[0][0] and back[1][0] < back[0][0]
    assert not found["following"][0]["checks_angle"]


def test_the_generic_rulers_are_taken_where_none_is_given_and_none_where_the_list_is_empty():
    generic = [ruler.name for ruler in GENERIC_RULERS]
    assert [ruler["name"] for ruler in answer({"ask": "rulers", "piece": diamond(4)})["rulers"]] == generic
    none = asked(diamond(4), [])
    assert (none["starter"], none["two_marks"], none["rulers"]) == ([], None, [])
    assert {item["step"] for item in none["lacking"]} == {"strip", "starter", "following"}


def test_the_generic_rulers_are_told_by_measure():
    # A long one, a short one, a square. Common practice, no published source.
    sides = {ruler.name: (ruler.width, ruler.length) for ruler in GENERIC_RULERS}
    assert sides == {"long": (6, 24), "short": (6, 12), "square": (12, 12)}
    lines = [{line.degrees for line in ruler.angles} for ruler in GENERIC_RULERS]
    assert lines == [{30, 45, 60}, {30, 45, 60}, {45}]


def test_where_people_measure_in_centimeters_their_rulers_have_millimeters():
    """A line of 10 cm is one of the ruler's, not a place between two ticks of an inch. The same words give the same
    rulers, exactly."""
    for units, rulers in (("in", GENERIC_RULERS), ("cm", METRIC_RULERS)):
        assert read_rulers(Fields({"rulers": usual(units)["rulers"]})) == rulers
    sides = {ruler.name: (ruler.width * Fraction("2.54"), ruler.length * Fraction("2.54")) for ruler in METRIC_RULERS}
    assert sides == {"long": (15, 60), "short": (15, 30), "square": (30, 30)}
    read = {
        units: answer({"ask": "rulers", "piece": diamond("10 cm"), "rulers": usual(units)["rulers"]})
        for units in ("in", "cm")
    }
    assert [found["strip"][0]["measure_on"]["reads"] for found in read.values()] == ["between", "line"]


def test_my_rulers_are_drawn_to_scale_as_entered():
    told = answer(
        {
            "ask": "my_rulers",
            "rulers": [{**SIX_BY_24, "angles": [{"degrees": 60, "from": "long", "at": 6, "lean": "right"}]}],
        }
    )
    (ruler,) = told["rulers"]
    (start, end) = ruler["strokes"][0]["points"]
    assert start == [6, 0] and end == [pytest.approx(6 + 6 / math.tan(math.pi / 3)), pytest.approx(6)]
    assert [item["name"] for item in answer({"ask": "my_rulers"})["rulers"]] == [ruler.name for ruler in GENERIC_RULERS]


def test_lines_over_90_degrees_are_their_rest_with_the_other_lean():
    def strokes(line):
        return [
            (stroke.start, stroke.end)
            for stroke in printed_lines(Ruler("r", Fraction(6), Fraction(24), angles=(line,)))
        ]

    one, other = (
        AngleLine(Fraction(120), "long", Fraction(5), lean="left"),
        AngleLine(Fraction(60), "long", Fraction(5), lean="right"),
    )
    assert strokes(one) == strokes(other) != strokes(AngleLine(Fraction(60), "long", Fraction(5), lean="left"))


def test_a_ruler_can_be_changed_in_the_middle_of_a_strip():
    # Whatever the rulers, the k-th cut lies at the same place: the advance is the piece's alone.
    places = {
        tuple(round(x, 9) for point in way.drawing.cut for x in point)
        for ruler in GENERIC_RULERS
        for way in ways(Diamond(Fraction(4), Fraction(60)), Fraction(4), [ruler]).following
    }
    assert len(places) == 1
