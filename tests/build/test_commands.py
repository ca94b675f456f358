"""The commands: what they say when something is missing, and how they skip what is done."""

import ast
import hashlib
import os
import re
import shutil
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from steps import console, environment, stamps, testing
from steps.commands import main
from steps.console import Stop
from steps.places import ROOT


def python(script: str) -> subprocess.CompletedProcess:
    """Runs a script with this Python, as one would run build.py."""
    return subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True)


def run_as_build(before: str, command: str) -> subprocess.CompletedProcess:
    """Runs build.py's command after a line that takes something away from it."""
    return python(
        f"import sys, runpy; sys.argv = ['build.py', {command!r}]; {before}; "
        "runpy.run_path('build.py', run_name='__main__')"
    )


def test_an_old_python_is_told_in_one_line():
    done = run_as_build("sys.version_info = (3, 10, 4, 'final', 0)", "build")
    assert done.returncode == 1
    assert done.stderr == (
        "build: Python 3.11 or newer is needed, this is 3.10: run it as, for example, python3.11 build.py\n"
    )


def test_an_old_python_can_read_the_script_far_enough_to_say_so():
    ast.parse((ROOT / "build.py").read_text("utf-8"), feature_version=(3, 7))


@pytest.mark.parametrize("module", ["venv", "ensurepip"])
def test_a_python_without_venv_is_told_in_one_line(module: str):
    done = run_as_build(f"sys.modules[{module!r}] = None", "build")
    assert (done.returncode, done.stderr, done.stdout) == (1, "", f"build: stopped: {environment.VENV_MEND}\n")


def test_an_unreachable_package_index_is_told_in_one_line(monkeypatch, tmp_path: Path):
    monkeypatch.setenv("PIP_INDEX_URL", "http://127.0.0.1:9/simple")  # the discard port: nobody answers
    monkeypatch.setenv("PIP_CONFIG_FILE", os.devnull)
    for name in ("PIP_FIND_LINKS", "PIP_EXTRA_INDEX_URL"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(environment, "RETRIES", "0")
    monkeypatch.setattr(console, "LOGS", tmp_path)
    with pytest.raises(Stop) as stopped:
        environment.pip("download", "--no-cache-dir", "-d", tmp_path, "pip")
    assert str(stopped.value).startswith(f"pip failed: {environment.NETWORK_MEND}")
    assert "\n" not in str(stopped.value)


def test_a_missing_browser_is_told_in_one_line(monkeypatch):
    monkeypatch.delenv("MATSIDE_CHROMIUM", raising=False)
    monkeypatch.setattr(shutil, "which", lambda name: None)
    with pytest.raises(Stop) as stopped:
        testing.require_browser()
    assert str(stopped.value) == testing.BROWSER_MEND


def test_a_browser_can_be_named(monkeypatch):
    monkeypatch.setenv("MATSIDE_CHROMIUM", "/opt/chromium")
    assert testing.find_browser() == "/opt/chromium"


# A machine with nothing, one without a program that drives WebKit, one without WebKit itself, one with everything.
EVERYTHING = {"firefox-esr", "MiniBrowser", *testing.WEBKIT_PROGRAMS}


@pytest.fixture
def machine(monkeypatch):
    """A machine that has these programs only; gives the calls of programs that `require_engines` makes on it."""

    def with_programs(
        programs: set[str], root: bool = True, debian: bool = True, works: bool = True
    ) -> list[list[str]]:
        called = []

        def run(name: str, command: list[str], mend: str, env=None) -> None:
            called.append(command)
            if not works:
                raise Stop(f"{name} failed: {mend}")
            programs.update(EVERYTHING if "install" in command else ())

        there = {*programs, *(["apt-get"] if debian else [])}
        monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}" if name in there | programs else None)
        monkeypatch.setattr(
            testing.glob, "glob", lambda pattern: ["/usr/lib/MiniBrowser"] if "MiniBrowser" in programs else []
        )
        monkeypatch.setattr(os, "geteuid", lambda: 0 if root else 1000)
        monkeypatch.setattr(testing, "run", run)
        testing.require_engines()
        return called

    return with_programs


