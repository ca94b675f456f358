"""Runs the tests with everything they need in place."""

import glob
import os
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass

from .console import Stop, run, say, step
from .places import ROOT, WORK, tool

BROWSERS = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
# The same browser without its windows loads a page in half the time: nearly all tests take it where it is there.
SHELLS = ("chromium-headless-shell",)
# In seconds: a net for what would wait for ever, such as a promise that nothing settles. No test comes near it.
LONGEST_TEST = "300"
# Whole files, because what a file shares is set up once for each process; in the order, and by as many,
# as tests/conftest.py says.
# Twice as many processes as there are processors: a test of the page waits for a browser half of its time.
SHARED_OUT = ("-n", str(2 * (os.cpu_count() or 1)), "--dist", "loadfile", "--no-loadscope-reorder")
BROWSER_MEND = (
    "no Chromium was found: install it (on Debian, as root: apt-get install chromium) or set "
    "MATSIDE_CHROMIUM to its path"
)
# The journeys through the page, one file an engine.
ENGINE_TESTS = "tests/web/test_engine_*.py"
WEBKIT_BROWSERS = "/usr/lib/*/webkit2gtk-4.1/MiniBrowser"
WEBKIT_PROGRAMS = ("WebKitWebDriver", "xvfb-run", "xauth", "dbus-run-session", "bwrap", "xdg-dbus-proxy")


@dataclass(frozen=True)
class Engine:
    """A browser engine beside Chromium: how it is found, and Debian's packages with it and what drives it."""

    name: str
    find: Callable[[], str | None]
    packages: tuple[str, ...]

    @property
    def reason(self) -> str:
        """Why its tests are skipped, and what to do."""
        return f"{self.name} is not there (on Debian, as root: apt-get install {' '.join(self.packages)})"


def find_firefox() -> str | None:
    """The path of Firefox, or None."""
    return shutil.which("firefox-esr") or shutil.which("firefox")


def find_webkit() -> str | None:
    """The path of WebKitGTK's small browser; None where it, or a program that drives it, is missing."""
    found = next(iter(glob.glob(WEBKIT_BROWSERS)), None)
    return found if all(map(shutil.which, WEBKIT_PROGRAMS)) else None


ENGINES = {
    engine.name: engine
    for engine in (
        Engine("Firefox", find_firefox, ("firefox-esr",)),
        Engine(
            "WebKit",
            find_webkit,
            ("webkit2gtk-driver", "libwebkit2gtk-4.1-0", "xvfb", "xauth", "dbus", "bubblewrap", "xdg-dbus-proxy"),
        ),
    )
}


def find_browser() -> str | None:
    """The path of Chromium: MATSIDE_CHROMIUM, or the first one on the path."""
    named = os.environ.get("MATSIDE_CHROMIUM")
    return named or next(filter(None, map(shutil.which, BROWSERS)), None)


def find_shell() -> str | None:
    """The path of Chromium without its windows, or else that of `find_browser`."""
    return os.environ.get("MATSIDE_CHROMIUM") or next(filter(None, map(shutil.which, SHELLS)), None) or find_browser()


def lacking() -> list[Engine]:
    """The engines beside Chromium that are not on this machine."""
    return [engine for engine in ENGINES.values() if not engine.find()]


def skipped(name: str) -> bool:
    """Whether the tests of an engine are skipped, as it is not there."""
    return ENGINES[name] in lacking()


def require_browser() -> None:
    """Makes sure that there is a Chromium; as root on Debian it is installed, and the quicker one beside it;
    elsewhere Stop says what to do."""
    if not find_browser():
        if not _can_install():
            raise Stop(BROWSER_MEND)
        _install("Chromium", ("chromium",), BROWSER_MEND)
        if not find_browser():
            raise Stop(BROWSER_MEND)
    if find_shell() == find_browser() and not os.environ.get("MATSIDE_CHROMIUM") and _can_install():
        _install_or_say("Chromium without its windows", SHELLS, "the tests take longer")


