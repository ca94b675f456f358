"""What was cut, from what was measured: against corners in the plane, NumPy and brute force."""

import math
from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point

from matside.drift import MEASURES, fitted
from matside.drift.solving import least_squares
from matside.errors import Refusal
from matside.shapes import Diamond

FIXED = settings(derandomize=True, deadline=None, database=None, max_examples=150)
#: Enough measures to settle a diamond: any two that are not both distances across.
ENOUGH = [some for n in range(2, 6) for some in combinations(MEASURES, n) if set(some) != {"across_1", "across_2"}]
NOISE = 1e-9


def measures(size: float, angle: float, other: float | None = None) -> dict[str, float]:
    """What a ruler would show on a parallelogram with corners in the plane; `other` is the second distance across."""
    lean = math.radians(angle)
    along, slanted = (other or size) / math.sin(lean), size / math.sin(lean)
    tip = complex(slanted * math.cos(lean), slanted * math.sin(lean))
    return {
        "edge": (along + abs(tip)) / 2,
        "short_diagonal": abs(tip - along),
        "long_diagonal": abs(tip + along),
        "across_1": tip.imag,
        "across_2": LineString([(-9 * tip.real, -9 * tip.imag), (9 * tip.real, 9 * tip.imag)]).distance(
            Point(along, 0)
        ),
    }


@FIXED
@given(st.floats(1, 20), st.floats(15, 89), st.sampled_from(ENOUGH))
def test_any_measures_that_settle_it_give_the_diamond_back(size, angle, names):
    if angle > 88 and not {"short_diagonal", "long_diagonal"} & set(names):
        return  # near 90° an edge hardly changes with the angle: floats alone move it by more than the noise asked for
    found = fitted({name: value for name, value in measures(size, angle).items() if name in names})
    # By edge and distance alone the angle hangs on the flat top of the sine: floats of 1e-16 become 1e-8 near 90°.
    assert found.angle == pytest.approx(angle, abs=1e-6)
    assert found.size == pytest.approx(size, rel=1e-7)
    assert max(map(abs, found.misses.values())) < 1e-7


@FIXED
@given(
    st.floats(2, 12),
    st.floats(-0.03, 0.03),
    st.floats(30, 85),
    st.sampled_from(["edge", "short_diagonal", "long_diagonal"]),
)
def test_two_distances_that_differ_are_both_found(size, more, angle, third):
    given_measures = measures(size, angle, size * (1 + more))
    found = fitted({name: given_measures[name] for name in ("across_1", "across_2", third)}, wanted=angle + 1)
    assert found.across == pytest.approx((size, size * (1 + more)), rel=1e-7)
    assert found.angle == pytest.approx(angle, abs=1e-5)


def test_of_two_parallelograms_that_fit_alike_the_one_nearer_to_what_was_wanted_is_told():
    # 2 and 2.1875 in across and a diagonal of 2.19 in: by the law of cosines the angle is 20° or, as well, 28.5°.
    given_measures = {
        name: value
        for name, value in measures(2, 20, 2.1875).items()
        if name in ("across_1", "across_2", "short_diagonal")
    }
    sharp, blunter = (fitted(given_measures, wanted) for wanted in (15, 30))
    assert (round(sharp.angle, 3), round(blunter.angle, 1)) == (20, 28.5)
    assert measures(2, blunter.angle, 2.1875)["short_diagonal"] == pytest.approx(given_measures["short_diagonal"])


@pytest.mark.parametrize("edge, short", [(4, 4), (4, 3.9), (4.6188, 4.7), (8, 4.1411)])
def test_the_angle_from_an_edge_and_the_short_diagonal(edge, short):
    # DESIGN.md: θ from edge e and short diagonal p is 2·asin(p / 2e).
    assert fitted({"edge": edge, "short_diagonal": short}).angle == pytest.approx(
        math.degrees(2 * math.asin(short / (2 * edge)))
    )


def test_the_60_degree_diamond_measures_its_own_edge_and_twice_its_size():
    # DESIGN.md: at 60° the short diagonal is the edge and the long diagonal twice the size.
    found = fitted({"edge": 5, "short_diagonal": 5, "long_diagonal": 5 * math.sqrt(3)})
    assert (found.angle, found.size) == (pytest.approx(60), pytest.approx(5 * math.sqrt(3) / 2))


@pytest.mark.parametrize("angle, factor", [(45, 1.4142), (30, 2.0), (60, 1.1547)])
def test_edge_by_strip_width(angle, factor):
    # FACTS.md, arithmetic: edge of a diamond from a strip w: 60° × 1.1547, 45° × 1.4142, 30° × 2.
    assert fitted({"edge": 3 * factor, "across_1": 3}).angle == pytest.approx(angle, abs=0.01)


# --- More measures than needed
# --------------------------------------------------------------------------------------------


