"""Changes on purpose: which are made, that what nobody notices is told, and that a seed draws the same ones again."""

import doctest
import json
from pathlib import Path

import pytest

import mutation.__main__ as mutate
import mutation.changes
import mutation.reach
from mutation.accepted import Accepted
from mutation.changes import changes, drawn, places
from steps.places import CORE

SOURCE = """
LEAST = 2

def over(count):
    if count < LEAST:
        return 0
    return count - LEAST

def twice(count):
    return count * 2
"""
TESTS = """
import toy

def test_over():
    assert [toy.over(count) for count in (0, 1, 2, 3)] == [0, 0, 0, 1]

def test_twice():
    assert toy.twice(2) == 4
"""


def toy(folder: Path, tests: str = TESTS) -> mutate.Run:
    """A tree with a package of its own, and what tries changes to it."""
    for name, text in (
        ("core/toy/__init__.py", SOURCE),
        ("tests/core/test_toy.py", tests),
        ("pyproject.toml", "[tool.pytest.ini_options]\n"),
    ):
        path = folder / "tree" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return mutate.Run(folder / "tree", folder / "kept", "core/toy", Accepted({}))


@pytest.mark.long
def test_what_nobody_notices_is_told_and_nothing_is_tried_twice(tmp_path: Path, capsys):
    package = tmp_path / "tree/core/toy"
    # Nobody looks at what is over where nothing is.
    tests = TESTS.replace("(0, 1, 2, 3)", "(0, 1, 3)").replace("[0, 0, 0, 1]", "[0, 0, 1]")
    run = toy(tmp_path, tests)
    before = (package / "__init__.py").read_bytes()
    made = [
        one
        for one in changes("__init__.py", before)
        if one.words in ("< → <=", "* → /") or one.line == 2 and one.new == "3"
    ]
    assert {f"{one.line} {one.words}": noticed for one, noticed in run.run(made).items()} == {
        "5 < → <=": False,
        "10 * → /": True,
        "2 2 → 3": True,
    }
    assert (package / "__init__.py").read_bytes() == before
    assert capsys.readouterr().out.count("LEFT OVER") == 1
    again = toy(tmp_path, tests)
    assert sorted(again.run(made).values()) == [False, True, True]
    assert capsys.readouterr().out == ""


@pytest.mark.long
def test_an_endless_loop_is_noticed_and_what_no_test_comes_by_is_not(tmp_path: Path, monkeypatch):
    source = "def lasts(count):\n    while count > 0:\n        count -= 1\n    return count\n\ndef alone():\n    return 1 + 1\n"
    run = toy(tmp_path, "import toy\n\ndef test_lasts():\n    assert toy.lasts(3) == 0\n")
    (tmp_path / "tree/core/toy/__init__.py").write_text(source, "utf-8")
    run = mutate.Run(run.root, run.folder, run.package, run.accepted)
    monkeypatch.setattr("mutation.trial._SECONDS", 6)  # a busy machine takes its time for what is no loop at all
    made = [one for one in changes("__init__.py", source.encode()) if one.words in ("count -= 1 → pass", "+ → -")]
    assert list(run.run(made).values()) == [True, False]


def test_a_seed_draws_the_same_changes_and_a_larger_sample_begins_with_them():
    first = drawn(CORE, ["drift"], 10, 7)
    assert first == drawn(CORE, ["drift"], 20, 7)[:10] != drawn(CORE, ["drift"], 10, 8)
    assert len(set(first)) == 10


def test_every_kind_of_change_is_made_and_texts_and_types_are_left_alone():
    source = b'''
Point = tuple[float, float]
LEAST = 0.5
def f(a: int, b: "list[1]" = 3) -> tuple[0]:
    """One 1."""
    if not a and b:
        a += 1
        raise ValueError(f"{a + 1}")
    found = [one for one in (a, b, 5) if one is not None]
    found[0] = min(a, b)
    found.append(-a)
    return g(a, b)
'''
    made = {(one.line, one.words) for one in changes("x.py", source)}
    assert {
        (3, "0.5 → 1.0"), (3, "0.5 → 1.5"), (4, "3 → 4"), (6, "not a → a"), (6, "and → or"), (6, "not a and b → (not (not a and b))"),
        (7, "a += 1 → pass"), (9, "a, → nothing"), (9, "is not → is"), (10, "min → max"), (10, "a, b → b, a"), (10, "found[0] = min(a, b) → pass"),
        (11, "found.append(-a) → pass"), (11, "-a → a"), (12, "return g(a, b) → return None"), (12, "a, b → b, a"), (10, "0 → 1"), (10, "0 → -1"),
    } <= made  # fmt: skip
    assert {line for line, _ in made} == {3, 4, 6, 7, 8, 9, 10, 11, 12}
    assert [words for line, words in made if line == 8] == ['raise ValueError(f"{a + 1}") → pass']


def test_what_is_accepted_is_there_and_has_a_reason():
    accepted = Accepted.read()
    files = {file for file, _, _ in accepted.reasons}
    assert accepted.unknown([one for file in files for one in places(file, (CORE / file).read_bytes())]) == []
    assert all(reason.endswith(".") for reason in accepted.reasons.values())
    assert len(accepted.reasons) == len(json.loads(Path(mutation.accepted.PATH).read_text("utf-8")))


def test_the_examples_of_the_command_run():
    for module in (mutation.changes, mutation.reach):
        assert doctest.testmod(module).failed == 0


def test_what_is_left_over_is_in_the_table_with_its_line():
    source = SOURCE.encode()
    first, second, *_ = changes("toy.py", source)
    lines = mutate.table({first: True, second: False}, Accepted({}))
    assert "| all | 2 | 1 | 0 | 1 | 50% |" in lines
    assert lines[-1] == f"left over: toy.py:2: {second.words}   in: LEAST = 2"
    accepted = Accepted({("toy.py", "LEAST = 2", second.words): "It is as good."})
    assert "| all | 2 | 1 | 1 | 0 | 100% |" in mutate.table({first: True, second: False}, accepted)
