"""What a first visit sees, and when: on a slow mobile network, with the processor four times slower."""

from collections.abc import Iterator
from statistics import median

from playwright.sync_api import Page

from host import Host
from phone import until
from steps.places import DIST

from .figures import Figure, spread
from .phones import Contexts, slow_down

TIMES = 5
# A slow mobile network as Lighthouse takes one: 150 ms there and back, 1.6 Mbit/s down, 750 kbit/s up.
SLOW = {"offline": False, "latency": 150, "downloadThroughput": 1.6e6 / 8, "uploadThroughput": 750e3 / 8}
MOST = {"first": 1800, "largest": 1800, "shift": 0.05}
NAMES = {
    "first": "A first visit, first paint",
    "largest": "A first visit, largest paint",
    "shift": "A first visit, layout shift",
}

WATCH = """
window.seen = { first: 0, largest: 0, shift: 0 };
const watch = (type, take) => new PerformanceObserver((list) => list.getEntries().forEach(take)).observe({ type, buffered: true });
watch("paint", ({ name, startTime }) => name === "first-contentful-paint" && (seen.first = startTime));
watch("largest-contentful-paint", ({ startTime }) => (seen.largest = startTime));
watch("layout-shift", ({ value, hadRecentInput }) => hadRecentInput || (seen.shift += value));
"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The medians of five first visits, each by a browser of its own."""
    visits = [_visit(contexts) for _ in range(TIMES)]
    for name, most in MOST.items():
        found = [visit[name] for visit in visits]
        yield Figure(NAMES[name], median(found), most, "" if name == "shift" else "ms", spread(found))


def _visit(contexts: Contexts) -> dict:
    host = Host(DIST, encodings=("gzip",))
    context = contexts()
    page: Page = context.new_page()
    slow_down(page, 4)
    page.context.new_cdp_session(page).send("Network.emulateNetworkConditions", SLOW)
    page.add_init_script(WATCH)
    page.goto(host.url, wait_until="commit")
    until(page, "document.documentElement.dataset.start === 'shown'")
    page.wait_for_timeout(3000)
    seen = page.evaluate("seen")
    context.close()
    host.stop()
    return seen
