"""Python for the page: the core as a compiled wheel, the lock micropip made, the cut standard library, and Pyodide."""

import ast
import json
import math
import os
import shutil
import subprocess
import zipfile
from pathlib import Path

from . import compared, interpreter, stamps
from .console import Stop, run, step
from .environment import node, pip
from .interpreter import PYODIDE
from .places import BUILD_SOURCES, CORE, ROOT, WEB, WORK, swap, tool
from .squeezed import squeezing_aside

STARTING = (WEB / "worker" / "start-options.js", WEB / "worker" / "shared-modules.js")
EXERCISE = BUILD_SOURCES / "exercise.json"
REQUIREMENTS = BUILD_SOURCES / "requirements" / "pyodide.txt"
WHEELS = WORK / "wheels"
OUT = WORK / "python"
UNPACKED = WORK / "core-unpacked"  # the core as it was when the wheel was made
NEW = WORK / "python-new"
CUT_REPORT = WORK / "cut.json"
BUILTINS = WORK / "builtins.json"
ANSWERS = WORK / "answers.json"
CALLS = 20_000  # at random, into the interpreter that ships and into the whole one

EXERCISE_MEND = "the core cannot answer web/build/exercise.json: run the core's tests first"


def build() -> None:
    """Fills .build/python with the wheel, the lock and the standard library, proved to answer as plain Python does."""
    wanted = stamps.digest(*_inputs())
    if stamps.up_to_date("python", wanted, OUT / "python_stdlib.zip", CUT_REPORT, interpreter.OUT / interpreter.WASM):
        return
    _fetch_micropip()
    shutil.rmtree(NEW, ignore_errors=True)
    NEW.mkdir(parents=True)
    with step("Compiling the core and cutting the standard library to what it loads"):
        _freeze()
        _cut()
    interpreter.tell_unknown()
    shrink(NEW)
    with (
        squeezing_aside([interpreter.OUT / interpreter.WASM]),
        step("Proving that it all answers as plain Python does"),
    ):
        _prove()
    swap(NEW, OUT)
    stamps.done("python", wanted)


def shrink(python: Path) -> None:
    """Fills .build/interpreter for the built-in modules that stay, and proves with our Python that it is good."""
    if interpreter.is_shrunk(BUILTINS):
        return
    with step("Leaving out of the interpreter what the page never calls"):
        interpreter.shrink(BUILTINS)
        compared.check(python, builtins(), CALLS)
        compared.check_exercise(python, EXERCISE)
    interpreter.proved(BUILTINS)


def builtins() -> set[str]:
    """The modules built into the interpreter that our Python loads."""
    return set(json.loads(BUILTINS.read_text("utf-8")))


def folders() -> dict[str, dict[str, Path]]:
    """The two folders that ship, as files by name: `py` changes with the core, `pyodide` only with Pyodide."""
    return {
        "py": {path.name: path for path in stamps.files_under(OUT)},
        "pyodide": interpreter.shipped(),
    }


def _inputs() -> list[Path]:
    scripts = [*stamps.files_under(BUILD_SOURCES / "node"), *stamps.files_under(BUILD_SOURCES / "inside")]
    own = [*STARTING, EXERCISE, ROOT / "pyproject.toml", WEB / "package-lock.json", Path(__file__)]
    return [*stamps.files_under(CORE), *scripts, *own, *interpreter.ours(), *interpreter.inputs(), REQUIREMENTS]


def _fetch_micropip() -> None:
    wanted = stamps.digest(REQUIREMENTS)
    if stamps.up_to_date("micropip", wanted, WHEELS):
        return
    with step("Fetching micropip, which resolves the core's wheel"):
        pip(
            "download",
            "--quiet",
            "--no-deps",
            "--only-binary=:all:",
            "--python-version",
            "3.14",
            "--require-hashes",
            "-d",
            WHEELS,
            "-r",
            REQUIREMENTS,
        )
    stamps.done("micropip", wanted)