@pytest.mark.parametrize(
    ("works", "said"), [(True, []), (False, ["build: apt-get-update failed: the tests take longer"])]
)
def test_the_quicker_browser_comes_where_it_can_and_else_the_tests_go_on_without(
    monkeypatch, capsys, works: bool, said: list[str]
):
    there, called = {"chromium", "apt-get"}, []

    def run(name: str, command: list[str], mend: str, env=None) -> None:
        called.append(command)
        if not works:
            raise Stop(f"{name} failed: {mend}")
        there.update(testing.SHELLS if "install" in command else ())

    monkeypatch.delenv("MATSIDE_CHROMIUM", raising=False)
    monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}" if name in there else None)
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    monkeypatch.setattr(testing, "run", run)
    testing.require_browser()
    assert ["apt-get", "update"] in called
    assert testing.find_shell() == ("/usr/bin/chromium-headless-shell" if works else "/usr/bin/chromium")
    assert [line for line in capsys.readouterr().out.splitlines() if "failed" in line] == said
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    called.clear()
    there.discard("chromium-headless-shell")
    testing.require_browser()
    assert called == []


FIREFOX, WEBKIT = (testing.ENGINES[name].packages for name in ("Firefox", "WebKit"))


@pytest.mark.parametrize(
    ("programs", "packages"),
    [
        (set(), (*FIREFOX, *WEBKIT)),
        ({"firefox"}, WEBKIT),
        ({"firefox-esr"}, WEBKIT),
        (EVERYTHING - {"firefox-esr"}, FIREFOX),
        (EVERYTHING - {"MiniBrowser"}, WEBKIT),
        *[(EVERYTHING - {program}, WEBKIT) for program in testing.WEBKIT_PROGRAMS],
    ],
)
def test_the_engines_that_are_missing_come_by_one_call(machine, programs: set[str], packages: tuple[str, ...]):
    assert machine(set(programs)) == [
        ["apt-get", "update"],
        ["apt-get", "install", "-y", "--no-install-recommends", *packages],
    ]
    assert testing.lacking() == []


@pytest.mark.parametrize(
    "how", [{"programs": EVERYTHING}, {"programs": set(), "root": False}, {"programs": set(), "debian": False}]
)
def test_nothing_is_installed_where_all_is_there_or_nothing_can_be(machine, capsys, how):
    assert machine(**{**how, "programs": set(how["programs"])}) == []
    assert capsys.readouterr().out == ""


def test_engines_that_cannot_be_installed_are_said_in_a_line_and_before_and_after_the_tests(
    machine, monkeypatch, capsys
):
    machine(set(), works=False)
    said = capsys.readouterr().out.splitlines()
    assert "build: apt-get-update failed: their tests are skipped" in said
    monkeypatch.setattr(testing, "_pytest", lambda arguments: print("all tests") or 5)
    assert testing.test([]) == 5
    lines = capsys.readouterr().out.splitlines()
    told = [f"build: NOT TESTED: {engine.reason}" for engine in testing.ENGINES.values()]
    at = lines.index("all tests")
    assert lines[at - 2 : at] == told
    assert lines[at + 1 :] == told


def test_engines_that_the_tests_asked_for_do_not_need_are_left_alone(machine, monkeypatch, capsys):
    called = machine(set(), root=False)
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    monkeypatch.setattr(testing, "_pytest", lambda arguments: 0)
    assert testing.test(["tests/core"]) == 0
    assert called == []
    assert "NOT TESTED" not in capsys.readouterr().out


def test_a_program_that_is_missing_is_told_with_the_mend(monkeypatch, tmp_path: Path):
    monkeypatch.setattr(console, "LOGS", tmp_path)
    with pytest.raises(Stop, match="thing: .*: get one"):
        console.run("thing", [tmp_path / "no-such-program"], "get one")


def test_a_stop_is_one_line_and_status_1(monkeypatch, capsys):
    monkeypatch.setattr(
        "steps.commands._COMMANDS", {"build": lambda *_: (_ for _ in ()).throw(Stop("no luck: try again"))}
    )
    assert main(["build"], "") == 1
    assert capsys.readouterr().out == "build: stopped: no luck: try again\n"


def test_arguments_go_on_to_pytest_only(monkeypatch, capsys):
    seen = []
    monkeypatch.setattr(
        "steps.commands._COMMANDS", {name: lambda _, rest: seen.extend(rest) for name in ("test", "serve")}
    )
    main(["test", "tests/core", "-k", "units", "-x"], "")
    assert seen == ["tests/core", "-k", "units", "-x"]
    with pytest.raises(SystemExit):
        main(["serve", "--prot", "9"], "")
    assert "unrecognized arguments: --prot 9" in capsys.readouterr().err


