"""Copies of the tree in which changes are made and tried."""

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from .changes import Change
from .reach import Reach, Test, few, instrumented

try:
    import resource
except ImportError:  # not on Windows
    resource = None

#: What is copied, where it is there.
COPIED = ("core", "tests", "web", "pyproject.toml", "build.py", "README.md", "DEVELOPERS.md", "LICENSE")
_NOT_COPIED = shutil.ignore_patterns("node_modules", "__pycache__", ".hypothesis")
#: A trial is given so many seconds of the processor, and so many times what its tests took when they were noted;
#: and so many times as long by the clock, as others may work beside it.
_SECONDS, _TIMES, _PATIENCE = 20, 4, 10
#: A change that fills the memory is noticed.
_MOST_MEMORY = 4 << 30
_NOTICED, _PASSED = (1, 2, 3), 0
#: The signal that ends what takes too much of the processor.
_TOO_LONG = getattr(signal, "SIGXCPU", 0)


@dataclass(frozen=True)
class Outcome:
    """Whether a change was noticed, and how: by which test, or because it took too long."""

    noticed: bool
    how: str


class Trial:
    """A copy of the tree, for one change after another."""

    def __init__(self, root: Path, folder: Path, package: str) -> None:
        self.folder = folder
        self.package = folder / package
        shutil.rmtree(folder, ignore_errors=True)
        for name in COPIED:
            if (root / name).is_dir():
                shutil.copytree(root / name, folder / name, ignore=_NOT_COPIED)
            elif (root / name).exists():
                folder.mkdir(parents=True, exist_ok=True)
                shutil.copy2(root / name, folder / name)
        modules = root / "web" / "node_modules"
        if modules.exists():
            (folder / "web" / "node_modules").symlink_to(modules)

    def instrument(self) -> None:
        """Makes all functions of the copy tell that they are called."""
        for path in self.package.rglob("*.py"):
            path.write_text(instrumented(path.read_text("utf-8"), path.relative_to(self.package).as_posix()), "utf-8")

    def note(self, unit: str, path: Path) -> None:
        """Runs a unit's tests and notes what each comes by."""
        path.parent.mkdir(parents=True, exist_ok=True)
        new = self.folder / "noted.json"
        new.unlink(missing_ok=True)
        self._pytest([unit], {"note": str(new)}, None, "--continue-on-collection-errors")
        if not new.exists():
            raise RuntimeError(f"{unit} could not be run")
        new.replace(path)

    def tried(self, change: Change, reach: Reach) -> Outcome:
        """Makes a change, runs the tests that come by it until one fails, and takes the change back."""
        tests = reach.of(change)
        if not tests:
            return Outcome(False, "no test comes by")
        path = self.package / change.file
        source = path.read_bytes()
        self._write(path, change.made(source))
        try:
            first = few(tests)
            for chosen in (first, reach.rest(tests, first)):
                outcome = self._run(chosen)
                if outcome.noticed:
                    return outcome
            return outcome
        finally:
            self._write(path, source)

    def _run(self, tests: list[Test]) -> Outcome:
        if not tests:
            return Outcome(False, "passed")
        units, names = dict.fromkeys(test.unit for test in tests), [test.name for test in tests]
        seconds = _SECONDS + _TIMES * sum(test.seconds for test in tests)
        try:
            done = self._pytest(units, {"only": names}, round(seconds), "-x")
        except subprocess.TimeoutExpired:
            return Outcome(True, "took too long")
        if done.returncode == -_TOO_LONG:
            return Outcome(True, "took too long")
        if done.returncode == _PASSED:
            return Outcome(False, "passed")
        if done.returncode < 0 or done.returncode in _NOTICED:
            failed = [line for line in done.stdout.splitlines() if line.startswith(("FAILED", "ERROR"))]
            return Outcome(True, failed[0].split(" - ")[0] if failed else "ended")
        raise RuntimeError(f"pytest ended with {done.returncode}: {done.stdout[-2000:]}{done.stderr[-2000:]}")

    def _pytest(self, units: Iterable[str], asked: dict, seconds: int | None, *more: str):
        watching = self.folder / "watching.json"
        watching.write_text(json.dumps(asked), "utf-8")
        folders = [self.package.parent, self.folder / "web" / "build", self.folder / "tests", Path(__file__).parents[1]]
        env = {**os.environ, "PYTHONPATH": os.pathsep.join(map(str, folders)), "MATSIDE_WATCHING": str(watching)}
        command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "mutation.watching", *more]
        with subprocess.Popen(
            [*command, *units], cwd=self.folder, env=env, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            start_new_session=True, preexec_fn=partial(_limit, seconds) if resource else None,
        ) as program:  # fmt: skip
            try:
                out, err = program.communicate(timeout=seconds and seconds * _PATIENCE)
            finally:
                _end(program)
        return subprocess.CompletedProcess(command, program.returncode, out, err)

    @staticmethod
    def _write(path: Path, source: bytes) -> None:
        """Writes a module; what was compiled of another text is not to be taken for it."""
        path.write_bytes(source)
        for compiled in (path.parent / "__pycache__").glob(f"{path.stem}.*.pyc"):
            compiled.unlink()


def _limit(seconds: int | None) -> None:
    resource.setrlimit(resource.RLIMIT_DATA, (_MOST_MEMORY, _MOST_MEMORY))
    if seconds:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))


def _end(program: subprocess.Popen) -> None:
    """Ends what still runs, and what it started."""
    if program.poll() is not None:
        return
    if hasattr(os, "killpg"):
        os.killpg(program.pid, 9)
    else:
        program.kill()
    program.communicate()
