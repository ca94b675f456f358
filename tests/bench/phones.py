"""Browsers for measuring: phone size, this machine only."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from phone import FLAGS, SCREEN
from playwright.sync_api import BrowserContext, Page, sync_playwright
from steps.testing import find_browser

Contexts = Callable[..., BrowserContext]


@contextmanager
def phones() -> Iterator[Contexts]:
    """A maker of contexts, each with storage and cache of its own."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find_browser(), args=FLAGS)
        yield lambda **settings: browser.new_context(**{**SCREEN, **settings})
        browser.close()


def slow_down(page: Page, times: float) -> None:
    """Makes the page's processor so many times slower."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": times})