def test_a_quick_step_says_one_line_and_a_slow_one_how_far_it_is(monkeypatch, capsys):
    with console.step("Quick"):
        pass
    assert capsys.readouterr().out == "build: Quick …\n"
    monkeypatch.setattr(console, "QUIET_SECONDS", 0.01)
    monkeypatch.setattr(console, "_LINE_EVERY", 0.01)
    with console.step("Slow") as progress:
        progress.at(1, 3)
        time.sleep(0.1)
    out = capsys.readouterr().out
    assert "1 of 3, " in out
    assert "done in" in out


def test_a_step_is_done_again_when_its_inputs_change_or_its_result_is_gone(monkeypatch, tmp_path: Path):
    monkeypatch.setattr(stamps, "STAMPS", tmp_path / "stamps")
    result = tmp_path / "result"
    result.write_text("made")
    stamps.done("thing", "inputs")
    assert stamps.up_to_date("thing", "inputs", result)
    assert not stamps.up_to_date("thing", "other inputs", result)
    result.unlink()
    assert not stamps.up_to_date("thing", "inputs", result)
    stamps.forget("thi*")
    assert not stamps.up_to_date("thing", "inputs")


def test_inputs_are_told_apart_by_name_and_content(tmp_path: Path):
    one, other = tmp_path / "one", tmp_path / "other"
    one.write_text("same")
    other.write_text("same")
    assert stamps.digest(one) != stamps.digest(other)
    before = stamps.digest(one)
    one.write_text("changed")
    assert stamps.digest(one) != before


# --- What is installed --------------------------------------------------------------------------------------------

LISTS = ROOT / "web" / "build" / "requirements"
_PIN = re.compile(r"^([A-Za-z0-9._-]+)==([^ ]+)(?: ; [^\\]+)?((?: \\\n    --hash=sha256:[0-9a-f]{64})+)$", re.MULTILINE)


def pinned(name: str) -> dict[str, str]:
    """The packages of a list by their names as the index writes them, with their versions."""
    return {found[1].lower().replace("_", "-").replace(".", "-"): found[2] for found in _PIN.finditer(plain(name))}


def plain(name: str) -> str:
    """A list without its comments, every hash on a line of its own."""
    lines = [line for line in (LISTS / name).read_text("utf-8").splitlines() if line and not line.startswith("#")]
    return re.sub(r" (?:\\\n +)?--hash", " \\\n    --hash", "\n".join(lines))


@pytest.mark.parametrize("name", ["serve.txt", "test.txt", "pyodide.txt"])
def test_everything_that_is_installed_has_one_version_and_its_hashes(name: str):
    # "Secure installs" (pip's documentation): with one hash in a list, everything in it must have
    # one, all it needs included.
    assert len(pinned(name)) > 1
    assert _PIN.sub("", plain(name)).strip() == ""


@pytest.mark.parametrize("kind", ["serve", "test"])
def test_the_lists_are_those_that_were_asked_for(kind: str):
    lines = (LISTS / f"{kind}.in").read_text("utf-8").splitlines()
    asked = dict(line.lower().split("==") for line in lines if "==" in line)
    assert asked and asked.items() <= pinned(f"{kind}.txt").items()
    assert pinned("serve.txt").items() <= pinned(f"{kind}.txt").items()


@pytest.mark.long
def test_what_has_no_hash_is_not_installed(tmp_path: Path):
    wheel = tmp_path / "tiny-1.0-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("tiny-1.0.dist-info/METADATA", "Metadata-Version: 2.1\nName: tiny\nVersion: 1.0\n")
        archive.writestr("tiny-1.0.dist-info/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        archive.writestr("tiny-1.0.dist-info/RECORD", "")
    wanted = tmp_path / "list.txt"
    command = [sys.executable, "-m", "pip", "install", "--no-index", "--dry-run", *environment.STRICT, "-r", wanted]
    right = hashlib.sha256(wheel.read_bytes()).hexdigest()
    for ending, fine in (("", False), (f" --hash=sha256:{'0' * 64}", False), (f" --hash=sha256:{right}", True)):
        wanted.write_text(f"tiny @ {wheel.as_uri()}{ending}\n")
        done = subprocess.run(command, capture_output=True, text=True)
        assert (done.returncode == 0) is fine, done.stderr


def test_nothing_lies_about_at_the_top_level():
    kept = subprocess.run(["git", "ls-tree", "--name-only", "HEAD"], cwd=ROOT, capture_output=True, text=True)
    if kept.returncode:
        pytest.skip("no checkout of git")
    names = {name for name in kept.stdout.split() if not name.startswith(".")}
    assert names == {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "core", "web", "build.py", "tests"}
