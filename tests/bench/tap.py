"""From a tap at the mat to the new count on the screen, stored for good, on a processor four times slower."""

from collections.abc import Iterator
from statistics import median

from host import Host
from steps.places import DIST

from .figures import Figure, spread
from .guides import begin_guide
from .phones import Contexts, slow_down

TAPS = 25
APART = 700  # milliseconds: a second tap within half a second counts as a bump
SLOWER = 4
MOST = 100  # milliseconds at the median

# The clock starts with the finger's touch and stops when what the guide says has changed.
LISTEN = """() => {
  const told = () => ['.mat-count', '.mat-where', '.mat-sentence', '.mat-total'].map((part) =>
    document.querySelector(part)?.textContent).join('|');
  const before = told();
  window.tapped = new Promise((resolve) => document.querySelector('.mat-zone').addEventListener('pointerdown',
    ({ timeStamp }) => painted(() => told() !== before, timeStamp).then(resolve), { once: true }));
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median over the first taps of a guide."""
    host = Host(DIST)
    page = contexts().new_page()
    begin_guide(page, host.url)
    slow_down(page, SLOWER)
    zone = page.locator(".mat-zone").bounding_box()
    times = []
    for _ in range(TAPS):
        page.wait_for_timeout(APART)
        page.evaluate(LISTEN)
        page.touchscreen.tap(zone["x"] + zone["width"] / 2, zone["y"] + zone["height"] / 2)
        times.append(page.evaluate("tapped"))
    page.context.close()
    host.stop()
    yield Figure("From a tap to the new count, processor 4 times slower", median(times), MOST, "ms", spread(times))
