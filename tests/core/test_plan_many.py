"""Many like cloths, strips included, against CP-SAT over all patterns; and CP-SAT against
HiGHS, on which other checks lean.
"""

import pytest

import many_alike
from all_patterns import best_plan
from amounts import some
from by_highs import best_plan_by_highs
from many_alike import BASKETS, basket
from matside import answer
from test_plan import areas_of, instance, shapes_of
from verify_layouts import faults

WORK = 2_000_000
# What CP-SAT proves within ten seconds on two slow processors, strips included; the last line without them.
WITHIN_TEN_SECONDS = [
    *(
        3,
        7,
        8,
        10,
        14,
        15,
        16,
        18,
        19,
        22,
        25,
        28,
        32,
        34,
        36,
        38,
        43,
        44,
        45,
        49,
        50,
        51,
        52,
        55,
        57,
        58,
        59,
        69,
        71,
        72,
        73,
        75,
        85,
    ),
    *(
        86,
        87,
        91,
        95,
        96,
        97,
        98,
        101,
        104,
        105,
        114,
        117,
        121,
        126,
        127,
        129,
        131,
        132,
        133,
        135,
        137,
        139,
        140,
        142,
        147,
        152,
        160,
    ),
    *(161, 162, 165, 166, 167, 168, 170, 172, 176, 181, 182, 183, 185, 186, 187, 189, 191, 194, 196, 197),
    *(29, 63, 92, 107, 151),
]
# Of those, what a plan's search leaves open after so many steps.
LEFT_OPEN = {18, 19, 59, 165}
# A sample for every run: what CP-SAT is quick at, of one to seven kinds.
SAMPLE = [14, 28, 32, 34, 49, 50, 55, 73, 104, 117, 121, 129, 160, 162, 167, 176, 189, 196]
CENT = 0.01  # square inches: areas of pieces go into CP-SAT to a hundred-thousandth, up to 260 of each kind


@pytest.mark.every(3)
@pytest.mark.parametrize("seed", some(SAMPLE, 2))
def test_many_like_cloths_are_proved_strips_included(seed):
    best = many_alike.best_plan(basket(seed))
    found = answer({**basket(seed), "work": WORK})
    assert best.strips is not None
    assert found["proven"] and found["strips_proven"]
    assert_no_other(found, best, seed)


@pytest.mark.parametrize("seed", some([18, 165], 2))
def test_where_the_search_ends_early_bounds_are_true(seed):
    best = many_alike.best_plan(basket(seed))
    assert best.strips is not None
    for work in (1, 20_000, 200_000):
        assert_no_other(answer({**basket(seed), "work": work}), best, seed)


@pytest.mark.long
@pytest.mark.parametrize("start", range(0, BASKETS, 10))
def test_all_baskets_of_many_like_cloths(start):
    for seed in range(start, start + 10):
        known = seed in WITHIN_TEN_SECONDS
        best = many_alike.best_plan(basket(seed), 600 if known else 10)
        found = answer({**basket(seed), "work": WORK})
        assert (best.opened is not None) or not known, seed
        assert (found["proven"] and found["strips_proven"]) or not known or seed in LEFT_OPEN, seed
        assert_no_other(found, best, seed)


def assert_no_other(found: dict, best: many_alike.Best, seed: int) -> None:
    """A plan that is whole, no better than the best one, equal to it where it says that it is
    proved, and true bounds.
    """
    request = basket(seed)
    drawn = {**found, "layouts": [layout for layout in found["layouts"] if layout["drawn"]]}
    assert found["drawn"] and faults(request, drawn, areas_of(request)) == [], seed
    bound = found.get("bound", {"missing_area": found["missing_area"], "area_opened": found["area_opened"]})
    if best.missing is None:
        return
    assert bound["missing_area"] - CENT <= best.missing <= found["missing_area"] + CENT, seed
    if best.opened is None or found["missing_area"] > best.missing + CENT:
        return
    assert bound["area_opened"] - CENT <= best.opened <= found["area_opened"] + CENT, seed
    if best.strips is None or found["area_opened"] > best.opened + CENT:
        return
    assert found["strips_bound"] <= best.strips <= found["strips"], seed
    assert found["strips"] == best.strips or not found["strips_proven"], seed


@pytest.mark.long
@pytest.mark.parametrize("start", some(range(0, 40, 10), 3))
def test_two_solvers_find_the_same_over_all_patterns(start):
    for seed in range(start, start + 10):
        request = instance(seed)
        given = (
            shapes_of(request),
            [piece["need"] for piece in request["pieces"]],
            [(c["length"], c["width"], c["count"]) for c in request["cloths"]],
        )
        assert best_plan_by_highs(*given) == pytest.approx(best_plan(*given), abs=1e-4), seed
