"""Precompressed copies beside every file that gets smaller; made once for each content and then kept."""

import hashlib
import os
import shutil
import tempfile
from pathlib import Path

from . import stamps
from .console import step
from .environment import node
from .places import WORK

KEPT = WORK / "squeezed"
COMPRESSIBLE = {".html", ".js", ".mjs", ".css", ".json", ".svg", ".txt", ".wasm", ".webmanifest", ".zip", ".whl"}
ENDINGS = (".gz", ".br")


def add_squeezed(dist: Path) -> None:
    """Writes a .gz and a .br copy of each compressible file."""
    files = {
        path: KEPT / hashlib.sha256(path.read_bytes()).hexdigest()
        for path in stamps.files_under(dist)
        if path.suffix in COMPRESSIBLE
    }
    _make_missing({kept: path for path, kept in files.items() if not _have(kept)})
    for path, kept in files.items():
        for ending in ENDINGS:
            shutil.copyfile(f"{kept}{ending}", f"{path}{ending}")


def _have(kept: Path) -> bool:
    return all(Path(f"{kept}{ending}").exists() for ending in ENDINGS)


def _make_missing(missing: dict[Path, Path]) -> None:
    if not missing:
        return
    KEPT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=KEPT) as bench:  # tests build in several processes at once
        copies = {kept: Path(bench) / kept.name for kept in missing}
        for kept, copy in copies.items():
            shutil.copyfile(missing[kept], copy)
        with step(f"Compressing {len(missing)} files (once for each content)"):
            node("squeeze", *copies.values())
        for kept, copy in copies.items():
            for ending in ENDINGS:
                os.replace(f"{copy}{ending}", f"{kept}{ending}")
