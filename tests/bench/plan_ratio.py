"""The whole call of `plan` beside those of CP-SAT and of HiGHS over all patterns (patterns and model
included), on the tests' 200 baskets.

CP-SAT is given a plan's three aims, strips included, and ten seconds; beside it, and HiGHS only, the first two. The
ratios are taken in plain Python and processor time, which other programs on the machine disturb least; how long a plan
takes in the page is taken there."""

import sys
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from statistics import median
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "core"))

from all_patterns import best_plan
from by_highs import best_plan_by_highs
from many_alike import best_plan as best_plan_with_strips
from matside import answer
from test_plan import INSTANCES, instance, shapes_of

from .figures import Figure, spread
from .phones import Contexts
from .plan_gap import python_page

MOST_TO_CP_SAT = 0.2
MOST_WITHOUT_STRIPS = 1
SECONDS = 10
MOST_IN_THE_PAGE = 1000  # milliseconds at the 95th percentile
_LATE = int(0.95 * INSTANCES)
IN_THE_PAGE = """async (request) => {
  const begun = performance.now();
  await python.ask(request);
  return performance.now() - begun;
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The medians of the ratios, and the 95th percentile of the plan alone in the page."""
    timed = [_timed(seed) for seed in range(INSTANCES)]
    ours, _, cp_sat, highs = zip(*timed)
    solved = [(plan, strips) for plan, strips, *_ in timed if strips]
    yield _ratio(
        f"CP-SAT, on the {len(solved)} of {INSTANCES} that it solves in {SECONDS} s", MOST_TO_CP_SAT, *zip(*solved)
    )
    yield _ratio("CP-SAT without strips", MOST_WITHOUT_STRIPS, ours, cp_sat)
    yield _ratio("HiGHS without strips", MOST_WITHOUT_STRIPS, ours, highs)
    with python_page(contexts) as page:
        there = sorted(page.evaluate(IN_THE_PAGE, instance(seed)) for seed in range(INSTANCES))
    late, plain = there[_LATE], sorted(ours)[_LATE]
    yield Figure(
        "A plan in the page, 95th percentile",
        late,
        MOST_IN_THE_PAGE,
        "ms",
        f"{plain:.1f} ms in plain Python; all: {sum(there) / sum(ours):.1f} times as long as there",
    )


def _ratio(name: str, most: float, ours: Sequence[float], theirs: Sequence[float]) -> Figure:
    ratios = sorted(one / other for one, other in zip(ours, theirs))
    longer, late = sum(ratio > 1 for ratio in ratios), ratios[int(0.95 * len(ratios))]
    told = f"plan {spread(ours)}, the other {spread(theirs)}; 95th percentile of the ratios {late:.2f}, longer for {longer}"
    return Figure(f"A plan's time to that of {name}, at the median", median(ratios), most, detail=told)


def _timed(seed: int) -> tuple[float, float | None, float, float]:
    """Milliseconds for a plan, for CP-SAT with strips (None where it does not end in time)
    and without, and for HiGHS.
    """
    request = instance(seed)
    sides = [(cloth["length"], cloth["width"], cloth["count"]) for cloth in request["cloths"]]
    needs = [piece["need"] for piece in request["pieces"]]
    times, solved = [process_time()], []
    for solve in (
        lambda: answer(request),
        lambda: solved.append(best_plan_with_strips(request, SECONDS).strips is not None),
        lambda: best_plan(shapes_of(request), needs, sides),
        lambda: best_plan_by_highs(shapes_of(request), needs, sides),
    ):
        solve()
        times.append(process_time())
    plan, strips, *others = (1000 * (after - before) for before, after in pairwise(times))
    return plan, strips if solved == [True] else None, *others
