"""From a keystroke in the size's field to the new number on the screen, Python's share included."""

from collections.abc import Iterator
from statistics import median

from playwright.sync_api import Page

from host import Host
from steps.places import DIST

from .figures import Figure, spread
from .guides import open_count
from .phones import Contexts

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


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median over a dozen sizes of diamonds from a fat quarter."""
    host = Host(DIST)
    page = contexts().new_page()
    open_count(page, host.url)
    times = [_typed(page, size) for size in SIZES]
    page.context.close()
    host.stop()
    yield Figure("From a keystroke to the answer on the screen", median(times), MOST, "ms", spread(times))


def _typed(page: Page, size: str) -> float:
    page.wait_for_timeout(PACE)
    return page.evaluate(KEYSTROKE, size)
