"""The ask `best_size`: every cliff at its exact place, none between, and the numbers those of the ask `cloth`.

Other roads: the ask `cloth` itself, asked at each size; a count of strips and pieces written out here with nothing of
the core's; thousands of sizes looked at one by one; and the plan, for a basket."""

import math
from fractions import Fraction
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import examples, some
from matside import door
from matside.fields import Fields
from matside.pieces import read_piece
from matside.units import SAME
from matside.wasting.varied import read_varied

DIAMOND = {"shape": "diamond", "size": 4, "angle": 60}
QUARTER = {"kind": "fat_quarter"}
PIECES = [
    DIAMOND,
    {"shape": "diamond", "size": 3, "angle": 45},
    {"shape": "diamond", "size": 3, "angle": 90},
    {"shape": "half-diamond", "size": 3, "angle": 60, "cut": "long"},
    {"shape": "half-diamond", "size": 2.5, "angle": 45, "cut": "short"},
    {"shape": "parallelogram", "size": 2, "across": 3, "angle": 45},
    {"shape": "trapezoid", "size": 3, "seam": 0.25},
    {"shape": "rectangle", "size": 2.5, "length": 5},
]
CLOTHS = [QUARTER, {"length": 9, "width": 42}, {"length": "37 cm", "width": "53 cm"}, {"length": 4, "width": 42}]


def asked(piece: dict, cloth: dict | None = None, **more) -> dict:
    """The answer, which must be one."""
    found = door.answer({"ask": "best_size", "piece": piece, **({"cloth": cloth} if cloth else {}), **more})
    assert found["ok"], found
    return found


def count(piece: dict, cloth: dict, size, way: str = "best") -> int:
    """How many's own number for a size."""
    found = door.answer({"ask": "cloth", "piece": {**piece, "size": size}, "cloth": cloth})
    return found[way]["pieces"]


def step_at(found: dict, size: float) -> dict:
    """The step that a size lies on."""
    return next(step for step in found["steps"] if size <= step["size"] + SAME)


def by_hand(angle: float, size: float, length: float, width: float) -> int:
    """Diamonds from a cloth, whole or divided once: strips one way first, then strips the
    other way from what is left.
    """
    edge, starter, hair = size / math.sin(math.radians(angle)), size / math.tan(math.radians(angle)), 1e-9

    def strip(run: float) -> int:
        return max(0, math.floor((run - starter + hair) / edge))

    best = 0
    for run, across in ((length, width), (width, length)):
        for first in range(int((run + hair) / size) + 1):
            rest = run - first * size
            beside = int((across + hair) / size) * (strip(rest) if rest > 0 else 0)
            best = max(best, first * strip(across) + beside)
    return best


# --- The cliffs -----------------------------------------------------------------------------------------------------


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize(("piece", "cloth"), some(list(product(PIECES, CLOTHS)), 9))
def test_every_cliff_is_the_largest_size_that_still_gives_as_many(piece, cloth):
    found = asked(piece, cloth)
    cliffs = [step for step in found["steps"] if step["cliff"]]
    assert cliffs
    for step in cliffs:
        assert count(piece, cloth, step["size"]) == step["pieces"]
        assert count(piece, cloth, step["size"] + 1e-7) < step["pieces"]
    assert all(
        below["size"] < step["size"] and below["pieces"] > step["pieces"] for below, step in pairwise(found["steps"])
    )


@pytest.mark.every(6)
@pytest.mark.parametrize("cloth", CLOTHS[:3])
@pytest.mark.parametrize("piece", PIECES)
def test_between_two_cliffs_there_is_none(piece, cloth):
    found = asked(piece, cloth)
    low, high = found["from"], found["to"]
    for number in some(range(150), 4):
        size = low + (high - low) * (number + 0.37) / 150
        assert count(piece, cloth, size) == step_at(found, size)["pieces"], size


