"""The longest time between two steps of a search, on baskets that are hard on it, now and
then asked for its best so far.

What the page wants goes between two steps: as long as one takes, a tap waits. In the page by the clock on the
wall, from one message of the worker's to the next, the first step and those that tell a whole plan counted, in
the quieter of two runs, as other programs on the machine only ever make it longer; and the same in plain
Python, in processor time."""

import json
import random
import sys
from collections.abc import Iterator
from pathlib import Path
from time import process_time

from playwright.sync_api import Page

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "core"))

import many_alike
from matside import bridge
from published import BINS
from published import request as published

from .figures import Figure
from .phones import Contexts
from .plan_gap import python_page

MOST = 100  # milliseconds: a tenth of a second
WORK = 1_000_000  # steps, some seconds in the page
RUNS = 2
OFTEN = 700  # milliseconds from one wish to see the best so far to the next
_EIGHT_KINDS = 194  # a basket of many like cloths; made to sixty cloths and eight kinds below

# The longest times between two steps: the longest of all, and the longest at which a plan was told, with
# how many steps there were.
SEARCH = """async ([request, often]) => {
  const found = { step: 0, plan: 0, steps: 0 };
  let controls = null;
  let last = performance.now();
  const came = (kind) => {
    const now = performance.now();
    found[kind] = Math.max(found[kind], now - last);
    found.steps += 1;
    last = now;
  };
  const onProgress = (progress) => {
    came(progress.plan ? 'plan' : 'step');
    if (progress.plan) controls.goOn();
  };
  const wishes = setInterval(() => controls.pause(), often);
  await python.search(request, { onProgress, onStart: (given) => { controls = given; } });
  clearInterval(wishes);
  came('plan');
  return found;
}"""


def baskets() -> dict[str, dict]:
    """The requests by what they are."""
    found = {
        f"{cloths} unequal cloths, {kinds} kinds": unequal(cloths, kinds)
        for cloths, kinds in ((100, 10), (300, 20), (1000, 50), (1000, 3))
    }
    found["60 like cloths, 8 kinds"] = sixty_alike()
    found |= {name: published(BINS[name]) for name in ("gcut8", "gcut12")}
    return {name: {**request, "work": WORK} for name, request in found.items()}


def unequal(cloths: int, kinds: int) -> dict:
    """Cloths of all sizes from 10 to 45 inches, and so many kinds that are needed."""
    rng = random.Random(1)
    sides = [
        {"id": str(i), "length": rng.randint(40, 180) / 4, "width": rng.randint(40, 180) / 4} for i in range(cloths)
    ]
    return {"ask": "plan", "cloths": sides, "pieces": [_piece(rng, i) for i in range(kinds)]}


def sixty_alike() -> dict:
    """Sixty cloths of four sorts and eight kinds."""
    cloths = [
        {"id": str(i), "length": length, "width": width, "count": 15}
        for i, (length, width) in enumerate(many_alike.CUTS[:4])
    ]
    pieces = [*many_alike.basket(_EIGHT_KINDS)["pieces"], {"id": "one more", "size": 3, "angle": 60, "need": 120}]
    return {"ask": "plan", "cloths": cloths, "pieces": pieces}


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The longest of all baskets, in the page and in plain Python."""
    requests = baskets()
    with python_page(contexts) as page:
        yield _figure("in the page", {name: in_the_page(page, request) for name, request in requests.items()})
    yield _figure("in plain Python", {name: in_plain_python(request) for name, request in requests.items()})


def _figure(where: str, found: dict[str, dict]) -> Figure:
    told = "\n    ".join(
        f"{name}: {each['step']:.0f} ms, with a whole plan told {each['plan']:.0f} ms, {each['steps']} steps"
        for name, each in found.items()
    )
    return Figure(
        f"Longest wait for a step of a search {where}",
        max(max(each["step"], each["plan"]) for each in found.values()),
        MOST,
        "ms",
        told,
    )


def in_the_page(page: Page, request: dict) -> dict:
    """The longest step and the longest that told a plan, in milliseconds, and how many there were."""
    return min(
        (page.evaluate(SEARCH, [request, OFTEN]) for _ in range(RUNS)),
        key=lambda found: max(found["step"], found["plan"]),
    )


def in_plain_python(request: dict) -> dict:
    """The same through the bridge, as the page's worker calls it."""
    found = {"step": 0.0, "plan": 0.0, "steps": 0}
    number = bridge.start_search(json.dumps(request))
    wished, wish, told = process_time(), None, {}
    while "answer" not in told:
        begun = process_time()
        told = json.loads(bridge.next_slice(number, wish))
        now = process_time()
        kind = "step" if "progress" in told and "plan" not in told["progress"] else "plan"
        found[kind] = max(found[kind], 1000 * (now - begun))
        found["steps"] += 1
        wish = "show" if 1000 * (now - wished) > OFTEN else None
        wished = now if wish else wished
    return found


def _piece(rng: random.Random, number: int) -> dict:
    shape = rng.choice(["diamond", "diamond", "half-diamond", "rectangle"])
    made = {"id": f"p{number}", "shape": shape, "size": rng.randint(4, 24) / 4, "need": rng.randint(5, 120)}
    return {
        **made,
        **({"length": rng.randint(4, 40) / 2} if shape == "rectangle" else {"angle": rng.choice([60, 60, 45, 30])}),
    }
