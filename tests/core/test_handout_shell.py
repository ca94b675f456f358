"""The commands that make handouts in a shell, and the examples that README.md shows of them."""

import io
import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from matside import __main__ as main
from matside import answer, shell
from matside.handout.sheet_text import sheet_lines
from matside.quilt import whole
from matside.words.catalogue import languages
from matside.words.saying import say

ROOT = Path(__file__).resolve().parents[2]
SHEET = {"piece": {"size": "4in", "angle": "60"}, "cloth": {"kind": "fat_quarter"}}
QUILT = {"piece": {"size": 3, "angle": 60}, "columns": 4, "rows": 5}


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsysbinary, tmp_path: Path):
    """Runs the command in this process: exit status, standard output, standard error."""

    def run_it(*arguments: str, request: object = None) -> tuple[int, str, str]:
        monkeypatch.chdir(tmp_path)
        monkeypatch.setattr(sys, "argv", ["matside", *arguments])
        monkeypatch.setattr(main, "_read", lambda: b"" if request is None else as_bytes(request))
        monkeypatch.setattr(sys, "stdin", io.StringIO())
        try:
            status = main.main()
        except SystemExit as end:
            if isinstance(end.code, str):
                sys.stderr.write(end.code)
            status = end.code if isinstance(end.code, int) else 1
        sys.stdout.flush()
        told = capsysbinary.readouterr()
        return status, told.out.decode("utf-8"), told.err.decode("utf-8")

    return run_it


def as_bytes(request: object) -> bytes:
    return request if isinstance(request, bytes) else json.dumps(request).encode()


def test_a_command_gives_the_doors_own_answer(run):
    status, out, _ = run("chart", "--angle", "45", "--sizes", "2 in, 3 in", "--cloths", "fat_quarter")
    asked = {"ask": "chart", "piece": {"angle": 45}, "sizes": ["2 in", "3 in"], "cloths": ["fat_quarter"]}
    assert (status, json.loads(out)) == (0, answer(asked))
    status, out, _ = run("templates", "--sizes", "2 in", "--angle", "45", "--seam", "1 cm", "--paper", "a4", "--json")
    pieces = [{"shape": "diamond", "size": "2 in", "angle": "45"}]
    assert (status, json.loads(out)) == (
        0,
        answer({"ask": "templates", "pieces": pieces, "seam": "1 cm", "paper": "a4"}),
    )
    status, out, _ = run("quilt-drawing", "--size", "3", "--angle", "60", "--columns", "4", "--rows", "5")
    assert (status, json.loads(out)) == (0, answer({"ask": "quilt", **QUILT}))
    status, out, _ = run("cutting-sheet", "--size", "4in", "--angle", "60", "--cloth", "fat_quarter", "--hand", "left")
    assert (status, json.loads(out)) == (0, answer({"ask": "cutting_sheet", **SHEET, "hand": "left"}))


def test_a_request_comes_from_standard_input_where_no_option_describes_one(run):
    request = {"quilt": QUILT, "paper": "a4"}
    status, out, _ = run("templates", request=request)
    assert (status, json.loads(out)) == (0, answer({"ask": "templates", **request}))
    status, out, _ = run("chart", "--units", "cm")
    assert (status, json.loads(out)) == (0, answer({"ask": "chart", "units": "cm"}))
    status, out, _ = run("cutting-sheet", "--hand", "left", request=SHEET)  # a hand goes beside what is to be cut
    assert (status, json.loads(out)) == (0, answer({"ask": "cutting_sheet", **SHEET, "hand": "left"}))


