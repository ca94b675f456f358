"""Skips work that is up to date: a step's stamp holds the hash of all that went into it."""

import hashlib
from collections.abc import Iterable
from pathlib import Path

from .places import ROOT, WORK

STAMPS = WORK / "stamps"


def files_under(folder: Path, pattern: str = "*") -> list[Path]:
    """The files of a folder and below, in one order everywhere, without bytecode."""
    found = (path for path in folder.rglob(pattern) if path.is_file())
    return sorted(path for path in found if "__pycache__" not in path.parts)


def digest(*inputs: Path | str | bytes) -> str:
    """The hash of texts and of files with their names, as 16 hexadecimal digits.

    >>> digest("a", "b") == digest("a", "b"), digest("a", "b") == digest("ab")
    (True, False)
    """
    whole = hashlib.sha256()
    for item in inputs:
        for part in _parts(item):
            whole.update(len(part).to_bytes(8, "big") + part)
    return whole.hexdigest()[:16]


def _parts(item: Path | str | bytes) -> Iterable[bytes]:
    if isinstance(item, Path):
        return _name(item).encode(), item.read_bytes()
    return (item if isinstance(item, bytes) else item.encode(),)


def _name(path: Path) -> str:
    return (path.relative_to(ROOT) if path.is_relative_to(ROOT) else Path(path.name)).as_posix()


def up_to_date(name: str, wanted: str, *results: Path) -> bool:
    """Whether the step was last done from these very inputs and its results are still there."""
    stamp = STAMPS / name
    return stamp.exists() and stamp.read_text() == wanted and all(path.exists() for path in results)


def done(name: str, wanted: str) -> None:
    """Remembers that the step was done from these inputs."""
    STAMPS.mkdir(parents=True, exist_ok=True)
    (STAMPS / name).write_text(wanted)


def forget(pattern: str) -> None:
    """Drops the stamps of steps whose results are gone."""
    for stamp in STAMPS.glob(pattern):
        stamp.unlink()
