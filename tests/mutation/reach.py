"""Which tests come by which function of the package, noted once in a copy whose functions tell when they are called."""

import ast
import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from .changes import Change

#: The quickest way to notice: so many tests, from so many files, in so many seconds, the most special ones first.
FEW_TESTS = 60
FEW_FILES = 4
FEW_SECONDS = 6.0
#: What a test file keeps from one test for the next.
_SHARES = re.compile(r"^@cache\b|^@lru_cache\b|\bscope=", re.MULTILINE)
_CACHES = ("cache", "lru_cache")


@dataclass(frozen=True)
class Test:
    """A test by its name, with the file or folder it is found in, how long it took and how many functions it came by."""

    name: str
    unit: str
    seconds: float
    special: int


def instrumented(source: str, file: str) -> str:
    """The module with every function telling its name when it is called.

    >>> print(instrumented("def f(a):\\n    return a", "x.py"))
    __import__('builtins').__dict__.setdefault('__reach__', id)
    <BLANKLINE>
    def f(a):
        __reach__('x.py::f')
        return a
    """
    tree = ast.parse(source)
    for name, node in _functions(tree):
        # What is remembered from another test would not be come by.
        node.decorator_list = [one for one in node.decorator_list if _name(one) not in _CACHES]
        told = ast.parse(f"__reach__({f'{file}::{name}'!r})").body
        at = 1 if ast.get_docstring(node) is not None else 0
        node.body[at:at] = told
    # A program that a test starts has nobody to tell it to.
    told = ast.parse("__import__('builtins').__dict__.setdefault('__reach__', id)").body
    at = 1 if ast.get_docstring(tree) is not None else 0
    tree.body[at:at] = told
    return ast.unparse(tree)


def _shares(file: Path) -> bool:
    """Whether a test file, or one beside it that it imports, keeps something for the next test."""
    text = file.read_text("utf-8")
    helpers = (file.with_name(f"{name}.py") for name in re.findall(r"^(?:from|import) (\w+)", text, re.MULTILINE))
    return any(_SHARES.search(one) for one in (text, *(path.read_text("utf-8") for path in helpers if path.exists())))


def _name(decorator: ast.expr) -> str | None:
    return getattr(decorator.func if isinstance(decorator, ast.Call) else decorator, "id", None)


def _functions(node: ast.AST, inside: tuple[str, ...] = ()) -> Iterator[tuple[str, ast.FunctionDef]]:
    for child in ast.iter_child_nodes(node):
        within = inside
        if isinstance(child, ast.FunctionDef | ast.ClassDef):
            within = (*inside, child.name)
        if isinstance(child, ast.FunctionDef):
            yield ".".join(within), child
        yield from _functions(child, within)


