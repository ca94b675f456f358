"""The linear programme of the plan's search, against OR-Tools' GLOP; and the prices it proves bounds with."""

import random

import pytest
from ortools.linear_solver import pywraplp
from test_plan import instance
from test_plan_patterns import drained

from matside.asks.plan import _planner
from matside.fields import Fields
from matside.plan.prices import Book, mixture
from matside.plan.problem import dot
from matside.plan.simplex import Simplex


def by_glop(costs, columns, rights) -> float:
    """The least cost · x with columns · x ≥ rights and x ≥ 0."""
    solver = pywraplp.Solver.CreateSolver("GLOP")
    amounts = [solver.NumVar(0, solver.infinity(), "") for _ in costs]
    for row, right in enumerate(rights):
        solver.Add(sum(column[row] * amount for column, amount in zip(columns, amounts)) >= right)
    solver.Minimize(sum(cost * amount for cost, amount in zip(costs, amounts)))
    assert solver.Solve() == pywraplp.Solver.OPTIMAL
    return solver.Objective().Value()


def by_simplex(costs, columns, rights, dear: float = 1000.0) -> float:
    """The same: the first basis buys every row's lack dearly, and the most helpful column enters until none helps."""
    rows = range(len(rights))
    simplex = Simplex(list(map(float, rights)), [dear] * len(rights), [None] * len(rights))
    units = [(dear, [float(i == row) for i in rows]) for row in rows] + [(0.0, [-float(i == row) for i in rows]) for row in rows]
    known = [*zip(costs, columns), *units]
    for _ in range(500):
        prices = simplex.prices()
        gain, cost, column = min((cost - dot(prices, column), cost, column) for cost, column in known)
        if gain > -1e-9:
            return simplex.cost
        assert simplex.enter("", cost, [(row, number) for row, number in enumerate(column) if number])
    raise AssertionError("no end")


@pytest.mark.parametrize("seed", range(40))
def test_the_least_cost_is_that_of_glop(seed):
    rng = random.Random(seed)
    rows, columns = rng.randint(1, 6), rng.randint(1, 14)
    costs = [rng.randint(1, 30) / 4 for _ in range(columns)]
    numbers = [[float(rng.randint(0, 6)) for _ in range(rows)] for _ in range(columns)] + [[1.0] * rows]
    costs.append(40.0)
    rights = [rng.randint(1, 40) for _ in range(rows)]
    assert by_simplex(costs, numbers, rights) == pytest.approx(by_glop(costs, numbers, rights), rel=1e-9)


def test_a_column_that_only_lowers_nothing_is_refused():
    simplex = Simplex([1.0], [5.0], ["lack"])
    assert not simplex.enter("over", 0.0, [(0, -1.0)])
    assert simplex.cost == 5.0


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


