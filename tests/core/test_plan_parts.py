"""Parts of the plan's search by themselves, against brute force and CP-SAT."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from amounts import some
from matside import answer
from matside.asks.plan import _planner
from matside.fields import Fields
from matside.plan import alike
from matside.plan.branching import Branching
from matside.plan.opened import Areas
from matside.plan.opening import Opening
from matside.plan.programme import Programme
from matside.plan.tidy import given as given_by
from matside.plan.tidy import strip_count, trimmed
from test_plan import instance
from test_plan_patterns import drained

quick = settings(max_examples=200, deadline=None, derandomize=True, database=None)
cloths = st.lists(st.tuples(st.integers(1, 40), st.integers(0, 5)), min_size=1, max_size=5)


@quick
@given(cloths, st.integers(0, 300))
def test_the_areas_next_to_one_are_those_of_brute_force(sorts, area):
    most, sums = 400, {0}
    for size, count in sorts:
        sums = {total + number * size for total in sums for number in range(count + 1)}
    sums = {total for total in sums if total <= most}
    areas = Areas(sorts, most)
    assert areas.before(area + 1) == max(total for total in sums if total < area + 1)
    later = [total for total in sums if total >= area]
    assert not later or areas.after(area) == min(later)


def problem_of(seed: int):
    """The first group's problem of a random basket with three of each cloth."""
    request = instance(seed)
    request["cloths"] = [{**cloth, "count": 3} for cloth in request["cloths"]]
    planner = _planner(
        Fields({**request, "pieces": [{**piece, "need": 2 * piece["need"]} for piece in request["pieces"]]})
    )
    for _ in planner.run():
        if planner._searches:
            return planner._searches[0].problem
    return None


@pytest.mark.parametrize("aim", ["missing", "area"])
def test_branching_finds_what_cp_sat_finds_over_the_same_patterns(aim):
    compared = 0
    for seed in some(range(40), 2):
        problem = problem_of(seed)
        programme = problem and some_patterns(problem, aim, seed)
        if programme is None:
            continue
        found: list[int] = [int(problem.total) + 1 if aim == "missing" else problem.area(problem.counts) + 1]

        def offer(cutting, problem=problem, found=found):
            missing, area = problem.missing(problem.left(cutting)), problem.area(problem.opened(cutting))
            found.append(int(missing) if aim == "missing" else area)

        branching = Branching(programme, lambda found=found: found[-1] - 1, offer)
        drained(branching.run(10**9))
        least = by_cp_sat(problem, programme, aim)
        if least is not None and branching.complete:
            assert found[-1] == least, seed
            compared += 1
    assert compared >= len(some(range(20), 2))


def some_patterns(problem, aim: str, seed: int) -> Programme | None:
    """A programme of a few patterns of each sort; for aim "area" everything has to be made."""
    rng = random.Random(seed)
    programme = Programme(problem, problem.counts, aim, in_whole=True)
    for sort, cloth in enumerate(problem.sorts):
        near, _ = drained(cloth.patterns.near(problem.weights, 0.0))
        for _, pattern in rng.sample(near, min(len(near), 8)):
            programme.take(sort, pattern)
    return programme if programme.columns else None


def by_cp_sat(problem, programme, aim: str) -> int | None:
    """The least weight missing, or the least area with nothing missing; None where that cannot be."""
    model = cp_model.CpModel()
    times = [model.new_int_var(0, problem.counts[column.sort], "") for column in programme.columns]
    for sort, count in enumerate(problem.counts):
        model.add(sum(number for number, column in zip(times, programme.columns) if column.sort == sort) <= count)
    lacks = [model.new_int_var(0, need if aim == "missing" else 0, "") for need in problem.needs]
    for kind, need in enumerate(problem.needs):
        model.add(
            sum(number * column.pattern.made[kind] for number, column in zip(times, programme.columns)) + lacks[kind]
            >= need
        )
    if aim == "missing":
        # CP-SAT's sums have to stay below 2^63; the weights are exact to a part in a million.
        model.minimize(sum(int(weight) * lack for weight, lack in zip(problem.weights, lacks)))
    else:
        model.minimize(
            sum(problem.sorts[column.sort].area * number for number, column in zip(times, programme.columns))
        )
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return round(solver.objective_value) if solver.solve(model) == cp_model.OPTIMAL else None


