"""What every engine can be asked to do: the interface, and what is the same for all of them."""

import time
from abc import ABC, abstractmethod
from collections.abc import Callable
from pathlib import Path

from .outside import Outside

LONGEST_WAIT = 60  # seconds; only a broken page ever waits as long
PHONE = (390, 844)

# The first element that fits, with just this text where one is given, brought into sight, once it is where it was when
# this was last asked: a finger too waits until what it is to touch stands still.
FIND = """([selector, text]) => {
  const shown = [...document.querySelectorAll(selector)].filter((each) => each.checkVisibility());
  const found = text === null ? shown[0] : shown.find((each) => each.innerText.trim() === text);
  found?.scrollIntoView({ block: 'center', inline: 'center' });
  const place = found && JSON.stringify(found.getBoundingClientRect());
  const before = window.aimedAt;
  window.aimedAt = { found, place };
  return found && before?.found === found && before.place === place ? found : null;
}"""


class Lost(Exception):
    """The page went away, or the browser did, while it was asked."""


class Driver(ABC):
    """A browser with one page at phone size that reaches this machine only; what it keeps outlives
    `close` where the engine allows.

    `complaints` are console errors, uncaught errors and requests of the page to outside hosts. Chromium and Firefox
    tell which requests are the page's; of WebKit, which runs no errands of its own, the proxy hears of all."""

    name: str
    keeps = True  # whether what a page stored is still there after `close` or `kill` and `start`
    narrowest = 320  # px
    unreachable_says: tuple[str, ...] = ()  # what the console says where a page asks a host that is gone

    def __init__(self, folder: Path, outside: Outside, language: str = "en-US") -> None:
        self.folder = folder
        self.outside = outside
        self.language = language
        self.downloads = folder / "downloads"
        self.downloads.mkdir(parents=True, exist_ok=True)
        self.version = ""  # as the browser says once it is started
        self.complaints: list[str] = []
        self._expected: list[str] = []

    @abstractmethod
    def start(self) -> None:
        """Starts the browser, with an empty page at phone size."""

    @abstractmethod
    def close(self) -> None:
        """Closes the browser as a user does."""

    @abstractmethod
    def kill(self) -> None:
        """Ends the browser at once, in the middle of whatever it does."""

    @abstractmethod
    def open(self, url: str) -> None:
        """Goes to an address and waits until the document is loaded."""

    @abstractmethod
    def reload(self) -> None:
        """Loads the page anew."""

    @abstractmethod
    def evaluate(self, expression: str, argument=None):
        """The value of a JavaScript expression, or of the function that it is; awaited, and as JSON carries it.
        Lost when the page goes away.
        """

    @abstractmethod
    def tapped(self, selector: str, text: str | None) -> bool:
        """Touches (or clicks, where there is no touch) the first element that fits; False where there is
        none, or it went away meanwhile.
        """

    @abstractmethod
    def keys(self, text: str) -> None:
        """Types into what has the focus."""

    @abstractmethod
    def choose_file(self, selector: str, path: Path) -> None:
        """Gives a file to a field that takes one."""

    @abstractmethod
    def resize(self, width: int, height: int) -> None:
        """Makes the page so large, in CSS px."""

    @abstractmethod
    def screenshot(self, path: Path) -> None:
        """Writes what is to be seen as a PNG."""

    def restart(self, language: str) -> None:
        """Ends the browser and starts it in another language, whatever that is called."""
        self.kill()
        self.language = language
        self.start()

    def tap(self, selector: str, text: str | None = None) -> None:
        """Touches the first element that fits, with just this text where one is given, as soon as there is one."""
        wait(lambda: self.tapped(selector, text), f"{self.name}: never there to be tapped: {selector} {text or ''}")

    def download(self, act: Callable[[], None]) -> Path:
        """The file that the page gives to be kept when this is done."""
        before = set(self.downloads.iterdir())
        act()
        return wait(
            lambda: next(filter(_is_whole, set(self.downloads.iterdir()) - before), None),
            f"{self.name}: nothing came to be kept",
        )

    def enter(self, selector: str, text: str) -> None:
        """Types into a field in place of what stood there."""
        self.tap(selector)
        self.evaluate(
            "(selector) => { const field = document.querySelector(selector); field.focus(); field.select(); }", selector
        )
        self.keys(text)

    def text(self, selector: str) -> str:
        """What is to be read in the first element that fits, as soon as there is one."""
        return self.until(
            "(selector) => { const found = document.querySelector(selector); return found && { text: found.innerText }; }",
            selector,
        )["text"]

    def until(self, expression: str, argument=None):
        """The value of the expression as soon as it is a true one; a page that is just being loaded is waited for."""
        return wait(
            lambda: self._tried(expression, argument), f"{self.name}: never came true: {expression} {argument or ''}"
        )

    def _tried(self, expression: str, argument):
        try:
            return self.evaluate(expression, argument)
        except Lost:
            return None

    def expect(self, *parts: str) -> None:
        """Complaints that contain one of these texts are part of the test, until `settled`."""
        self._expected += parts

    def unreachable(self) -> None:
        """From now on the page's host may be gone."""
        self.expect(*self.unreachable_says)

    def unexpected(self) -> list[str]:
        """The complaints so far that no test asked for."""
        return [text for text in self.complaints if not any(part in text for part in self._expected)]

    def settled(self) -> None:
        """Forgets complaints and what was expected of them: another test begins."""
        self.complaints.clear()
        self._expected.clear()


def wait(found: Callable, problem: str, longest: float = LONGEST_WAIT):
    """What `found` gives as soon as it is true; an AssertionError with the problem when that takes too long."""
    end = time.monotonic() + longest
    while not (value := found()):
        if time.monotonic() > end:
            raise AssertionError(problem)
        time.sleep(0.02)
    return value


def _is_whole(path: Path) -> bool:
    """Whether it is a file that a browser has finished: until then it is empty, or has a name of the browser's own."""
    return (
        path.is_file()
        and path.suffix not in (".part", ".wkdownload")
        and not path.name.startswith(".")
        and path.stat().st_size > 0
    )