class Reach:
    """What was noted, a file for each unit: a test file, or the package with its doctests."""

    def __init__(self, folder: Path, package: Path) -> None:
        self._folder = folder
        self._texts = {path.relative_to(package).as_posix(): path.read_text("utf-8") for path in package.rglob("*.py")}
        self._noted: dict[str, dict] = {}
        self._sharing: set[str] = set()
        self._units: dict[str, str] = {}

    def note_path(self, root: Path, unit: str) -> Path:
        """Where a unit's notes are kept: elsewhere once its text is another."""
        path = root / unit
        text = path.read_bytes() if path.is_file() else b"".join(self._doctests().values())
        return self._folder / f"{unit.replace('/', '_')}-{hashlib.sha256(text).hexdigest()[:12]}.json"

    def _doctests(self) -> dict[str, bytes]:
        return {file: text.encode() for file, text in sorted(self._texts.items()) if ">>>" in text}

    def read(self, root: Path, units: list[str]) -> None:
        """Takes in what was noted of the units."""
        self._noted = {unit: json.loads(self.note_path(root, unit).read_text("utf-8")) for unit in units}
        self._units = {unit: (root / unit).read_text("utf-8") for unit in units if (root / unit).is_file()}
        self._sharing = {unit for unit in units if (root / unit).is_file() and _shares(root / unit)}

    def failing(self) -> list[str]:
        """The tests that cannot notice anything, as they fail without a change."""
        return [name for tests in self._noted.values() for name, test in tests.items() if test.get("failed")]

    def of(self, change: Change) -> list[Test]:
        """The tests that come by a change, the most special ones first; none where no test does."""
        own = named_by(self._texts[change.file], change.line) if change.inside is None else set()
        names, naming = self._names(change, own), self._naming({name for name in own if not name.startswith("_")})
        found = []
        for unit, tests in self._noted.items():
            always = unit in naming or not names.isdisjoint(tests.get("", {"by": []})["by"])
            found += [
                Test(name, unit, test["seconds"], len(test["by"]))
                for name, test in tests.items()
                if name and test["passed"] and (always or not names.isdisjoint(test["by"]))
            ]
        return sorted(found, key=lambda test: (test.special, test.seconds, test.name))

    def rest(self, tests: list[Test], tried: list[Test]) -> list[Test]:
        """The tests that may notice besides those that were tried, those of the quickest file first.

        Where a file keeps answers or fixtures for several tests, only the first of them comes by what made these: all of
        the file's tests are needed then."""
        found: dict[str, list[Test]] = {}
        for test in tests:
            found.setdefault(test.unit, []).append(test)
        for unit in self._sharing & set(found):
            found[unit] = [
                Test(name, unit, test["seconds"], len(test["by"]))
                for name, test in self._noted[unit].items()
                if name and test["passed"]
            ]
        left = [[test for test in of_unit if test not in tried] for of_unit in found.values()]
        return [test for of_unit in sorted(left, key=lambda one: sum(test.seconds for test in one)) for test in of_unit]

    def _naming(self, names: set[str]) -> set[str]:
        """The files of tests in which one of these names stands."""
        return {unit for unit, text in self._units.items() if _word(names).search(text)}

    def _names(self, change: Change, own_names: set[str]) -> set[str]:
        """The functions that a change is seen in."""
        if change.inside is not None and (own := f"{change.file}::{change.inside}") in self._all():
            return {own}
        files = {change.file, *self._mentioning(own_names)}
        return {name for name in self._all() if name.partition("::")[0] in files}

    def _all(self) -> set[str]:
        return {name for tests in self._noted.values() for test in tests.values() for name in test["by"]}

    def _mentioning(self, names: set[str]) -> Iterator[str]:
        """The modules in which one of these names stands."""
        word = _word(names)
        yield from (file for file, text in self._texts.items() if word.search(text))


def _word(names: set[str]) -> re.Pattern:
    return re.compile(rf"\b({'|'.join(map(re.escape, sorted(names) or ['-']))})\b")


def named_by(source: str, line: int) -> set[str]:
    """The names that a line outside functions is part of, and those of the same module that are made of these.

    >>> sorted(named_by("A = 1\\nB = [A]\\nC = 2\\n", 1))
    ['A', 'B']
    """
    statements = {statement: _names(statement) for statement in ast.parse(source).body}
    found = set().union(*(names for one, names in statements.items() if one.lineno <= line <= one.end_lineno))
    while True:
        more = found.union(*(names for one, names in statements.items() if found & _read(one)))
        if more == found:
            return found
        found = more


def _names(statement: ast.stmt) -> set[str]:
    """What a statement outside functions gives a name to."""
    if isinstance(statement, ast.FunctionDef | ast.ClassDef):
        return {statement.name}
    return {node.id for node in ast.walk(statement) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)}


def _read(statement: ast.stmt) -> set[str]:
    if isinstance(statement, ast.FunctionDef | ast.ClassDef):
        return set()
    return {node.id for node in ast.walk(statement) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)}


def few(tests: list[Test]) -> list[Test]:
    """Those to begin with."""
    chosen, files, seconds = [], set(), 0.0
    for test in tests:
        if len(chosen) == FEW_TESTS:
            break
        if (test.unit not in files and len(files) == FEW_FILES) or seconds + test.seconds > FEW_SECONDS:
            continue
        chosen.append(test)
        files.add(test.unit)
        seconds += test.seconds
    return chosen
