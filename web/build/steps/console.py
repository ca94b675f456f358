"""What the build says: one line a step, progress on anything over two seconds, one line when it must stop."""

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

from .places import LOGS

QUIET_SECONDS = 2
_LINE_EVERY = 10  # seconds between progress lines where there is no terminal to rewrite


class Stop(Exception):
    """The build cannot go on; the message says what is wrong and the mend, in one line."""


def say(line: str) -> None:
    """Prints a line at once."""
    print(f"build: {line}", flush=True)


@contextmanager
def step(what: str) -> Iterator["Progress"]:
    """Says what is being done and, from two seconds on, how far it is."""
    say(f"{what} …")
    progress = Progress()
    try:
        yield progress
    finally:
        progress.end()


@contextmanager
def aside(what: str, work: Callable[[], None]) -> Iterator[None]:
    """Says it and does the work beside what is done inside; when both are over, its Stop is raised."""
    say(f"{what}, beside what follows")
    with ThreadPoolExecutor(1) as one:
        begun = one.submit(work)
        yield
        begun.result()


class Progress:
    """Tells the time and, where it is known, the share done of one step."""

    def __init__(self) -> None:
        self._started = time.monotonic()
        self._share = ""
        self._ended = threading.Event()
        self._teller = threading.Thread(target=self._tell, daemon=True)
        self._teller.start()

    def at(self, done: int, total: int) -> None:
        """The step is at `done` of `total`."""
        self._share = f"{done} of {total}, "

    def end(self) -> None:
        """The step is over: stops telling and closes the line."""
        self._ended.set()
        self._teller.join()
        spent = time.monotonic() - self._started
        if spent > QUIET_SECONDS:
            _rewrite(f"  done in {spent:.0f} s", last=True)

    def _tell(self) -> None:
        pause = QUIET_SECONDS
        while not self._ended.wait(pause):
            _rewrite(f"  {self._share}{time.monotonic() - self._started:.0f} s")
            pause = 1 if sys.stdout.isatty() else _LINE_EVERY


def _rewrite(line: str, last: bool = False) -> None:
    if sys.stdout.isatty():
        print(f"\r{line:<40}", end="\n" if last else "", flush=True)
    else:
        print(line, flush=True)


def run(
    name: str, command: Sequence[str | Path], mend: str, env: dict[str, str] | None = None, cwd: Path | None = None
) -> None:
    """Runs a program with its output in a log; raises Stop with the mend and the log's place when it fails."""
    LOGS.mkdir(parents=True, exist_ok=True)
    log = LOGS / f"{name}.log"
    with log.open("wb") as out:
        try:
            code = subprocess.run(
                [str(part) for part in command],
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=subprocess.STDOUT,
                env={**os.environ, **(env or {})},
                cwd=cwd,
            ).returncode
        except OSError as error:
            raise Stop(f"{name}: {error}: {mend}") from None
    if code:
        raise Stop(f"{name} failed: {mend} (its output is in {os.path.relpath(log)})")
