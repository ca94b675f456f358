"""The core's own laws, read from its source: imports point downward, no I/O, no clock, values that stay as they are."""

import ast
import graphlib
from pathlib import Path

import pytest

import matside

PACKAGE = Path(matside.__file__).parent
MODULES = {
    path.relative_to(PACKAGE).with_suffix("").as_posix(): ast.parse(path.read_text("utf-8"))
    for path in sorted(PACKAGE.rglob("*.py"))
}

#: DESIGN: door → (guide, plan search, rulers, drift, quilt, buying, handout) → (shapes, strips, cloth) →
#: units → errors. Whatever is not named here is one of the parts in the middle. The asks are the door's own;
#: the wording knows how a length is written.
TOP = 9
LEVELS = {
    "errors": 0,
    "angles": 0,
    "figures": 0,
    "words": 1,
    "units": 1,
    "fields": 2,
    "shapes": 3,
    "strips": 3,
    "cloth": 3,
    "pieces": 3,
    "kinds": 3,
    "margins": 3,
    "asks": 6,
    "door": 7,
    "__init__": 8,
    "__main__": TOP,
    "shell": TOP,
    "bridge": TOP,
}
MIDDLE = 5
#: What pure computing may take from the standard library. Nothing of it reads, writes or waits;
#: `random` only with a seed.
PURE = {
    "__future__", "abc", "bisect", "collections", "contextlib", "copy", "dataclasses", "enum", "fractions", "functools", "heapq",
    "itertools", "math", "numbers", "operator", "random", "re", "statistics", "string", "types", "typing",
}  # fmt: skip
#: The shell command reads and prints, the page's worker hands texts over; the wording is read
#: from the package's own files.
ALSO = {
    "asks/__init__": {"importlib"},
    "__main__": {"json", "sys"},
    "shell": {"argparse", "pathlib", "sys"},
    "bridge": {"gc", "json"},
    "words/catalogue": {"json", "os"},
}
FORBIDDEN_CALLS = {"open", "print", "input", "exec", "eval", "compile", "__import__", "breakpoint"}


def part(module: str) -> str:
    """The part of the core that a module belongs to: the module itself, or the package it lies in."""
    return module.split("/")[0]


def level(module: str) -> int:
    """How high a module stands."""
    return LEVELS.get(part(module), MIDDLE)


def imported(module: str, tree: ast.AST) -> list[str]:
    """The modules of the core that a module imports, wherever in it."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.level or (node.module or "").split(".")[0] == "matside"):
            found += targets(base_of(module, node), [alias.name for alias in node.names])
        elif isinstance(node, ast.Import):
            found += [
                name_of(alias.name.split(".")[1:]) for alias in node.names if alias.name.split(".")[0] == "matside"
            ]
    return found


def base_of(module: str, node: ast.ImportFrom) -> list[str]:
    """The folder or module, as names from the core's root, that `from … import` starts at."""
    names = (node.module or "").split(".") if node.module else []
    return [*module.split("/")[: -node.level], *names] if node.level else names[1:]


def targets(base: list[str], names: list[str]) -> list[str]:
    """`from base import names`: a name is a module where there is one, or else something of `base` itself."""
    found = []
    for name in names:
        inside = "/".join([*base, name])
        found.append(
            inside if inside in MODULES else f"{inside}/__init__" if f"{inside}/__init__" in MODULES else name_of(base)
        )
    return found


def name_of(names: list[str]) -> str:
    """The module's name for a dotted path."""
    joined = "/".join(names)
    return joined if joined in MODULES else "/".join([*names, "__init__"])


IMPORTS = {module: imported(module, tree) for module, tree in MODULES.items()}


def test_the_core_is_read_as_a_whole():
    assert {"errors", "units", "shapes", "door", "asks/__init__", "words/__init__", "__main__"} <= set(MODULES)
    assert all(target in MODULES for targets in IMPORTS.values() for target in targets)
    assert "shapes" in IMPORTS["strips"] and "errors" in IMPORTS["units"] and "asks/__init__" in IMPORTS["door"]


