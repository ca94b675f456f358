"""Plans for published instances of cutting stock, read as cloths of a one-way print (`published`).

Sources: tests/sources/published_cutting.json names them. What is best known there is for patterns in three stages; a
plan divides a cloth once at the most, and can reach it or fall short of it, never pass it."""

from functools import cache

import pytest

import many_alike
from matside import answer
from one_division import most_area
from published import BINS, ONE_BIN, Instance, request
from test_plan import areas_of
from verify_layouts import faults

# Steps that bring the bound within the most per cent; the rest of the time only proves that little more.
STEPS = dict.fromkeys(BINS, 100000) | dict.fromkeys(("gcut3", "gcut4", "gcut12"), 400000) | {"gcut8": 4_000_000}
LONG_ONES = {"gcut8"}
MOST = 1.0  # per cent between the bins of a plan and its bound
STRIPS_OPEN = ("gcut2", "gcut6")  # CP-SAT does not come to the fewest strips of these
AS_FEW_AS_KNOWN = {"gcut1", "gcut2", "gcut7", "gcut10", "gcut12"}

# Where one division is enough for the most area that is known, with strips along one side or the other.
AS_MUCH_AS_KNOWN = {"2s", "A1s", "STS2s", "OF1", "CHL2s", "CU1", "Hchl4s"}
ENOUGH = 20_000  # steps that prove the area out of one bin of each of them
# What CP-SAT takes more than a second for, and more than a few minutes.
SLOW = {"STS2s", "STS4s", "A3", "A4", "A5"}
TOO_SLOW = {"CHL1s", "CHL6", "CHL7", "Hchl6s", "Hchl7s", "cui2008/1"}
BOTH_WAYS = pytest.mark.parametrize("turned", [False, True], ids=["along", "across"])


def marked(names, long):
    return [pytest.param(name, marks=pytest.mark.long if name in long else ()) for name in names]


def whole(asked: dict, found: dict) -> bool:
    return found["drawn"] and faults(asked, found, areas_of(asked)) == []


@pytest.mark.every(4)
@pytest.mark.parametrize("name", marked(BINS, LONG_ONES))
def test_no_fewer_bins_than_are_known_and_a_bound_within_a_hundredth(name):
    instance = BINS[name]
    asked = {**request(instance), "work": STEPS[name]}
    found = answer(asked)
    bins = found["area_opened"] / instance.bin_area
    bound = found["area_opened"] if found["proven"] else found["bound"]["area_opened"]
    assert whole(asked, found) and found["missing_area"] == 0
    assert bins >= instance.best and (bins == instance.best or name not in AS_FEW_AS_KNOWN)
    assert 100 * (1 - bound / found["area_opened"]) <= MOST


@pytest.mark.long
@pytest.mark.parametrize(
    "name",
    marked(["gcut1", "gcut5", "gcut9", "gcut10", *STRIPS_OPEN, "gcut7"], {"gcut1", "gcut5", *STRIPS_OPEN, "gcut7"}),
)
def test_as_few_bins_as_cp_sat_finds_over_all_patterns(name):
    asked = {**request(BINS[name]), "work": 200_000}
    best, found = many_alike.best_plan(asked, 1800, strips_too=name not in STRIPS_OPEN), answer(asked)
    assert best.missing == found["missing_area"] == 0
    bound = found["area_opened"] if found["proven"] else found["bound"]["area_opened"]
    assert bound <= best.opened == found["area_opened"]
    assert found["strips_bound"] <= (best.strips or found["strips"]) <= found["strips"]


@pytest.mark.every(2)
@pytest.mark.parametrize("name", ONE_BIN)
def test_never_more_area_out_of_one_bin_than_is_known(name):
    instance = ONE_BIN[name]
    made = [area(instance, turned) for turned in (False, True)]
    assert (max(made) == instance.best) if name in AS_MUCH_AS_KNOWN else (max(made) < instance.best)


@pytest.mark.every(3)
@BOTH_WAYS
@pytest.mark.parametrize("name", marked([name for name in ONE_BIN if name not in TOO_SLOW], SLOW))
def test_as_much_area_as_cp_sat_fills_with_one_division(name, turned):
    asked = request(ONE_BIN[name], 1, turned)
    (cloth,) = asked["cloths"]
    kinds = [(piece["size"], piece["length"], piece["need"]) for piece in asked["pieces"]]
    assert area(ONE_BIN[name], turned) == most_area(cloth["length"], cloth["width"], kinds)


@cache
def area(instance: Instance, turned: bool) -> int:
    """What a plan for one bin makes, proved to be the most."""
    asked = {**request(instance, 1, turned), "work": ENOUGH}
    found = answer(asked)
    assert found["proven"] and whole(asked, found)
    return round(instance.area - found["missing_area"])
