"""Kills at random moments, and kills at every write of a scripted sitting, on one profile
that is opened again and again.
"""

import random
import threading
from collections.abc import Iterable, Iterator
from pathlib import Path

import matside

from .bare_browser import BareBrowser, BareChromium
from .ledger import Ledger
from .tortured_host import TorturedHost

MANY = {
    "piece": {"shape": "diamond", "size": 2, "angle": 60},
    "cloth": {"length": 18, "width": 20},
    "way": "along_length",
}
LONGEST_START = 60  # seconds until a killed browser's page must have told what it finds

# One sitting with everything that can happen in it, so that each kind of write is met. Its first
# undo leads back to a check.
ACTS = [*[["cut", None]] * 19, ["undo", None], ["spoiled_before", 1], ["cut", None], ["spoiled", 1], ["cut", None], ["ends_early", 1],
        ["cut", None], ["recount", 1], ["undo", None], ["leave", None]]  # fmt: skip


def script() -> dict:
    """The guide that is cut."""
    return {**matside.answer({"ask": "guide", **MANY})["script"], "request": {"ask": "guide", **MANY}}


class Torture:
    """One profile, one host, one ledger."""

    def __init__(self, dist: Path, profile: Path, watched: bool = False, ledger: Ledger | None = None, port: int = 0,
                 browser: type[BareBrowser] = BareChromium) -> None:  # fmt: skip
        self.ledger = ledger or Ledger()
        self.writes: list[str] = []
        self.kill_at: int | None = None
        self._script = script()
        self._browser = browser(profile)
        self.latest_kill = browser.latest_kill
        self._acts: list[list] = []
        self._found, self._acting, self._over = threading.Event(), threading.Event(), threading.Event()
        self._shown = threading.Event()
        self.host = TorturedHost(dist, self._heard, watched, port)

    def end(self) -> None:
        """Ends the browser that is open."""
        self._browser.kill()

    def close(self) -> None:
        """Ends all of it."""
        self.end()
        self.host.ended.set()
        self.host.stop()

    def start(self, acts: list[list]) -> None:
        """Opens the browser; returns when what it found was held against the ledger."""
        for event in (self._found, self._acting, self._shown, self._over):
            event.clear()
        self._acts = acts
        self.writes.clear()
        self._browser.open(self.host.url + "#cut")
        if not self._found.wait(LONGEST_START):
            self.ledger.lost.append("the page did not come back")

    def kill_after(self, seconds: float, everything: bool, shown: bool = False) -> None:
        """Kills the browser so long after its first act, or after one was `shown`; or when all acts are done."""
        (self._shown if shown else self._acting).wait(LONGEST_START)
        self._over.wait(seconds)
        self._browser.kill(everything)

    def until_killed(self) -> bool:
        """Waits until all acts are done, or until the kill at a write; whether it was killed."""
        self._over.wait(LONGEST_START)
        killed = self.kill_at is not None and len(self.writes) > self.kill_at
        self._browser.kill()
        return killed

    def _heard(self, name: str, content: dict) -> dict | None:
        if name == "how":
            return {"script": self._script, "watched": self.host.watched}
        if name == "write":
            return self._wrote(content["what"])
        if name == "found":
            if not self._found.is_set():  # a page that begins a new sitting is loaded once more
                self.ledger.found(content["sittings"], content["second"], content["notice"])
                self.ledger.current = self.ledger.current or next(iter(self.ledger.accounts), None)
        elif name == "begin":
            self.ledger.begin(content["id"])
        elif name == "begun":
            self.ledger.begun(content["id"])
        elif name == "acts":
            self._found.set()
            return {"acts": self._acts}
        elif name == "attempt":
            self._acting.set()
            if content["act"] != "leave":
                self.ledger.attempt()
        elif name == "shown" and content["act"] != "leave":
            self.ledger.shown()
            self._shown.set()
        elif name == "over":
            self._over.set()
            return None
        elif name == "refused" and self.host.watched:
            self.ledger.lost.append(
                f"the scripted sitting does not go as it is written: {content['act']} was not taken"
            )
        elif name == "broke":
            self.ledger.lost.append(f"the page broke: {content['message']}")
            self._found.set()
        return {}

    def _wrote(self, what: str) -> dict | None:
        self.writes.append(what)
        if self.kill_at is None or len(self.writes) <= self.kill_at:
            return {}
        self._over.set()
        self._found.set()  # it may be a write of the start itself
        return None


def random_kills(torture: Torture, seed: int, numbers: Iterable[int]) -> Iterator[int]:
    """Kills at random moments, one for each of the numbers, which are given as each is done and held against the ledger.
    The first one leaves a count behind, however slow the machine is: without any there would be nothing to lose.
    """
    first = True
    for number in numbers:
        chance = random.Random(f"kill {seed} {number}")
        torture.start([["cut", None]] * 60)
        torture.kill_after(chance.random() ** 2 * torture.latest_kill, everything=chance.random() < 0.5, shown=first)
        first = False
        yield number
    torture.start([])
    torture.end()


def kills_at_writes(torture: Torture, numbers: Iterable[int]) -> Iterator[int]:
    """Kills at these writes of the scripted sitting, one after another, until one is beyond its last write; the
    number of each as it is done."""
    for number in numbers:
        torture.kill_at = number
        torture.start(ACTS)
        if not torture.until_killed():
            break
        yield number
    torture.kill_at = None
    torture.start([])
    torture.end()
