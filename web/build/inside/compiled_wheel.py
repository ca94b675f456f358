"""Turns a wheel of Python sources into the same wheel of bytecode for the Python that runs this."""

import base64
import hashlib
import sys
from pathlib import PurePosixPath

from archives import read_archive, write_archive
from bytecode import bytecode_of_ours

TAG = f"cp3{sys.version_info.minor}-none-any"


def compile_wheel(path: str, folder: str) -> str:
    """Writes the compiled wheel into the folder and returns its path."""
    name, version = PurePosixPath(path).name.split("-")[:2]
    info = f"{name}-{version}.dist-info"
    contents = dict(_compiled(*item) for item in read_archive(path).items())
    contents[f"{info}/WHEEL"] = _retagged(contents[f"{info}/WHEEL"])
    contents[f"{info}/RECORD"] = _record(contents, f"{info}/RECORD")
    target = f"{folder}/{name}-{version}-{TAG}.whl"
    write_archive(target, contents)
    return target


def _compiled(name: str, content: bytes) -> tuple[str, bytes]:
    return (f"{name}c", bytecode_of_ours(content, name)) if name.endswith(".py") else (name, content)


def _retagged(wheel: bytes) -> bytes:
    lines = [line for line in wheel.decode().splitlines() if line and not line.startswith("Tag:")]
    return "\n".join([*lines, f"Tag: {TAG}", ""]).encode()


def _record(contents: dict[str, bytes], itself: str) -> bytes:
    lines = [_recorded(name, content) for name, content in sorted(contents.items()) if name != itself]
    return "\n".join([*lines, f"{itself},,", ""]).encode()


def _recorded(name: str, content: bytes) -> str:
    digest = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
    return f"{name},sha256={digest},{len(content)}"
