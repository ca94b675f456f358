"""The whole call of `plan` beside that of CP-SAT over all patterns (patterns and model included), on the tests' 200 baskets.

In plain Python and processor time, which other programs on the machine disturb least.
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

SLOWER_IN_THE_PAGE = 4  # Python compiled to WebAssembly against plain Python
MOST_IN_THE_PAGE = 1000  # milliseconds at the 95th percentile


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median of the ratios, and the 95th percentile of the plan alone."""
    ours, theirs = zip(*map(_timed, range(INSTANCES)))
    ratios = [one / other for one, other in zip(ours, theirs)]
    yield Figure("A plan's time to CP-SAT's, at the median", median(ratios), 1, detail=f"plan {spread(ours)}, CP-SAT {spread(theirs)}")
    late = sorted(ours)[int(0.95 * INSTANCES)]
    yield Figure("A plan in the page, estimated, 95th percentile", late * SLOWER_IN_THE_PAGE, MOST_IN_THE_PAGE, "ms", f"{late:.1f} ms in plain Python")


def _timed(seed: int) -> tuple[float, float]:
    request = instance(seed)
    sides = [(cloth["length"], cloth["width"], cloth["count"]) for cloth in request["cloths"]]
    begun = process_time()
    answer(request)
    between = process_time()
    best_plan(shapes_of(request), [piece["need"] for piece in request["pieces"]], sides)
    return 1000 * (between - begun), 1000 * (process_time() - between)
