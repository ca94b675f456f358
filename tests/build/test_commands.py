"""The commands: what they say when something is missing, and how they skip what is done."""

import ast
import os
import shutil
import subprocess
import sys
import time
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
    return python(f"import sys, runpy; sys.argv = ['build.py', {command!r}]; {before}; "
                  "runpy.run_path('build.py', run_name='__main__')")


def test_an_old_python_is_told_in_one_line():
    done = run_as_build("sys.version_info = (3, 10, 4, 'final', 0)", "build")
    assert done.returncode == 1
    assert done.stderr == ("build: Python 3.11 or newer is needed, this is 3.10: run it as, for example, "
                           "python3.11 build.py\n")


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


def test_a_program_that_is_missing_is_told_with_the_mend(monkeypatch, tmp_path: Path):
    monkeypatch.setattr(console, "LOGS", tmp_path)
    with pytest.raises(Stop, match="thing: .*: get one"):
        console.run("thing", [tmp_path / "no-such-program"], "get one")


def test_a_stop_is_one_line_and_status_1(monkeypatch, capsys):
    monkeypatch.setattr("steps.commands._COMMANDS", {"build": lambda *_: (_ for _ in ()).throw(Stop("no luck: try again"))})
    assert main(["build"], "") == 1
    assert capsys.readouterr().out == "build: stopped: no luck: try again\n"


def test_arguments_go_on_to_pytest_only(monkeypatch, capsys):
    seen = []
    monkeypatch.setattr("steps.commands._COMMANDS", {name: lambda _, rest: seen.extend(rest) for name in ("test", "serve")})
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
