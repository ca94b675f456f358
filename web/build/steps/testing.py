"""Runs the tests with everything they need in place."""

import os
import shutil
import subprocess

from .console import Stop, run, say, step
from .places import ROOT, tool

BROWSERS = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
# In seconds: a net for what would wait for ever, such as a promise that nothing settles. No test comes near it.
LONGEST_TEST = "300"
# Every processor takes whole files, because what a file shares is set up once for each process.
SHARED_OUT = ("-n", "auto", "--dist", "loadfile")
BROWSER_MEND = ("no Chromium was found: install it (on Debian, as root: apt-get install chromium) or set "
                "MATSIDE_CHROMIUM to its path")


def find_browser() -> str | None:
    """The path of Chromium: MATSIDE_CHROMIUM, or the first one on the path."""
    named = os.environ.get("MATSIDE_CHROMIUM")
    return named or next(filter(None, map(shutil.which, BROWSERS)), None)


def require_browser() -> None:
    """Makes sure that there is a Chromium; as root on Debian it is installed, elsewhere Stop says what to do."""
    if find_browser():
        return
    if not (shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0):
        raise Stop(BROWSER_MEND)
    with step("Installing Chromium with apt-get"):
        quiet = {"DEBIAN_FRONTEND": "noninteractive"}
        run("apt-get-update", ["apt-get", "update"], BROWSER_MEND, env=quiet)
        run("apt-get-install", ["apt-get", "install", "-y", "--no-install-recommends", "chromium"], BROWSER_MEND, quiet)
    if not find_browser():
        raise Stop(BROWSER_MEND)


def test(arguments: list[str]) -> int:
    """Runs pytest with the arguments and returns its exit status."""
    say("Running the tests")
    return _pytest(arguments)


def bench(arguments: list[str]) -> int:
    """Runs the figures of tests/bench, all or those named, and returns the exit status."""
    say("Measuring; the figures are ratios of times taken side by side")
    return subprocess.run([str(tool("python")), "-m", "bench", *arguments], cwd=ROOT, env=_python_path("tests")).returncode


def torture(arguments: list[str]) -> int:
    """Goes on with the long runs of tests/torture, all or those named, and returns the exit status."""
    say("Going on with what takes long; it can be stopped at any time (Ctrl+C)")
    return subprocess.run([str(tool("python")), "-m", "torture", *arguments], cwd=ROOT, env=_python_path("tests")).returncode


def _pytest(arguments: list[str]) -> int:
    command = [str(tool("python")), "-m", "pytest", "--timeout", LONGEST_TEST, *SHARED_OUT, *arguments]
    return subprocess.run(command, cwd=ROOT, env=_python_path()).returncode


def _python_path(*more: str) -> dict[str, str]:
    folders = ["core", "web/worker", "web/build", *more]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(str(ROOT / folder) for folder in folders)}
