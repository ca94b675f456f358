"""A build is the same to the last byte wherever and whenever it is made from the same sources and packages."""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from steps.places import NODE_MODULES, ROOT, VENV, WORK
from steps.squeezed import ENDINGS, KEPT

SOURCES = ("core", "web", "tests/sources", "pyproject.toml", "README.md", "LICENSE", ".gitignore")
LEFT_OUT = ("node_modules", "__pycache__")
#: Squeezing what never changes is most of the work: what is larger, in bytes, is taken as it was squeezed before.
LARGE = 1_000_000
LONG_AGO = 1_000_000_000
BUILD = "from steps import distribution, pythonpart; pythonpart.build(); distribution.build()"


def sources() -> list[Path]:
    """The files that a build is made from, from the top of the folder."""
    found = []
    for name in SOURCES:
        top = ROOT / name
        found += (
            [top]
            if top.is_file()
            else [
                path
                for path in top.rglob("*")
                if path.is_file() and not set(path.relative_to(ROOT).parts) & set(LEFT_OUT)
            ]
        )
    return sorted(path.relative_to(ROOT) for path in found)


@pytest.fixture
def elsewhere(tmp_path: Path) -> Path:
    """The sources in another folder, written in another order, at another time; the packages
    are those that are here.
    """
    top = tmp_path / "another folder" / "deeper"
    for inside in reversed(sources()):
        (top / inside).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(ROOT / inside, top / inside)
        os.utime(top / inside, (LONG_AGO, LONG_AGO))
    (top / "web" / "node_modules").symlink_to(NODE_MODULES.resolve())
    (top / ".venv").symlink_to(VENV.resolve())
    (top / ".build" / "stamps").mkdir(parents=True)
    shutil.copyfile(WORK / "stamps" / "micropip", top / ".build" / "stamps" / "micropip")
    (top / ".build" / "wheels").symlink_to((WORK / "wheels").resolve())
    return top


def take_what_is_large(dist: Path, top: Path) -> None:
    """Gives the other build the squeezed copies of large files."""
    kept = top / KEPT.relative_to(ROOT)
    kept.mkdir(parents=True)
    for path in dist.rglob("*"):
        if path.is_file() and path.suffix not in ENDINGS and path.stat().st_size > LARGE:
            name = hashlib.sha256(path.read_bytes()).hexdigest()
            for ending in ENDINGS:
                shutil.copyfile(KEPT / f"{name}{ending}", kept / f"{name}{ending}")


def content(dist: Path) -> dict[str, str]:
    """The hash of every file of a distribution, the hidden and the squeezed ones too."""
    return {
        path.relative_to(dist).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in dist.rglob("*")
        if path.is_file()
    }


@pytest.mark.long
def test_a_build_elsewhere_gives_the_same_bytes(dist: Path, elsewhere: Path):
    take_what_is_large(dist, elsewhere)
    odd = {
        "PYTHONPATH": str(elsewhere / "web" / "build"),
        "PYTHONHASHSEED": "4711",
        "TZ": "Pacific/Chatham",
        "LC_ALL": "C",
        "HOME": str(elsewhere),
    }
    done = subprocess.run(
        [sys.executable, "-c", BUILD],
        cwd=elsewhere,
        env={**os.environ, **odd},
        umask=0o077,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    made, wanted = content(elsewhere / "dist"), content(dist)
    assert len(wanted) > 250
    assert {name for name in made.keys() | wanted.keys() if made.get(name) != wanted.get(name)} == set()


def test_what_differs_would_be_found(tmp_path: Path):
    for folder, text in (("one", "a"), ("other", "b")):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / ".hidden").write_text(text)
    assert content(tmp_path / "one") != content(tmp_path / "other")
