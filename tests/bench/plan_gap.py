"""How near a plan for 12 cloths and 6 kinds is to the best that is possible, after the time that the page searches by default.

The gap is what the plan misses beyond the bound, as a share of all that is needed, or what it opens beyond it, as a share of that.
"""

import random
from collections.abc import Iterator
from time import process_time

from matside import start_search

from .figures import Figure
from .phones import Contexts

BASKETS = 24
SECONDS_IN_THE_PAGE = 2.0
SLOWER_IN_THE_PAGE = 4  # Python compiled to WebAssembly against plain Python
MOST = 1  # per cent
CUTS = [(18, 20), (18, 21), (9, 42), (18, 42), (27, 42), (36, 42), (10, 10), (14, 17)]


def basket(seed: int) -> dict:
    """Twelve cloths, half of them of odd sizes, and six kinds of pieces."""
    rng = random.Random(seed)
    cloths = [_cloth(rng, i) for i in range(12)]
    pieces = [_piece(rng, i) for i in range(6)]
    return {"ask": "plan", "cloths": cloths, "pieces": pieces, "work": 1_000_000_000}


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The gap at the median and the share of baskets that are proved best, in plain Python and its share of the time."""
    gaps = sorted(gap(basket(seed), SECONDS_IN_THE_PAGE / SLOWER_IN_THE_PAGE) for seed in range(BASKETS))
    proved = sum(each == 0 for each in gaps)
    told = f"{proved} of {BASKETS} proved best; quarter points {gaps[BASKETS // 4]:.2f} / {gaps[3 * BASKETS // 4]:.2f}, worst {gaps[-1]:.2f} %"
    yield Figure("Gap of plans for 12 cloths and 6 kinds after the default time, at the median", gaps[BASKETS // 2], MOST, "%", told)


def gap(request: dict, seconds: float) -> float:
    """Per cent that the plan of so many seconds may be from the best one."""
    needed = None
    begun, progress = process_time(), None
    for step in start_search(request):
        if "ok" in step:
            return 0.0 if step["proven"] else _gap({"best": step, "bound": step["bound"]}, needed)
        progress = step["progress"]
        needed = needed or progress["best"]["missing_area"]
        if process_time() - begun > seconds:
            break
    return _gap(progress, needed)


def _gap(progress: dict, needed: float) -> float:
    best, bound = progress["best"], progress["bound"]
    if best["missing_area"] > bound["missing_area"]:
        return 100 * (best["missing_area"] - bound["missing_area"]) / needed
    return 100 * (1 - bound["area_opened"] / best["area_opened"])


def _cloth(rng: random.Random, number: int) -> dict:
    length, width = rng.choice(CUTS)
    if rng.random() < 0.5:
        length, width = length + rng.randint(-4, 8) / 2, width + rng.randint(-4, 4) / 2
    return {"id": str(number), "length": length, "width": width}


def _piece(rng: random.Random, number: int) -> dict:
    shape = rng.choice(["diamond", "diamond", "half-diamond", "rectangle"])
    side = {"length": rng.randint(4, 40) / 2} if shape == "rectangle" else {"angle": rng.choice([60, 60, 45, 30])}
    return {"id": str(number), "shape": shape, "size": rng.randint(4, 12) / 2, **side, "need": rng.randint(5, 40)}
