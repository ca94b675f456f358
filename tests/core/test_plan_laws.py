"""Laws that hold between plans whatever the basket, tried on baskets that Hypothesis makes up.

A plan is better than another where it misses less area, or as little and opens less.
"""

import copy
from collections import Counter
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from matside import answer
from matside.fields import Fields
from matside.pieces import read_piece
from proof_baskets import basket
from test_plan import areas_of
from verify_layouts import faults

TOLD = ("made", "missing", "missing_area", "area_opened", "proven", "strips", "strips_bound", "steps")
SLACK = 1e-6  # square inches
WORK = 20_000
SOME, MANY = 4, 500
EXAMPLES = pytest.mark.parametrize("examples", [SOME, pytest.param(MANY, marks=pytest.mark.long)])


def try_out(examples: int, law, least: int = 0) -> None:
    """Tries a law on so many baskets; it returns whether it had something to say, which it must for
    so many in a hundred of them.

    Half of the baskets or more have few kinds, so that many of their plans are proven.
    """
    seen = Counter()

    @settings(
        max_examples=examples, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck)
    )
    @given(st.integers(0, 2**32), st.sampled_from([3, 6, 20]))
    def holds(seed, most_kinds):
        rng = Random(seed)
        seen[bool(law(rng, {**basket(rng, WORK, most_kinds), "proof": False}))] += 1

    holds()
    assert seen[True] >= least * examples // 100, seen


def figures(plan: dict) -> tuple[float, float]:
    return plan["missing_area"], plan["area_opened"]


def bound(plan: dict) -> tuple[float, float]:
    """What no plan goes below: the least area missing, and the least area opened by those
    that miss no more than this one.
    """
    return figures(plan) if plan["proven"] else (plan["bound"]["missing_area"], plan["bound"]["area_opened"])


