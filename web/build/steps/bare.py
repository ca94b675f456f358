"""Our own scripts as they ship: without comments and indentation, made once for each content and then kept."""

import hashlib
import os
import tempfile
from pathlib import Path

from . import reduced
from .environment import node
from .places import NODE_MODULES, WORK

KEPT = WORK / "bare"
_SCRIPTS = {".js", ".mjs"}
_OF_OTHERS = (NODE_MODULES, reduced.KEPT)


def bare(files: dict[str, Path]) -> dict[str, Path]:
    """The same files by name, our own scripts among them bare; what comes from npm stays as it came."""
    places = {
        name: _place(path)
        for name, path in files.items()
        if path.suffix in _SCRIPTS and not any(path.is_relative_to(folder) for folder in _OF_OTHERS)
    }
    _make({place: files[name] for name, place in places.items() if not place.exists()})
    return {**files, **places}


def bare_text(path: Path) -> str:
    """One script, bare."""
    return bare({path.name: path})[path.name].read_text("utf-8")


def _place(path: Path) -> Path:
    return KEPT / hashlib.sha256(path.read_bytes()).hexdigest()


def _make(missing: dict[Path, Path]) -> None:
    if not missing:
        return
    KEPT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=KEPT) as bench:  # tests build in several processes at once
        node("bare", bench, *missing.values())
        for place in missing:
            os.replace(Path(bench) / place.name, place)
