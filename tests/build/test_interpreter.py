"""The interpreter without what the page never calls: the same answers, and every wrong range caught while building."""

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from page_python import node
from steps import compared, interpreter, pythonpart
from steps.console import Stop
from steps.environment import node_settings
from steps.places import BUILD_SOURCES, tool

#: Reads the module that is there, and holds to it the parts that it is given.
CHECK = """
import { readFileSync } from "node:fs";
import { checkParts, checkTables, whatGoes } from "./engine/parts.mjs";
import { readModule } from "./engine/module.mjs";
const [wasm, parts, kept] = process.argv.slice(1);
const module = readModule(readFileSync(wasm));
const known = JSON.parse(readFileSync(parts, "utf8"));
checkParts(known, module);
const { going, slots, tables } = whatGoes(known, module, new Set(JSON.parse(kept)));
checkTables(tables, known, { functions: [] });
console.log(JSON.stringify({ going, slots: [...slots], functions: [...slots].map((slot) => module.slots[slot]) }));
"""


def known() -> dict:
    """What stands in parts.json."""
    return json.loads(interpreter.PARTS.read_text("utf-8"))


def held(tmp_path: Path, changed: dict, kept: list[str] | None = None) -> subprocess.CompletedProcess:
    """What comes of holding these parts to the Pyodide that is installed."""
    path = tmp_path / "parts.json"
    path.write_text(json.dumps(changed), "utf-8")
    return node(CHECK, interpreter.PYODIDE / interpreter.WASM, path, json.dumps(kept or []))


def part(of: dict, name: str) -> dict:
    """The part of that name."""
    return next(each for each in of["parts"] if each["name"] == name)


def test_the_parts_are_those_of_the_pyodide_that_is_installed():
    version = json.loads((interpreter.PYODIDE / "package.json").read_text("utf-8"))["version"]
    assert interpreter.is_known() and known()["pyodide"] == version


def test_the_parts_are_found_again():
    script = BUILD_SOURCES / "node" / "find_parts.mjs"
    done = subprocess.run(
        [tool("node"), script, interpreter.PYODIDE], env=node_settings(), capture_output=True, text=True, check=True
    )
    assert json.loads(done.stdout) == known()


def test_what_goes_belongs_to_modules_that_nothing_imports(tmp_path: Path):
    kept = pythonpart.builtins()
    found = json.loads(held(tmp_path, known(), sorted(kept)).stdout)
    assert set(found["going"]) == {
        each["name"] for each in known()["parts"] if not set(each.get("serves", [each["name"]])) & kept
    }
    ranges = [each["functions"] for each in known()["parts"] if each["name"] in found["going"]]
    assert all(any(first <= index <= last for first, last in ranges) for index in found["functions"])
    assert 1000 < len(found["slots"]) < 4000


def test_a_library_stays_with_the_module_that_it_serves(tmp_path: Path):
    assert "libbz2" not in json.loads(held(tmp_path, known(), ["_bz2"]).stdout)["going"]


def is_empty(of: dict) -> None:
    """Ends before it begins."""
    part(of, "_csv")["functions"].reverse()


def overlaps(of: dict) -> None:
    """Reaches into the part after it."""
    part(of, "_csv")["functions"][1] += 1


def has_no_module(of: dict) -> None:
    """Begins behind the module's own beginning."""
    part(of, "_csv")["functions"][0] += 1


def has_another_module(of: dict) -> None:
    """Lacks a border, so that two are one."""
    of["parts"].remove(part(of, "_heapq"))
    part(of, "_csv")["functions"][1] = part(known(), "_heapq")["functions"][1]


def has_places_of_others(of: dict) -> None:
    """Takes a place in the table that the part before it asks for."""
    part(of, "_csv")["slots"][0] -= 1


def is_beyond_the_end(of: dict) -> None:
    """Goes on behind the last function."""
    part(of, "iconv")["functions"][1] = 10**6


def takes_data_of_others(of: dict) -> None:
    """Ends a table where something else begins."""
    of["tables"][0]["data"][1] += 16


def takes_no_data(of: dict) -> None:
    """Ends a table where it begins."""
    of["tables"][0]["data"].reverse()


