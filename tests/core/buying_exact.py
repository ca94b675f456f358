"""The least cloth for a list by another road: every filling that a strip can have, and OR-Tools'
CP-SAT to choose among them.

Nothing here is the core's. The rule is read anew: strips run across the cloth, all pieces of a strip are as wide as
the strip, and lie in it kind by kind, end to end; where a kind is slanted, its run begins and ends with a waste
triangle of its own, or is squared."""

import math
import random

from ortools.linear_solver import pywraplp
from ortools.sat.python import cp_model

from all_patterns import patterns_of

HAIR = 1e-9
#: What shops measure in, in inches.
EIGHTH = 4.5
SIZES = [2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 8]


def run_of(piece: dict, count: int) -> float:
    """How long a run of so many pieces is, from its first corner to its last, by trigonometry."""
    size, angle = piece["size"], math.radians(piece.get("angle", 90))
    if piece["shape"] == "rectangle":
        return count * piece["length"]
    if piece["shape"] == "half-diamond":
        # Triangles head up and head down by turns: each reaches half a base further than the one before.
        tip = angle if piece.get("cut", "short") == "short" else math.pi - angle
        return (count + 1) * size * math.tan(tip / 2)
    return (count * piece.get("across", size) + size * math.cos(angle)) / math.sin(angle)


def fillings(pieces: list[dict], run: float) -> list[tuple[int, ...]]:
    """All fillings of one strip to which no piece can be added; no more of a kind than are needed."""
    found: list[tuple[int, ...]] = []

    def fill(made: tuple[int, ...], room: float) -> None:
        if len(made) == len(pieces):
            if all(
                n == piece["need"] or run_of(piece, n + 1) - (run_of(piece, n) if n else 0) > room + HAIR
                for n, piece in zip(made, pieces, strict=True)
            ):
                found.append(made)
            return
        piece, count = pieces[len(made)], 0
        fill((*made, 0), room)
        while count < piece["need"] and run_of(piece, count + 1) <= room + HAIR:
            count += 1
            fill((*made, count), room - run_of(piece, count))

    fill((), run)
    return found


def fewest(patterns: list[tuple[int, ...]], needs: list[int], seconds: float = 60) -> int:
    """The fewest patterns, each as often as one likes, that together give all pieces."""
    model = cp_model.CpModel()
    times = [model.new_int_var(0, max(needs), "") for _ in patterns]
    for k, need in enumerate(needs):
        model.add(sum(made[k] * variable for made, variable in zip(patterns, times, strict=True)) >= need)
    # True of every solution, and CP-SAT is long in finding it out.
    model.add(sum(times) >= math.ceil(fewest_in_parts(patterns, needs) - 1e-6))
    model.minimize(sum(times))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    if solver.solve(model) != cp_model.OPTIMAL:
        raise RuntimeError("CP-SAT did not finish: take a smaller list")
    return round(solver.objective_value)


def fewest_in_parts(patterns: list[tuple[int, ...]], needs: list[int]) -> float:
    """The same where a pattern may be taken in parts: no whole number is below it."""
    solver = pywraplp.Solver.CreateSolver("GLOP")
    times = [solver.NumVar(0, solver.infinity(), "") for _ in patterns]
    for k, need in enumerate(needs):
        solver.Add(sum(made[k] * variable for made, variable in zip(patterns, times, strict=True) if made[k]) >= need)
    solver.Minimize(sum(times))
    if solver.Solve() != pywraplp.Solver.OPTIMAL:
        raise RuntimeError("a piece is in no pattern")
    return solver.Objective().Value()


def fewest_strips(pieces: list[dict], run: float) -> int:
    """The fewest strips of one width that give all pieces; each of them must fit in a strip."""
    return fewest(fillings(pieces, run), [piece["need"] for piece in pieces])


def fewest_quarters(pieces: list[dict], length: float, width: float) -> int:
    """The fewest fat quarters of these sides that give all pieces, by all patterns of the
    plan's rule; each must fit in one.
    """
    kinds = [
        (piece["size"], 2 * run_of(piece, 1) - run_of(piece, 2), run_of(piece, 2) - run_of(piece, 1), piece["need"])
        for piece in pieces
    ]
    return fewest(patterns_of(length, width, kinds), [piece["need"] for piece in pieces])


def least_length(pieces: list[dict], run: float) -> float:
    """The least length of cloth for a list, without straightening."""
    sizes = {piece["size"] for piece in pieces}
    return sum(size * fewest_strips([piece for piece in pieces if piece["size"] == size], run) for size in sizes)


def steps_of(length: float, straighten: float = 1.0) -> int:
    """How many eighths of a yard are bought for a length."""
    return math.ceil((length + straighten) / EIGHTH - HAIR)


def random_list(seed: int) -> tuple[list[dict], int]:
    """A list of 2 to 6 kinds in at most three widths, slanted and straight, and the usable width
    of its cloth, from one seed.
    """
    rng = random.Random(seed)
    sizes, width = rng.sample(SIZES, rng.choice([1, 1, 2, 3])), rng.choice([36, 40, 42, 42, 43, 44])
    pieces = [random_piece(rng, f"piece {i}", rng.choice(sizes)) for i in range(rng.randint(2, 6))]
    return [piece for piece in pieces if run_of(piece, 1) <= width], width


def random_piece(rng: random.Random, name: str, size: float) -> dict:
    """A piece of a width: a diamond, half of one, a parallelogram or a straight one, and how many are needed."""
    shape = rng.choice(["diamond", "diamond", "half-diamond", "parallelogram", "rectangle", "rectangle", "rectangle"])
    piece = {"id": name, "shape": shape, "size": size, "need": rng.choice([rng.randint(1, 12), rng.randint(5, 60)])}
    if shape == "rectangle":
        return {**piece, "length": rng.choice([size, rng.randint(6, 72) / 2, rng.randint(24, 280) / 8])}
    leaning = {**piece, "angle": rng.choice([60, 60, 60, 45, 30])}
    if shape == "parallelogram":
        return {**leaning, "across": rng.choice([2, 3, 4.5, 6])}
    return {**leaning, **({"cut": rng.choice(["short", "short", "long"])} if shape == "half-diamond" else {})}
