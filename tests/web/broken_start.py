"""The page started with one thing in it broken: what then stands on the screen, many pages at a time."""

import re
import time
from collections.abc import Callable, Iterable
from typing import NamedTuple

from playwright.sync_api import Browser, BrowserContext, Error, Page

from phone import SCREEN
from quilter import ASLEEP

SCREENS = ("count", "quilt", "basket", "cut", "tools", "rulers", "drift")
AT_ONCE = 6  # pages in one browser
SETTLED = 8  # seconds within which a start is over, or has been said not to come
STEPS = 8  # of which one frees a piece, even where a strip ends
LEAST = 40  # letters: less are no words to go by

# What one sees, read in a world of its own: the page's functions may be the broken ones.
SEEN = """() => {
  const visible = (part) => part.checkVisibility({ visibilityProperty: true }) && part.getClientRects().length > 0;
  const text = (document.body?.innerText ?? '').trim();
  const ways = [...document.querySelectorAll('a[href], button:enabled')].filter(visible).map((way) => way.innerText || way.getAttribute('aria-label'));
  const broken = document.getElementById('start-broken');
  const main = document.querySelector('main');
  return {
    shown: document.documentElement?.dataset.start === 'shown',
    broken: Boolean(broken && !broken.hidden),
    said: Boolean(document.querySelector('repair-view')),
    main: main ? main.innerText.trim() : '',
    figure: document.querySelector('.figure b, count-stage .chip[aria-pressed=true] b')?.innerText ?? '', // beside "could not be worked out again" it stands at the way chosen
    total: document.querySelector('.mat-total')?.innerText ?? '',
    zone: document.querySelector('.mat-zone')?.getBoundingClientRect().toJSON(),
    python: Boolean(document.querySelector('ask-trouble:not([hidden])')),
    text, ways,
  };
}"""


class Case(NamedTuple):
    """One page with one thing in it broken: by what its address leads to, or by a script that runs before its own."""

    name: str
    address: str
    script: str = ""


# What may be waited for.
FITS = f"""{{
  over: (seen) => seen.shown || seen.broken,
  main: (seen) => seen.main.length >= {LEAST},
  total: (seen) => seen.total,
  figure: (seen) => seen.figure,
  another: (seen, before) => seen.text !== before,
}}"""
LOOK = f"""async (name, argument, screen, within) => {{
  if (screen) location.hash = screen;
  const end = performance.now() + within;
  const [see, fits] = [{SEEN}, ({FITS})[name]];
  for (;;) {{
    const seen = see();
    if (fits(seen, argument) || performance.now() > end) return seen;
    await new Promise((on) => setTimeout(on, 20));
  }}
}}"""


class Eyes:
    """Reads a page from outside of its own world."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._session = page.context.new_cdp_session(page)
        self._session.send("Page.enable")

    def seen(self, fits: str, argument: str = "", screen: str = "") -> dict:
        """What is seen, on another screen if one is named, as soon as it fits, or at last."""
        end = time.monotonic() + SETTLED
        while True:
            left = max(0, end - time.monotonic())
            try:
                return self._looked(fits, argument, screen, left * 1000)
            except Error:  # the page was just being loaded anew
                if not left:
                    raise

    def _looked(self, *values) -> dict:
        frame = self._session.send("Page.getFrameTree")["frameTree"]["frame"]["id"]
        world = self._session.send("Page.createIsolatedWorld", {"frameId": frame})["executionContextId"]
        found = self._session.send(
            "Runtime.callFunctionOn",
            {
                "functionDeclaration": LOOK,
                "executionContextId": world,
                "returnByValue": True,
                "awaitPromise": True,
                "arguments": [{"value": value} for value in values],
            },
        )
        return found["result"]["value"]


def started(
    browser: Browser,
    cases: Iterable[Case],
    look: Callable[[Eyes], list[str]],
    seated: Callable[[Page], None] | None = None,
) -> list[str]:
    """Opens a page for every case, several at a time, each in a browser of its own that `seated` has
    filled, and gives what is wrong.
    """
    cases, wrong = list(cases), []
    contexts = [_context(browser, seated) for _ in cases[:AT_ONCE]]
    for first in range(0, len(cases), AT_ONCE):
        here = list(zip(cases[first : first + AT_ONCE], contexts))
        opened = [(case, _opened(case, context)) for case, context in here]
        for case, eyes in opened:
            wrong += [f"{case.name}: {what}" for what in look(eyes)]
            eyes.page.close()
    for context in contexts:
        context.close()
    return wrong


def _context(browser: Browser, seated: Callable[[Page], None] | None) -> BrowserContext:
    context = browser.new_context(**SCREEN)
    if seated:
        page = context.new_page()
        seated(page)
        page.close()
    context.add_init_script(ASLEEP)
    return context


def _opened(case: Case, context: BrowserContext) -> Eyes:
    page = context.new_page()
    if case.script:
        page.add_init_script(case.script)
    page.goto(case.address, wait_until="commit")
    return Eyes(page)


def words_and_a_way_on(eyes: Eyes) -> list[str]:
    """Waits until the start is over, or is said not to come, and looks at the screen; where it is
    over, at every other screen too.
    """
    seen = eyes.seen("over")
    if not seen["shown"]:
        return blank(seen)
    return [f"{screen}: {what}" for screen in SCREENS for what in blank(eyes.seen("main", screen=screen))] + blank(seen)


def a_number_and_a_cut(eyes: Eyes) -> list[str]:
    """At the mat a tap counts, and the first screen has its number."""
    before = eyes.seen("total")
    if not before["total"]:
        return ["nothing at the mat", *blank(before)]
    after = before
    for _ in range(STEPS):
        after = tapped(eyes, after)
        if after["total"] != before["total"]:
            break
    wrong = (
        []
        if number_in(after["total"]) == number_in(before["total"]) + 1
        else [f"{before['total']} became {after['total']}"]
    )
    return wrong if eyes.seen("figure", screen="count")["figure"] else [*wrong, "no number"]


def tapped(eyes: Eyes, before: dict) -> dict:
    """What is seen after a tap, and half a second within which another would be a bump."""
    zone = before["zone"]
    eyes.page.touchscreen.tap(zone["x"] + zone["width"] / 2, zone["y"] + zone["height"] * 0.6)
    after = eyes.seen("another", before["text"])
    eyes.page.wait_for_timeout(550)
    return after


def number_in(text: str) -> int:
    """The first number of a text; -1 where there is none."""
    found = re.search(r"\d+", text)
    return int(found[0]) if found else -1


def blank(seen: dict) -> list[str]:
    """What is lacking on a screen: words, or a way on."""
    return [
        what for what, there in (("no words", len(seen["text"]) >= LEAST), ("no way on", seen["ways"])) if not there
    ]
