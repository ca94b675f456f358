"""Browsers with a profile on disk and nothing that steers them: quick to start, to be killed again and again."""

import os
import signal
import subprocess
from abc import ABC, abstractmethod
from contextlib import suppress
from pathlib import Path

from engines import firefox_settings
from phone import OUTSIDE, TEST_FLAGS
from steps.testing import find_firefox, find_shell


class BareBrowser(ABC):
    """One profile; `open` starts the browser at an address, `kill` ends it with SIGKILL, `close` as a user does."""

    latest_kill: float  # seconds after the first act within which some acts are done

    def __init__(self, profile: Path) -> None:
        self._profile = profile
        self._process: subprocess.Popen | None = None

    @abstractmethod
    def _command(self) -> list[str]:
        """How it is started, but for the address."""

    def open(self, url: str) -> None:
        """Starts the browser; returns at once."""
        self._process = subprocess.Popen(
            [*self._command(), url],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )

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


class BareChromium(BareBrowser):
    """Chromium so."""

    latest_kill = 0.6

    def _command(self) -> list[str]:
        return [
            find_shell(),
            "--headless=new",
            f"--user-data-dir={self._profile}",
            *TEST_FLAGS,
            "--disable-extensions",
            "--disable-component-extensions-with-background-pages",
            "--no-default-browser-check",
            "--window-size=390,844",
        ]


class BareFirefox(BareBrowser):
    """Firefox so."""

    latest_kill = 1.2

    def _command(self) -> list[str]:
        firefox_settings.write(self._profile, OUTSIDE.address)
        return [
            find_firefox(),
            "--headless",
            "--no-remote",
            "--profile",
            str(self._profile),
            "--width",
            "390",
            "--height",
            "844",
        ]
