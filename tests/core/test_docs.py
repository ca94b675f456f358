"""What README.md and DEVELOPERS.md name is there: paths, commands, requests; and the README
begins by saying what this is.
"""

import fnmatch
import importlib.util
import json
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

from matside import answer

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = ("README.md", "DEVELOPERS.md")
SOURCES = "tests/sources/README.md"
SKIPPED = {".git", ".venv", ".build", "dist", "node_modules", "__pycache__", ".hypothesis", ".pytest_cache"}
FILE_KINDS = {
    "py",
    "md",
    "json",
    "toml",
    "js",
    "mjs",
    "css",
    "html",
    "txt",
    "yml",
    "yaml",
    "sh",
    "svg",
    "webmanifest",
    "npmrc",
}
MEDIA_TYPES = {"application", "audio", "font", "image", "text", "video"}
SHELL = {"", "sh", "bash", "shell", "console"}


def text_of(document: str) -> str:
    """A document of the project; that it is there at all is a test of its own."""
    path = ROOT / document
    return path.read_text("utf-8") if path.exists() else ""


def blocks(markdown: str) -> list[tuple[str, str]]:
    """The fenced blocks: what language they claim, and their text."""
    return re.findall(r"^ *```(\w*)[^\n]*\n(.*?)^ *```", markdown, re.M | re.S)


def spans(markdown: str) -> list[str]:
    """The `code` in running text."""
    return re.findall(r"`([^`\n]+)`", re.sub(r"^ *```.*?^ *```", "", markdown, flags=re.M | re.S))


def links(markdown: str) -> list[str]:
    """Where links and pictures point inside the project; outside addresses and places in the page left out."""
    found = [target.split("#")[0] for target in re.findall(r"\]\(([^)\s]+)[^)]*\)", markdown)]
    return [target for target in found if target and not re.match(r"[a-z]+:", target)]


def command_lines(markdown: str) -> list[str]:
    """Lines of shell blocks and code in running text, comments, prompts and redirections taken off."""
    lines = [line for language, text in blocks(markdown) if language in SHELL for line in text.splitlines()]
    cleaned = [re.sub(r"(^\s*\$ )|(\s#.*$)|([<>|]\s*\S+)", " ", line).strip() for line in (*lines, *spans(markdown))]
    return [line for line in cleaned if line]


def named_paths(markdown: str) -> list[str]:
    """Whatever looks like a path of the project."""
    words = [word.strip(",;:()\"'") for line in command_lines(markdown) for word in line.split()]
    return sorted({word for word in [*words, *tree_paths(markdown)] if is_path(word)} | set(links(markdown)))


def tree_paths(markdown: str) -> list[str]:
    """The first word of each line of a plain block that lays out folders."""
    return [
        line.split()[0]
        for language, text in blocks(markdown)
        if language in ("", "text")
        for line in text.splitlines()
        if line.split()
    ]


def is_path(word: str) -> bool:
    """A word of path characters with a slash and letters on the way, or a file name with a known ending."""
    if not re.fullmatch(r"[\w.@*-]+(/[\w.@*-]+)*/?", word) or re.fullmatch(r"[\W\d_./]*", word):
        return False
    if "/" in word.rstrip("/"):
        return word.split("/")[0] not in MEDIA_TYPES
    return word.endswith("/") or word.rsplit(".", 1)[-1] in FILE_KINDS and "." in word


def project_paths() -> list[str]:
    """Every file and folder of the project, as paths from its root; what commands make is left out."""
    found, waiting = [], [ROOT]
    while waiting:
        for path in waiting.pop().iterdir():
            if path.name not in SKIPPED:
                found.append(path.relative_to(ROOT).as_posix())
                if path.is_dir():
                    waiting.append(path)
    return found


PATHS = project_paths()
MADE = (
    [line.strip().strip("/") for line in (ROOT / ".gitignore").read_text("utf-8").splitlines() if line.strip()]
    if (ROOT / ".gitignore").exists()
    else []
)


def exists(path: str) -> bool:
    """A path from the root, the end of one, a pattern that matches one, or something inside what the commands make."""
    path = path.removeprefix("./").rstrip("/")
    made = any(path == folder or path.startswith((f"{folder}/", f"{folder.split('/')[-1]}/")) for folder in MADE)
    return made or any(fnmatch.fnmatchcase(other, path) or fnmatch.fnmatchcase(other, f"*/{path}") for other in PATHS)


@cache
def build_commands() -> tuple[set[str], str]:
    """The commands of build.py as it tells them itself, and the whole of what it tells."""
    told = subprocess.run(
        [sys.executable, str(ROOT / "build.py"), "--help"], capture_output=True, text=True, timeout=60, check=True
    ).stdout
    return set(re.search(r"\{([\w,-]+)\}", told)[1].split(",")), told


def wrong_commands(markdown: str) -> list[str]:
    """Documented commands that do not exist."""
    return [line for line in command_lines(markdown) if not right_command(line)]