def _freeze() -> None:
    folder = WORK / "core-wheel"
    shutil.rmtree(folder, ignore_errors=True)
    run(
        "hatchling",
        [tool("python"), "-m", "hatchling", "build", "-t", "wheel", "-d", folder],
        "the core's wheel cannot be built: see pyproject.toml",
        cwd=ROOT,
    )
    wheel = next(folder.glob("*.whl"))
    shutil.rmtree(UNPACKED, ignore_errors=True)
    shutil.unpack_archive(wheel, UNPACKED, "zip")
    node("freeze", PYODIDE, WHEELS, wheel, NEW)


def _cut() -> None:
    node("cut", PYODIDE, interpreter.whole_stdlib(), EXERCISE, NEW, CUT_REPORT)
    report = json.loads(CUT_REPORT.read_text("utf-8"))
    BUILTINS.write_text(json.dumps(report["builtins"]), "utf-8")
    provided = set(report["modules"])
    for module in modules_in(NEW):
        check_imports(UNPACKED / module, UNPACKED, provided)


def modules_in(python: Path) -> list[str]:
    """The sources of the modules in the core's wheel there: what only a shell starts stayed behind."""
    with zipfile.ZipFile(next(python.glob("*.whl"))) as wheel:
        return sorted(name.removesuffix("c") for name in wheel.namelist() if name.endswith(".pyc"))


def check_imports(path: Path, folder: Path, provided: set[str]) -> None:
    """Stop when a file imports what the cut library lacks: the exercise has then not gone everywhere."""
    for module in sorted(imported_modules(path.read_text("utf-8")) - provided):
        raise Stop(
            f"{path.relative_to(folder).as_posix()} imports {module}, which nothing in web/build/exercise.json loads: "
            "add a request that needs it"
        )


def imported_modules(source: str) -> set[str]:
    """The modules from outside the core that a source imports anywhere, inside functions too.

    >>> sorted(imported_modules("import json, os.path; from . import units; from re import sub"))
    ['json', 'os.path', 're']
    """
    names = set()
    for node_ in ast.walk(ast.parse(source)):
        if isinstance(node_, ast.Import):
            names.update(alias.name for alias in node_.names)
        elif isinstance(node_, ast.ImportFrom) and node_.level == 0:
            names.add(node_.module)
    return {name for name in names if name.split(".")[0] != "matside"}


def _prove() -> None:
    """The shipped files alone must answer the exercise, and as the core does under plain Python."""
    node("prove", interpreter.OUT, NEW, EXERCISE, ANSWERS)
    check_alike(json.loads(_plain_answers()), json.loads(ANSWERS.read_text("utf-8")))


def check_alike(wanted: list[dict], found: list[dict]) -> None:
    """Stop when the page's Python answers any request of the exercise differently from plain Python."""
    for request, (one, other) in enumerate(zip(wanted, found, strict=True)):
        if not alike(one, other):
            raise Stop(
                f"request {request + 1} of web/build/exercise.json is answered differently in the page's Python: "
                f"compare {os.path.relpath(ANSWERS)} with plain Python's answers"
            )


def _plain_answers() -> str:
    command = [str(tool("python")), str(BUILD_SOURCES / "inside" / "exercise.py"), str(EXERCISE)]
    done = subprocess.run(command, env={**os.environ, "PYTHONPATH": str(UNPACKED)}, capture_output=True, text=True)
    if done.returncode:
        raise Stop(f"{EXERCISE_MEND}: {(done.stderr.strip().splitlines() or ['no message'])[-1]}")
    return done.stdout


def alike(one, other) -> bool:
    """Whether two answers agree; numbers to nine digits, because the two Pythons use different mathematical libraries.

    >>> alike({"a": [1, 2.0]}, {"a": [1, 2.0000000000001]}), alike([1], [1, 2]), alike(True, 1)
    (True, False, False)
    """
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(alike, one, other))
    return type(one) is type(other) and one == other
