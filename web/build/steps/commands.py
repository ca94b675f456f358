"""The commands of build.py."""

import argparse
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from . import distribution, environment, hall, linting, published, pythonpart, serving, testing
from .console import Stop, say
from .places import DIST, NODE_MODULES, ROOT, VENV, WORK


def main(arguments: list[str], summary: str) -> int:
    """Runs one command and returns the exit status; a Stop becomes one line."""
    parsed, rest = _parser(summary).parse_known_args(arguments)
    if rest and parsed.command not in ("test", "bench", "torture", "mutate"):
        _parser(summary).error(f"unrecognized arguments: {' '.join(rest)}")
    try:
        return _COMMANDS[parsed.command](parsed, rest) or 0
    except Stop as stop:
        say(f"stopped: {stop}")
        return 1
    except KeyboardInterrupt:
        say("interrupted")
        return 130


def _parser(summary: str) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="build.py", description=summary, allow_abbrev=False, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("command", choices=list(_COMMANDS))
    parser.add_argument("--port", type=int, default=8000, help="where serve listens (the next free port if taken)")
    parser.add_argument("--public", metavar="URL", help="the page's public address, which codes of plans say; kept")
    parser.add_argument("--hall", action="store_true", help="serve everyone nearby, by a hotspot or a wifi")
    for_hall = parser.add_argument_group("with serve --hall")
    for_hall.add_argument("--plan", type=Path, help="a plan saved from the page, which everyone there is given")
    for_hall.add_argument("--certificate", type=Path, help="serve HTTPS by this certificate (PEM)")
    for_hall.add_argument("--key", type=Path, help="its key, where that is in a file of its own")
    for_hall.add_argument("--address", help="the name or IPv4 address that the code leads to")
    return parser


def build(parsed: argparse.Namespace | None = None, *_rest) -> None:
    """Brings dist/ up to date, with whatever that needs."""
    environment.require_venv_module()
    published.set_public_address(parsed and parsed.public)
    with _alone():
        environment.prepare("serve")
        _build()


def _build() -> None:
    environment.npm_packages()
    pythonpart.build()
    distribution.build()


def serve(parsed: argparse.Namespace, _rest) -> None:
    """Builds, then serves."""
    if parsed.hall:
        return _serve_hall(parsed)
    if given := [f"--{name}" for name in _FOR_HALL if getattr(parsed, name)]:
        raise Stop(f"{given[0]} goes with serve --hall only")
    build(parsed)
    serving.serve(parsed.port)


def _serve_hall(parsed: argparse.Namespace) -> None:
    if parsed.key and not parsed.certificate:
        raise Stop("--key goes with --certificate only")
    try:
        build(parsed)
    except Stop as stop:
        if not (DIST / "sw.js").exists():
            raise
        say(str(stop))  # a hall is no place to mend it
        say("going on with dist/ as it was built before")
    hall.serve(hall.Hall(parsed.port, **{name: getattr(parsed, name) for name in _FOR_HALL}))


def test(_parsed, rest: list[str]) -> int:
    """Builds, prepares the tests, holds the code to its rules and runs the tests."""
    _prepare_tests()
    if not rest:
        linting.check()
    return testing.test(rest)


def bench(_parsed, rest: list[str]) -> int:
    """Builds, then measures."""
    _prepare_tests()
    return testing.bench(rest)


def torture(_parsed, rest: list[str]) -> int:
    """Builds, then goes on with the long runs."""
    _prepare_tests()
    return testing.torture(rest)


def mutate(_parsed, rest: list[str]) -> int:
    """Prepares the tests and tries changes to the core."""
    environment.require_venv_module()
    with _alone():
        environment.prepare("test")
    return testing.mutate(rest)


def _prepare_tests() -> None:
    environment.require_venv_module()
    with _alone():
        environment.prepare("serve")
        with environment.preparing_aside("test"):
            _build()
        testing.require_browser()


def clean(*_arguments) -> None:
    """Removes everything that the other commands made."""
    for folder in (DIST, WORK, NODE_MODULES, VENV):
        if folder.exists():
            say(f"Removing {folder.relative_to(ROOT)}")
            shutil.rmtree(folder)


@contextmanager
def _alone() -> Iterator[None]:
    """Waits until no other build works in this folder."""
    try:
        import fcntl
    except ImportError:  # not on Windows, where nothing guards against a second build at the same time
        yield
        return
    WORK.mkdir(exist_ok=True)
    with (WORK / "lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            say("Waiting for another build in this folder")
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield


_FOR_HALL = ("plan", "certificate", "key", "address")
_COMMANDS = {
    "build": build,
    "serve": serve,
    "test": test,
    "bench": bench,
    "torture": torture,
    "mutate": mutate,
    "clean": clean,
}
