"""Plans for many like cloths, strips included, beside CP-SAT over all patterns (patterns and
model included), on 200 baskets.

Each is given ten seconds to CP-SAT; what it proves in that time, a plan has to prove as well, in no more time. In plain
Python and processor time. This takes CP-SAT some twenty minutes, as it gives up on more than half of them.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "core"))

from many_alike import BASKETS, Best, basket, best_plan
from matside import answer

from .figures import Figure, spread
from .phones import Contexts

SECONDS = 10
WORK = 2_000_000
_CENT = 0.01  # square inches


@dataclass(frozen=True, slots=True)
class _Both:
    """What is left of a plan once it is compared (200 whole ones would fill the memory), and
    CP-SAT's; times in milliseconds.
    """

    seed: int
    best: Best
    proved: bool
    missing: float
    opened: float
    strips: int
    bound: int
    ours: float
    theirs: float


def measure(_contexts: Contexts) -> Iterator[Figure]:
    """How many a plan leaves open of those that CP-SAT proves, with its strips; and the times."""
    all_of_them = [_timed(seed) for seed in range(BASKETS)]
    compared = [both for both in all_of_them if both.best.strips is not None]
    open_ones = [both for both in compared if not both.proved]
    told = (
        f"CP-SAT proves {len(compared)} of {BASKETS}, a plan {sum(both.proved for both in all_of_them)} in {WORK} steps"
    )
    yield Figure(
        f"Many like cloths: proved by CP-SAT in {SECONDS} s and not by a plan",
        len(open_ones),
        0,
        "baskets",
        f"{told}; {'; '.join(map(_open, open_ones))}",
    )
    slower = [both.seed for both in compared if both.ours > both.theirs]
    times = f"plan {spread(both.ours for both in compared)}, CP-SAT {spread(both.theirs for both in compared)}; longer for baskets {slower}"
    yield Figure(
        "Many like cloths: a plan's time to CP-SAT's, at the median",
        median(both.ours / both.theirs for both in compared),
        1,
        detail=times,
    )
    yield Figure("Many like cloths: a plan takes longer than CP-SAT for", len(slower), 0, "baskets")


def _timed(seed: int) -> _Both:
    request = basket(seed)
    begun = process_time()
    found = answer({**request, "work": WORK})
    between = process_time()
    best = best_plan(request, SECONDS)
    theirs = process_time() - between
    proved, told = (
        found["proven"] and found["strips_proven"],
        [found[name] for name in ("missing_area", "area_opened", "strips", "strips_bound")],
    )
    return _Both(seed, best, proved, *told, 1000 * (between - begun), 1000 * theirs)


def _open(both: _Both) -> str:
    """How far the plan of a basket is from the best one."""
    beyond = [
        ("area missing", both.missing - both.best.missing),
        ("area opened", both.opened - both.best.opened),
        ("strips", both.strips - both.best.strips),
    ]
    what = ", ".join(f"{name} {more:+g}" for name, more in beyond if abs(more) > _CENT)
    return f"{both.seed}: {what or 'the same'}, bound {both.bound} of {both.best.strips} strips"
