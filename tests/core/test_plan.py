"""Plans against OR-Tools' CP-SAT over all patterns, against a verifier of their layouts,
and against facts of the trade.
"""

import copy
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from all_patterns import best_plan
from amounts import examples, some
from matside import answer, start_search
from matside.fields import Fields
from matside.pieces import read_piece
from verify_layouts import faults

INSTANCES = 200
CUTS = [(18, 20), (9, 20), (10, 10), (5, 5), (9, 42), (18, 42), (36, 42)]


def instance(seed: int) -> dict:
    """A basket of 1 to 6 cloths and 1 to 4 kinds that are needed, from one seed."""
    rng = random.Random(seed)
    sides = [
        rng.choice(CUTS) if rng.random() < 0.6 else (rng.randint(6, 24), rng.randint(6, 42))
        for _ in range(rng.randint(1, 6))
    ]
    counts = {pair: sides.count(pair) for pair in sides}
    cloths = [
        {"id": f"{long} × {wide}", "length": long, "width": wide, "count": n} for (long, wide), n in counts.items()
    ]
    pieces = [piece(rng, i) for i in range(rng.randint(1, 4))]
    return {"ask": "plan", "cloths": cloths, "pieces": pieces, "work": 50_000_000}


def piece(rng: random.Random, i: int) -> dict:
    shape = rng.choice(["diamond", "diamond", "half-diamond", "rectangle"])
    made = {
        "id": f"piece {i}",
        "shape": shape,
        "size": rng.choice([2, 2.5, 3, 3.5, 4, 5, 6, 8]),
        "need": rng.randint(1, 14),
    }
    return {
        **made,
        **({"length": rng.randint(3, 30)} if shape == "rectangle" else {"angle": rng.choice([60, 60, 45, 30])}),
    }


def shapes_of(request: dict) -> list:
    return [read_piece(Fields(piece)) for piece in request["pieces"]]


def areas_of(request: dict) -> dict[str, float]:
    return {piece["id"]: shape.area for piece, shape in zip(request["pieces"], shapes_of(request))}


@pytest.mark.every(2)
@pytest.mark.parametrize("start", some(range(0, INSTANCES, 20), 2))
def test_no_plan_misses_less_or_opens_less(start):
    for seed in range(start, start + 20):
        request = instance(seed)
        found = answer(request)
        sides = [(cloth["length"], cloth["width"], cloth["count"]) for cloth in request["cloths"]]
        missing, opened = best_plan(shapes_of(request), [piece["need"] for piece in request["pieces"]], sides)
        # Areas of pieces go into CP-SAT to a hundred-thousandth of a square inch.
        assert found["proven"] and found["missing_area"] == pytest.approx(missing, abs=1e-4), seed
        assert found["area_opened"] == opened, seed
        assert faults(request, found, areas_of(request)) == [], seed


@settings(max_examples=examples(20, 2), deadline=None, derandomize=True)
@given(st.integers(1000, 10**6))
def test_plans_on_a_small_budget_are_whole_and_their_bounds_true(seed):
    request = {**instance(seed), "work": 1}
    hasty, best = answer(request), answer(instance(seed))
    assert faults(request, hasty, areas_of(request)) == []
    assert (hasty["missing_area"], hasty["area_opened"]) >= (best["missing_area"] - 1e-6, best["area_opened"] - 1e-6)
    if not hasty["proven"]:
        assert hasty["bound"]["missing_area"] <= best["missing_area"] + 1e-6


def many_alike(seed: int) -> dict:
    """Sixty cloths that are alike, and up to 16 kinds that take more than 18 of them, from one seed."""
    rng = random.Random(seed)
    pieces = []
    for i in range(rng.randint(6, 16)):
        shape = rng.choice(["diamond", "rectangle", "half-diamond"])
        made = {
            "id": f"piece {i}",
            "shape": shape,
            "size": rng.choice([2, 2.5, 3, 3.5, 4, 4.5, 5, 6]),
            "need": rng.randint(5, 40),
        }
        pieces.append(
            {**made, **({"length": rng.randint(3, 18)} if shape == "rectangle" else {"angle": rng.choice([60, 45])})}
        )
    cloth = {"id": "a", "length": rng.choice([18, 21]), "width": rng.choice([18, 20, 21]), "count": 60}
    return {"ask": "plan", "cloths": [cloth], "pieces": pieces, "work": 200_000}