@pytest.mark.parametrize("language", ["en", "ja"])
def test_a_cutting_sheet_is_told_as_lines_or_drawn_a_file_a_drawing(run, tmp_path, language):
    more = ("--language", language, "--units", "cm")
    status, out, _ = run("cutting-sheet", *more, "--text", request=SHEET)
    called = {"fat_quarter": say("cloth.fat_quarter.name", {}, language)}
    sheet = answer({"ask": "cutting_sheet", **SHEET})["sheet"]
    assert (status, out.splitlines()) == (0, sheet_lines(sheet, language, "cm", called))
    assert called["fat_quarter"] in out
    assert run("cutting-sheet", *more[:2], "--text", request={**SHEET, "units": "cm"})[1] == out
    status, out, _ = run("cutting-sheet", *more, "--paper", "a4", "--svg", "out", request=SHEET)
    assert status == 0
    assert out.splitlines()[:2] == ["out/cutting-sheet-cloth-1.svg", "out/cutting-sheet-picture-1.svg"]
    assert len(out.splitlines()) == 1 + max(map(int, re.findall(r"picture-(\d+)", out)))
    for name in out.splitlines():
        assert ElementTree.parse(tmp_path / name).getroot().get("width") == "210mm"
    title = ElementTree.parse(tmp_path / "out/cutting-sheet-cloth-1.svg").getroot()[0].text
    assert title.startswith(called["fat_quarter"])


@pytest.mark.parametrize(
    "arguments, request_made, names, width",
    [
        (["chart", "--sizes", "3 in"], None, ["chart-1"], "215.9mm"),
        (["templates", "--sizes", "2 in, 7 in", "--paper", "a4"], None, ["templates-1", "templates-2"], "210mm"),
        (["quilt-drawing", "--colors", "#aa3322"], QUILT, ["quilt-drawing-1"], "215.9mm"),
        (["quilt-drawing"], {**QUILT, "paper": "a4"}, ["quilt-drawing-1"], "210mm"),
    ],
)
def test_pages_are_written_as_svg_and_their_names_printed(run, tmp_path, arguments, request_made, names, width):
    status, out, _ = run(*arguments, "--svg", "out/sheets", request=request_made)
    assert status == 0
    assert [Path(line).as_posix() for line in out.splitlines()][: len(names)] == [f"out/sheets/{n}.svg" for n in names]
    written = sorted((tmp_path / "out/sheets").iterdir())
    assert len(written) == len(out.splitlines())
    for path in written:
        root = ElementTree.parse(path).getroot()
        assert root.get("width") == width and root.findall(".//{http://www.w3.org/2000/svg}text")


@pytest.mark.parametrize("language", languages())
def test_pages_speak_the_language_that_is_asked_for(run, tmp_path, language):
    assert run("chart", "--sizes", "10 cm", "--units", "cm", "--language", language, "--svg", ".")[0] == 0
    root = ElementTree.parse(tmp_path / "chart-1.svg").getroot()
    texts = [text.text for text in root.iter("{http://www.w3.org/2000/svg}text")]
    assert say("handout.chart_title", {}, language) in texts
    assert say("cloth.metric_fat_quarter.name", {}, language) in " ".join(texts)
    assert "10 cm" in texts


def test_what_has_no_template_is_told_beside_the_pages(run):
    request = {"pieces": [{"size": 2, "angle": 60}, {"id": "long", "shape": "rectangle", "size": 2, "length": 60}]}
    status, _, told = run("templates", "--svg", ".", request=request)
    assert (status, told) == (0, f"long: {say('handout.left_out.too_large', {'most': 4})}\n")


@pytest.mark.parametrize(
    "arguments, request_made, field, code",
    [
        (["chart", "--angle", "10"], None, "piece.angle", "angle_outside"),
        (["chart", "--sizes", "2, two", "--svg", "."], None, "sizes[1]", "length_words"),
        (["chart", "--svg", "."], {"paper": "a3"}, "paper", "choice"),
        (["quilt-drawing", "--svg", "."], {**QUILT, "units": "yd"}, "units", "choice"),
        (["templates"], None, "pieces", "list_wanted"),
        (["templates"], [1], "", "request_object"),
        (["templates"], b"{", "", "request_not_json"),
        (["templates"], b'"' + b"x" * 1_000_001, "", "request_too_large"),
        (["quilt-drawing", "--columns", "0", "--rows", "2"], None, "piece", "object_missing"),
        (["quilt-drawing", "--svg", ".", "--colors", "#aa3322, red"], QUILT, "colors[1]", "color"),
        (["cutting-sheet", "--size", "4 in", "--angle", "60", "--text"], None, "cloth", "object_missing"),
        (["cutting-sheet", "--hand", "both", "--svg", "."], SHEET, "hand", "choice"),
    ],
)
def test_a_refusal_is_json_with_exit_status_2(run, arguments, request_made, field, code):
    status, out, told = run(*arguments, "--language", "de", request=request_made)
    error = json.loads(out)["error"]
    assert (status, error["field"], error["code"], told) == (2, field, code, "")
    assert error["message"] and error["message"] != say(f"error.{code}", error["values"] | {"given": "", "n": 1}, "en")


