"""Starting the real Python in the page, from the files that ship; and one test for each way of failing to start."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page

from host import Host
from phone import until
from plain_page import plain_dist


@pytest.fixture(scope="module")
def python_host(tmp_path_factory) -> Iterator[Host]:
    """The plumbing with the real Python, on a host that lasts for this module."""
    host = Host(plain_dist(tmp_path_factory.mktemp("python"), "real", real_python=True))
    yield host
    host.stop()


@pytest.fixture
def python_site(python_host: Host) -> Iterator[Host]:
    """The same host, without faults at the end."""
    yield python_host
    python_host.faults.clear()


def started(page: Page, host: Host) -> str:
    """Starts Python and gives the stage it ends in."""
    page.goto(host.url)
    page.evaluate("void (window.python = createPython())")
    return until(page, "['ready', 'failed'].includes(python.stage) && python.stage")


def test_the_core_answers_in_the_page(page: Page, python_site: Host):
    assert started(page, python_site) == "ready"
    found = page.evaluate("python.ask({ask: 'strip', piece: {shape: 'diamond', size: '4 in', angle: 60}, length: 42})")
    assert (found["ok"], found["pieces"]) == (True, 8)  # common practice, no published source


def test_a_refusal_is_an_answer_and_not_an_error(page: Page, python_site: Host):
    assert started(page, python_site) == "ready"
    found = page.evaluate("python.ask({ask: 'strip', piece: {shape: 'diamond', size: '4 1/0', angle: 60}, length: 42})")
    assert (found["ok"], found["error"]["field"]) == (False, "piece.size")


def test_a_plan_is_searched_slice_by_slice(page: Page, python_site: Host):
    assert started(page, python_site) == "ready"
    found = page.evaluate("""async () => {
      const cloth = (id, length, width, count) => ({ id, length, width, count });
      const request = {
        ask: 'plan',
        cloths: [cloth('quarter', 18, 21, 5), cloth('eighth', 9, 21, 3), cloth('square', 10, 10, 9), cloth('scrap', 14.5, 17, 2)],
        pieces: [3, 4, 5, 6].map((size) => ({ id: `${size}`, shape: 'diamond', size, angle: 60, need: 60 / size })),
      };
      const seen = [];
      const answer = await python.search(request, { onProgress: (progress) => seen.push(progress) });
      return { answer, seen: seen.length };
    }""")
    assert found["seen"] > 0
    assert (found["answer"]["ok"], found["answer"]["made"]) == (True, {"3": 20, "4": 15, "5": 12, "6": 10})


def test_nothing_is_fetched_twice_and_nothing_that_does_not_ship(page: Page, python_site: Host):
    python_site.asked.clear()
    assert started(page, python_site) == "ready"
    assert len(python_site.asked) == len(set(python_site.asked))
    assert [name for name in python_site.asked if name and not (python_site.folder / name).exists()] == []


@pytest.mark.every(4)
@pytest.mark.parametrize(
    ("ending", "fault"),
    [
        ("python-worker.js", "missing"),
        ("pyodide.mjs", "missing"),
        ("pyodide.asm.mjs", "missing"),
        ("pyodide.asm.wasm", "missing"),
        ("pyodide.asm.wasm", "cut"),  # a byte that is another may be good code: that the list of files tells
        ("python_stdlib.zip", "missing"),
        ("pyodide-lock.json", "missing"),
        (".whl", "missing"),
        (".whl", "damaged"),
    ],
)
def test_a_start_that_fails_says_so_and_the_page_lives_on(page: Page, python_site: Host, watched, ending, fault):
    watched.expect("")  # the browser and Pyodide complain in many words
    python_site.faults[ending] = fault
    assert started(page, python_site) == "failed"
    assert page.evaluate("python.message") != ""
    assert page.evaluate("document.querySelector('#shown').textContent") == "real"
