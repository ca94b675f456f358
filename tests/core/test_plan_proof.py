"""Proofs of plans by a checker that knows nothing of the search (`check_proof`), and the checker
by proofs that are doctored.
"""

import copy
from collections import Counter
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import all_patterns
from amounts import some
from check_proof import ROUNDING, SECONDS, check
from matside import answer
from matside.asks.plan import _planner
from matside.fields import Fields
from matside.plan import problem
from matside.plan.basket import BasketCloth
from proof_baskets import MOST_KINDS, basket
from proof_cloth import Cuttings, Kind, TooMuch, sides_of

BASKETS = 16
MANY = 500
MOST_UNCHECKED = 0.05


def plans(seeds, work: int, most_kinds: int = MOST_KINDS):
    for seed in seeds:
        request = basket(Random(seed), work, most_kinds)
        yield seed, request, answer(request)


@pytest.mark.long
@pytest.mark.parametrize("start", some(range(0, BASKETS, 4), 2))
def test_what_proven_plans_rest_on_is_confirmed(start):
    seen = Counter()
    for seed, request, found in plans(range(start, start + 4), 60_000):
        verdict = check(request, found, every=True)
        assert verdict.faults == [], seed
        seen.update(proven=found["proven"], claims=verdict.claims, unchecked=len(verdict.unchecked))
    assert seen["proven"] and seen["claims"] and seen["unchecked"] <= MOST_UNCHECKED * seen["claims"]


@pytest.mark.long
def test_there_is_no_false_proof_in_five_hundred_baskets(capsys):
    seen = Counter()
    for seed, request, found in plans(range(10_000, 10_000 + MANY), 400_000):
        verdict = check(request, found, every=True)
        assert verdict.faults == [], seed
        seen.update(verdict.confirmed)
        seen.update(proven=found["proven"], claims=verdict.claims, unchecked=len(verdict.unchecked))
        seen.update(unsure=found["proven"] and bool(verdict.unchecked))
    with capsys.disabled():
        print(f"\n{MANY} baskets, {seen['proven']} plans proven, {seen['unsure']} of these with a claim unchecked")
        print(
            f"{seen['prices']} claims by prices and {seen['search']} by search confirmed, {seen['unchecked']} unchecked after {SECONDS:g} s"
        )
    assert seen["proven"] >= MANY / 4
    assert seen["unchecked"] <= MOST_UNCHECKED * seen["claims"] and seen["unsure"] <= MOST_UNCHECKED * seen["proven"]


def test_without_the_wish_there_is_no_proof():
    request = basket(Random(3), 1000)
    assert "proof" in answer(request) and "proof" not in answer({**request, "proof": False})


# The checker's own measures, by yet another road.


def small_kinds(rng: Random, most: int) -> list[Kind]:
    return [
        Kind(
            Fraction(rng.choice([4, 5, 6, 7, 8]), 2),
            rng.choice([0, 0.5, 1.75]),
            rng.choice([2, 2.25, 3.5, 5]),
            rng.randint(1, 9),
        )
        for _ in range(rng.randint(1, most))
    ]


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(st.randoms(use_true_random=False))
def test_what_a_cloth_is_worth_is_the_best_of_all_its_patterns(rng):
    kinds = small_kinds(rng, 3)
    length, width = rng.randint(10, 30) / 2, rng.randint(10, 44) / 2
    cuttings = Cuttings(Fraction(length), Fraction(width), ("length", "width"), kinds, [True] * len(kinds))
    listed = all_patterns.patterns_of(length, width, [(float(k.size), k.waste, k.advance, k.need) for k in kinds])
    prices = [rng.randint(0, 30) for _ in kinds]
    worths = [sum(p * n for p, n in zip(prices, made)) for made in listed]
    assert cuttings.worth(prices) == max(worths)
    assert cuttings.worth(prices, max(worths)) <= max(worths)
    assert max(worths) == 0 or cuttings.worth(prices, max(worths) - 1) == max(worths)
    least = rng.randint(0, max(worths))
    near = cuttings.near(prices, Fraction(least), 10**6)
    assert {made for made, worth in zip(listed, worths) if worth >= least} <= near
    assert all(any(all(a <= b for a, b in zip(made, other)) for other in listed) for made in near)


@settings(max_examples=40, deadline=None, derandomize=True, database=None)
@given(st.randoms(use_true_random=False), st.sampled_from([("length",), ("width",), ("length", "width")]))
def test_strips_along_some_sides_only_give_what_those_sides_give(rng, sides):
    kinds = small_kinds(rng, 2)
    length, width = rng.randint(10, 24) / 2, rng.randint(10, 30) / 2
    prices = [rng.randint(1, 30) for _ in kinds]
    found = Cuttings(Fraction(length), Fraction(width), sides, kinds, [True] * len(kinds)).worth(prices)
    assert found == max(by_halves(kinds, length, width, sides, prices))