@settings(max_examples=examples(8, 8), derandomize=True, deadline=None, database=None)
@given(
    st.floats(3, 45),
    st.floats(3, 45),
    st.floats(15, 90),
    st.floats(0.8, 6),
    st.lists(st.floats(0, 1), min_size=20, max_size=20),
)
def test_the_curve_of_any_cloth_is_what_counting_by_hand_finds(length, width, angle, size, places):
    cloth, piece = {"length": length, "width": width}, {"size": size, "angle": angle}
    found = asked(piece, cloth)
    low, high = found["from"], found["to"]
    sizes = [low + (high - low) * place for place in places] + [
        step["size"] for step in found["steps"] if step["cliff"]
    ]
    near = [step["size"] for step in found["steps"]]
    for size in sizes:
        if any(0 < abs(size - cliff) < 1e-6 for cliff in near):
            continue  # nearer than what floats tell apart
        assert by_hand(angle, size, length, width) == step_at(found, size)["pieces"]


@pytest.mark.parametrize("way", ["along_length", "along_width", "best"])
def test_each_way_to_cut_has_its_own_curve(way):
    found = asked(DIAMOND, QUARTER, way=way, **{"from": 1, "to": 12})
    for number in some(range(150), 4):
        size = 1 + 11 * (number + 0.5) / 150
        assert count(DIAMOND, QUARTER, size, way) == step_at(found, size)["pieces"]


def test_a_cliff_is_a_plain_fraction_where_it_is_one():
    # Strips side by side: 18 / n and 20 / n. Squares: nothing else.
    found = asked({"size": 3, "angle": 90}, QUARTER, way="along_length", **{"from": 2, "to": 9})
    sizes = {Fraction(step["size"]).limit_denominator(100) for step in found["steps"] if step["cliff"]}
    assert sizes <= {Fraction(side, n) for side in (18, 20) for n in range(1, 11)}
    assert Fraction(18, 4) in sizes and Fraction(20, 6) in sizes


def test_a_full_width_strip_is_cut_as_wide_as_the_piece():
    found = asked(DIAMOND, {"kind": "full_width_strip", "count": 2})
    for step in found["steps"]:
        assert step["pieces"] == 2 * count(DIAMOND, {"kind": "full_width_strip"}, step["size"])
        shape = read_piece(Fields({**DIAMOND, "size": step["size"]}))
        assert step["share"] == pytest.approx(step["pieces"] * shape.area / (2 * step["size"] * 42))


# --- A whole basket ---------------------------------------------------------------------------------------------------

BASKET = [
    {"id": "a", "length": 18, "width": 20, "count": 2, "fabric": "red", "selvage": "length"},
    {"id": "b", "length": 9, "width": 42, "count": 1, "fabric": "red", "selvage": "length", "one_way": True},
    {"id": "c", "length": 10, "width": 10, "count": 3},
    {"id": "d", "length": 18, "width": 20, "count": 1, "fabric": "red", "selvage": "length"},
]


@pytest.mark.parametrize("fabric, grain", [(None, "any"), ("red", "any"), ("red", "crosswise"), (None, "lengthwise")])
def test_a_basket_gives_what_the_plan_cuts_from_it(fabric, grain):
    piece = {**DIAMOND, **({"fabric": fabric} if fabric else {})}
    found = asked(piece, cloths=BASKET, grain=grain)
    for step in found["steps"][::4]:
        wanted = {"id": "d", **piece, "size": step["size"], "need": step["pieces"]}
        for need, missing in ((step["pieces"], 0), (step["pieces"] + 1, 1)):
            plan = door.answer({"ask": "plan", "pieces": [{**wanted, "need": need}], "cloths": BASKET, "grain": grain})
            assert plan["proven"] and plan["missing"]["d"] == missing


def test_the_total_falls_wherever_one_cloth_falls():
    found = asked(DIAMOND, cloths=BASKET)
    alone = [asked(DIAMOND, cloths=[cloth]) for cloth in BASKET]
    cliffs = sorted({round(step["size"], 9) for one in alone for step in one["steps"] if step["cliff"]})
    assert [step["size"] for step in found["steps"] if step["cliff"]] == pytest.approx(cliffs)
    for step in found["steps"]:
        assert step["pieces"] == sum(step_at(one, step["size"])["pieces"] for one in alone)


# --- What is wasted, and good sizes
# -------------------------------------------------------------------------------------


@pytest.mark.parametrize("piece", PIECES)
def test_what_the_pieces_take_of_the_cloth_follows_from_the_powers_that_are_told(piece):
    found = asked(piece, QUARTER)
    for step in found["steps"]:
        varied, _ = read_varied(Fields(piece))
        exact = step["pieces"] * varied.at(Fraction(step["size"])).area / 360
        told = step["pieces"] * sum(part * step["size"] ** power for power, part in enumerate(found["share_per_piece"]))
        assert step["share"] == pytest.approx(exact) == pytest.approx(told)