@pytest.mark.every(6)
@pytest.mark.parametrize("seed", [48, *some(range(6), 3)])
def test_one_cloth_fewer_than_a_proven_number_never_makes_everything(seed):
    request = many_alike(seed)
    found = answer(request)
    (cloth,) = request["cloths"]
    fewer = {**request, "cloths": [{**cloth, "count": found["area_opened"] / cloth["length"] / cloth["width"] - 1}]}
    assert found["missing_area"] == 0 and not (found["proven"] and answer(fewer)["missing_area"] == 0)


def test_a_basket_of_which_22_cloths_are_enough_is_not_said_to_take_23():
    # A search of three million steps finds them, and the verifier finds nothing wrong with its layouts.
    found = answer(many_alike(48))
    assert not found["proven"] or found["area_opened"] == 22 * 21 * 18


BROKEN = {
    "an overlap": lambda plan: plan["layouts"][0]["strips"][1].update(
        outlines=plan["layouts"][0]["strips"][0]["outlines"]
    ),
    "a piece outside": lambda plan: moved(plan["layouts"][0]["strips"][0], 30),
    "a wrong size": lambda plan: plan["layouts"][0]["strips"][0].update(size=5),
    "a smaller piece": lambda plan: plan["layouts"][0]["strips"][0]["outlines"].__setitem__(
        0, [[0, 0], [1, 0], [1, 1]]
    ),
    "the last piece left out": lambda plan: plan["layouts"][-1]["strips"][-1]["outlines"].pop(),
    "one piece too many told": lambda plan: plan["made"].update(d=plan["made"]["d"] + 1),
    "one strip counted once more": lambda plan: plan["layouts"][0]["strips"][0].update(
        count=plan["layouts"][0]["strips"][0]["count"] + 1
    ),
    "a cloth opened too often": lambda plan: plan["layouts"][0].update(times=9),
    "an area that is not so": lambda plan: plan.update(area_opened=1),
    "strips both ways in one part": lambda plan: plan["layouts"][0]["strips"][0].update(along="width"),
}


def moved(strip: dict, by: float) -> None:
    strip["outlines"] = [[[x + by, y] for x, y in outline] for outline in strip["outlines"]]


@pytest.mark.parametrize("how", BROKEN)
def test_the_verifier_finds_what_is_broken(how):
    request = {
        "ask": "plan",
        "cloths": [{"id": "a", "length": 18, "width": 20, "count": 3}],
        "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 20}],
    }
    plan = answer(request)
    assert faults(request, plan, areas_of(request)) == []
    broken = copy.deepcopy(plan)
    BROKEN[how](broken)
    assert faults(request, broken, areas_of(request)) != []


def test_eleven_full_width_strips_give_the_41_pieces_of_a_throw():
    # Common practice, no published source: eleven full-width 8-inch strips, four to a strip.
    strips = [{"id": "strip", "length": 8, "width": 42, "count": 20}]
    found = answer({"ask": "plan", "cloths": strips, "pieces": [{"id": "d", "size": 8, "angle": 60, "need": 41}]})
    assert found["made"] == {"d": 41} and found["opened"] == {"strip": 11} and found["proven"]
    assert max(strip["count"] for layout in found["layouts"] for strip in layout["strips"]) == 4