def by_halves(kinds, length, width, sides, prices):
    """What divisions every so many inches, of all that fit these measures, are worth."""
    for divided, across, named in ((length, width, "length"), (width, length, "width")):
        for at in [k / 4 for k in range(int(divided * 4) + 1)]:
            for one in sides:
                for other in sides:
                    first = part(kinds, *((at, across) if one == named else (across, at)))
                    second = part(kinds, *((divided - at, across) if other == named else (across, divided - at)))
                    for x in first:
                        for y in second:
                            yield sum(p * min(a + b, k.need) for p, a, b, k in zip(prices, x, y, kinds))


def part(kinds, run: float, breadth: float):
    return all_patterns._rectangle(run, breadth, [(float(k.size), k.waste, k.advance, k.need) for k in kinds]) or [
        (0,) * len(kinds)
    ]


def test_a_cloth_that_is_too_much_work_is_given_up():
    kinds = [Kind(Fraction(k, 2), 0.5, 1 + k / 7, 40) for k in range(2, 12)]
    cuttings = Cuttings(Fraction(36), Fraction(42), ("length", "width"), kinds, [True] * len(kinds))
    with pytest.raises(TooMuch):
        cuttings.near([1] * len(kinds), Fraction(0), 1000)


@pytest.mark.parametrize(("grain", "selvage", "one_way", "sides"), [
    ("any", None, False, ("length", "width")), ("any", "width", False, ("length", "width")), ("lengthwise", "width", False, ("width",)),
    ("crosswise", "width", False, ("length",)), ("lengthwise", None, False, ()), ("crosswise", None, False, ()), ("any", None, True, ("length",)),
    ("any", "width", True, ("width",)), ("lengthwise", "width", True, ("width",)), ("crosswise", "width", True, ()), ("lengthwise", None, True, ()),
])  # fmt: skip
def test_the_sides_that_strips_may_run_along(grain, selvage, one_way, sides):
    assert sides_of(grain, selvage, one_way) == sides
    assert BasketCloth("a", Fraction(18), Fraction(20), 1, None, selvage, one_way).sides(grain) == sides


def test_weights_are_as_near_to_the_areas_as_the_search_says():
    assert float(ROUNDING) == problem._ROUNDING


# Doctored proofs.


@pytest.fixture(scope="module")
def proven():
    """A proven plan of more sorts of cloth than it opens all of, which rests on prices and on a search."""
    for seed, request, found in plans(range(181, 400), 100_000, 5):
        if found["proven"] and len(found["proof"]) == 1 and found["proof"][0]["by_search"]:
            (group,) = found["proof"]
            verdict, opened = check(request, found, every=True), opened_of(group, found)
            if (
                verdict.confirmed["search"]
                and all(check_needs(request, found))
                and any(n < s["count"] for n, s in zip(opened, group["sorts"]))
            ):
                assert verdict.faults == [] and not verdict.unchecked
                return seed, request, found
    raise AssertionError("no such plan")


def check_needs(request, found) -> list[bool]:
    """Whether the plan's proof takes a claim by prices, and whether it takes one by search."""
    confirmed = check(request, found).confirmed
    return [confirmed["prices"] > 0, confirmed["search"] > 0]


def opened_of(group, plan) -> list[int]:
    return [sum(plan["opened"][cloth] for cloth in sort["cloths"]) for sort in group["sorts"]]


def lower_a_worth(request, group, plan):
    worths = list(group["by_prices"][0]["worths"])
    group["by_prices"][0]["worths"] = [worths[0] - 1, *worths[1:]]


def raise_a_price(request, group, plan):
    group["by_prices"][0]["prices"] = [group["weights"][0] + 1, *group["by_prices"][0]["prices"][1:]]


def take_a_price_below_nothing(request, group, plan):
    group["by_prices"][0]["prices"] = [-1, *group["by_prices"][0]["prices"][1:]]


def enlarge_a_search(request, group, plan):
    group["by_search"][0].update(opened=[sort["count"] for sort in group["sorts"]], missing=group["missing"], area=None)


def say_of_the_plan_that_there_is_none(request, group, plan):
    group["by_search"][0].update(opened=opened_of(group, plan), missing=group["missing"], area=None)


def miss_less(request, group, plan):
    group["missing"] -= 1


def miss_a_piece_more(request, group, plan):
    """A plan that misses one piece more than is needed, and says so throughout."""
    place, name = next((k, name) for k, name in enumerate(group["pieces"]) if plan["made"][name])
    plan["missing"][name] += 1
    group["missing"] += group["weights"][place]


def open_a_cloth_more(request, group, plan):
    place = next(s for s, number in enumerate(opened_of(group, plan)) if number < group["sorts"][s]["count"])
    plan["opened"][group["sorts"][place]["cloths"][0]] += 1


def lower_a_count(request, group, plan):
    group["sorts"][0]["count"] -= 1


