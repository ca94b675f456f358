"""Precompressed copies beside every file that gets smaller; made once for each content and then kept."""

import hashlib
import os
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from . import stamps
from .console import aside, step
from .environment import node
from .places import WORK

KEPT = WORK / "squeezed"
COMPRESSIBLE = {".html", ".js", ".mjs", ".css", ".json", ".svg", ".txt", ".wasm", ".webmanifest", ".zip", ".whl"}
ENDINGS = (".gz", ".br")


def add_squeezed(dist: Path) -> None:
    """Writes a .gz and a .br copy of each compressible file."""
    files = {path: _place(path) for path in stamps.files_under(dist) if path.suffix in COMPRESSIBLE}
    if missing := _missing(files):
        with step(f"Compressing {len(missing)} files (once for each content)"):
            _make(missing)
    for path, kept in files.items():
        for ending in ENDINGS:
            shutil.copyfile(f"{kept}{ending}", f"{path}{ending}")


@contextmanager
def squeezing_aside(paths: Sequence[Path]) -> Iterator[None]:
    """Compresses files that will be shipped as they are while something else is done: one of them takes longer than
    all others together, and one processor.
    """
    missing = _missing({path: _place(path) for path in paths})
    if not missing:
        yield
        return
    with aside(f"Compressing {', '.join(path.name for path in missing.values())}", lambda: _make(missing)):
        yield


def _place(path: Path) -> Path:
    return KEPT / hashlib.sha256(path.read_bytes()).hexdigest()


def _missing(files: dict[Path, Path]) -> dict[Path, Path]:
    """The files that nothing is kept of yet, by the place where it will be."""
    return {kept: path for path, kept in files.items() if not _have(kept)}


def _have(kept: Path) -> bool:
    return all(Path(f"{kept}{ending}").exists() for ending in ENDINGS)


def _make(missing: dict[Path, Path]) -> None:
    KEPT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=KEPT) as bench:  # tests build in several processes at once
        copies = {kept: Path(bench) / kept.name for kept in missing}
        for kept, copy in copies.items():
            shutil.copyfile(missing[kept], copy)
        node("squeeze", *copies.values())
        for kept, copy in copies.items():
            for ending in ENDINGS:
                os.replace(f"{copy}{ending}", f"{kept}{ending}")
