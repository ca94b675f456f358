"""How often to check the angle: against a seeded Monte Carlo that cuts, drifts and sews with NumPy."""

import math
from fractions import Fraction

import numpy as np
import pytest

from matside.drift import PLACING, cut_error, expected
from matside.errors import Refusal
from matside.rulers import expected_drift
from matside.shapes import Diamond, HalfDiamond, Rectangle

TRIES = 40_000
#: A standard deviation from that many tries is known to 1/√(2 · tries) = 0.35 %; four of those, and the bend of 1/sin.
SURE = 0.02


def sewn_rows(
    angle: float, edge: float, finished: float, placing: float, pieces: int, every: int, seed: int = 11
) -> np.ndarray:
    """How much longer each of many sewn rows is than planned.

    Either end of the laid line misses the edge by a normal error; the cut leans by the line through them; each piece
    carries the sum since the last check; the row is the exact sum of finished edges.
    """
    dice = np.random.default_rng(seed)
    near, far = dice.normal(0, placing, (2, TRIES, pieces))
    leans = np.arctan2(far - near, edge)
    for start in range(0, pieces, every):
        leans[:, start : start + every] = np.cumsum(leans[:, start : start + every], axis=1)
    true = math.radians(angle)
    return (finished / np.sin(true + leans) - finished / math.sin(true)).sum(axis=1)


@pytest.mark.parametrize("placing", [Fraction(1, 64), Fraction(1, 32), Fraction(1, 16)])
@pytest.mark.parametrize("angle, size", [(60, 4), (60, 8), (45, 4), (30, 6)])
def test_a_row_stays_within_the_tolerance_in_19_of_20_cases(placing, angle, size):
    edge, finished = size / math.sin(math.radians(angle)), size - 0.5
    found = expected(Fraction(angle), edge, finished, placing, Fraction(1, 4), 10)
    rows = sewn_rows(angle, edge, finished, float(placing), 10, found.cuts)
    # The mean is not quite 0, since 1/sin bends; beyond a placing of 1/32 in that shows.
    assert np.std(rows) == pytest.approx(found.row_error, rel=SURE if placing < 1 / 16 else 3 * SURE)
    off = np.mean(np.abs(rows) > 0.25)
    assert (off < 0.06) == found.enough
    if found.enough and found.cuts < 10:
        more = sewn_rows(angle, edge, finished, float(placing), 10, found.cuts + 1)
        assert np.mean(np.abs(more) > 0.25) > 0.045


def test_one_cut_s_error_by_design():
    # DESIGN.md: one cut's angle error has σ ≈ √2·(placing error)/s.
    dice = np.random.default_rng(3)
    near, far = dice.normal(0, 1 / 32, (2, 400_000))
    assert cut_error(4.6188, 1 / 32) == pytest.approx(np.std(np.arctan((far - near) / 4.6188)), rel=0.005)


def test_several_cuts_with_care_and_fewer_without():
    # Common practice, no published source: the angle is checked after several cuts.
    cuts = [
        expected_drift(Diamond(Fraction(8), Fraction(60)), placing).cuts
        for placing in (Fraction(1, 64), Fraction(1, 32), Fraction(1, 16))
    ]
    assert cuts == sorted(cuts, reverse=True) and cuts[0] == 5 and cuts[-1] == 1


def test_a_wider_tolerance_or_a_shorter_row_never_asks_for_more_checks():
    diamond = Diamond(Fraction(4), Fraction(60))
    by_tolerance = [expected_drift(diamond, tolerance=Fraction(n, 16)).cuts for n in range(1, 17)]
    by_row = [expected_drift(diamond, pieces=n).cuts for n in range(1, 40)]
    assert by_tolerance == sorted(by_tolerance) and by_row == sorted(by_row, reverse=True)


def test_square_cuts_do_not_lengthen_a_row_and_tiny_tolerances_are_out_of_reach():
    assert expected_drift(Rectangle(Fraction(4), Fraction(4))).cuts == 20
    hopeless = expected_drift(Diamond(Fraction(4), Fraction(60)), tolerance=Fraction(1, 64))
    assert (hopeless.cuts, hopeless.enough) == (1, False)
    assert (
        expected_drift(HalfDiamond(Fraction(4), Fraction(60))).cuts
        == expected_drift(Diamond(Fraction(4), Fraction(60))).cuts
    )


@pytest.mark.parametrize("field, values", [("placing", (0, 1)), ("placing", (1, 1)), ("tolerance", (PLACING, 0))])
def test_no_placing_no_tolerance_and_wild_placing_are_refused(field, values):
    placing, tolerance = map(Fraction, values)
    with pytest.raises(Refusal) as refused:
        expected(Fraction(60), 4.6, 3.5, placing, tolerance)
    assert refused.value.field == field
