"""A quilt of about 2,000 pieces: its colours worked out anew, and the whole answer, in plain Python and as
the JSON that the page gets.
"""

import json
from collections.abc import Iterator
from statistics import median
from time import perf_counter

from matside import answer

from .figures import Figure, spread
from .phones import Contexts

MOST = 100  # milliseconds at the median
QUILT = {
    "ask": "quilt",
    "piece": {"size": 2, "angle": 60},
    "target": {"width": 68, "height": 76},
    "fabrics": [{"id": name} for name in ("sand", "sky", "moss", "brick", "night")],
}


def measure(contexts: Contexts) -> Iterator[Figure]:
    """Medians over a dozen seeds of a random colouring; the first answer, which places the pieces, apart."""
    first, found = _timed({**QUILT, "colouring": {"way": "random", "seed": 0}})
    pieces = len(found["drawing"]["pieces"])
    for only, what in (("colours", "only the colours"), ("all", "the whole answer")):
        times = [
            _timed({**QUILT, "only": only, "colouring": {"way": "random", "seed": seed}})[0] for seed in range(1, 13)
        ]
        yield Figure(
            f"A quilt of {pieces} pieces recoloured by the core, {what}",
            median(times),
            MOST,
            "ms",
            f"{spread(times)}; first {first:.0f} ms",
        )


def _timed(request: dict) -> tuple[float, dict]:
    begun = perf_counter()
    found = json.loads(json.dumps(answer(request)))
    return 1000 * (perf_counter() - begun), found
