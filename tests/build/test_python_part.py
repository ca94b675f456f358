"""Python for the page: compiled the same way every time, cut no further than the core allows, and proved."""

import base64
import dataclasses
import hashlib
import importlib.util
import json
import marshal
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import matside
from steps import pythonpart, stamps
from steps.console import Stop
from steps.places import CORE, ROOT

INSIDE = ROOT / "web" / "build" / "inside"


SOURCE = '''
"""Says."""
from dataclasses import dataclass
from typing import ClassVar

NUMBER = 6 * 7

@dataclass(frozen=True)
class Thing:
    """Is."""

    kind: ClassVar[str] = "thing"
    mark: ClassVar[int]
    size: int = 1

    def does(self):
        """Does."""

    def adds(self, n: int, *more: int) -> int:
        """Adds."""
        assert n
        return n + 1
'''


@pytest.fixture
def wheel(tmp_path: Path) -> Path:
    """A small wheel of sources."""
    path = tmp_path / "tiny-1.0-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("tiny/__init__.py", SOURCE)
        archive.writestr("tiny/words.json", "{}")
        archive.writestr("tiny-1.0.dist-info/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        archive.writestr("tiny-1.0.dist-info/METADATA", "Metadata-Version: 2.4\nName: tiny\nVersion: 1.0\n")
        archive.writestr("tiny-1.0.dist-info/RECORD", "")
    return path


def compiled(wheel: Path, folder: Path) -> Path:
    """The wheel as the build compiles it, made by this Python in a process of its own."""
    folder.mkdir()
    script = "import sys, compiled_wheel; print(compiled_wheel.compile_wheel(*sys.argv[1:]))"
    done = subprocess.run(
        [sys.executable, "-c", script, wheel, folder], cwd=INSIDE, capture_output=True, text=True, check=True
    )
    return Path(done.stdout.strip())


def test_a_compiled_wheel_holds_bytecode_that_runs(wheel: Path, tmp_path: Path):
    made = compiled(wheel, tmp_path / "out")
    assert made.name == f"tiny-1.0-cp3{sys.version_info.minor}-none-any.whl"
    zipfile.ZipFile(made).extractall(tmp_path)
    spec = importlib.util.spec_from_file_location("tiny", tmp_path / "tiny" / "__init__.pyc")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert (module.NUMBER, module.Thing().adds(0), module.Thing().does()) == (42, 1, None)
    assert module.Thing.adds.__annotations__ == {}
    assert (module.Thing.__annotations__, module.Thing.kind) == ({"size": int}, "thing")
    assert module.Thing(2) == module.Thing(size=2) != module.Thing() and not hasattr(module, "ClassVar")
    assert [each.__doc__ for each in (module, module.Thing, module.Thing.does)] == [None, "-", None]


def test_what_dataclass_writes_lies_ready_in_the_module_as_it_would_be_compiled(
    wheel: Path, tmp_path: Path, monkeypatch
):
    zipfile.ZipFile(compiled(wheel, tmp_path / "out")).extractall(tmp_path)
    spec = importlib.util.spec_from_file_location("tiny", tmp_path / "tiny" / "__init__.pyc")
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, "tiny", module)
    written = []
    monkeypatch.setattr(
        dataclasses, "exec", lambda text, *names: written.append(text) or exec(text, *names), raising=False
    )
    spec.loader.exec_module(module)
    assert written and module.__readymade__ == {
        text: marshal.dumps(compile(text, "<string>", "exec")) for text in written
    }


def test_a_compiled_wheel_records_every_file_truly(wheel: Path, tmp_path: Path):
    # "Recording installed projects" (Python packaging specifications): path, algorithm=urlsafe
    # base64 without padding, size.
    archive = zipfile.ZipFile(compiled(wheel, tmp_path / "out"))
    lines = archive.read("tiny-1.0.dist-info/RECORD").decode().split()
    recorded = {line.split(",")[0]: line.split(",")[1:] for line in lines}
    assert recorded.keys() == set(archive.namelist())
    for name, (digest, size) in recorded.items():
        content = archive.read(name)
        wanted = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
        assert name.endswith("RECORD") or (digest, size) == (f"sha256={wanted}", str(len(content)))


def test_compiling_twice_gives_the_same_bytes(wheel: Path, tmp_path: Path):
    assert compiled(wheel, tmp_path / "one").read_bytes() == compiled(wheel, tmp_path / "two").read_bytes()


def test_of_the_wording_only_english_refusals_and_units_go_along(wheel: Path, tmp_path: Path):
    with zipfile.ZipFile(wheel, "a") as archive:
        for name, content in (
            ("en/one", {"error": {"a": "No."}, "one": {"b": "Yes."}}),
            ("en/two", {"two": {"c": "Yes."}}),
            ("en/unit", {"unit": {"in": "{number} in"}}),
            ("de/one", {"error": {"a": "Nein."}}),
            ("_review", {"de": {}}),
        ):
            archive.writestr(f"tiny/words/{name}.json", json.dumps(content))
    archive = zipfile.ZipFile(compiled(wheel, tmp_path / "out"))
    assert [name for name in archive.namelist() if "/words/" in name] == ["tiny/words/en.json"]
    assert json.loads(archive.read("tiny/words/en.json")) == {"error": {"a": "No."}, "unit": {"in": "{number} in"}}