def require_engines() -> None:
    """As root on Debian, installs the engines that are not there; where that fails, or
    elsewhere, their tests are skipped.
    """
    missing = lacking()
    if not missing or not _can_install():
        return
    packages = tuple(package for engine in missing for package in engine.packages)
    _install_or_say(" and ".join(engine.name for engine in missing), packages, "their tests are skipped")


def _install_or_say(what: str, packages: tuple[str, ...], otherwise: str) -> None:
    try:
        _install(what, packages, otherwise)
    except Stop as stop:
        say(str(stop))


def _can_install() -> bool:
    return bool(shutil.which("apt-get")) and hasattr(os, "geteuid") and os.geteuid() == 0


def _install(what: str, packages: tuple[str, ...], mend: str) -> None:
    with step(f"Installing {what} with apt-get"):
        quiet = {"DEBIAN_FRONTEND": "noninteractive"}
        run("apt-get-update", ["apt-get", "update"], mend, env=quiet)
        run("apt-get-install", ["apt-get", "install", "-y", "--no-install-recommends", *packages], mend, quiet)


def may_run_engines(arguments: list[str]) -> bool:
    """Whether pytest with these arguments may come to the tests of the engines: where they name no
    path, or one with such a test.

    >>> [may_run_engines(arguments) for arguments in ([], ["-k", "cut"], ["tests/web"], ["tests/core", "-x"])]
    [True, True, True, False]
    """
    named = [path.resolve() for path in (ROOT / argument.split("::")[0] for argument in arguments) if path.exists()]
    return not named or any(test.is_relative_to(path) for test in ROOT.glob(ENGINE_TESTS) for path in named)


def test(arguments: list[str]) -> int:
    """Runs pytest with the arguments and returns its exit status; says before and after
    which engines are not tested.
    """
    with_engines = may_run_engines(arguments)
    if with_engines:
        require_engines()
    say("Running the tests")
    _tell_skipped(with_engines)
    status = _pytest(arguments)
    _tell_skipped(with_engines)
    return status


def _tell_skipped(with_engines: bool) -> None:
    for engine in lacking() if with_engines else []:
        say(f"NOT TESTED: {engine.reason}")


def bench(arguments: list[str]) -> int:
    """Runs the figures of tests/bench, all or those named, and returns the exit status."""
    say("Measuring; the figures are ratios of times taken side by side")
    return subprocess.run(
        [str(tool("python")), "-m", "bench", *arguments], cwd=ROOT, env=_python_path("tests")
    ).returncode


def torture(arguments: list[str]) -> int:
    """Goes on with the long runs of tests/torture, all or those named, and returns the exit status."""
    say("Going on with what takes long; it can be stopped at any time (Ctrl+C)")
    return subprocess.run(
        [str(tool("python")), "-m", "torture", *arguments], cwd=ROOT, env=_python_path("tests")
    ).returncode


def mutate(arguments: list[str]) -> int:
    """Tries changes to the core by tests/mutation and returns the exit status."""
    say("Changing the core on purpose, in copies; it can be stopped at any time (Ctrl+C)")
    return subprocess.run(
        [str(tool("python")), "-m", "mutation", *arguments], cwd=ROOT, env=_python_path("tests")
    ).returncode


def _pytest(arguments: list[str]) -> int:
    command = [str(tool("python")), "-m", "pytest", "--timeout", LONGEST_TEST, *SHARED_OUT, *arguments]
    return subprocess.run(command, cwd=ROOT, env=_compiled_aside(_python_path())).returncode


def _compiled_aside(env: dict[str, str]) -> dict[str, str]:
    """The same with what Python compiles kept in .build, wherever it is told to keep none: the tests' processes all
    load the same modules.
    """
    return {**env, "PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(WORK / "compiled")}


def _python_path(*more: str) -> dict[str, str]:
    folders = ["core", "web/build", *more]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(str(ROOT / folder) for folder in folders)}
