"""From a keystroke in the size's field, and from a tap on another cloth, to the new number on the screen, Python's share
included. Taps are measured on a processor four times slower; it is the page's own that is slowed."""

from collections.abc import Iterator
from statistics import median

from playwright.sync_api import Page

from host import Host
from phone import until
from steps.places import DIST

from .figures import Figure, spread
from .guides import open_count
from .phones import Contexts, slow_down

SIZES = ("4", "5", "6", "3", "8", "2 1/2", "4 1/2", "7", "3 1/2", "5 1/2", "6 1/2", "3 1/4")
MOST = 50  # milliseconds at the median
PACE = (
    250  # milliseconds between two keystrokes of somebody who types on a phone (common practice, no published source)
)

KEYSTROKE = """(text) => {
  const field = document.querySelector('[data-key="piece.text"]');
  field.value = text;
  const begun = performance.now();
  field.dispatchEvent(new Event('input', { bubbles: true }));
  return painted(() => document.querySelector('answer-view .go:not(.stale)') !== null, begun);
}"""

# Cloths that give different numbers, each by a tap.
KINDS = ("full_width_strip", "fat_quarter", "fat_eighth") * 5
SLOWER = 4
# The clock starts as the finger leaves: before that nobody can know that it is a tap.
TAPPED = """() => {
  const told = () => document.querySelector('.figure')?.textContent; // the number and what it is of
  const before = told();
  window.tapped = new Promise((resolve) => document.addEventListener('pointerup', ({ timeStamp }) =>
    painted(() => told() !== before, timeStamp).then(resolve),
    { once: true, capture: true }));
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median over a dozen sizes of diamonds from a fat quarter, and over as many taps on kinds of cloth."""
    host = Host(DIST)
    page = contexts().new_page()
    open_count(page, host.url)
    until(page, "document.querySelector('.standing').innerText.startsWith('Ready')")
    slow_down(page, SLOWER)
    page.wait_for_timeout(3000)  # what is likely to be tapped has been asked by then
    tapped = [_tapped(page, kind) for kind in KINDS]
    slow_down(page, 1)
    page.locator("[data-key=slot-piece]").tap()
    times = [_typed(page, size) for size in SIZES]
    page.context.close()
    host.stop()
    yield Figure("From a keystroke to the answer on the screen", median(times), MOST, "ms", spread(times))
    name = "From a tap on a cloth to the answer, processor 4 times slower"
    yield Figure(name, median(tapped), MOST, "ms", spread(tapped))


def _tapped(page: Page, kind: str) -> float:
    page.wait_for_timeout(PACE)
    page.evaluate(TAPPED)
    page.locator(f"count-slots .usual-kinds [data-key$='{kind}']").tap()
    return page.evaluate("tapped")


def _typed(page: Page, size: str) -> float:
    page.wait_for_timeout(PACE)
    return page.evaluate(KEYSTROKE, size)
