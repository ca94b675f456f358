"""The start: whatever of it is missing or broken, there are words on the screen and a way on."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from broken_functions import DATABASE, ESSENTIAL, YET, breaking, modes, seated, touched
from broken_start import Case, a_number_and_a_cut, started, words_and_a_way_on
from faulty import FAULTS, FaultyHost
from quilter import app_folder

FAR_FROM_THE_START = (".br", ".gz", ".txt", "sw.js")
KEY = (
    "main.js",
    "start/watch.js",
    "words/en.json",
    "facts.json",
    "components/page-frame.js",
    "screens/count.js",
    "screens/mat.js",
)


@pytest.fixture(scope="module")
def host(dist: Path) -> Iterator[FaultyHost]:
    """The distribution with a fault for whoever asks for one."""
    started_host = FaultyHost(dist)
    yield started_host
    started_host.stop()


def files(dist: Path) -> list[str]:
    """Every file that the start touches, by its path in the distribution: all that ships but
    Python, which is started after it.
    """
    found = [path.relative_to(dist).as_posix() for path in sorted(dist.rglob("*")) if path.is_file()]
    return [
        name for name in found if not name.endswith(FAR_FROM_THE_START) and not name.startswith(("py-", "pyodide-"))
    ]


def all_faults(dist: Path) -> list[tuple[str, str]]:
    return [(name, fault) for name in files(dist) for fault in FAULTS]


def a_sample(dist: Path) -> list[tuple[str, str]]:
    """One fault of each file that everything hangs on and of a few others, each kind of fault in its turn."""
    some = [name for place, name in enumerate(files(dist)) if name.endswith(KEY) or place % 97 == 0]
    return [(name, list(FAULTS)[place % 4]) for place, name in enumerate(some)]


def looked_at(browser: Browser, host: FaultyHost, faults: list[tuple[str, str]]) -> list[str]:
    return started(
        browser,
        [Case(f"{name} {fault}", host.visit(name, fault)) for name, fault in faults if name != "index.html"],
        words_and_a_way_on,
    )


def test_a_file_that_is_missing_or_broken_leaves_words_and_a_way_on(browser: Browser, host: FaultyHost, dist: Path):
    assert looked_at(browser, host, a_sample(dist)) == []


@pytest.mark.long
def test_every_fault_of_every_file_leaves_words_and_a_way_on(browser: Browser, host: FaultyHost, dist: Path):
    assert looked_at(browser, host, all_faults(dist)) == []


# --- Functions of the browser ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def seat(host: FaultyHost, dist: Path):
    """Fills a browser so that there is something to count."""
    address = host.visit()
    return lambda page: seated(page, address, app_folder(dist))


@pytest.fixture(scope="module")
def functions(browser: Browser, host: FaultyHost, seat) -> dict[str, str]:
    """Every function of the browser that the page touches by its first cut."""
    return touched(browser, host.visit(), seat)


def without(name: str) -> bool:
    """Whether the mat can do without a function."""
    return name in YET or not (ESSENTIAL.fullmatch(name) or DATABASE.fullmatch(name))


def cases(functions: dict[str, str], host: FaultyHost, at: str = "") -> list[Case]:
    """Every function, broken in every way."""
    return [
        Case(f"{name} {mode}", host.visit() + at, breaking(name, mode))
        for name, how in sorted(functions.items())
        for mode in modes(name, how)
    ]


def test_what_the_page_touches_is_found(functions: dict[str, str]):
    """Of every kind: a function that is called, one that answers later, what is only read, what is made with
    `new`, and what the mat touches.
    """
    expected = {
        "window.fetch": "later",
        "Document.prototype.createElement": "call",
        "Navigator.prototype.language": "read",
        "window.ResizeObserver": "call",
        "LockManager.prototype.request": "later",
    }
    assert {name: functions.get(name) for name in expected} == expected


@pytest.mark.long
def test_a_function_that_the_mat_can_do_without_keeps_neither_a_number_nor_a_cut(
    browser: Browser, host: FaultyHost, functions, seat
):
    spare = {name: how for name, how in functions.items() if without(name)}
    assert started(browser, cases(spare, host, "#cut")[::73], a_number_and_a_cut, seat) == []


@pytest.mark.long
def test_any_function_that_is_broken_leaves_words_and_a_way_on(browser: Browser, host: FaultyHost, functions):
    needed = {name: how for name, how in functions.items() if not without(name)}
    assert started(browser, cases(needed, host)[::97], words_and_a_way_on) == []


@pytest.mark.long
def test_every_function_broken_in_every_way(browser: Browser, host: FaultyHost, functions, seat):
    spare = {name: how for name, how in functions.items() if without(name)}
    needed = {name: how for name, how in functions.items() if not without(name)}
    assert (
        started(browser, cases(spare, host, "#cut"), a_number_and_a_cut, seat)
        + started(browser, cases(needed, host), words_and_a_way_on)
        == []
    )
