"""Modules from npm of which the page uses a part: made once for each content, with that part alone, and then kept."""

import os
import tempfile
from pathlib import Path

from . import stamps
from .environment import node
from .places import BUILD_SOURCES, WORK
from .vendored import REDUCED

KEPT = WORK / "reduced"
_SCRIPT = BUILD_SOURCES / "node" / "reduced.mjs"


def reduced_files() -> dict[str, Path]:
    """The modules of `REDUCED` by the name under which each ships."""
    return {name: _reduced(source, exports) for name, (source, exports) in REDUCED.items()}


def _reduced(source: Path, exports: tuple[str, ...]) -> Path:
    place = KEPT / f"{stamps.digest(source.read_bytes(), _SCRIPT.read_bytes(), *exports)}.js"
    if not place.exists():
        KEPT.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=KEPT) as bench:  # tests build in several processes at once
            made = Path(bench) / place.name
            node("reduced", source, made, *exports)
            os.replace(made, place)
    return place
