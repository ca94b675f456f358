"""Chromium, by Playwright."""

import os
import re
import signal
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from playwright.sync_api import BrowserContext, Error, Page, Playwright

from phone import TEST_FLAGS, browser_process
from steps.testing import find_browser

from .driver import FIND, LONGEST_WAIT, PHONE, Driver, Lost
from .outside import PLAIN_NAME

_HERE = ("http://127.0.0.1:", f"http://{PLAIN_NAME}:", "data:", "blob:", "about:", "chrome-error:")

_WENT_AWAY = ("not attached", "detached", "was destroyed", "Timeout")


class Chromium(Driver):
    """A Chromium with a profile of its own."""

    name = "Chromium"

    def __init__(self, playwright: Playwright, *arguments, **settings) -> None:
        super().__init__(*arguments, **settings)
        self._playwright = playwright
        self._profile = self.folder / "profile"
        self._context: BrowserContext | None = None
        self._page: Page | None = None

    def start(self) -> None:
        flags = [flag for flag in TEST_FLAGS if not flag.startswith(("--host-resolver-rules", "--proxy-server"))]
        self._context = self._playwright.chromium.launch_persistent_context(
            self._profile,
            executable_path=find_browser(),
            args=[*flags, "--disable-features=HttpsUpgrades"],
            proxy={"server": f"http://{self.outside.address}", "bypass": "127.0.0.1"},
            downloads_path=self.downloads,
            viewport=dict(zip(("width", "height"), PHONE)),
            has_touch=True,
            is_mobile=True,
            device_scale_factor=2,
            locale=self.language,
            reduced_motion="reduce",
        )
        self._context.set_default_timeout(LONGEST_WAIT * 1000)
        self._context.on("console", lambda message: message.type == "error" and self.complaints.append(message.text))
        self._context.on("weberror", lambda error: self.complaints.append(str(error.error)))
        self._context.on("request", lambda request: self._note(request.url))
        self._page = self._context.pages[0]
        self.version = re.search(r"Chrome/([\d.]+)", self._page.evaluate("navigator.userAgent"))[1]

    def _note(self, url: str) -> None:
        if not url.startswith(_HERE):
            self.complaints.append(f"asked an outside host: {url}")

    def close(self) -> None:
        if self._context:
            self._context.close()
        self._context = None

    def kill(self) -> None:
        os.kill(browser_process(self._profile), signal.SIGKILL)
        with suppress(Error):  # there may be nobody left to close it
            self._context.close()
        self._context = None

    def open(self, url: str) -> None:
        self._page.goto(url)

    def reload(self) -> None:
        self._page.reload()

    def evaluate(self, expression: str, argument=None):
        try:
            return self._page.evaluate(expression, argument)
        except Error as error:
            raise Lost(str(error)) if "ontext was destroyed" in str(error) else error from None

    def tapped(self, selector: str, text: str | None) -> bool:
        try:
            found = self._page.evaluate_handle(FIND, [selector, text]).as_element()
            if found:
                found.tap(timeout=1000)
        except Error as error:
            if any(part in str(error) for part in _WENT_AWAY):
                return False
            raise
        return found is not None

    def keys(self, text: str) -> None:
        self._page.keyboard.type(text)

    def choose_file(self, selector: str, path: Path) -> None:
        self._page.locator(selector).set_input_files(path)

    def download(self, act: Callable[[], None]) -> Path:
        with self._page.expect_download() as coming:
            act()
        return Path(coming.value.path())

    def resize(self, width: int, height: int) -> None:
        self._page.set_viewport_size({"width": width, "height": height})

    def screenshot(self, path: Path) -> None:
        self._page.screenshot(path=path)
