"""What makes Python in the page start quickly: what comes late or not at all, and what lies ready made."""

import zipfile

import pytest

from page_python import found
from steps import interpreter, pythonpart

STRIP = """
import sys
from matside import bridge
answer = bridge.answer('{"ask": "strip", "piece": {"shape": "diamond", "size": 4, "angle": 60}, "length": 42}')
"""
NAMES = {"annotationlib": "ForwardRef", "traceback": "TracebackException", "typing": "NamedTuple"}


def test_the_first_answer_takes_little_of_python_along():
    loaded = set(found(f"{STRIP}\nfound = list(sys.modules)"))
    assert (
        loaded & {"late", "ast", "_ast", "dis", "tokenize", "textwrap", "linecache", "contextlib", "asyncio.events"}
        == set()
    )
    assert loaded >= {*NAMES, "matside.strips", "dataclasses"}


@pytest.mark.parametrize(("module", "name"), NAMES.items())
def test_what_comes_late_comes_whole_where_its_place_was_held(module: str, name: str):
    source = f"""
    import sys, {module}
    before = sorted(each for each in vars({module}) if not each.startswith("__"))
    kind = {module}.{name}
    found = [before, kind.__module__, kind is {module}.{name}, sys.modules["{module}"] is {module},
             hasattr({module}, "nothing_of_the_kind"),
             sorted({{each.__code__.co_filename for each in vars({module}).values()
                     if type(each) is type(lambda: 0) and each.__module__ == "{module}"}}),
             [each for each in getattr({module}, "__all__", ()) if not hasattr({module}, each)]]
    """
    assert found(source) == [[], module, True, True, False, [f"/lib/python314.zip/{module}.py"], []]


def test_the_places_that_are_held_are_those_that_are_tried_here():
    names = zipfile.ZipFile(pythonpart.OUT / "python_stdlib.zip").namelist()
    late = {name.removeprefix("late/").removesuffix(".pyc") for name in names if name.startswith("late/")}
    assert late == {"__init__", *NAMES} and {f"{name}.py" for name in NAMES} == set(interpreter.LATECOMERS)


COME = """
import collections, late, typing
def come():
    try:
        return typing.NamedTuple.__name__
    except Exception as error:
        return f"{type(error).__name__}: {error}"
"""


def test_what_cannot_be_had_is_a_plain_import_error_and_its_place_is_held_on():
    source = """
where, late.__path__ = late.__path__, []
found = [come()]
late.__path__ = where
found.append(come())
"""
    assert found(COME + source) == ["ModuleNotFoundError: No module named 'typing'", "NamedTuple"]


def test_one_that_breaks_while_it_comes_may_be_asked_for_again():
    source = """
kept = collections.defaultdict
del collections.defaultdict
found = [come().split(":")[0]]
collections.defaultdict = kept
found += [come(), list(late.came)]
"""
    assert found(COME + source) == ["ImportError", "NamedTuple", ["late.typing"]]


def test_what_went_of_inspect_is_said_to_be_gone():
    source = """
    import inspect
    from functools import wraps
    @wraps(len)
    def wrapped(): ...
    try:
        inspect.signature(wrapped)
    except AttributeError as error:
        found = [str(error), inspect.unwrap(wrapped) is len, inspect.iscoroutinefunction(wrapped)]
    """
    assert found(source) == [
        "Python in the page does without most of inspect: there is no inspect.signature", True, False
    ]  # fmt: skip


def test_a_module_that_went_is_a_plain_import_error():
    gone = ("_csv", "unicodedata", "zlib", "_testcapi")
    source = f"""
    found = []
    for name in {(*gone, "_json")}:
        try:
            found.append(__import__(name).__name__)
        except ImportError as error:
            found.append(f"{{type(error).__name__}}: {{error}}")
    """
    assert found(source) == [*(f"ModuleNotFoundError: No module named '{name}'" for name in gone), "_json"]


@pytest.mark.long
def test_an_error_is_told_with_the_frames_that_the_whole_library_tells():
    source = """
    import sys
    from matside import bridge
    class Heard:
        text = ""
        def write(self, more): self.text += more
        def flush(self): ...
    sys.stderr = Heard()
    try:
        bridge.answer('{"ask": ')
    except ValueError as error:
        sys.excepthook(*sys.exc_info())
    found = [line for line in sys.stderr.text.splitlines() if not line.startswith("    ")]
    """
    whole = found(source, interpreter.PYODIDE, stdLibURL=str(interpreter.PYODIDE / "python_stdlib.zip"))
    assert found(source) == whole
    assert whole[0].startswith("Traceback") and whole[-1].startswith("json.decoder.JSONDecodeError") and len(whole) > 4


def test_no_class_of_the_core_is_compiled_when_it_is_loaded():
    source = """
    import builtins, dataclasses, pkgutil, importlib, zipfile, sys
    compiled = []
    class Noting:
        def exec(code, names, made):
            compiled.append((names["__name__"], isinstance(code, str)))
            builtins.exec(code, names, made)
    dataclasses.builtins = Noting
    archive = next(path for path in sys.path if path.endswith(".whl"))
    import zipimport
    for file in zipimport._read_directory(archive):
        if file.endswith(".pyc"):
            importlib.import_module(file.removesuffix(".pyc").removesuffix("/__init__").replace("/", "."))
    found = [len(compiled), [name for name, anew in compiled if anew]]
    """.replace("pkgutil, importlib, zipfile, sys", "importlib, sys")
    many, anew = found(source)
    assert many > 100 and anew == []


def test_a_class_of_data_that_is_not_the_core_s_is_as_anywhere():
    source = """
    from dataclasses import dataclass, field, fields, replace
    import typing
    plain = vars(typing).get("ClassVar")
    @dataclass(order=True)
    class One:
        "As every class of the core that ships, it says something of itself."
        size: int
        of: NotThere = None
        said: "typing.ClassVar[int]" = 3
        more: list = field(default_factory=list)
    @dataclass(frozen=True, slots=True)
    class Two:
        "The same."
        kind: typing.ClassVar[str] = "two"
        size: int = 2
    found = [plain, [each.name for each in fields(One)], repr(One(1)), One(1) < One(2), replace(Two(), size=5).size,
             [each.name for each in fields(Two)], Two.kind, hash(Two(1)) == hash(Two(1))]
    """
    assert found(source) == [
        None, ["size", "of", "more"], "One(size=1, of=None, more=[])", True, 5, ["size"], "two", True
    ]  # fmt: skip


@pytest.mark.parametrize("what", ["STANDINS", "ADDITIONS"])
def test_ours_stands_in_for_something_that_is_there(what: str, monkeypatch, tmp_path):
    (tmp_path / "nothing_of_the_kind.py").write_text("")
    monkeypatch.setattr(interpreter, what, tmp_path)
    monkeypatch.setattr(interpreter, "_STDLIB", tmp_path / "stdlib.zip")
    with pytest.raises(KeyError, match=r"nothing to stand in for: nothing_of_the_kind\.py"):
        interpreter.whole_stdlib()
