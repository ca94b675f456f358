"""How near a plan for 12 cloths and 6 kinds is to the best that is possible, after the time that
the page searches by default.

Once in the page's own Python, slice by slice as a user's search runs there, by the clock on the wall: what else the
machine does meanwhile makes it worse. And once for the default number of steps, which gives the same on every machine.
The gap is what the plan misses beyond the bound, as a share of all that is needed; or where nothing is, what it opens
beyond it, as a share of that."""

import random
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Page

from host import Host
from matside import answer
from matside.asks.plan import USUAL_WORK
from matside.fields import Fields
from matside.pieces import read_piece
from phone import until
from plain_page import plain_dist

from .figures import Figure
from .phones import Contexts

BASKETS = 24
MILLISECONDS = 2000  # what the page gives a search before it shows the best so far
MOST = 1  # per cent
MOST_OVER = 2  # baskets whose gap may be wider
WIDEST = 2  # per cent, for any of them
CUTS = [(18, 20), (18, 21), (9, 42), (18, 42), (27, 42), (36, 42), (10, 10), (14, 17)]


def basket(seed: int) -> dict:
    """Twelve cloths, half of them of odd sizes, and six kinds of pieces."""
    rng = random.Random(seed)
    cloths = [_cloth(rng, i) for i in range(12)]
    pieces = [_piece(rng, i) for i in range(6)]
    return {"ask": "plan", "cloths": cloths, "pieces": pieces, "work": 1_000_000_000}


# The first and the last progress of a search that is stopped when its time is over, and its
# answer if it came before that.
SEARCH = """async ([request, milliseconds]) => {
  const stopped = new AbortController();
  let first = null;
  let last = null;
  setTimeout(() => stopped.abort(), milliseconds);
  const onProgress = (progress) => { first ??= progress; last = progress; };
  return { answer: await python.search(request, { onProgress, signal: stopped.signal }), first, last };
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The gap at the median and the widest, and how many are wider than it should be, by the clock and by steps."""
    requests = [basket(seed) for seed in range(BASKETS)]
    with python_page(contexts) as page:
        yield from _figures("in the page's default time", [gap(in_the_page(page, request)) for request in requests])
    yield from _figures(f"in {USUAL_WORK} steps", [gap(in_usual_work(request)) for request in requests])


def _figures(where: str, found: list[float]) -> Iterator[Figure]:
    gaps, what = sorted(found), "Gap of plans for 12 cloths and 6 kinds"
    proved = sum(each == 0 for each in gaps)
    told = f"{proved} of {BASKETS} proved best; quarter points {gaps[BASKETS // 4]:.2f} / {gaps[3 * BASKETS // 4]:.2f}"
    yield Figure(f"{what} {where}, at the median", gaps[BASKETS // 2], MOST, "%", told)
    wide = {seed: each for seed, each in enumerate(found) if each > MOST}
    yield Figure(f"{what} {where}, the widest", gaps[-1], WIDEST, "%")
    yield Figure(
        f"{what} {where}, wider than {MOST} %",
        len(wide),
        MOST_OVER,
        "baskets",
        ", ".join(f"{seed}: {each:.2f} %" for seed, each in wide.items()),
    )


@contextmanager
def python_page(contexts: Contexts) -> Iterator[Page]:
    """A page whose `python` is ready and has searched once, so that what follows does not wait
    for code to be compiled.
    """
    with tempfile.TemporaryDirectory() as folder:
        host = Host(plain_dist(Path(folder), "real", real_python=True))
        page = contexts().new_page()
        page.goto(host.url)
        until(page, "document.readyState === 'complete'")
        page.evaluate(
            "async (request) => { window.python = createPython(); await python.ask(request); }",
            {**basket(BASKETS), "work": 100_000},
        )
        yield page
        page.context.close()
        host.stop()


def in_the_page(page: Page, request: dict) -> dict:
    """The first progress, the last one in time, and the answer if it came in time."""
    return page.evaluate(SEARCH, [request, MILLISECONDS])


def in_usual_work(request: dict) -> dict:
    """The same, where the time is a number of steps."""
    before = sum(piece["need"] * read_piece(Fields(piece)).area for piece in request["pieces"])
    return {
        "first": {"best": {"missing_area": before}},
        "last": None,
        "answer": answer({**request, "work": USUAL_WORK}),
    }


def gap(found: dict) -> float:
    """Per cent that the plan of a search may be from the best one."""
    told, needed = found["answer"], found["first"]["best"]["missing_area"]
    if told and told["proven"]:
        return 0.0
    return _gap({"best": told, "bound": told["bound"]} if told else found["last"], needed)


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