@pytest.mark.long
@pytest.mark.parametrize(
    "change",
    [
        is_empty,
        overlaps,
        has_no_module,
        has_another_module,
        has_places_of_others,
        is_beyond_the_end,
        takes_data_of_others,
        takes_no_data,
    ],
)
def test_a_wrong_range_is_caught(change: Callable[[dict], None], tmp_path: Path):
    changed = known()
    change(changed)
    done = held(tmp_path, changed)
    assert done.returncode == 1 and "Error: the " in done.stderr


def test_a_function_that_stands_for_one_of_another_file_keeps_its_place():
    script = """
    import { whatGoes } from "./engine/parts.mjs";
    const parts = [{ name: "_x", functions: [0, 3], slots: [1, 4] }];
    const exports = new Map([["PyInit__x", 0], ["of_another_file", 2]]);
    const slots = [undefined, 1, 2, 3, 9, 0];
    console.log([...whatGoes({ parts, tables: [] }, { exports, slots }, new Set()).slots].join(" "));
    """
    assert node(script).stdout.split() == ["1", "3", "5"]


def test_data_that_is_still_read_is_caught():
    script = """
    import { checkTables } from "./engine/parts.mjs";
    const functions = [{ numbers: new Set([7, 150, 160]) }];
    checkTables([[140, 170]], { coincidences: [160] }, { functions });
    """
    done = node(script)
    assert done.returncode == 1 and "data at 150 went and is still read" in done.stderr


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch) -> Path:
    """The build's places for the interpreter in another folder."""
    for name in ("OUT", "REPORT", "_NEW"):
        monkeypatch.setattr(interpreter, name, tmp_path / name.lower())
    monkeypatch.setattr("steps.places.WORK", tmp_path)
    return tmp_path


def built_with(changed: dict, elsewhere: Path, monkeypatch) -> None:
    """The interpreter, made and proved by these parts, as the build does it."""
    monkeypatch.setattr(interpreter, "PARTS", elsewhere / "parts.json")
    interpreter.PARTS.write_text(json.dumps(changed), "utf-8")
    monkeypatch.setattr(interpreter, "is_shrunk", lambda _builtins: False)
    monkeypatch.setattr(interpreter, "proved", lambda _builtins: None)
    pythonpart.shrink(pythonpart.OUT)


@pytest.mark.long
def test_a_part_that_something_needs_ends_in_a_failed_build(elsewhere: Path, monkeypatch):
    changed = known()
    part(changed, "_json")["serves"] = ["_csv"]  # so it goes, and json does without it
    with pytest.raises(Stop, match=r"calls differently: a part in parts\.json is wrong; the first is call \d+: "):
        built_with(changed, elsewhere, monkeypatch)


@pytest.mark.long
def test_another_pyodide_loses_its_exports_alone_and_answers_all_the_same(elsewhere: Path, monkeypatch, capsys):
    changed = {**known(), "sha256": "0" * 64}
    interpreter.is_known.cache_clear()
    built_with(changed, elsewhere, monkeypatch)
    interpreter.tell_unknown()
    interpreter.is_known.cache_clear()
    report = json.loads(interpreter.REPORT.read_text("utf-8"))
    assert (report["parts"], report["gone"], report["exports"][1] < 200) == ([], [], True)
    assert "only its exports are cut" in capsys.readouterr().out


def test_calls_at_random_come_out_alike():
    assert compared.differences(pythonpart.OUT, pythonpart.builtins(), 0, 2_000, seed=2) == []


def test_what_python_raises_is_told_line_by_line():
    script = """
    import { asInThePage } from "./pyodide.mjs";
    const pyodide = await asInThePage(...process.argv.slice(1));
    try { pyodide.pyimport("matside.bridge").answer('{"ask": '); } catch (error) { console.log(error.message); }
    """
    told = [node(script, folder, pythonpart.OUT).stdout for folder in (interpreter.PYODIDE, interpreter.OUT)]
    assert told[0] == told[1] and 'matside/bridge.py", line ' in told[1] and "JSONDecodeError" in told[1]
