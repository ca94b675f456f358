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
ADDITIONS = BUILD_SOURCES / "additions"
LATE = BUILD_SOURCES / "late"
LATECOMERS = ("annotationlib.py", "traceback.py", "typing.py")
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
    """The standard library to cut from.

    In it are stand-ins for what is loaded at the start and the page does not use, places held for what it uses later or
    never, and what we add to a module.
    """
    if not is_known():
        return PYODIDE / "python_stdlib.zip"
    with zipfile.ZipFile(PYODIDE / "python_stdlib.zip") as source:
        contents = {name: source.read(name) for name in source.namelist()}
    with zipfile.ZipFile(_STDLIB, "w") as target:
        for name, content in _with_ours(contents).items():
            target.writestr(name, content)
    return _STDLIB


def ours() -> list[Path]:
    """What of ours goes into the standard library."""
    return [path for folder in (STANDINS, ADDITIONS, LATE) for path in stamps.files_under(folder, "*.py")]


def _with_ours(contents: dict[str, bytes]) -> dict[str, bytes]:
    standins, additions = _sources(STANDINS), _sources(ADDITIONS)
    if missing := {*standins, *additions, *LATECOMERS} - contents.keys():
        raise KeyError(f"there is nothing to stand in for: {', '.join(sorted(missing))}")
    added = {name: contents[name] + addition for name, addition in additions.items()}
    held = dict.fromkeys(LATECOMERS, (LATE / "held.py").read_bytes())
    late = {f"late/{name}": contents[name] for name in LATECOMERS}
    return contents | standins | added | held | late | {"late/__init__.py": (LATE / "__init__.py").read_bytes()}


def _sources(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in stamps.files_under(folder, "*.py")}


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
