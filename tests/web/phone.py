"""A phone for the tests: Chromium at phone size, with touch, that reaches this machine only."""

import json
import os
import signal
import subprocess
import time
from contextlib import suppress
from pathlib import Path
from weakref import WeakKeyDictionary

from playwright.sync_api import BrowserContext, ConsoleMessage, Error, Page, Playwright

from engines.outside import Outside
from steps.testing import find_shell

# Whatever a browser asks of another machine comes here, whether a page, a worker or the service worker
# asks; and nothing is there.
OUTSIDE = Outside()
# The browser's own errands, which no flag stops, go nowhere at all; those to its maker's machines that come all the
# same are not the page's: what our pages ask of another host their policy refuses, which is a console error. (To have
# every request told to the test costs a third of a page's start.)
NOBODY = "http://127.0.0.1:9/"
MAKERS = (".googleapis.com", ".google.com", ".gstatic.com", ".gvt1.com")

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    f"--proxy-server={OUTSIDE.address}",
    f"--gaia-url={NOBODY}",
    f"--component-updater=url-source={NOBODY}",
    f"--autofill-server-url={NOBODY}",
]
# Without windows letters would be fitted to whole pixels, and be wider by a little than they are in the browser.
HINTING = "--font-render-hinting=none"
# Most tests start Python and the page anew: code is compiled once and quickly, not a second time while the test runs.
TEST_FLAGS = [*FLAGS, "--js-flags=--liftoff-only --no-opt", HINTING]
SCREEN = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
    "locale": "en-US",
    "reduced_motion": "reduce",
    "permissions": ["screen-wake-lock"],
}  # as the browser gives it without asking
LONGEST_WAIT = 60  # seconds; only a broken page ever waits as long

# With MATSIDE_SLOW_PAGE=1, frames, stored changes and answers come this late: a test that looks before it waits then
# fails every time, not once in a hundred runs on a busy machine. With MATSIDE_SLOW_PAGE=uneven each comes as late as
# chance will have it, and meets the test at another point every time; what is of one kind still comes in its order.
LATE = """
const wait = UNEVEN ? () => 200 * Math.random() ** 3 : () => 200;
const line = { complete: [], message: [], frame: [] };
const late = (told, kind) => function (...values) {
  line[kind].push(() => (told.handleEvent ?? told).apply(this, values));
  setTimeout(() => line[kind].shift()(), wait()); // the first in line, whichever timer is the first
};
const frame = window.requestAnimationFrame.bind(window);
window.requestAnimationFrame = (draw) => frame(late(draw, "frame"));
const listen = EventTarget.prototype.addEventListener;
EventTarget.prototype.addEventListener = function (name, told, ...options) {
  const slow = (name === "complete" && this instanceof IDBTransaction) || (name === "message" && this instanceof Worker);
  return listen.call(this, name, slow && told ? late(told, name) : told, ...options);
};
"""


def slowed(context: BrowserContext) -> BrowserContext:
    """The context, with pages that are late in everything if the tests are to be tried so."""
    if how := os.environ.get("MATSIDE_SLOW_PAGE"):
        context.add_init_script(f"const UNEVEN = {json.dumps(how == 'uneven')};{LATE}")
    return context


# To be kept for offline use the page fetches all that it has a second time, and works out its hashes: as much
# work again as to start it. When it is idle it loads the screens that nobody has asked for.
ON_ITS_WAY = """
if (location.origin === ORIGIN) {
  if (navigator.serviceWorker) navigator.serviceWorker.register = () => new Promise(() => {});
  globalThis.requestIdleCallback = () => 0;
}
"""


# What runs at every load of a page by now.
_AT_LOAD: WeakKeyDictionary[Page, set[str]] = WeakKeyDictionary()


def at_every_load(page: Page, script: str) -> Page:
    """The page, in which the script runs at every load from the next one on: once, however often it is asked for."""
    added = _AT_LOAD.setdefault(page, set())
    if script not in added:
        added.add(script)
        page.add_init_script(script)
    return page


def none_at_load(page: Page) -> None:
    """Forgets what `at_every_load` was asked for: it was all taken out of the page."""
    _AT_LOAD.pop(page, None)


