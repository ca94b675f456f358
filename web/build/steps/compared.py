"""Whether the interpreter that ships does what the whole one does: calls at random into both, and the exercise."""

import json
import tempfile
from itertools import zip_longest
from pathlib import Path

from . import interpreter
from .console import Stop
from .environment import node

#: Of Pyodide's own there is no module to import before the page has told it what it needs.
_NOT_CALLED = {"_pyodide_core"}
SEED = 1


def differences(python: Path, builtins: set[str], first: int, many: int, seed: int = SEED) -> list[str]:
    """What came of so many calls, from number `first` on, where it differs: the line of each interpreter.

    `python` is the folder with our Python, `builtins` the built-in modules that it loads. They are called, and those
    that the interpreter cannot be without.
    """
    with tempfile.TemporaryDirectory(prefix="calls-") as folder:
        modules = Path(folder) / "modules.json"
        modules.write_text(json.dumps(sorted((builtins | interpreter.always_there()) - _NOT_CALLED)), "utf-8")
        told = [
            _told(pyodide, python, modules, Path(folder) / name, (seed, first, many))
            for name, pyodide in (("whole", interpreter.PYODIDE), ("shrunk", interpreter.OUT))
        ]
    pairs = enumerate(zip_longest(*told, fillvalue="nothing"), start=first)
    return [f"call {number}: {one} but {other}" for number, (one, other) in pairs if one != other]


def check(python: Path, builtins: set[str], many: int) -> None:
    """Stop when any of the first calls differs."""
    if found := differences(python, builtins, 0, many):
        raise Stop(
            f"the interpreter without what the page never calls answers {len(found)} of {many} calls differently: "
            f"a part in {interpreter.PARTS.name} is wrong; the first is {found[0]}"
        )


def check_exercise(python: Path, exercise: Path) -> None:
    """Stop when the two do not answer the exercise with the same bytes."""
    with tempfile.TemporaryDirectory(prefix="answers-") as folder:
        answers = [Path(folder) / name for name in ("whole", "shrunk")]
        for pyodide, target in zip((interpreter.PYODIDE, interpreter.OUT), answers, strict=True):
            node("prove", pyodide, python, exercise, target)
        if answers[0].read_bytes() != answers[1].read_bytes():
            raise Stop(
                "the interpreter without what the page never calls answers web/build/exercise.json otherwise than the "
                f"whole one: a part in {interpreter.PARTS.name} is wrong"
            )


def _told(pyodide: Path, python: Path, modules: Path, target: Path, run: tuple[int, int, int]) -> list[str]:
    node("calls", pyodide, python, modules, target, *map(str, run))
    return target.read_text("utf-8").splitlines()