@pytest.mark.parametrize(
    "arguments",
    [
        ["sheet"],
        ["chart", "--wide"],
        ["chart", "--paper", "a3"],
        ["chart", "more"],
        ["chart", "--ang", "60"],
        ["chart", "--text"],
    ],
)
def test_what_is_wrong_with_a_command_is_told_with_its_usage(run, arguments):
    status, out, told = run(*arguments)
    assert (status, out) == (1, "")
    assert told.startswith("usage: python -m matside")


def test_a_folder_that_cannot_be_made_is_told(run, tmp_path):
    (tmp_path / "there").write_text("a file")
    status, out, told = run("chart", "--sizes", "3 in", "--svg", "there")
    assert (status, out) == (1, "") and told.startswith("there: ")


def test_a_quilt_of_too_many_pieces_to_draw_says_so(run, monkeypatch):
    monkeypatch.setattr(whole, "MOST_OUTLINES", 20)
    status, out, told = run("quilt-drawing", "--svg", ".", request=QUILT)
    assert (status, out) == (1, "") and say("quilt.not_drawn.outlines_too_many", {}) in told


def test_help_names_every_option(run):
    for name, command in shell.COMMANDS.items():
        status, out, _ = run(name, "--help")
        assert status == 0 and all(f"--{option.name}" in out for option in command.options)


# --- README.md ----------------------------------------------------------------------------------------------------


SHOWN = (ROOT / "README.md").read_text("utf-8").split("## From a shell")[1].split("\n## ")[0]
EXAMPLES = [
    line.removeprefix("python3 -m matside").strip()
    for block in re.findall(r"```sh\n(.*?)```", SHOWN, re.S)
    for line in block.splitlines()
    if line.startswith("python3 -m matside")
]
REQUESTS = [json.loads(text) for text in re.findall(r"```json\n(.*?)```", SHOWN, re.S)]


def test_the_readme_shows_every_command():
    assert {line.split()[0] for line in EXAMPLES} == {"<", *shell.COMMANDS}
    assert [request["ask"] for request in REQUESTS] == ["strip", "templates"]


@pytest.mark.parametrize("line", EXAMPLES)
def test_an_example_of_the_readme_runs(run, line):
    words = shlex.split(line)
    # What stands behind "<" is the request that is shown nearest to it.
    request = None if "<" not in words else REQUESTS["templates" in words]
    status, out, told = run(*(words[: words.index("<")] if "<" in words else words), request=request)
    assert (status, told) == (0, "")
    if "--text" in words:
        assert out.startswith(f"{say('sheet.title')}\n")
    elif "--svg" in words:
        assert out and all(Path(name).exists() for name in out.splitlines())
    else:
        assert json.loads(out)["ok"]


def test_a_command_starts_as_a_module(tmp_path: Path):
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "core"), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-m", "matside", "quilt-drawing", "--svg", "out"]
    asked = {"input": json.dumps(QUILT).encode(), "cwd": tmp_path, "env": environment, "timeout": 60}
    done = subprocess.run(command, capture_output=True, **asked)
    assert (done.returncode, done.stderr) == (0, b"")
    assert ElementTree.parse(tmp_path / done.stdout.decode().strip()).getroot().get("height") == "279.4mm"
