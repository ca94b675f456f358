"""The whole call of `plan` beside that of CP-SAT over all patterns (patterns and model included), on the tests' 200 baskets.

The ratio is taken in plain Python and processor time, which other programs on the machine disturb least; how long a
plan takes in the page is taken there.
"""

import sys
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "core"))

from all_patterns import best_plan  # noqa: E402  (the tests' own road to a plan)
from test_plan import INSTANCES, instance, shapes_of  # noqa: E402

from matside import answer  # noqa: E402

from .figures import Figure, spread  # noqa: E402
from .phones import Contexts  # noqa: E402
from .plan_gap import python_page  # noqa: E402

MOST_IN_THE_PAGE = 1000  # milliseconds at the 95th percentile
_LATE = int(0.95 * INSTANCES)
IN_THE_PAGE = """async (request) => {
  const begun = performance.now();
  await python.ask(request);
  return performance.now() - begun;
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median of the ratios, and the 95th percentile of the plan alone in the page."""
    ours, theirs = zip(*map(_timed, range(INSTANCES)))
    ratios = [one / other for one, other in zip(ours, theirs)]
    yield Figure("A plan's time to CP-SAT's, at the median", median(ratios), 1, detail=f"plan {spread(ours)}, CP-SAT {spread(theirs)}")
    with python_page(contexts) as page:
        there = sorted(page.evaluate(IN_THE_PAGE, instance(seed)) for seed in range(INSTANCES))
    late, plain = there[_LATE], sorted(ours)[_LATE]
    yield Figure("A plan in the page, 95th percentile", late, MOST_IN_THE_PAGE, "ms", f"{plain:.1f} ms in plain Python; all: {sum(there) / sum(ours):.1f} times as long as there")


def _timed(seed: int) -> tuple[float, float]:
    request = instance(seed)
    sides = [(cloth["length"], cloth["width"], cloth["count"]) for cloth in request["cloths"]]
    begun = process_time()
    answer(request)
    between = process_time()
    best_plan(shapes_of(request), [piece["need"] for piece in request["pieces"]], sides)
    return 1000 * (between - begun), 1000 * (process_time() - between)
