"""WebKit, as WebKitGTK's small browser, by Selenium: on a screen of its own, with a message bus of its own."""

import json
import os
import signal
import socket
import subprocess
from contextlib import suppress
from pathlib import Path

from selenium import webdriver
from selenium.common.exceptions import (
    ElementNotInteractableException,
    NoSuchElementException,
    StaleElementReferenceException,
    WebDriverException,
)
from selenium.webdriver.remote.client_config import ClientConfig
from selenium.webdriver.remote.file_detector import UselessFileDetector
from selenium.webdriver.remote.remote_connection import RemoteConnection

from steps.testing import find_webkit

from .driver import FIND, LONGEST_WAIT, PHONE, Driver, Lost, wait

_JSON = """const [text, done] = arguments;
(async () => {{ const it = ({}); return typeof it === 'function' ? it(JSON.parse(text)) : it; }})()
  .then((value) => done({{ value: JSON.stringify(value) ?? 'null' }}), (error) => done({{ error: `${{error}}` }}));"""
# This driver cannot tell what the console says; so it is heard in the page, from the moment
# that the document is loaded.
_LISTEN = """() => {
  const complaints = (window.complaints = []);
  const { error } = console;
  console.error = (...told) => { complaints.push(told.map(String).join(' ')); error.apply(console, told); };
  addEventListener('error', ({ message }) => complaints.push(message));
  addEventListener('unhandledrejection', ({ reason }) => complaints.push(String(reason)));
}"""
_DRAWN_PLAINLY = {
    "WEBKIT_DISABLE_DMABUF_RENDERER": "1"
}  # without a graphics card pictures of the page are black otherwise


class WebKit(Driver):
    """A WebKitGTK: under automation each session of it begins with empty storage."""

    name = "WebKit"
    keeps = False
    narrowest = 447

    def __init__(self, *arguments, **settings) -> None:
        super().__init__(*arguments, **settings)
        self._driving: subprocess.Popen | None = None
        self._browser: webdriver.Remote | None = None
        self._log = self.folder / "browser.log"

    def start(self) -> None:
        port = _free_port()
        command = [
            "xvfb-run",
            "-a",
            "-s",
            "-screen 0 1400x1200x24",
            "dbus-run-session",
            "--",
            "WebKitWebDriver",
            f"--port={port}",
        ]
        with self._log.open("ab") as log:
            self._driving = subprocess.Popen(
                command,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                env=self._environment(),
                start_new_session=True,
            )
        wait(lambda: _listens(port), "WebKitWebDriver never listened")
        line = RemoteConnection(client_config=ClientConfig(f"http://127.0.0.1:{port}", timeout=2 * LONGEST_WAIT))
        self._browser = webdriver.Remote(line, options=self._options())
        self.version = self._browser.capabilities["browserVersion"]
        self._browser.file_detector = (
            UselessFileDetector()
        )  # a file's path is typed as it is: the browser is on this machine
        self._browser.set_script_timeout(LONGEST_WAIT)
        self.resize(*PHONE)

    def _environment(self) -> dict[str, str]:
        plain = {name: value for name, value in os.environ.items() if not name.startswith(("LANG", "LC_"))}
        return {**plain, **self._spoken(), "HOME": str(self.downloads), "NO_AT_BRIDGE": "1", **_DRAWN_PLAINLY}

    def _spoken(self) -> dict[str, str]:
        """The variables of a language such as "de-DE", whose locale is made if it can be; or those that are named, if
        any, as in "LANG=C LANGUAGE=de"."""
        if "=" in self.language or not self.language:
            return dict(each.split("=") for each in self.language.split())
        name = self.language.replace("-", "_")
        made = {"LOCPATH": str(self.folder)} if name != "en_US" and _made_locale(name, self.folder) else {}
        return {"LANG": f"{name}.UTF-8", **made}

    def _options(self) -> webdriver.WebKitGTKOptions:
        options = webdriver.WebKitGTKOptions()
        options.binary_location = find_webkit()
        options.add_argument("--automation")
        options.set_capability(
            "proxy",
            {
                "proxyType": "manual",
                "httpProxy": self.outside.address,
                "sslProxy": self.outside.address,
                "noProxy": ["127.0.0.1"],
            },
        )
        return options

    def close(self) -> None:
        if self._browser:
            with suppress(WebDriverException):
                self._browser.quit()
        self.kill()

    def kill(self) -> None:
        if self._driving:
            with suppress(ProcessLookupError):
                os.killpg(self._driving.pid, signal.SIGTERM)  # what runs the screen takes it away with it
            self._driving.wait()
        self._driving = self._browser = None

    def open(self, url: str) -> None:
        self._gather()
        self._browser.get(url)
        self.evaluate(_LISTEN)

    def reload(self) -> None:
        self._gather()
        self._browser.refresh()
        self.evaluate(_LISTEN)

    def evaluate(self, expression: str, argument=None):
        try:
            answer = self._browser.execute_async_script(_JSON.format(expression), json.dumps(argument))
        except WebDriverException as error:
            raise Lost(str(error)) from None
        if "error" in answer:
            raise AssertionError(answer["error"])
        return json.loads(answer["value"])

    def tapped(self, selector: str, text: str | None) -> bool:
        try:
            found = self._find(selector, text)
            if found:
                found.click()
        except (StaleElementReferenceException, ElementNotInteractableException, NoSuchElementException):
            return False
        return found is not None

    def _find(self, selector: str, text: str | None = None):
        return self._browser.execute_script(f"return ({FIND})(arguments[0])", [selector, text])

    def keys(self, text: str) -> None:
        self._browser.switch_to.active_element.send_keys(text)

    def choose_file(self, selector: str, path: Path) -> None:
        wait(lambda: self._find(selector), f"not there: {selector}").send_keys(str(path))

    def resize(self, width: int, height: int) -> None:
        """As large as that, or as small as the window gets."""
        around = self.evaluate("[outerWidth - innerWidth, outerHeight - innerHeight]")
        self._browser.set_window_rect(width=width + around[0], height=height + around[1])

    def screenshot(self, path: Path) -> None:
        self._browser.save_screenshot(str(path))

    def unexpected(self) -> list[str]:
        self._gather()
        return super().unexpected()

    def settled(self) -> None:
        self._gather()
        super().settled()

    def _gather(self) -> None:
        """Takes over what the page at hand has complained of, before it is left."""
        with suppress(Lost, AssertionError):
            self.complaints += self.evaluate("(window.complaints ?? []).splice(0)")
        self.complaints += [f"asked an outside host: {host}" for host in self.outside.asked]
        self.outside.asked.clear()


def _made_locale(name: str, folder: Path) -> bool:
    """Whether this system could make a locale that programs find in the folder."""
    try:
        return (
            subprocess.run(
                ["localedef", "-i", name, "-f", "UTF-8", folder / f"{name}.UTF-8"], capture_output=True
            ).returncode
            == 0
        )
    except OSError:
        return False


def _free_port() -> int:
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        return tried.getsockname()[1]


def _listens(port: int) -> bool:
    with socket.socket() as tried:
        return tried.connect_ex(("127.0.0.1", port)) == 0