def test_strips_of_pieces_that_are_not_needed_are_left_out():
    trims = 0
    for seed in range(60):
        planner = _planner(Fields({**instance(seed), "work": 3_000}))
        for _ in planner.run():
            pass
        for search in planner._searches:
            problem, rng = search.problem, random.Random(seed)
            # Some cloths are cut once more than is needed.
            cutting = [(sort, pattern, times + rng.randint(0, 1)) for sort, pattern, times in search.cutting]
            cut = trimmed(problem, cutting)
            assert problem.missing(problem.left(cut)) == problem.missing(problem.left(cutting)), seed
            told = [
                sum(times * made[kind] for made, times in gives_of(problem, cut)) for kind in range(len(problem.needs))
            ]
            assert all(number >= need - left for number, need, left in zip(told, problem.needs, problem.left(cutting)))
            assert problem.opened(cut) == problem.opened(cutting) and strip_count(cut) <= strip_count(cutting)
            trims += strip_count(cut) < strip_count(cutting)
    assert trims >= 20


def gives_of(problem, cutting):
    return [(given_by(problem.sorts[sort].patterns, pattern), times) for sort, pattern, times in cutting]


def test_a_plan_starts_from_one_with_strips_along_one_side_only():
    """Where many cloths are opened, a small budget finds no more than half of what it finds among fewer
    ways; it is then taken over.
    """
    rng = random.Random(3)
    pieces = [
        {
            "id": str(i),
            "shape": "rectangle",
            "size": rng.randint(8, 30) / 4,
            "length": rng.randint(8, 30) / 4,
            "need": rng.randint(5, 40),
        }
        for i in range(14)
    ]
    cloth = {"id": "a", "length": 20, "width": 24, "count": 400, "selvage": "length"}
    for work in (20_000, 100_000):
        free = answer({"ask": "plan", "cloths": [cloth], "pieces": pieces, "work": work})
        bound_to_one = answer({"ask": "plan", "cloths": [{**cloth, "one_way": True}], "pieces": pieces, "work": work})
        assert (free["missing_area"], free["area_opened"]) <= (
            bound_to_one["missing_area"],
            bound_to_one["area_opened"],
        )


def test_areas_are_known_as_far_as_the_best_plan_opens():
    """A plan that misses less may open more than the first one did; nothing between them is passed over then."""
    planner = _planner(Fields({**instance(5), "work": 3_000}))
    for _ in planner.run():
        pass
    search = planner._searches[0]
    search.area = search.areas.most // 2 + 1
    search._areas = None
    assert search.areas.most == search.area
    search.area = search.problem.area(search.problem.counts)
    assert search.areas.most == search.area
    sizes = [sort.area for sort in search.problem.sorts if sort.count]
    assert search.areas.before(search.area) == search.area - min(sizes)


def begun_search(seed: int):
    """A search that has a first plan which opens less than all cloths."""
    planner = _planner(Fields({**instance(seed), "work": 1}))
    for _ in planner.run():
        pass
    return planner._searches[0]


def hands_over_more_cloth(search) -> None:
    """What a restricted search may find meanwhile: a plan that misses less and opens more."""
    search.missing -= 1.0
    search.area += 1000


def test_sets_that_were_not_looked_at_are_not_said_to_be_impossible(monkeypatch):
    search = begun_search(5)
    search.missing += 5.0
    opening, before = Opening(search), search.area

    def climb(efforts):
        hands_over_more_cloth(search)
        opening._fits = []
        yield

    monkeypatch.setattr(opening, "_climb", climb)
    drained(opening.run())
    assert opening.complete and search.area > before >= opening.least


def test_patterns_that_were_not_listed_are_not_said_to_be_impossible(monkeypatch):
    search = begun_search(5)
    search.missing += 5.0
    search.least_area = 0
    before = search.area

    class Searched(Branching):
        def run(self, last_step):
            hands_over_more_cloth(search)
            self.complete = True
            yield

    def listed(book, programme, goal):
        yield
        return programme

    monkeypatch.setattr(alike, "Branching", Searched)
    monkeypatch.setattr(alike, "near", listed)
    drained(
        alike.Alike(search, None)._branch(
            "area", Programme(search.problem, search.problem.counts, "area", search.missing)
        )
    )
    assert search.area > before == search.least_area
    assert search.book.searched[-1].below == before