def test_pieces_of_a_fabric_come_from_that_fabric_only():
    cloths = [
        {"id": "red", "length": 18, "width": 20, "fabric": "red"},
        {"id": "blue", "length": 18, "width": 20, "fabric": "blue"},
    ]
    found = answer(
        {"ask": "plan", "cloths": cloths, "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 20, "fabric": "red"}]}
    )
    assert found["opened"] == {"red": 1, "blue": 0} and found["missing"] == {"d": 5}


def test_a_one_way_print_keeps_one_direction():
    # 6 in strips along the 20 give two each and along the 18 two each; 4 in strips give 15 along
    # the 18 and 12 along the 20.
    cloth = {"id": "a", "length": 20, "width": 18, "one_way": True, "selvage": "length"}
    found = answer({"ask": "plan", "cloths": [cloth], "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 20}]})
    assert {strip["along"] for layout in found["layouts"] for strip in layout["strips"]} == {"length"}
    assert found["made"] == {"d": 12}
    assert answer(
        {
            "ask": "plan",
            "cloths": [{**cloth, "one_way": False}],
            "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 20}],
        }
    )["made"] == {"d": 15}


def test_one_grain_throughout_can_be_asked_for():
    cloth = {"id": "a", "length": 18, "width": 20, "selvage": "length"}
    pieces = [{"id": "d", "size": 4, "angle": 60, "need": 20}]
    ways = {
        grain: answer({"ask": "plan", "cloths": [cloth], "pieces": pieces, "grain": grain})
        for grain in ("lengthwise", "crosswise")
    }
    assert ways["lengthwise"]["made"] == {"d": 15} and ways["crosswise"]["made"] == {"d": 12}


def test_the_last_strip_ends_where_its_last_piece_does_and_the_rest_stays_whole():
    found = answer(
        {
            "ask": "plan",
            "cloths": [{"id": "a", "length": 18, "width": 20}],
            "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 4}],
        }
    )
    runs = sorted(strip["run"] for strip in found["layouts"][0]["strips"])
    shape = shapes_of({"pieces": [{"size": 4, "angle": 60}]})[0]
    assert runs[0] == pytest.approx(shape.starter_waste + (4 - 3) * shape.advance, abs=1e-9) or len(runs) == 1
    assert found["layouts"][0]["left_whole"]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"pieces": []}, "pieces"),
        ({"pieces": [{"id": "d", "size": 4, "angle": 60, "need": -1}]}, "pieces[0].need"),
        ({"pieces": [{"id": "d", "size": 4, "angle": 60, "need": 100_001}]}, "pieces[0].need"),
        ({"cloths": [{"id": "a", "length": 0, "width": 9}]}, "cloths[0].length"),
        ({"cloths": [{"id": "a", "length": 9, "width": 9, "count": 10_001}]}, "cloths[0].count"),
        ({"cloths": [{"id": "a", "length": 9, "width": 9}] * 2}, "cloths[1].id"),
        ({"cloths": [{"id": str(i), "length": 9, "width": 9} for i in range(1001)]}, "cloths"),
        ({"work": 0}, "work"),
        ({"grain": "sideways"}, "grain"),
    ],
)
def test_bad_input_is_refused_at_its_field(change, field):
    request = {
        "ask": "plan",
        "cloths": [{"id": "a", "length": 18, "width": 20}],
        "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 4}],
    }
    assert answer({**request, **change})["error"]["field"] == field


def test_needs_of_nothing_and_a_thousand_cloths_get_a_clear_answer():
    nothing = answer(
        {
            "ask": "plan",
            "cloths": [{"id": "a", "length": 18, "width": 20}],
            "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 0}],
        }
    )
    assert (
        nothing["proven"] and nothing["made"] == {"d": 0} and nothing["layouts"] == [] and nothing["area_opened"] == 0
    )
    many = [{"id": str(i), "length": 9 + i % 7, "width": 20 + i % 5} for i in range(1000)]
    request = {
        "ask": "plan",
        "cloths": many,
        "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 50}],
        "work": 100_000,
    }
    assert answer(request)["made"] == {"d": 50}


def test_the_search_in_slices_ends_with_the_same_answer():
    request = {**instance(7), "work": 200_000}
    *progress, last = start_search(request)
    assert last == answer(request)
    assert all(
        step["progress"]["bound"]["missing_area"] <= step["progress"]["best"]["missing_area"] + 1e-6
        for step in progress
    )


def test_a_plan_that_is_wanted_as_given_is_laid_out_and_not_searched():
    """As one phone had it, so has the other, though the search prefers another one: strips across instead of along."""
    pieces = [{"id": "d", "shape": "diamond", "size": 4, "angle": 60, "need": 6}]
    cloths = [{"id": "quarter", "length": 18, "width": 20, "count": 3, "selvage": "length"}]
    strip = {"along": "width", "x": 0, "y": 0, "piece": "d", "size": 4, "count": 3}
    start = [{"cloth": "quarter", "length": 18, "width": 20, "times": 1, "division": None, "strips": [strip] * 2}]
    request = {"ask": "plan", "pieces": pieces, "cloths": cloths, "start": start}
    given, better = answer({**request, "as_given": True}), answer(request)
    for found, along in ((given, "width"), (better, "length")):
        assert [[(each["along"], each["count"]) for each in one["strips"]] for one in found["layouts"]] == [
            [(along, 3)] * 2
        ]
        assert found["made"] == {"d": 6} and found["opened"] == {"quarter": 1}
    assert not given["strips_proven"]
