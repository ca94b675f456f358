"""How far what is bought is from the least: 1,000 random lists beside CP-SAT over every filling of a
strip, and some in fat quarters.

And how long the whole ask takes in plain Python, processor time.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "core"))

from buying_exact import random_list
from matside import answer
from test_buying_exact import LISTS, quarters_too_many, steps_too_much

from .figures import Figure, spread
from .phones import Contexts

IN_QUARTERS = 100
MOST = 2  # per cent
MOST_TIME = 100  # milliseconds at the 95th percentile


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The share of lists of which too much is bought, off the bolt and in fat quarters, and the
    95th percentile of the time.
    """
    yield _too_much("Lists bought an eighth of a yard or more too much", steps_too_much(range(LISTS)))
    yield _too_much("Lists bought a fat quarter or more too much", quarters_too_many(range(IN_QUARTERS)))
    times = sorted(_time(seed) for seed in range(LISTS))
    yield Figure("The ask for what to buy, 95th percentile", times[int(0.95 * LISTS)], MOST_TIME, "ms", spread(times))


def _too_much(what: str, found: Counter) -> Figure:
    lists = found.total()
    told = ", ".join(f"{number} by {by}" for by, number in sorted(found.items()))
    return Figure(
        what, 100 * sum(number for by, number in found.items() if by) / lists, MOST, "%", f"{lists} lists: {told}"
    )


def _time(seed: int) -> float:
    pieces, width = random_list(seed)
    begun = process_time()
    answer({"ask": "buying", "pieces": pieces, "usable_width": width})
    return 1000 * (process_time() - begun)
