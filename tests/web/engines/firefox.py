"""Firefox, by WebDriver BiDi."""

import base64
import json
import os
import signal
import subprocess
from contextlib import suppress
from pathlib import Path

from steps.testing import find_firefox

from . import firefox_settings
from .bidi import Bidi, Refused
from .driver import FIND, PHONE, Driver, Lost, wait
from .outside import PLAIN_NAME

_HERE = (
    "http://127.0.0.1:",
    f"http://{PLAIN_NAME}:",
    "data:",
    "blob:",
    "about:",
    "resource:",
    "chrome:",
    "moz-extension:",
)
_JSON = "async (text) => {{ const it = ({}); return JSON.stringify(await (typeof it === 'function' ? it(JSON.parse(text)) : it)) ?? 'null'; }}"

# What the browser says of a file that it was taking from the service worker as its page was left: nobody reads on, so
# the copying fails. Of a page that stays it is the only word about a broken answer.
_NOT_READ_ON = "A ServiceWorker intercepted the request and encountered an unexpected error"

_WENT_AWAY = ("not displayed", "no such node", "stale", "out of bounds")


class Firefox(Driver):
    """A Firefox with a profile of its own."""

    name = "Firefox"

    def __init__(self, *arguments, **settings) -> None:
        super().__init__(*arguments, **settings)
        self._profile = self.folder / "profile"
        self._browser: subprocess.Popen | None = None
        self._line: Bidi | None = None
        self._tab = ""
        self._here: set[str] = set()  # realms of documents; those that are being left
        self._left: set[str] = set()

    def start(self) -> None:
        self._write_settings()
        found = self._profile / "WebDriverBiDiServer.json"
        found.unlink(missing_ok=True)
        self._browser = subprocess.Popen(
            [
                find_firefox(),
                "--headless",
                "--no-remote",
                "--profile",
                self._profile,
                "--remote-debugging-port",
                "0",
                "about:blank",
            ],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        where = wait(lambda: _read(found), "Firefox never said where it listens")
        self._line = Bidi(f"ws://{where['ws_host']}:{where['ws_port']}/session", self._told)
        session = self._line.ask(
            "session.new", capabilities={"alwaysMatch": {"unhandledPromptBehavior": {"default": "ignore"}}}
        )
        self.version = session["capabilities"]["browserVersion"]
        self._line.ask(
            "session.subscribe",
            events=[
                "log.entryAdded",
                "network.beforeRequestSent",
                "browsingContext.navigationStarted",
                "script.realmCreated",
            ],
        )
        self._tab = self._line.ask("browsingContext.getTree")["contexts"][0]["context"]
        self.resize(*PHONE)

    def _write_settings(self) -> None:
        firefox_settings.write(
            self._profile,
            self.outside.address,
            {
                "intl.accept_languages": self.language,
                "browser.download.folderList": 2,
                "browser.download.dir": str(self.downloads),
                "browser.download.always_ask_before_handling_new_types": False,
                "browser.download.alwaysOpenPanel": False,
            },
        )

    def _told(self, event: str, said: dict) -> None:
        if event == "script.realmCreated":
            self._here.add(said["realm"])
        if event == "browsingContext.navigationStarted":
            self._left = set(self._here)
        if event == "log.entryAdded" and said["level"] == "error" and not self._not_read_on(said):
            self.complaints.append(said["text"] or "")
        if event == "network.beforeRequestSent" and not said["request"]["url"].startswith(_HERE):
            self.complaints.append(f"asked an outside host: {said['request']['url']}")

    def _not_read_on(self, said: dict) -> bool:
        return _NOT_READ_ON in (said["text"] or "") and said["source"]["realm"] in self._left

    def close(self) -> None:
        if self._browser:
            with suppress(Lost):
                self._line.ask("browser.close")
            with suppress(subprocess.TimeoutExpired):
                self._browser.wait(20)
            self._end()

    def kill(self) -> None:
        self._end()

    def _end(self) -> None:
        with suppress(ProcessLookupError):
            os.killpg(self._browser.pid, signal.SIGKILL)
        self._browser.wait()
        self._line.close()
        self._browser = None

    def open(self, url: str) -> None:
        self._line.ask("browsingContext.navigate", context=self._tab, url=url, wait="complete")

    def reload(self) -> None:
        self._line.ask("browsingContext.reload", context=self._tab, wait="complete")

    def evaluate(self, expression: str, argument=None):
        answer = self._call(_JSON.format(expression), {"type": "string", "value": json.dumps(argument)})
        return json.loads(answer["value"])

    def _call(self, function: str, *arguments: dict) -> dict:
        answer = self._line.ask(
            "script.callFunction",
            functionDeclaration=function,
            arguments=list(arguments),
            awaitPromise=True,
            target={"context": self._tab},
            userActivation=False,
        )
        if answer["type"] == "exception":
            raise AssertionError(answer["exceptionDetails"]["text"])
        return answer["result"]

    def tapped(self, selector: str, text: str | None, resting: float = 0) -> bool:
        element = self._find(selector, text)
        if not element:
            return False
        touch = [
            {"type": "pointerMove", "x": 0, "y": 0, "origin": {"type": "element", "element": element}},
            {"type": "pointerDown", "button": 0},
            {"type": "pause", "duration": round(resting * 1000)},
            {"type": "pointerUp", "button": 0},
        ]
        try:
            self._line.ask(
                "input.performActions",
                context=self._tab,
                actions=[{"type": "pointer", "id": "finger", "parameters": {"pointerType": "touch"}, "actions": touch}],
            )
        except (Lost, Refused) as error:
            if any(part in str(error) for part in _WENT_AWAY):
                return False
            raise
        return True

    def _find(self, selector: str, text: str | None = None) -> dict | None:
        texts = [
            {"type": "string", "value": selector},
            {"type": "null"} if text is None else {"type": "string", "value": text},
        ]
        found = self._call(FIND, {"type": "array", "value": texts})
        return {"sharedId": found["sharedId"]} if "sharedId" in found else None

    def keys(self, text: str) -> None:
        pressed = [{"type": kind, "value": key} for key in text for kind in ("keyDown", "keyUp")]
        self._line.ask(
            "input.performActions", context=self._tab, actions=[{"type": "key", "id": "keyboard", "actions": pressed}]
        )

    def choose_file(self, selector: str, path: Path) -> None:
        element = wait(lambda: self._find(selector), f"not there: {selector}")
        self._line.ask("input.setFiles", context=self._tab, element=element, files=[str(path)])

    def resize(self, width: int, height: int) -> None:
        self._line.ask(
            "browsingContext.setViewport",
            context=self._tab,
            viewport={"width": width, "height": height},
            devicePixelRatio=2,
        )

    def screenshot(self, path: Path) -> None:
        path.write_bytes(
            base64.b64decode(self._line.ask("browsingContext.captureScreenshot", context=self._tab)["data"])
        )


def _read(path: Path) -> dict | None:
    try:
        return json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):  # not there yet, or half written
        return None
