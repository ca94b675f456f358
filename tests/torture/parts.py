"""The long runs: each goes on from what its state says, until so many are done or the time is up."""

import json
import shutil
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from itertools import count

from steps.places import DIST, WORK

from .bare_browser import BareBrowser, BareChromium, BareFirefox
from .kills import Torture, kills_at_writes, random_kills
from .ledger import Ledger
from .state import State

FOLDER = WORK / "torture"
SEED = 1
KILLS = 3_000
FIREFOX_KILLS = 300
INPUTS = 1_000_000
RUNS = 1_000
STEPS = 100
_LOT = 5  # runs of the model between two looks at the clock
_SLICE = 2_000  # inputs tried between two looks at the clock
_CALLS_SLICE = 50_000  # calls: two interpreters are started for each


def kills(state: State, ends: float) -> None:
    """Kills at random moments over several sittings on one profile, whose database is opened again and again."""
    _with_profile(
        state, "kills", ends, lambda torture, done: random_kills(torture, SEED, range(done, KILLS)), watched=False
    )


def firefox(state: State, ends: float) -> None:
    """The same in Firefox."""
    _with_profile(
        state,
        "firefox",
        ends,
        lambda torture, done: random_kills(torture, SEED, range(done, FIREFOX_KILLS)),
        watched=False,
        browser=BareFirefox,
    )


def writes(state: State, ends: float) -> None:
    """Kills at write 1, 2, 3 … of a scripted sitting until none is left."""
    if not state.of("writes").get("over"):
        _with_profile(state, "writes", ends, lambda torture, done: kills_at_writes(torture, count(done)), watched=True)


def _with_profile(
    state: State,
    part: str,
    ends: float,
    work: Callable[[Torture, int], Iterator[int]],
    watched: bool,
    browser: type[BareBrowser] = BareChromium,
) -> None:
    known = state.of(part)
    profile = FOLDER / part
    if not known or known.get("lost"):
        shutil.rmtree(profile, ignore_errors=True)
        known = {}
    ledger = Ledger.of(known["ledger"]) if "ledger" in known else None
    torture = Torture(DIST, profile, watched, ledger, known.get("port", 0), browser)
    done = known.get("done", 0)
    try:
        for number in work(torture, done):
            done = number + 1
            state.keep(part, done=done, ledger=torture.ledger.kept(), port=torture.host.port, lost=torture.ledger.lost)
            if time.monotonic() > ends or torture.ledger.lost:
                return
        state.keep(part, over=True)
    finally:
        torture.close()
        state.keep(
            part, ledger=torture.ledger.kept(), port=torture.host.port, lost=torture.ledger.lost
        )  # what it did last, too


def door(state: State, ends: float) -> None:
    """Made-up requests: an answer to each, never an exception."""
    _inputs(state, "door", ends, _door_slice)


def lengths(state: State, ends: float) -> None:
    """Made-up texts for a length."""
    _inputs(state, "lengths", ends, _lengths_slice)


def copies(state: State, ends: float) -> None:
    """Copies that were changed by chance: taken whole or refused, never an exception."""
    _inputs(state, "copies", ends, _copies_slice)


def calls(state: State, ends: float) -> None:
    """Calls at random into the interpreter that ships and into the whole one: the same of each."""
    _inputs(state, "calls", ends, _calls_slice, many=_CALLS_SLICE)


def _inputs(state: State, part: str, ends: float, tried: Callable[[int, int], list[str]], many: int = _SLICE) -> None:
    """Tries inputs slice by slice, on every processor."""
    with ProcessPoolExecutor() as pool:
        lanes = pool._max_workers
        while (done := state.of(part).get("done", 0)) < INPUTS and time.monotonic() < ends:
            firsts = range(done, min(done + lanes * many, INPUTS), many)
            found = [fault for faults in pool.map(tried, firsts, [many] * len(firsts)) for fault in faults]
            state.keep(part, done=min(firsts[-1] + many, INPUTS), lost=[*state.of(part).get("lost", []), *found])


def _door_slice(first: int, many: int) -> list[str]:
    from fuzzing import door

    return [str(failure) for failure in door.run(SEED, first, many)]


def _lengths_slice(first: int, many: int) -> list[str]:
    from fuzzing import lengths

    return [str(failure) for failure in lengths.run(SEED, first, many)]


def _copies_slice(first: int, many: int) -> list[str]:
    from test_copies import ran

    return [json.dumps(failure) for failure in ran(DIST, SEED, first, many)["failures"]]


def _calls_slice(first: int, many: int) -> list[str]:
    from steps import compared, pythonpart

    return compared.differences(pythonpart.OUT, pythonpart.builtins(), first, many)


def model(state: State, ends: float) -> None:
    """Runs of the model of a sitting, some at a time; each lot is one of its own, by its number."""
    from playwright.sync_api import sync_playwright

    from .model import run

    while (
        (done := state.of("model").get("done", 0)) < RUNS
        and time.monotonic() < ends
        and not state.of("model").get("lost")
    ):
        try:
            with sync_playwright() as playwright:
                run(playwright, DIST, number=done, runs=_LOT, steps=STEPS)
        except Exception as found:  # whatever it is, the steps that led there are told with it
            notes = " ".join(getattr(found, "__notes__", []))
            return state.keep("model", lost=[f"{found!r} {notes}"])
        state.keep("model", done=done + _LOT, lost=[])


PARTS = {
    "writes": writes,
    "kills": kills,
    "firefox": firefox,
    "model": model,
    "door": door,
    "lengths": lengths,
    "copies": copies,
    "calls": calls,
}
