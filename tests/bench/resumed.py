"""From navigation to a guide that was under way, shown and ready to be tapped: without waiting for Python."""

from collections.abc import Iterator
from statistics import median

from host import Host
from phone import until
from steps.places import DIST

from .figures import Figure, spread
from .guides import begin_guide
from .phones import Contexts

ROUNDS = 9
MOST = 300  # milliseconds at the median

# Time 0 is the start of the navigation. A worker's own messages say when Python is ready.
WATCH = """
window.usable = painted(() => document.querySelector('.mat-sentence')?.textContent, 0);
window.pythonReady = new Promise((resolve) => {
  const { addEventListener } = Worker.prototype;
  Worker.prototype.addEventListener = function (type, listener) {
    addEventListener.call(this, 'message', ({ data }) => data.stage === 'ready' && resolve(performance.now()));
    addEventListener.call(this, type, listener);
  };
});
"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median over reloads from the service worker's cache; and how much of Python's
    start the guide had to wait for.
    """
    host = Host(DIST)
    page = contexts().new_page()
    begin_guide(page, host.url)
    until(page, "navigator.serviceWorker.controller !== null")
    page.add_init_script(WATCH)
    times, ready = zip(*(_once(page) for _ in range(ROUNDS)))
    page.context.close()
    host.stop()
    yield Figure("From navigation to the resumed guide", median(times), MOST, "ms", spread(times))
    yield Figure(
        "The same as a share of the time until Python is ready",
        median(times) / median(ready),
        1,
        detail=f"Python ready: {spread(ready)}",
    )


def _once(page) -> tuple[float, float]:
    page.reload()
    return page.evaluate("usable"), page.evaluate("pythonReady")
