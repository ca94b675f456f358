"""Turns a wheel of Python sources into the same wheel of bytecode for the Python that runs this.

Only what runs in the page goes along: not what a shell starts, nor the pages that it writes. Of the wording that is the
English refusals and units, in one file; the page has all of it and words refusals itself.
"""

import base64
import hashlib
import json
import re
import sys
from pathlib import PurePosixPath

import readymade
from archives import read_archive, write_archive
from bytecode import bytecode_of_ours

_WORDS = re.compile(r"([^/]+/words)/(?:\w+/)?[^/]+\.json")
_ENGLISH = "{}/en.json"  # as core/matside/words/catalogue.py reads it
_PARTS = ("error", "unit")
#: They take words, which Python has not in the page.
_PAGES = ("svg", "chart_sheets", "quilt_sheet", "sheet_text", "sheet_words", "sheet_drawings", "labels")
_FOR_A_SHELL = ("/__main__.py", "/shell.py", *(f"/handout/{name}.py" for name in _PAGES))
TAG = f"cp3{sys.version_info.minor}-none-any"


def compile_wheel(path: str, folder: str) -> str:
    """Writes the compiled wheel into the folder and returns its path."""
    name, version = PurePosixPath(path).name.split("-")[:2]
    info = f"{name}-{version}.dist-info"
    sources = {name: content for name, content in read_archive(path).items() if not name.endswith(_FOR_A_SHELL)}
    modules = {name: _module(name) for name in sources if name.endswith(".py")}
    written = readymade.written(path, modules.values())
    compiled = {f"{name}c": bytecode_of_ours(sources[name], name, written.get(modules[name], [])) for name in modules}
    other = {name: content for name, content in sources.items() if name not in modules and not _WORDS.fullmatch(name)}
    contents = compiled | other | _english(sources)
    contents[f"{info}/WHEEL"] = _retagged(contents[f"{info}/WHEEL"])
    contents[f"{info}/RECORD"] = _record(contents, f"{info}/RECORD")
    target = f"{folder}/{name}-{version}-{TAG}.whl"
    write_archive(target, contents)
    return target


def _module(name: str) -> str:
    return name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def _english(sources: dict[str, bytes]) -> dict[str, bytes]:
    """The file with the English refusals and units, where there is a catalogue."""
    folders = {found[1] for name in sources if (found := _WORDS.fullmatch(name))}
    return {_ENGLISH.format(folder): _parts(sources, f"{folder}/en/") for folder in folders}


def _parts(sources: dict[str, bytes], folder: str) -> bytes:
    kept: dict[str, dict] = {part: {} for part in _PARTS}
    for name in sorted(sources):
        told = json.loads(sources[name]) if name.startswith(folder) else {}
        for part in _PARTS:
            kept[part].update(told.get(part, {}))
    return json.dumps(kept, ensure_ascii=False, separators=(",", ":")).encode()


def _retagged(wheel: bytes) -> bytes:
    lines = [line for line in wheel.decode().splitlines() if line and not line.startswith("Tag:")]
    return "\n".join([*lines, f"Tag: {TAG}", ""]).encode()


def _record(contents: dict[str, bytes], itself: str) -> bytes:
    lines = [_recorded(name, content) for name, content in sorted(contents.items()) if name != itself]
    return "\n".join([*lines, f"{itself},,", ""]).encode()


def _recorded(name: str, content: bytes) -> str:
    digest = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
    return f"{name},sha256={digest},{len(content)}"
