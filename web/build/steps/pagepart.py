"""The page's own files, gathered into one folder whose name is the hash of all that is in it."""

import json
import re
import shutil
from pathlib import Path

from . import stamps
from .console import Stop
from .fractions import drawn_files
from .fromcore import core_files
from .look import joined
from .reduced import reduced_files
from .vendored import MODULES

# At the top of web/, but not part of the application folder.
_ELSEWHERE = {
    "index.html",
    "patterns.html",
    "sw.js",
    "manifest.webmanifest",
    "package.json",
    "package-lock.json",
    ".npmrc",
    "eslint.config.js",
}
_ELSEWHERE_FOLDERS = {"build", "node_modules", "icons"}
_SUFFIXES = {".js", ".mjs", ".css", ".json", ".svg", ".png", ".woff2", ".txt"}

_LINKED = re.compile(r'((?:href|src|content)=")(app|py|pyodide)/')


def page_files(web: Path) -> dict[str, Path]:
    """The application folder's files by their path in it: modules, styles, pictures, words, and modules from npm."""
    own = {path.relative_to(web).as_posix(): path for path in stamps.files_under(web) if _belongs(path, web)}
    made = core_files() | drawn_files() | reduced_files()
    for twice in sorted(own.keys() & (made.keys() | MODULES.keys())):
        raise Stop(f"web/{twice} has the name of a file that the build puts there: rename it")
    return joined({**own, **made, **MODULES})


def _belongs(path: Path, web: Path) -> bool:
    inside = path.relative_to(web)
    top = inside.parts[0]
    return top not in _ELSEWHERE and top not in _ELSEWHERE_FOLDERS and path.suffix in _SUFFIXES


def copy_hashed(files: dict[str, Path], out: Path, name: str) -> str:
    """Copies the files into `out/name-<hash>/` and returns that folder's name."""
    hashed = stamps.digest(*(part for inside, path in sorted(files.items()) for part in (inside, path.read_bytes())))
    folder = f"{name}-{hashed}"
    for inside, path in files.items():
        target = out / folder / inside
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, target)
    return folder


def linked(text: str, folders: dict[str, str]) -> str:
    """The page with `app/…`, `py/…` and `pyodide/…` in its attributes led to the hashed folders.

    >>> linked('<link href="app/look.css">', {"app": "app-12"})
    '<link href="app-12/look.css">'
    """
    return _LINKED.sub(lambda found: f"{found[1]}{folders[found[2]]}/", text)


def manifest(web: Path) -> str:
    """The web app manifest, checked to be JSON, without its white space."""
    return json.dumps(json.loads((web / "manifest.webmanifest").read_text("utf-8")), separators=(",", ":"))
