"""Pyodide as it ships: without what the page never calls (web/build/node/shrink.mjs says how)."""

import hashlib
import json
import shutil
import zipfile
from functools import cache
from pathlib import Path

from . import stamps
from .console import say
from .environment import node
from .places import BUILD_SOURCES, NODE_MODULES, WEB, WORK, swap

PYODIDE = NODE_MODULES / "pyodide"
WASM = "pyodide.asm.wasm"
# The files of the npm package that a page needs; the standard library and the lock are our own.
RUNTIME = ("pyodide.mjs", "pyodide.asm.mjs", WASM)

PARTS = BUILD_SOURCES / "parts.json"
CALLS = BUILD_SOURCES / "inside" / "calls.py"
STANDINS = BUILD_SOURCES / "standins"
OUT = WORK / "interpreter"
REPORT = WORK / "shrunk.json"
_NEW = WORK / "interpreter-new"
_STDLIB = WORK / "stdlib.zip"


@cache
def is_known() -> bool:
    """Whether web/build/parts.json was made for the Pyodide that is installed."""
    digest = hashlib.sha256((PYODIDE / WASM).read_bytes()).hexdigest()
    return json.loads(PARTS.read_text("utf-8"))["sha256"] == digest


def tell_unknown() -> None:
    """Says, where it is another Pyodide, that less is left out of it, and what to do."""
    if not is_known():
        version = json.loads((PYODIDE / "package.json").read_text("utf-8"))["version"]
        say(
            f"Pyodide {version} is not the one that {PARTS.name} knows, so only its exports are cut and a first visit "
            "is half as large again: see “A new Pyodide” in DEVELOPERS.md"
        )


def whole_stdlib() -> Path:
    """The standard library to cut from, with our stand-ins in place of what Pyodide loads and the page does not use."""
    if not is_known():
        return PYODIDE / "python_stdlib.zip"
    instead = {path.relative_to(STANDINS).as_posix(): path for path in stamps.files_under(STANDINS, "*.py")}
    with zipfile.ZipFile(PYODIDE / "python_stdlib.zip") as source, zipfile.ZipFile(_STDLIB, "w") as target:
        if missing := instead.keys() - set(source.namelist()):
            raise KeyError(f"there is nothing to stand in for: {', '.join(sorted(missing))}")
        for name in source.namelist():
            target.writestr(name, instead[name].read_bytes() if name in instead else source.read(name))
    return _STDLIB


def is_shrunk(builtins: Path) -> bool:
    """Whether .build/interpreter is there, and proved, for these built-in modules (a JSON list)."""
    return stamps.up_to_date("interpreter", _wanted(builtins), OUT / WASM, REPORT)


def shrink(builtins: Path) -> None:
    """Fills .build/interpreter; it is still to be proved."""
    stamps.forget("interpreter")
    shutil.rmtree(_NEW, ignore_errors=True)
    _NEW.mkdir(parents=True)
    node("shrink", PYODIDE, builtins, PARTS, _NEW, REPORT)
    swap(_NEW, OUT)


def proved(builtins: Path) -> None:
    """Remembers that what is there is good for these built-in modules."""
    stamps.done("interpreter", _wanted(builtins))


def _wanted(builtins: Path) -> str:
    return stamps.digest(*inputs(), builtins.read_bytes())


def always_there() -> set[str]:
    """The built-in modules that no Pyodide is made without: those that are no part of their own."""
    parts = {part["name"] for part in json.loads(PARTS.read_text("utf-8"))["parts"]}
    return set(json.loads(REPORT.read_text("utf-8"))["kept"]) - parts


def inputs() -> list[Path]:
    """What the result depends on beside the list of modules."""
    scripts = BUILD_SOURCES / "node"
    own = [scripts / "shrink.mjs", scripts / "calls.mjs", *stamps.files_under(scripts / "engine"), CALLS, PARTS]
    return [*own, *(PYODIDE / name for name in RUNTIME), WEB / "package-lock.json"]


def shipped() -> dict[str, Path]:
    """The files that ship, by name."""
    return {name: OUT / name for name in RUNTIME}