@pytest.mark.every(3)
@pytest.mark.parametrize("ruler", ["1/8 in", "1/4 in", "1 mm"])
@pytest.mark.parametrize("piece", PIECES[:5])
def test_a_good_size_can_be_laid_and_uses_more_than_its_neighbors(piece, ruler):
    found = asked(piece, QUARTER, step=ruler)
    line = found["step"]
    laid = [step for step in found["steps"] if step["laid"]]
    for step in laid:
        lines = step["laid"] / line
        assert abs(lines - round(lines)) < 1e-6 and step["laid"] <= step["size"] + SAME
        assert count(piece, QUARTER, step["laid"]) == step["pieces"]
        if step["cliff"]:
            assert count(piece, QUARTER, step["laid"] + line) < step["pieces"]
    can = [step for step in laid if step["pieces"]]
    for place, step in enumerate(can):
        beside = [can[other]["laid_share"] for other in (place - 1, place + 1) if 0 <= other < len(can)]
        assert step["good"] == (place > 0 and step["cliff"] and all(step["laid_share"] > share for share in beside))
    best = found["steps"][found["best"]]
    assert best["good"] and best["laid_share"] == max(step["laid_share"] for step in can if step["good"])
    assert not any(step["good"] for step in found["steps"] if step not in can)


def test_a_size_just_below_a_cliff_wastes_less_than_one_just_above():
    found = asked(DIAMOND, QUARTER)
    for step, above in pairwise(found["steps"]):
        per_piece = sum(part * step["size"] ** power for power, part in enumerate(found["share_per_piece"]))
        assert step["share"] == pytest.approx(step["pieces"] * per_piece)
        assert step["share"] > above["pieces"] * per_piece


# --- Nothing to be had, and bad input
# -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "piece, request_, why",
    [
        (DIAMOND, {"cloth": {"length": 1.5, "width": 40}}, "narrow"),
        (DIAMOND, {"cloth": {"length": 2, "width": 2}}, "short"),
        (DIAMOND, {"cloths": []}, "empty"),
        ({**DIAMOND, "fabric": "blue"}, {"cloths": BASKET}, "empty"),
    ],
)
def test_where_there_is_none_of_any_size_it_is_told_why(piece, request_, why):
    found = asked(piece, **request_)
    assert (found["none"], [step["pieces"] for step in found["steps"]], found["best"]) == (why, [0], None)


GOOD = {"piece": DIAMOND, "cloth": QUARTER}


@pytest.mark.parametrize(
    "wrong, field, code",
    [
        ({"piece": None}, "piece", "object_missing"),
        ({"piece": {**DIAMOND, "size": "4 1/0"}}, "piece.size", "length_over_zero"),
        ({"piece": {"shape": "trapezoid", "size": 2, "base": 6}}, "piece.base", "size_changes_form"),
        ({"cloth": None}, "cloth", "object_missing"),
        ({"cloth": {"kind": "scrap"}}, "cloth.length", "length_missing"),
        ({"cloths": [{"id": "a", "length": 0, "width": 3}]}, "cloths[0].length", "length_not_positive"),
        ({"way": "sideways"}, "way", "choice"),
        ({"grain": "slanted", "cloths": BASKET}, "grain", "choice"),
        ({"from": "1/8 in"}, "from", "piece_too_small"),
        ({"from": 5, "to": 5}, "to", "sizes_backward"),
        ({"step": 0}, "step", "length_not_positive"),
        ({"cloth": {"length": 400, "width": 400}, "from": 0.25, "to": 40}, "from", "sizes_too_many"),
    ],
)
def test_bad_input_is_refused_at_its_field(wrong, field, code):
    error = door.answer({"ask": "best_size", **GOOD, **wrong})["error"]
    assert (error["field"], error["code"]) == (field, code)


def test_it_gives_way_and_tells_how_far_it_is():
    told = [
        step["progress"]["done"]
        for step in door.start_search({"ask": "best_size", "piece": DIAMOND, "cloths": BASKET})
        if "progress" in step
    ]
    assert len(told) >= 3 and told == sorted(told) and told[0] >= 0 and told[-1] <= 1