def change_a_weight(request, group, plan):
    group["weights"] = [group["weights"][0] + group["weights"][0] // 1000, *group["weights"][1:]]


def leave_out_a_sort(request, group, plan):
    group["sorts"].pop()
    for item in group["by_prices"]:
        item["worths"] = item["worths"][:-1]
    for item in group["by_search"]:
        item["opened"] = item["opened"][:-1]


def put_unlike_cloths_together(request, group, plan):
    group["sorts"][0]["cloths"] += group["sorts"][1]["cloths"]


def leave_out_a_group(request, group, plan):
    plan["proof"].clear()


def tell_a_group_twice(request, group, plan):
    plan["proof"].append(group)


def leave_out_a_worth(request, group, plan):
    group["by_prices"][0]["worths"] = group["by_prices"][0]["worths"][:-1]


DOCTORED = [
    (lower_a_worth, "is worth"), (raise_a_price, "a price is not from 0"), (take_a_price_below_nothing, "a price is not from 0"),
    (enlarge_a_search, "these cloths will do"), (say_of_the_plan_that_there_is_none, "these cloths will do"), (miss_less, "does not weigh that much"),
    (miss_a_piece_more, "will not do with less missing"), (open_a_cloth_more, "will not do with less area"), (lower_a_count, "may be of use"),
    (change_a_weight, "not in proportion"), (leave_out_a_sort, "not in its group"), (put_unlike_cloths_together, "are not alike"),
    (leave_out_a_group, "not in its group"), (tell_a_group_twice, "is in two groups"), (leave_out_a_worth, "is not one of each"),
]  # fmt: skip


@pytest.mark.parametrize(("doctor", "reason"), DOCTORED, ids=[doctor.__name__ for doctor, _ in DOCTORED])
def test_a_doctored_proof_is_rejected_with_the_reason(proven, doctor, reason):
    _, request, found = copy.deepcopy(proven)
    doctor(request, found["proof"][0], found)
    assert any(reason in fault for fault in check(request, found, every=True).faults)


def test_a_proof_without_a_claim_that_it_needs_is_rejected(proven):
    _, request, found = proven
    for kind in ("by_prices", "by_search"):
        without = copy.deepcopy(found)
        without["proof"][0][kind] = []
        assert any("nothing shows" in fault for fault in check(request, without).faults), kind


def test_a_sort_that_was_not_looked_at_is_worth_nothing_to_nobody(proven):
    """A worth of 0 in the place of one that is not known is a claim, and a false one; and none
    known rules out nothing.
    """
    _, request, found = copy.deepcopy(proven)
    (group,) = found["proof"]
    for item in group["by_prices"]:
        item["worths"] = [None] * len(group["sorts"])
    assert any("nothing shows" in fault for fault in check(request, found).faults)
    for item in group["by_prices"]:
        item["worths"] = [0] * len(group["sorts"])
    assert any("is worth" in fault for fault in check(request, found).faults)


def test_a_search_below_an_area_says_nothing_above_it():
    """One claim for all sets below the plan's area proves it; for all sets below a smaller area it does not,
    for a larger one it is false.
    """
    cloths = [{"id": "a", "length": 18, "width": 20, "count": 3}]
    request = {
        "ask": "plan",
        "cloths": cloths,
        "pieces": [{"id": "d", "size": 4, "angle": 60, "need": 40}],
        "proof": True,
    }
    found = answer(request)
    (group,) = found["proof"]
    assert found["area_opened"] == 3 * 360 and found["missing"] == {"d": 0}
    group["by_prices"] = []
    for area, fault in ((1080, None), (720, "nothing shows that 2 of a"), (1081, "these cloths will do")):
        group["by_search"] = [{"opened": [3], "missing": 0, "area": area}]
        faults = check(request, found, every=True).faults
        assert faults == [] if fault is None else any(fault in text for text in faults), area


def test_a_search_that_cannot_be_done_again_in_time_counts_as_unchecked(proven):
    _, request, found = proven
    verdict = check(request, found, seconds=0.0, every=True)
    assert any("search" in name for name in verdict.unchecked) and verdict.faults == []


def test_no_cloth_is_said_to_be_too_small_for_what_fills_it():
    """Beside a hundred thousand squares a small diamond's weight is rounded by more than usual:
    the bounds must hold for both.
    """
    squares = {"id": "b", "shape": "rectangle", "size": 40, "length": 40, "need": 100_000}
    small = {"id": "s", "shape": "diamond", "size": 0.25, "angle": 60, "need": 1}
    cloths = [{"id": str(i), "length": 40, "width": 40, "count": 10_000} for i in range(10)]
    for pieces in ([small, squares], [squares, small]):
        task = _planner(Fields({"cloths": cloths, "pieces": pieces}))._task
        areas = [Fraction(need.shape.area) for need in task.needs]
        assert all(
            Fraction(task.heaviness) * task.quantum * area >= Fraction(weight) * (1 - Fraction(1, 10**12))
            for weight, area in zip(task.weights, areas)
        )
