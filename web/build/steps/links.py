"""Checks that nothing in the page leads to a file that does not ship: a shell without its scripts is a white screen."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

from . import stamps
from .console import Stop

_STATIC = re.compile(r"""^\s*(?:import|export)\b(?:[\w$\s{},*]*?\bfrom)?\s*['"](\.[^'"]+)['"]""", re.MULTILINE)
_DYNAMIC = re.compile(r"""\bimport\(\s*['"](\.[^'"]+)['"]\s*\)""")
_PATTERNS = {
    ".html": (re.compile(r'(?:href|src)="([^"#]+)"'),),
    ".css": (re.compile(r'url\(\s*"?([^")#]+)"?\s*\)'), re.compile(r'@import\s+"([^"]+)"')),
    ".js": (
        _STATIC,
        _DYNAMIC,
        re.compile(r"""new URL\(\s*['"](\.[^'"]+)['"],\s*import\.meta\.url"""),
    ),
}


def check_links(dist: Path) -> None:
    """Stop with the first link from the page, its styles, modules or manifest to a file that is not there."""
    for source, link in _links(dist):
        if not (source.parent / link.split("?")[0]).exists():
            raise Stop(f"{source.relative_to(dist).as_posix()} leads to {link}, which is not among the files that ship")


def modules_from(*mains: Path, later: bool = True) -> list[Path]:
    """Some modules and all that they import, directly or not, each once; with `later` also what they import only when
    it is wanted."""
    found, waiting = {}, [main.resolve() for main in mains]
    while waiting:
        module = waiting.pop(0)
        if module not in found and module.exists():
            found[module] = True
            text = module.read_text("utf-8")
            links = [*_STATIC.findall(text), *(_DYNAMIC.findall(text) if later else ())]
            waiting += [(module.parent / link).resolve() for link in links]
    return list(found)


def _links(dist: Path) -> Iterator[tuple[Path, str]]:
    for source in _own_files(dist):
        text = source.read_text("utf-8")
        for pattern in _PATTERNS[source.suffix]:
            yield from ((source, link) for link in pattern.findall(text) if not link.startswith(("data:", "blob:")))
    manifest = dist / "manifest.webmanifest"
    yield from ((manifest, icon["src"]) for icon in json.loads(manifest.read_text("utf-8"))["icons"])


def _own_files(dist: Path) -> list[Path]:
    folders = [*dist.glob("*.html"), *(path for folder in dist.glob("app-*") for path in stamps.files_under(folder))]
    return [path for path in folders if path.suffix in _PATTERNS]