@pytest.mark.parametrize("module", sorted(MODULES))
def test_imports_point_downward(module):
    upward = [target for target in IMPORTS[module] if level(target) > level(module)]
    assert not upward, f"{module} imports what stands above it: {upward}"


def test_nothing_imports_in_a_circle():
    graph = {}
    for module, found in IMPORTS.items():
        graph.setdefault(part(module), set()).update(part(target) for target in found if part(target) != part(module))
    graphlib.TopologicalSorter(graph).prepare()
    graphlib.TopologicalSorter({module: set(found) - {module} for module, found in IMPORTS.items()}).prepare()


def test_the_errors_and_the_wording_know_nothing_of_the_rest():
    assert IMPORTS["errors"] == IMPORTS["angles"] == IMPORTS["figures"] == IMPORTS["words/plurals"] == []
    wording = {target for module, found in IMPORTS.items() if part(module) == "words" for target in found}
    assert {part(target) for target in wording} == {"words", "figures"}, "how a length is written, and nothing else"


def test_what_reads_and_writes_for_a_shell_is_named_by_its_start_alone():
    assert [module for module, found in IMPORTS.items() if "shell" in found] == ["__main__"]


@pytest.mark.parametrize("module", sorted(MODULES))
def test_only_pure_parts_of_the_standard_library_are_used(module):
    used = set()
    for node in ast.walk(MODULES[module]):
        if isinstance(node, ast.Import):
            used |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and not node.level:
            used.add(node.module.split(".")[0])
    assert used <= PURE | {"matside"} | ALSO.get(module, set()), (
        f"no I/O, clock, randomness or page in the core: {module}"
    )


def unseeded(tree: ast.AST) -> list[str]:
    """What a module takes from `random` besides `random.Random(seed)` and the name of that class."""
    seeded = [
        call.func
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and call.args and ast.unparse(call.func) == "random.Random"
    ]
    bare = [
        call.func
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and ast.unparse(call.func) == "random.Random" and call.func not in seeded
    ]
    from_it = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module == "random"]
    others = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and ast.unparse(node.value) == "random" and node.attr != "Random"
    ]
    return [ast.unparse(node) for node in (*bare, *from_it, *others)]


@pytest.mark.parametrize("module", sorted(MODULES))
def test_there_is_no_randomness_without_a_seed(module):
    assert unseeded(MODULES[module]) == []


def test_randomness_without_a_seed_would_be_found():
    assert (
        unseeded(
            ast.parse("import random\ndice = random.Random(7)\ndef roll(dice: random.Random): return dice.random()")
        )
        == []
    )
    for code in ("random.random()", "random.Random()", "random.shuffle([])", "from random import choice"):
        assert unseeded(ast.parse(code)), code


@pytest.mark.parametrize("module", sorted(MODULES))
def test_nothing_is_read_printed_or_run(module):
    called = {
        node.func.id
        for node in ast.walk(MODULES[module])
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    assert not called & FORBIDDEN_CALLS


@pytest.mark.parametrize("module", sorted(MODULES))
def test_input_is_not_checked_with_assert(module):
    # `python -O` drops assertions: what is wrong with a request ends in a Refusal.
    assert not any(isinstance(node, ast.Assert) for node in ast.walk(MODULES[module]))


@pytest.mark.parametrize("module", ["shapes", "strips", "cloth", "kinds", "margins"])
def test_values_of_the_ground_are_frozen_and_without_a_dict(module):
    for node in ast.walk(MODULES[module]):
        if isinstance(node, ast.ClassDef):
            for made in node.decorator_list:
                text = ast.unparse(made)
                if text.startswith("dataclass"):
                    assert "frozen=True" in text and "slots=True" in text, f"{module}.{node.name}"
