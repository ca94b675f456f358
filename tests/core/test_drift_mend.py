"""What an angle that is off does to the quilt, and what mends it: against rows and strips built with Shapely."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from matside import answer
from matside.drift import after_trim, row_growth, row_shift, trim
from matside.shapes import Diamond

FIXED = settings(derandomize=True, deadline=None, database=None, max_examples=150)
ANGLES = st.integers(15, 90)
OFF = st.floats(-2, 2)
SIZES = st.integers(2, 40).map(lambda n: Fraction(n, 4))
NOISE = 1e-9


def built_up(finished: float, angle: float, pieces: int, rows: int, planned: float) -> Polygon:
    """Rows of sewn pieces that lean at `angle`, sewn edge to edge; their corners make one patch.

    The rows are joined where the piece's own side ends, so that a patch of so many rows leans as its pieces do.
    """
    edge, slant = finished / math.sin(math.radians(angle)), finished / math.tan(math.radians(angle))
    corners = [
        Polygon([(x, y), (x + edge, y), (x + edge + slant, y + finished), (x + slant, y + finished)])
        for row in range(rows)
        for x, y in [(row * slant + k * edge, row * finished) for k in range(pieces)]
    ]
    return unary_union([corner.buffer(1e-7, join_style="mitre") for corner in corners]).buffer(
        -1e-7, join_style="mitre"
    )


def length_and_shift(patch: Polygon) -> tuple[float, float]:
    """Along the lowest edge, and how far the highest row's left end lies from the lowest one's."""
    low, high = patch.bounds[1], patch.bounds[3]
    foot = sorted(x for x, y in patch.exterior.coords if abs(y - low) < 1e-6)
    top = sorted(x for x, y in patch.exterior.coords if abs(y - high) < 1e-6)
    return foot[-1] - foot[0], top[0] - foot[0]


def test_five_of_seven_and_a_half_inches_at_30_degrees_one_degree_off():
    assert round(row_growth(7.5, 30, 31, 5), 2) == -2.19
    assert round(row_shift(7.5, 30, 31, 5), 2) == -2.54


@settings(FIXED, max_examples=25)
@given(ANGLES, OFF, st.floats(0.5, 8), st.integers(1, 6), st.integers(1, 5))
def test_rows_grow_and_shift_as_they_are_built(angle, off, finished, pieces, rows):
    planned, made = (length_and_shift(built_up(finished, lean, pieces, rows, angle)) for lean in (angle, angle + off))
    # The patch is grown and shrunk by 1e-7 to weld its pieces.
    assert row_growth(finished, angle, angle + off, pieces) == pytest.approx(made[0] - planned[0], abs=1e-5)
    assert row_shift(finished, angle, angle + off, rows) == pytest.approx(made[1] - planned[1], abs=1e-5)


@FIXED
@given(SIZES, ANGLES, OFF)
def test_the_sliver_is_all_that_lies_between_the_old_end_and_the_new_cut(size, angle, off):
    piece, lean = Diamond(size, Fraction(angle)), angle + off
    found, high = trim(piece, lean), float(size)
    old = high / math.tan(math.radians(lean))
    if found is None:
        assert abs(old - high / math.tan(math.radians(angle))) < 2 * NOISE
        return
    (near, _), (far, _) = found.cut
    sliver = Polygon(found.sliver)
    assert far - near == pytest.approx(high / math.tan(math.radians(angle)), abs=NOISE)
    rest = Polygon([(0, 0), (200, 0), (200, high), (old, high)]).difference(
        Polygon([(near, 0), (200, 0), (200, high), (far, high)])
    )
    assert sliver.area == pytest.approx(rest.area, abs=1e-7)
    # The new cut nowhere leaves the cloth, and it starts or ends at a corner of it: no more is lost than must be.
    assert min(near, far - old) == pytest.approx(0, abs=NOISE)
    assert found.widest == pytest.approx(2 * sliver.area / math.dist(*found.cut), rel=1e-6, abs=1e-7)
    assert found.widest_at == ("near_edge" if off < 0 else "far_edge")
    assert found.along == pytest.approx(max(near, far - old), abs=NOISE)


@FIXED
@given(SIZES, ANGLES, OFF, st.integers(4, 160))
def test_the_rest_of_the_strip_gives_as_many_as_lie_in_it(size, angle, off, quarters):
    piece, high = Diamond(size, Fraction(angle)), float(size)
    length, old = quarters / 4, high / math.tan(math.radians(angle + off))
    found = after_trim(piece, angle + off, Fraction(quarters, 4))
    start = max(0.0, old - piece.starter_waste)
    rest = (
        Polygon([(0, 0), (length, 0), (length, high), (old, high)])
        if old < length
        else Polygon([(0, 0), (length, 0), (0, 0)])
    )
    # The buffer is the "same length" of the core with room for floats.
    rest = rest.buffer(1e-7, join_style="mitre")
    lies = [rest.covers(Polygon(piece.outline(k, start))) for k in (found.pieces - 1, found.pieces) if k >= 0]
    assert lies == [True, False][-len(lies) :]


# --- The ask
# ----------------------------------------------------------------------------------------------------------------


def measured(size: float, angle: float, *names: str) -> dict:
    half = math.radians(angle) / 2
    all_of_them = {
        "edge": size / math.sin(2 * half),
        "short_diagonal": size / math.cos(half),
        "long_diagonal": size / math.sin(half),
        "across_1": size,
    }
    return {name: all_of_them[name] for name in names or ("edge", "short_diagonal")}


def checked(size=8, angle=60, lean=60.0, wide=None, **more) -> dict:
    piece = {"shape": "diamond", "size": size, "angle": angle}
    found = answer({"ask": "check", "piece": piece, "measured": measured(wide or size, lean), **more})
    assert found["ok"], found
    return found


def test_a_check_tells_angle_size_rows_and_verdict():
    found = checked(8, 30, 31, across=5, rows=5, tolerance="1/4 in")
    assert (round(found["angle"], 6), round(found["error"], 6), round(found["size"], 6)) == (31, 1, 8)
    assert {name: round(value, 2) for name, value in found["row_error"].items()} == {
        "growth": -2.19,
        "shift": -2.54,
        "by_size": 0,
    }
    assert found["verdict"] == "angle_off"
    assert found["trim"]["widest_at"] == "far_edge"


@pytest.mark.parametrize(
    "lean, wide, more, verdict",
    [
        (60.0, 8, {}, "good"),
        (60.2, 8, {}, "good"),
        (60.3, 8, {}, "angle_off"),
        (60.3, 8, {"across": 3, "rows": 3}, "good"),
        (60.2, 8, {"across": 10, "rows": 10}, "angle_off"),
        (60.2, 8, {"across": 10, "rows": 10, "tolerance": 1}, "good"),
        (60.0, 8.05, {}, "good"),
        (60.0, 8.1, {}, "size_off"),
        (60.0, 8.05, {"across": 10}, "size_off"),
        (58.0, 7.8, {}, "both_off"),
    ],
)
def test_the_verdict_is_judged_in_the_quilt_where_it_is_known(lean, wide, more, verdict):
    assert checked(lean=lean, wide=wide, **more)["verdict"] == verdict


@pytest.mark.parametrize(
    "lean, wide, more, mend, seen",
    [
        (60.0, 8, {"across": 10, "rows": 10}, False, []),
        (61.0, 8, {"across": 10, "rows": 10}, True, ["growth", "shift"]),
        (61.0, 8, {"across": 10}, True, ["growth"]),
        (61.0, 8, {}, True, []),
        (60.1, 8, {"across": 2}, False, []),
        (60.1, 8, {"across": 5}, False, ["growth"]),
        (
            60.02,
            8.1,
            {"across": 10, "rows": 2},
            False,
            ["by_size"],
        ),  # the angle is not off: nothing is trimmed for the size
        (58.0, 7.8, {"rows": 4}, True, ["shift"]),
    ],
)
def test_what_is_worth_a_word_and_a_mend_is_told(lean, wide, more, mend, seen):
    found = checked(lean=lean, wide=wide, **more)
    assert (found["mend"], found["seen"]) == (mend, seen)
    # 1/32 in is the least that is told: common practice, no published source.
    assert seen == [name for name, value in found["row_error"].items() if value is not None and abs(value) >= 1 / 32]


def test_a_row_grows_by_what_its_pieces_are_too_wide_along_it():
    # Pieces 1/10 in too wide at 30° are 1/10 / sin 30° = 1/5 in longer along the row: ten of them, 2 in.
    found = answer(
        {"ask": "check", "piece": {"size": 8, "angle": 30}, "measured": measured(8.1, 30), "across": 10},
    )
    assert found["row_error"]["by_size"] == pytest.approx(2.0)


def test_an_error_below_what_was_measured_is_unsure():
    short, long = 8 / math.cos(math.radians(30)), 16.0
    for off, unsure in ((0.001, True), (0.5, False)):
        found = answer(
            {
                "ask": "check",
                "piece": {"size": 8, "angle": 60},
                "measured": {"short_diagonal": short + off, "long_diagonal": long},
            }
        )
        assert found["unsure"] == unsure == (abs(found["error"]) < found["sure_to"])


def test_rows_and_columns_that_are_not_known_are_left_open():
    assert checked(lean=61)["row_error"] == {"growth": None, "shift": None, "by_size": None}
    assert checked()["strip"] is None and checked()["trim"] is None


def test_the_mend_says_whether_the_strip_still_gives_the_planned_count():
    piece = Diamond(Fraction(8), Fraction(60))
    just = piece.starter_waste + 3 * piece.advance + 0.01
    still, not_any_more = (checked(lean=lean, length_left=just, pieces_left=3)["strip"] for lean in (60.5, 59.5))
    assert (still["lost"], not_any_more["lost"]) == (0, 1)
    assert (still["pieces"], still["enough"]) == (3, True)
    assert (not_any_more["pieces"], not_any_more["planned"], not_any_more["enough"]) == (2, 3, False)
    lost = 8 / math.tan(math.radians(59.5)) - piece.starter_waste
    assert not_any_more["short_by"] == pytest.approx(lost - 0.01, abs=1e-9)
    assert checked(lean=59.5)["trim"]["along"] == pytest.approx(lost)


def test_measures_that_tell_nothing_of_the_angle_say_so():
    # At a right angle an edge and the distance across are the same and stay so for a small turn.
    piece = {"shape": "diamond", "size": 4, "angle": 90}
    found = answer({"ask": "check", "piece": piece, "measured": {"edge": 4, "across_1": 4}})
    assert (found["angle"], found["sure_to"]) == (90, 90)
    sure = answer({"ask": "check", "piece": piece, "measured": {"short_diagonal": 5.65, "long_diagonal": 5.65}})
    assert sure["sure_to"] < 0.5


def test_the_left_hand_trims_the_mirrored_sliver():
    right, left = (checked(lean=59, hand=hand)["trim"]["drawing"] for hand in ("right", "left"))
    assert [[-x, y] for x, y in right["sliver"]] == [pytest.approx(point) for point in left["sliver"]]


def test_before_cutting_only_the_placing_is_needed():
    found = answer({"ask": "check", "piece": {"size": 8, "angle": 60}, "placing": "1/64 in", "tolerance": "1/4 in"})
    assert found["ok"] and found["expected"]["cuts"] == 5 and "verdict" not in found
    assert found["expected"]["cut_error"] == pytest.approx(
        math.degrees(math.sqrt(2) / 64 / Diamond(Fraction(8), Fraction(60)).edge)
    )


@pytest.mark.parametrize(
    "request_, field, code",
    [
        ({}, "measured", "object_missing"),
        ({"measured": {"edge": 4, "short_diagonal": 8}}, "measured.short_diagonal", "diagonal_over_edges"),
        ({"measured": {"edge": "-4 in", "short_diagonal": 4}}, "measured.edge", "length_not_positive"),
        ({"measured": measured(8, 60), "across": 0}, "across", "count_outside"),
        ({"measured": measured(8, 60), "rows": "many"}, "rows", "count_outside"),
        ({"measured": measured(8, 60), "tolerance": 0}, "tolerance", "length_not_positive"),
        ({"measured": measured(8, 60), "placing": 5}, "placing", "placing_too_large"),
        ({"measured": measured(8, 60), "length_left": 0}, "length_left", "length_not_positive"),
        ({"measured": measured(8, 60), "length_left": 20, "pieces_left": 1.5}, "pieces_left", "count_outside"),
        (
            {"measured": measured(8, 60), "piece": {"shape": "rectangle", "size": 4, "length": 4}},
            "piece.shape",
            "choice",
        ),
    ],
)
def test_a_bad_check_is_refused_with_its_field(request_, field, code):
    found = answer({"ask": "check", "piece": {"size": 8, "angle": 60}, **request_})
    assert found["ok"] is False
    assert (found["error"]["field"], found["error"]["code"]) == (field, code)
    assert found["error"]["message"]