def on_its_way(page: Page, origin: str) -> Page:
    """The page, which on that host never gets as far as being kept for offline use, nor as loading screens that
    are not asked for: what it needs for that stays on its way.
    """
    return at_every_load(page, f"{{ const ORIGIN = {json.dumps(origin)};{ON_ITS_WAY}}}")


class Watched:
    """A page's complaints: console errors, uncaught errors and requests to outside hosts. `expect` allows some."""

    def __init__(self, context: BrowserContext) -> None:
        self._complaints: list[str] = []
        self._expected: list[str] = []
        self._before = len(OUTSIDE.asked)
        context.on("console", self._hear)
        context.on("weberror", lambda error: self._complaints.append(str(error.error)))

    def expect(self, part: str) -> None:
        """Complaints that contain this text are part of the test."""
        self._expected.append(part)

    def unexpected(self) -> list[str]:
        """The complaints that no test asked for."""
        outside = [
            f"asked an outside host: {host}"
            for host in OUTSIDE.asked[self._before :]
            if not host.split(":")[0].endswith(MAKERS)
        ]
        return [text for text in [*self._complaints, *outside] if not any(part in text for part in self._expected)]

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self._complaints.append(f"{message.text} ({message.location.get('url', '')})")


class Phone:
    """A browser of its own with storage that outlives it; it can be closed, killed and opened again."""

    def __init__(self, playwright: Playwright, folder: Path) -> None:
        self._playwright = playwright
        self._folder = folder
        self._context: BrowserContext | None = None

    def open(self, url: str) -> Page:
        """Opens the browser if need be, and a page at the address."""
        if self._context is None:
            self._context = slowed(
                self._playwright.chromium.launch_persistent_context(
                    self._folder, executable_path=find_shell(), args=TEST_FLAGS, **SCREEN
                )
            )
            self.watched = Watched(self._context)
        page = self._context.new_page()
        page.goto(url)
        return page

    def close(self) -> None:
        """Closes the browser as a user does."""
        if self._context:
            self._context.close()
        self._context = None

    def kill(self) -> None:
        """Ends the browser at once, in the middle of whatever it does."""
        os.kill(self._browser_process(), signal.SIGKILL)
        with suppress(Error):  # there may be nobody left to close it
            self._context.close()
        self._context = None

    def _browser_process(self) -> int:
        return browser_process(self._folder)


def browser_process(folder: Path) -> int:
    """The number of the process of the Chromium that keeps its profile in the folder."""
    listed = subprocess.run(["ps", "-ww", "-eo", "pid=,args="], capture_output=True, text=True, check=True).stdout
    mine = [line for line in listed.splitlines() if f"--user-data-dir={folder}" in line]
    return int(next(line for line in mine if "--type=" not in line).split()[0])


# Asks again in the page for a second or so, which costs a tenth of asking again from here; but not where the page's
# timers are in a test's hands.
_ASKING = """async (argument) => {{
  const timed = !("__pwClock" in window) && /native code/.test(setTimeout);
  for (let tries = 0; ; tries += 1) {{
    const asked = ({expression});
    const found = await (typeof asked === "function" ? asked(argument) : asked);
    if (found || tries === 100 || !timed) return found;
    await new Promise((later) => setTimeout(later, 10));
  }}
}}"""
_LEFT = ("Execution context was destroyed", "because of a navigation", "Cannot find context")


def until(page: Page, expression: str, argument=None, seconds: float = LONGEST_WAIT):
    """The value of the JavaScript expression as soon as it is a true one. (`wait_for_function` needs 'unsafe-eval'.)"""
    asking, end = _ASKING.format(expression=expression), time.monotonic() + seconds
    while not (value := _asked(page, asking, argument)):
        if time.monotonic() > end:
            raise AssertionError(f"never came true: {expression}")
        page.wait_for_timeout(20)
    return value


def _asked(page: Page, asking: str, argument):
    """What the page says; None where it was left meanwhile."""
    try:
        return page.evaluate(asking, argument)
    except Error as error:
        if any(text in error.message for text in _LEFT):
            return None
        raise