def test_what_only_a_shell_starts_stays_behind(wheel: Path, tmp_path: Path):
    with zipfile.ZipFile(wheel, "a") as archive:
        archive.writestr("tiny/__main__.py", "print(1)")
        archive.writestr("tiny/shell.py", "print(1)")
    names = zipfile.ZipFile(compiled(wheel, tmp_path / "out")).namelist()
    assert [name for name in names if "__main__" in name or "shell" in name] == []


def test_the_wording_is_read_alike_from_a_folder_and_from_the_archive(tmp_path: Path):
    shipped = next(pythonpart.OUT.glob("*.whl"))
    script = "from matside.words.catalogue import subjects as s; import json; print(json.dumps([s()[p] for p in ('error', 'unit')]))"
    path = tmp_path / "words.zip"  # the words as they ship, the code for the Python that runs this
    with zipfile.ZipFile(path, "w") as archive, zipfile.ZipFile(shipped) as made:
        for name in made.namelist():
            source = CORE.parent / name.removesuffix("c")
            archive.writestr(
                *(
                    (name.removesuffix("c"), source.read_text("utf-8"))
                    if name.endswith(".pyc")
                    else (name, made.read(name))
                )
            )
    found = [
        json.loads(
            subprocess.run(
                [sys.executable, "-c", script], env={"PYTHONPATH": str(place)}, capture_output=True, check=True
            ).stdout
        )
        for place in (CORE.parent, path)
    ]
    assert found[0] == found[1] and len(found[0][0]) > 50


def test_the_wheel_puts_nothing_but_the_core_into_place(tmp_path: Path):
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", tmp_path],
        cwd=ROOT,
        capture_output=True,
        check=True,
    )
    names = zipfile.ZipFile(next(tmp_path.glob("*.whl"))).namelist()
    assert {name.split("/")[0] for name in names} == {"matside", f"matside-{matside.__version__}.dist-info"}
    sources = {
        path.relative_to(CORE.parent).as_posix() for path in stamps.files_under(CORE) if path.suffix in (".py", ".json")
    }
    assert sources == {name for name in names if name.startswith("matside/")} and "matside/bridge.py" in sources


def provided() -> set[str]:
    """The modules that the page's Python has."""
    return set(json.loads(pythonpart.CUT_REPORT.read_text("utf-8"))["modules"])


def test_the_cut_library_is_a_small_part_and_has_what_the_core_imports():
    modules = pythonpart.modules_in(pythonpart.OUT)
    assert {"matside/door.py", "matside/handout/sheets.py"} <= set(modules) and "matside/shell.py" not in modules
    for module in modules:
        pythonpart.check_imports(CORE.parent / module, CORE.parent, provided())
    assert len(zipfile.ZipFile(pythonpart.OUT / "python_stdlib.zip").namelist()) < 100  # of more than 600


@pytest.mark.parametrize("line", ["import turtle", "from turtle import left", "def f():\n    import turtle.left"])
def test_an_import_that_nothing_has_exercised_stops_the_build(line: str, tmp_path: Path):
    (tmp_path / "late.py").write_text(line)
    with pytest.raises(Stop, match=r"late\.py imports turtle"):
        pythonpart.check_imports(tmp_path / "late.py", tmp_path, provided())


@pytest.mark.parametrize("other", [[{"pieces": 9}], [{"pieces": 8.0}], [{"pieces": 8, "more": 1}], [{"pieces": True}]])
def test_an_answer_that_differs_in_the_page_stops_the_build(other: list[dict]):
    with pytest.raises(Stop, match=r"request 1 of .*exercise\.json"):
        pythonpart.check_alike([{"pieces": 8}], other)


def test_the_last_digits_of_a_length_may_differ():
    pythonpart.check_alike([{"edge": [4.618802153517006]}], [{"edge": [4.618802153517007]}])
    with pytest.raises(Stop):
        pythonpart.check_alike([{"edge": [4.6188021]}], [{"edge": [4.6188022]}])


def test_every_ask_of_the_core_is_exercised():
    from matside.asks import ASKS, SEARCHES

    asked = json.loads(pythonpart.EXERCISE.read_text("utf-8"))
    assert ASKS.keys() - {request.get("ask") for request in asked["answers"]} == set()
    assert SEARCHES.keys() - {request.get("ask") for request in asked["searches"]} == set()


def test_the_wheel_that_ships_has_the_core_alone_and_the_lock_its_hash():
    (wheel,) = pythonpart.OUT.glob("*.whl")
    names = zipfile.ZipFile(wheel).namelist()
    assert {name.split("/")[0] for name in names} == {"matside"} and len(names) > 100
    modules = {name.removesuffix(".pyc").removesuffix("/__init__").replace("/", ".") for name in names}
    assert modules - provided() == {"matside.words.en.json"}  # the exercise loads every one of them
    (package,) = json.loads((pythonpart.OUT / "pyodide-lock.json").read_text("utf-8"))["packages"].values()
    assert (package["file_name"], package["sha256"]) == (wheel.name, hashlib.sha256(wheel.read_bytes()).hexdigest())
