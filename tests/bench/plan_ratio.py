"""The whole call of `plan` beside those of CP-SAT and of HiGHS over all patterns (patterns and model included), on the tests' 200 baskets.

The ratios are taken in plain Python and processor time, which other programs on the machine disturb least; how long a
plan takes in the page is taken there.
"""

import sys
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from statistics import median
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "core"))

from all_patterns import best_plan  # noqa: E402  (the tests' own road to a plan)
from by_highs import best_plan_by_highs  # noqa: E402
from test_plan import INSTANCES, instance, shapes_of  # noqa: E402

from matside import answer  # noqa: E402

from .figures import Figure, spread  # noqa: E402
from .phones import Contexts  # noqa: E402
from .plan_gap import python_page  # noqa: E402

MOST_TO_CP_SAT = 0.2
MOST_TO_HIGHS = 1
MOST_IN_THE_PAGE = 1000  # milliseconds at the 95th percentile
_LATE = int(0.95 * INSTANCES)
IN_THE_PAGE = """async (request) => {
  const begun = performance.now();
  await python.ask(request);
  return performance.now() - begun;
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median of the ratios, and the 95th percentile of the plan alone in the page."""
    ours, cp_sat, highs = zip(*map(_timed, range(INSTANCES)))
    yield _ratio("CP-SAT", MOST_TO_CP_SAT, ours, cp_sat)
    yield _ratio("HiGHS", MOST_TO_HIGHS, ours, highs)
    with python_page(contexts) as page:
        there = sorted(page.evaluate(IN_THE_PAGE, instance(seed)) for seed in range(INSTANCES))
    late, plain = there[_LATE], sorted(ours)[_LATE]
    yield Figure("A plan in the page, 95th percentile", late, MOST_IN_THE_PAGE, "ms", f"{plain:.1f} ms in plain Python; all: {sum(there) / sum(ours):.1f} times as long as there")


def _ratio(name: str, most: float, ours: Sequence[float], theirs: Sequence[float]) -> Figure:
    ratios = sorted(one / other for one, other in zip(ours, theirs))
    told = f"plan {spread(ours)}, {name} {spread(theirs)}; 95th percentile of the ratios {ratios[_LATE]:.2f}, longer for {sum(ratio > 1 for ratio in ratios)} of {INSTANCES}"
    return Figure(f"A plan's time to {name}'s, at the median", median(ratios), most, detail=told)


def _timed(seed: int) -> tuple[float, ...]:
    """Milliseconds for a plan, for CP-SAT and for HiGHS."""
    request = instance(seed)
    sides = [(cloth["length"], cloth["width"], cloth["count"]) for cloth in request["cloths"]]
    needs = [piece["need"] for piece in request["pieces"]]
    times = [process_time()]
    for solve in (lambda: answer(request), lambda: best_plan(shapes_of(request), needs, sides), lambda: best_plan_by_highs(shapes_of(request), needs, sides)):
        solve()
        times.append(process_time())
    return tuple(1000 * (after - before) for before, after in pairwise(times))
