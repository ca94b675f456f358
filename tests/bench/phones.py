"""Browsers for measuring: phone size, this machine only."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from tempfile import TemporaryDirectory

from playwright.sync_api import BrowserContext, Page, sync_playwright

from phone import FLAGS, SCREEN
from steps.testing import find_browser

Contexts = Callable[..., BrowserContext]


@contextmanager
def phones() -> Iterator[Contexts]:
    """A maker of contexts, each a browser with a profile of its own on disk: as on a phone,
    compiled code is kept there.
    """
    with sync_playwright() as playwright, ExitStack() as opened:

        def phone(**settings) -> BrowserContext:
            profile = opened.enter_context(TemporaryDirectory(ignore_cleanup_errors=True))
            context = playwright.chromium.launch_persistent_context(
                profile, executable_path=find_browser(), args=FLAGS, **{**SCREEN, **settings}
            )
            opened.callback(context.close)
            return context

        yield phone


def slow_down(page: Page, times: float) -> None:
    """Makes the page's processor so many times slower."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": times})
