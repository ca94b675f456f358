"""Turns a wheel of Python sources into the same wheel of bytecode for the Python that runs this.

Of the wording only what Python needs goes along: the English refusals and units. The page has all of it
and words refusals itself.
"""

import base64
import hashlib
import json
import re
import sys
from pathlib import PurePosixPath

from archives import read_archive, write_archive
from bytecode import bytecode_of_ours

_WORDS = re.compile(r"[^/]+/words/(?:(\w+)/)?[^/]+\.json")
_KEPT = "en"
_PARTS = ("error", "unit")
TAG = f"cp3{sys.version_info.minor}-none-any"


def compile_wheel(path: str, folder: str) -> str:
    """Writes the compiled wheel into the folder and returns its path."""
    name, version = PurePosixPath(path).name.split("-")[:2]
    info = f"{name}-{version}.dist-info"
    contents = dict(_compiled(*item) for item in read_archive(path).items() if _is_needed(*item))
    contents[f"{info}/WHEEL"] = _retagged(contents[f"{info}/WHEEL"])
    contents[f"{info}/RECORD"] = _record(contents, f"{info}/RECORD")
    target = f"{folder}/{name}-{version}-{TAG}.whl"
    write_archive(target, contents)
    return target


def _is_needed(name: str, content: bytes) -> bool:
    found = _WORDS.fullmatch(name)
    return not found or (found[1] == _KEPT and any(part in json.loads(content) for part in _PARTS))


def _compiled(name: str, content: bytes) -> tuple[str, bytes]:
    if name.endswith(".py"):
        return f"{name}c", bytecode_of_ours(content, name)
    return name, _parts(content) if _WORDS.fullmatch(name) else content


def _parts(content: bytes) -> bytes:
    kept = {part: told for part, told in json.loads(content).items() if part in _PARTS}
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
