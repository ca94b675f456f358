"""Where things lie."""

import os
import shutil
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
WEB = ROOT / "web"
CORE = ROOT / "core" / "matside"
BUILD_SOURCES = WEB / "build"
NODE_MODULES = WEB / "node_modules"
VENV = ROOT / ".venv"
WORK = ROOT / ".build"
LOGS = WORK / "logs"
DIST = ROOT / "dist"
VENV_BIN = VENV / ("Scripts" if os.name == "nt" else "bin")


def tool(name: str) -> Path:
    """A program of the virtual environment.

    >>> tool("node").parent == VENV_BIN
    True
    """
    return VENV_BIN / (name + ".exe" if os.name == "nt" else name)


def swap(new: Path, old: Path) -> None:
    """Puts the new folder in the old one's place, so that no reader meets a half-written one."""
    aside = WORK / f"{old.name}-old"
    shutil.rmtree(aside, ignore_errors=True)
    if old.exists():
        os.replace(old, aside)
    os.replace(new, old)
    shutil.rmtree(aside, ignore_errors=True)
