"""Chromium with a profile on disk and nothing that steers it: quick to start, to be killed again and again."""

import os
import signal
import subprocess
from contextlib import suppress
from pathlib import Path

from phone import TEST_FLAGS
from steps.testing import find_shell


class BareBrowser:
    """One profile; `open` starts the browser at an address, `kill` ends it with SIGKILL, `close` as a user does."""

    def __init__(self, profile: Path) -> None:
        self._profile = profile
        self._process: subprocess.Popen | None = None

    def open(self, url: str) -> None:
        """Starts the browser; returns at once."""
        command = [find_shell(), "--headless=new", f"--user-data-dir={self._profile}", *TEST_FLAGS, "--disable-extensions",
                   "--disable-component-extensions-with-background-pages", "--no-default-browser-check", "--window-size=390,844", url]
        self._process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)

    def kill(self, everything: bool = True) -> None:
        """Ends all of its processes at once, or the first one alone, which the others follow."""
        if self._process is None:
            return
        with suppress(ProcessLookupError):
            if everything:
                os.killpg(self._process.pid, signal.SIGKILL)
            else:
                self._process.kill()
        self._process.wait()
        with suppress(ProcessLookupError):
            os.killpg(self._process.pid, signal.SIGKILL)  # what is left of it
        self._process = None

    def close(self) -> None:
        """Ends as a user's browser does, with time to write."""
        if self._process is None:
            return
        self._process.terminate()
        with suppress(subprocess.TimeoutExpired):
            self._process.wait(20)
        self.kill()