def right_command(line: str) -> bool:
    """Whether a line that starts one of the project's commands starts one that exists; other lines are none of ours."""
    if built := re.search(r"(?:^|\s)(?:\./)?build\.py\s+(\S+)(.*)", line):
        commands, told = build_commands()
        return built[1] in commands and all(
            option in told for option in re.findall(r"--[\w-]+", built[2]) if built[1] not in ("test", "bench")
        )
    if module := re.match(r"(?:\S*/)?python[\d.]* -m (\w+)", line):
        return importlib.util.find_spec(module[1]) is not None
    if script := re.match(r"npm run (\S+)", line):
        return script[1] in json.loads((ROOT / "web/package.json").read_text("utf-8")).get("scripts", {})
    return True


def opening(markdown: str) -> tuple[str, str]:
    """The title, and the first paragraph of running text under it, as one line."""
    title, _, rest = markdown.strip().partition("\n")
    return title, " ".join(rest.strip().split("\n\n")[0].split())


@pytest.mark.parametrize("document", DOCUMENTS)
def test_the_document_is_there(document):
    assert len(text_of(document)) > 500


@pytest.mark.parametrize("document", [*DOCUMENTS, SOURCES])
def test_every_path_that_is_named_exists(document):
    assert [path for path in named_paths(text_of(document)) if not exists(path)] == []


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_command_that_is_named_exists(document):
    assert wrong_commands(text_of(document)) == []


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_request_that_is_shown_is_answered(document):
    requests = [json.loads(text) for language, text in blocks(text_of(document)) if language == "json"]
    assert [request for request in requests if "ask" in request and not answer(request)["ok"]] == []


@pytest.mark.parametrize("document", DOCUMENTS)
def test_no_machines_own_path_is_named(document):
    assert re.findall(r"(?<![\w.:/])/(?:home|root|tmp|work|Users|opt)/\S*", text_of(document)) == []


def designations(text: str) -> set[str]:
    """Published standards and handbooks that a text names, such as ISO 216, NIST Handbook 44 or 16 CFR 1219."""
    bodies = r"(?:ISO(?:/IEC)?|IEC|EN|DIN|ASME|ANSI(?:/ISEA)?|AATCC|OSHA|NUREG|WCAG|RFC|NIST Handbook|NIST SP)"
    return {
        " ".join(found.split())
        for found in re.findall(rf"\b{bodies}[\s-]+[A-Z]?\d[\w.-]*\w|\b{bodies} \d\b|\b\d+ CFR \d+", text)
    }


def test_every_standard_that_a_check_names_is_in_the_list_of_sources():
    checks = sorted(
        path
        for path in (ROOT / "tests").rglob("*.py")
        if not SKIPPED & set(path.parts) and path != Path(__file__).resolve()
    )
    named = {path.name: designations(path.read_text("utf-8")) for path in checks}
    assert "NIST Handbook 44" in named["test_units.py"]
    listed = designations(text_of(SOURCES))
    assert {name: sorted(found - listed) for name, found in named.items() if found - listed} == {}


def test_the_two_commands_are_told_at_once():
    for command in ("python3 build.py serve", "python3 build.py test"):
        assert command in text_of("README.md")


def test_the_readme_opens_by_saying_what_this_is_and_for_whom():
    title, paragraph = opening(text_of("README.md"))
    assert title == "# Matside"
    assert re.match(r"[A-Z]", paragraph) and paragraph.endswith(".")
    assert 20 <= len(paragraph.split()) <= 90
    assert re.search(r"quilt", paragraph) and re.search(r"diamond", paragraph) and re.search(r"ruler", paragraph)
    assert re.search(r"offline|without a network|no network|no signal", paragraph)
    # For readers who do not build software: how it is made comes later.
    assert not re.search(r"`|Python|Pyodide|PWA|JavaScript|service worker", paragraph)


MADE_UP = """# Matside

Opens here. `core/matside/door.py` is there and `strips.py` too, `core/gone.py` is not; `dist/` is made.
See [the build](build.py#L1), [nothing](docs/nothing.md) and [elsewhere](https://example.org/a.md).
A fraction like `1/2`, a kind like `application/json`, a field like `piece.size` is no path.

```sh
$ python3 build.py serve --port 8001   # then look
python3 build.py publish
python3 build.py serve --sideways
python3 -m matside < request.json > answer.json
python3 -m matside_gone
npm run nonsense
```
"""


def test_what_is_wrong_in_a_document_would_be_found():
    # The search itself, on a made-up document.
    paths = named_paths(MADE_UP)
    assert {"core/matside/door.py", "strips.py", "core/gone.py", "dist/", "build.py", "docs/nothing.md"} <= set(paths)
    assert not {"1/2", "application/json", "piece.size", "request.json", "answer.json"} & set(paths)
    assert [path for path in paths if not exists(path)] == ["core/gone.py", "docs/nothing.md"]
    assert wrong_commands(MADE_UP) == [
        "python3 build.py publish",
        "python3 build.py serve --sideways",
        "python3 -m matside_gone",
        "npm run nonsense",
    ]
    assert opening(MADE_UP)[0] == "# Matside" and opening(MADE_UP)[1].startswith("Opens here.")