@FIXED
@given(
    st.floats(2, 12),
    st.floats(20, 80),
    st.sampled_from([names for names in ENOUGH if len(names) > 2]),
    st.integers(0, 10_000),
)
def test_no_diamond_near_the_fitted_one_fits_better(size, angle, names, seed):
    # Brute force: the least sum of squares is the least among 200 neighbours, near and not so near.
    dice = np.random.default_rng(seed)
    measured = {
        name: value + dice.normal(0, size / 400) for name, value in measures(size, angle).items() if name in names
    }
    found = fitted(measured)
    free = {"across_1", "across_2"} <= set(names)
    best = squares(measured, *found.across, found.angle)
    assert best == pytest.approx(sum(miss**2 for miss in found.misses.values()), rel=1e-6, abs=1e-15)
    for spread in (1e-4, 1e-2):
        for one, two, turn in dice.normal(0, spread, (100, 3)):
            two = two if free else one
            assert (
                best <= squares(measured, found.across[0] + one, found.across[1] + two, found.angle + 10 * turn) + 1e-12
            )


def squares(measured: dict[str, float], x1: float, x2: float, angle: float) -> float:
    modelled = measures(x1, angle, x2)
    return sum((modelled[name] - value) ** 2 for name, value in measured.items())


@pytest.mark.parametrize(
    "names", [("edge", "short_diagonal"), ("short_diagonal", "long_diagonal"), MEASURES], ids="-".join
)
def test_how_sure_the_angle_is(names):
    # Seeded Monte Carlo: 4,000 tries with measures off by 1/64 in; their spread is known to
    # 1/√8000, so 5 % is 4 of those.
    dice, true = np.random.default_rng(7), measures(4, 60)
    tries = [fitted({name: true[name] + dice.normal(0, 1 / 64) for name in names}).angle for _ in range(4000)]
    assert fitted({name: true[name] for name in names}).spread / 64 == pytest.approx(np.std(tries), rel=0.05)


def test_a_step_that_overshoots_is_damped():
    # The textbook case: from 3, Newton's step for atan x = 0 lands at −9.5, and further away each time.
    def arctangent(unknowns):
        return [math.atan(unknowns[0])], [[1 / (1 + unknowns[0] ** 2)]]

    assert least_squares(arctangent, [3.0], -1e9, 1e9)[0] == [pytest.approx(0, abs=1e-9)]


# --- What cannot be
# ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "measured, field, code",
    [
        ({}, "measured", "measures_too_few"),
        ({"edge": 4}, "measured", "measures_too_few"),
        ({"across_1": 4, "across_2": 4}, "measured", "measures_too_few"),
        ({"edge": 4, "short_diagonal": 8}, "measured.short_diagonal", "diagonal_over_edges"),
        ({"edge": 4, "long_diagonal": 9}, "measured.long_diagonal", "diagonal_over_edges"),
        ({"edge": 4, "across_2": 4.1}, "measured.across_2", "across_over_edge"),
        ({"short_diagonal": 4, "across_1": 4}, "measured.across_1", "across_over_diagonal"),
        ({"long_diagonal": 4, "across_1": 5}, "measured.across_1", "across_over_diagonal"),
        ({"short_diagonal": 8, "long_diagonal": 4}, "measured.short_diagonal", "diagonals_swapped"),
        ({"edge": 4, "short_diagonal": 6}, "measured.short_diagonal", "diagonals_swapped"),
        ({"edge": 4, "long_diagonal": 4}, "measured.long_diagonal", "diagonals_swapped"),
        ({"edge": 4, "short_diagonal": 0.1}, "measured", "measured_too_sharp"),
        ({"edge": 4, "short_diagonal": 4, "long_diagonal": 6}, "measured.edge", "measures_disagree"),
    ],
)
def test_measures_that_no_diamond_has_are_refused(measured, field, code):
    with pytest.raises(Refusal) as refused:
        fitted(measured)
    assert (refused.value.field, refused.value.code) == (field, code)


@FIXED
@given(st.dictionaries(st.sampled_from(MEASURES), st.floats(1e-3, 4e4), max_size=5))
def test_whatever_is_measured_ends_in_a_diamond_or_a_refusal(measured):
    try:
        found = fitted(measured)
    except Refusal:
        return
    assert all(map(math.isfinite, (found.angle, found.size, found.spread, *found.misses.values())))
    assert 5 <= found.angle <= 95 and found.size > 0


def test_the_core_s_own_diamond_measures_as_itself():
    diamond = Diamond(Fraction(8), Fraction(60))
    found = fitted(
        {"edge": diamond.edge, "short_diagonal": diamond.short_diagonal, "long_diagonal": diamond.long_diagonal}
    )
    assert (found.angle, found.size) == (pytest.approx(60, abs=NOISE), pytest.approx(8, abs=NOISE))