def no_worse(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[0] - SLACK or one[0] <= other[0] + SLACK and one[1] <= other[1] + SLACK


def cloths_of(request: dict) -> dict:
    """The request with its cloths as new values that can be changed."""
    return {**request, "cloths": copy.deepcopy(request["cloths"]), "pieces": copy.deepcopy(request["pieces"])}


# Between proven figures.


def between_proven(examples: int, change, least: int = 10) -> None:
    """After a change the plan is no worse than what the change makes of the plan before, where both are proven.

    `change` makes another request of one, with the plan before, and says what that is worth there.
    """

    def law(rng, request):
        before = answer(request)
        if not before["proven"]:
            return False
        other, worth = change(rng, request, before)
        after = answer(other)
        assert not after["proven"] or no_worse(figures(after), worth), (figures(before), worth, figures(after))
        return after["proven"]

    try_out(examples, law, least)


@EXAMPLES
def test_one_cloth_fewer_than_a_proven_number_never_makes_everything(examples):
    """Nor as much as before. That plan need not be proven: its pieces can be counted."""

    def law(rng, request):
        plan = answer(request)
        opened = [cloth for cloth in request["cloths"] if plan["opened"][cloth["id"]]]
        if not plan["proven"] or not opened:
            return False
        one_less = rng.choice(opened)["id"]
        cloths = [{**cloth, "count": plan["opened"][cloth["id"]] - (cloth["id"] == one_less)} for cloth in opened]
        fewer = answer({**request, "cloths": cloths})
        assert fewer["missing_area"] > plan["missing_area"]
        return True

    try_out(examples, law, 25)


@EXAMPLES
def test_more_cloth_never_gives_a_worse_plan(examples):
    def change(rng, request, plan):
        other = cloths_of(request)
        more = rng.choice(other["cloths"])
        if rng.random() < 0.5:
            more["count"] += rng.randint(1, 3)
        else:
            other["cloths"].append({**more, "id": "another", "length": rng.randint(8, 40), "count": 1})
        return other, figures(plan)

    between_proven(examples, change)


@EXAMPLES
def test_larger_cloth_never_gives_a_worse_plan(examples):
    """The same cuttings are possible; the cloths that are opened are larger by so much."""

    def change(rng, request, plan):
        other = cloths_of(request)
        cloth = rng.choice(other["cloths"])
        before = cloth["length"] * cloth["width"]
        cloth[rng.choice(["length", "width"])] += rng.randint(1, 16) / 2
        grown = (cloth["length"] * cloth["width"] - before) * plan["opened"][cloth["id"]]
        return other, (plan["missing_area"], plan["area_opened"] + grown)

    between_proven(examples, change)


@EXAMPLES
def test_fewer_needs_never_give_a_worse_plan(examples):
    """What was made is still made, as far as it is needed."""

    def change(rng, request, plan):
        other = cloths_of(request)
        piece = rng.choice(other["pieces"])
        piece["need"] = rng.randint(0, piece["need"] - 1)
        missing = sum(read_piece(Fields(p)).area * max(0, p["need"] - plan["made"][p["id"]]) for p in other["pieces"])
        return other, (missing, plan["area_opened"])

    between_proven(examples, change)


def one_grain(rng: Random, request: dict) -> dict:
    """The request with cloths of known selvage, for one grain throughout."""
    cloths = [{**cloth, "selvage": rng.choice(["length", "width"]), "one_way": False} for cloth in request["cloths"]]
    return {**request, "cloths": cloths, "grain": rng.choice(["lengthwise", "crosswise"])}


def any_grain(request: dict) -> dict:
    return {**request, "grain": "any"}


def some_one_way(rng: Random, request: dict) -> dict:
    """The request with some cloths of a one-way print."""
    cloths = [
        {**cloth, "selvage": rng.choice(["length", "width", "none"]), "one_way": rng.random() < 0.7}
        for cloth in request["cloths"]
    ]
    return {**request, "cloths": cloths, "grain": rng.choice(["any", "any", "lengthwise"])}


def none_one_way(request: dict) -> dict:
    return {**request, "cloths": [{**cloth, "one_way": False} for cloth in request["cloths"]]}


RESTRICTIONS = pytest.mark.parametrize(
    ("restricted", "lifted"), [(one_grain, any_grain), (some_one_way, none_one_way)], ids=["grain", "one_way"]
)


@EXAMPLES
@RESTRICTIONS
def test_a_lifted_restriction_never_gives_a_worse_plan(examples, restricted, lifted):
    def law(rng, request):
        request = restricted(rng, request)
        before, after = answer(request), answer(lifted(request))
        both = before["proven"] and after["proven"]
        assert not both or no_worse(figures(after), figures(before))
        return both

    try_out(examples, law, 10)


@EXAMPLES
def test_the_order_of_cloths_and_pieces_does_not_change_proven_figures(examples):
    def law(rng, request):
        other = cloths_of(request)
        rng.shuffle(other["cloths"])
        rng.shuffle(other["pieces"])
        one, two = answer(request), answer(other)
        both = one["proven"] and two["proven"]
        assert not both or figures(one) == pytest.approx(figures(two), abs=SLACK)
        return both

    try_out(examples, law, 10)


@EXAMPLES
def test_the_order_of_like_cloths_changes_nothing(examples):
    """Like cloths told one by one and mixed with others, proven or not; the sorts of cloth
    come up in the same order.
    """

    def law(rng, request):
        firsts, others = [], []
        for cloth in request["cloths"]:
            one, *more = [{**cloth, "id": f"{cloth['id']}, {i}", "count": 1} for i in range(cloth["count"])]
            firsts.append(one)
            others += more
        rng.shuffle(others)
        together, apart = answer(request), answer({**request, "cloths": firsts + others})
        assert {name: together[name] for name in TOLD} == {name: apart[name] for name in TOLD}
        return bool(others)

    try_out(examples, law, 30)


# Always.


def same_plans(rng: Random, request: dict) -> list[dict]:
    """Other asks for the same: with other work, or told in another order."""
    turned = {**request, "cloths": request["cloths"][::-1], "pieces": request["pieces"][::-1]}
    return [
        request,
        {**turned, "work": rng.choice([1_000, 2 * WORK])},
        {**request, "work": rng.choice([1, 5_000, 3 * WORK])},
    ]


def test_cloths_that_are_alike_only_under_a_restriction_are_not_taken_for_each_other():
    """With strips along one side only, a cloth of a one-way print and another one of its sides can be cut alike; they
    are two cloths all the same. In this basket a plan was told that cut more cloths of a sort than there are.
    """
    request = basket(Random(225), 2 * WORK, 3)
    turned = {**request, "cloths": request["cloths"][::-1], "pieces": request["pieces"][::-1], "proof": False}
    found = answer(turned)
    assert faults(turned, found, areas_of(turned)) == []


@EXAMPLES
def test_no_plan_beats_the_bound_of_another(examples):
    def law(rng, request):
        asks = same_plans(rng, request)
        plans = [answer(ask) for ask in asks]
        assert [faults(ask, plan, areas_of(ask)) for ask, plan in zip(asks, plans)] == [[]] * len(asks)
        for one in plans:
            for other in plans:
                least_missing, least_opened = bound(other)
                assert one["missing_area"] >= least_missing - SLACK
                assert one["missing_area"] > other["missing_area"] + SLACK or one["area_opened"] >= least_opened - SLACK
        return not all(plan["proven"] for plan in plans)

    try_out(examples, law, 30)


@EXAMPLES
def test_more_work_never_gives_a_worse_plan_or_bound(examples):
    def law(rng, request):
        less, more = (
            answer({**request, "work": work}) for work in sorted(rng.sample([1, 2_000, 6_000, WORK, 3 * WORK], 2))
        )
        assert no_worse(figures(more), figures(less)), (figures(less), figures(more))
        assert all(now >= before - SLACK for now, before in zip(bound(more), bound(less))), (bound(less), bound(more))
        return figures(more) != figures(less) or bound(more) != bound(less)

    try_out(examples, law, 20)


@pytest.mark.long
@EXAMPLES
@RESTRICTIONS
def test_a_lifted_restriction_starts_from_the_restricted_plan(examples, restricted, lifted):
    """With no more work than that took, proven or not: its layouts are cut as well where less is forbidden."""

    def law(rng, request):
        request = restricted(rng, {**request, "work": rng.choice([1, 3_000, WORK])})
        before = answer(request)
        after = answer({**lifted(request), "start": before["layouts"]})
        assert faults(request, before, areas_of(request)) == []
        assert faults(lifted(request), after, areas_of(request)) == []
        assert no_worse(figures(after), figures(before)), (figures(before), figures(after))
        return not after["proven"]

    try_out(examples, law, 30)


def test_a_cloth_that_gives_pieces_of_its_fabric_one_way_only_is_no_stumbling_block():
    """Under a restriction it gives none of them, though it would give pieces of another fabric: it is left out then."""
    sides = {
        "blue": [(19, 27), (20, 9), (9, 42)], "red": [(23, 31), (10, 10), (9, 20), (18, 20), (36, 42)],
        None: [(11, 12.5), (6, 37), (22.5, 18.5), (20, 34)],
    }  # fmt: skip
    cloths = [
        {"id": f"{fabric} {length} {width}", "length": length, "width": width, "count": 1, "fabric": fabric}
        for fabric, pairs in sides.items()
        for length, width in pairs
    ]
    pieces = [
        {"id": "a", "shape": "half-diamond", "size": 6, "angle": 30, "need": 160, "fabric": "red"},
        {"id": "b", "shape": "diamond", "size": 2, "angle": 30, "need": 262},
        {"id": "c", "shape": "diamond", "size": 4, "angle": 60, "need": 12},
    ]
    found = answer({"ask": "plan", "cloths": cloths, "pieces": pieces, "work": 30_000})
    assert all(found["made"][piece["id"]] + found["missing"][piece["id"]] == piece["need"] for piece in pieces)
    assert found["missing"]["b"] == found["missing"]["c"] == 0
