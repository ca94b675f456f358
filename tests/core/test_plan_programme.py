"""The linear programme of the plan's search, against OR-Tools' GLOP; and the prices it proves bounds with."""

import random

import pytest
from ortools.linear_solver import pywraplp

from matside.asks.plan import _planner
from matside.fields import Fields
from matside.plan.prices import Book, mixture
from matside.plan.simplex import INFINITE, Simplex
from test_plan import instance
from test_plan_patterns import drained


def by_glop(costs, columns, rights, bounds=None, equal=False) -> float | None:
    """The least cost · x with columns · x ≥ rights (or = rights) and x within its bounds; None
    when there is no such x.
    """
    solver = pywraplp.Solver.CreateSolver("GLOP")
    amounts = [
        solver.NumVar(low, min(high, solver.infinity()), "") for low, high in bounds or [(0, INFINITE)] * len(costs)
    ]
    for row, right in enumerate(rights):
        found = sum(column[row] * amount for column, amount in zip(columns, amounts))
        solver.Add(found == right if equal else found >= right)
    solver.Minimize(sum(cost * amount for cost, amount in zip(costs, amounts)))
    return solver.Objective().Value() if solver.Solve() == pywraplp.Solver.OPTIMAL else None


DEAR = 1000.0


def programme(seed: int) -> tuple[list[float], list[tuple], Simplex]:
    """Right sides, columns as (numbers, cost, most), the dear unit columns first, and the same in a simplex."""
    rng = random.Random(seed)
    rows = rng.randint(1, 9)
    rights = [float(rng.randint(0, 60)) for _ in range(rows)]
    columns = [(tuple([float(i == row) for i in range(rows)]), DEAR, INFINITE) for row in range(rows)]
    simplex = Simplex(rights, [DEAR] * rows)
    for _ in range(rng.randint(2, 50)):
        numbers = tuple([float(rng.randint(-1, 5)) if rng.random() < 0.5 else 0.0 for _ in range(rows)])
        columns.append((numbers, float(rng.randint(1, 20)), rng.choice([3.0, 10.0, INFINITE])))
        simplex.add(*columns[-1])
    return rights, columns, simplex


def optimum(simplex: Simplex) -> float:
    for _ in range(2000):
        if not simplex.improve():
            return simplex.cost
    raise AssertionError("no end")


def mended(simplex: Simplex) -> bool:
    for _ in range(2000):
        exchanged = simplex.mend()
        if not exchanged:
            return exchanged is False
    raise AssertionError("no end")


@pytest.mark.every(2)
@pytest.mark.parametrize("start", range(0, 200, 20))
def test_the_least_cost_is_that_of_glop_and_stays_so_as_bounds_change(start):
    mends = 0
    for seed in range(start, start + 20):
        rights, columns, simplex = programme(seed)
        rng, bounds = random.Random(-1 - seed), [(0.0, high) for _, _, high in columns]
        numbers, costs = [column[0] for column in columns], [column[1] for column in columns]
        assert optimum(simplex) == pytest.approx(by_glop(costs, numbers, rights, bounds, equal=True), rel=1e-7), seed
        for _ in range(6):
            fractions = [
                (j, value)
                for j, value in simplex.solution().items()
                if j >= len(rights) and abs(value - round(value)) > 1e-6
            ]
            if not fractions:
                break
            j, value = rng.choice(fractions)
            low, high = bounds[j]
            bounds[j] = (low, float(int(value))) if rng.random() < 0.5 else (float(int(value) + 1), high)
            before = simplex.copy()
            simplex.bound(j, *bounds[j])
            feasible, least = mended(simplex), by_glop(costs, numbers, rights, bounds, equal=True)
            mends += 1
            assert feasible == (least is not None), seed
            if not feasible:
                break
            assert simplex.cost == pytest.approx(least, rel=1e-7), seed
            assert before.high[j] != bounds[j][1] or before.low[j] != bounds[j][0]
    assert mends >= 20


def test_a_basis_that_errors_have_made_useless_is_given_up_for_the_unit_columns():
    """One column twice in the basis, as an exchange at a pivot that is nothing but an error of the floats leaves it."""
    begun_anew = 0
    for seed in range(60):
        rights, columns, simplex = programme(seed)
        least = optimum(simplex)
        places = [place for place, j in enumerate(simplex.basis) if j >= len(rights)]
        if len(places) < 2:
            continue
        kept, lost = places[:2]
        simplex.is_basic[simplex.basis[lost]] = False
        simplex.basis[lost] = simplex.basis[kept]
        simplex._refresh()
        assert simplex.basis == list(range(len(rights))) and simplex.values == rights, seed
        assert optimum(simplex) == pytest.approx(least, rel=1e-7), seed
        begun_anew += 1
    assert begun_anew >= 30


def test_a_pivot_that_may_be_an_error_is_passed_over_where_there_is_a_safe_one():
    simplex = Simplex([1.0], [5.0])
    simplex.add((2e-9,), 0.0)
    simplex.add((1.0,), 11.0)
    simplex.bound(0, 0.0, 0.0)
    assert simplex.mend() and simplex.basis == [2] and simplex.mend() is False


def test_a_column_that_only_lowers_nothing_is_refused():
    simplex = Simplex([1.0], [5.0])
    simplex.add((-1.0,), 0.0)
    assert not simplex.improve() and simplex.cost == 5.0


def test_a_copy_goes_its_own_way():
    simplex = Simplex([4.0], [5.0])
    other = simplex.copy()
    other.add((1.0,), 1.0)
    assert (optimum(simplex), optimum(other)) == (20.0, 4.0)


def problems():
    for seed in range(40):
        planner = _planner(Fields(instance(seed)))
        for _ in planner.run():
            if planner._searches:
                break
        yield from ((seed, search.problem) for search in planner._searches)


def test_mixtures_prove_what_glop_finds_over_all_their_patterns():
    """With every pattern of every cloth as a column GLOP finds the least missing weight; the mixture proves as much."""
    compared = 0
    for seed, problem in problems():
        programme = missing_programme(problem)
        if programme is None:
            continue
        book, counts = Book(problem), problem.counts
        mixed = drained(mixture(book, counts, "missing", float("inf")))
        least = by_glop(*programme) * max(problem.weights)
        compared += 1
        assert mixed.missing == pytest.approx(max(0.0, least), abs=2e-6 * problem.total), seed
        assert book.missing(counts) >= mixed.missing
    assert compared >= 30


def missing_programme(problem):
    """Rows: each kind is made or missing; each sort is used no more often than it is there (both as ≥).

    None where a cloth can be cut in too many ways to list them all.
    """
    kinds, sorts = len(problem.needs), len(problem.sorts)
    heaviest = max(problem.weights)
    costs = [weight / heaviest for weight in problem.weights]
    columns = [[float(i == k) for i in range(kinds + sorts)] for k in range(kinds)]
    for number, sort in enumerate(problem.sorts):
        found, complete = drained(sort.patterns.near(problem.weights, 0.0))
        if not complete:
            return None
        for _, pattern in found:
            costs.append(0.0)
            columns.append([*map(float, pattern.made), *(-float(i == number) for i in range(sorts))])
    return costs, columns, [*problem.needs, *(-count for count in problem.counts)]
