"""The list of files that a phone keeps, with the hash that each must have, and the service worker that carries it.

The worker ships twice: as `sw.js`, which browsers ask for anew, and under a name that belongs to its version alone, by
which a page puts its own version back in place of a worker that does not answer."""

import base64
import hashlib
import json
import re
from pathlib import Path

from . import stamps
from .bare import bare_text
from .fromcore import ENGLISH
from .patterns import is_own
from .vendored import WORKER_SCRIPTS

SQUEEZED = {".gz", ".br"}
SPARE = re.compile(r"^sw-[0-9a-f]{16}\.js$")
# They tell a host what to send, and are nothing that a phone asks for.
HOST_FILES = ("_headers", ".htaccess", "nginx-headers.conf")
SBOM = "sbom.cdx.json"
_NOT_KEPT = {SBOM, *HOST_FILES}
HASHED_FOLDER = re.compile(r"^[a-z]+-[0-9a-f]{16}/")
_WORDS = re.compile(r"^app-[0-9a-f]{16}/(?:words|glossary)/([a-z]{2})\.json$")
_SOURCE_MAP = re.compile(r"^//# sourceMappingURL=.*$", re.MULTILINE)


def entries(dist: Path) -> list[dict]:
    """One entry a file that every phone keeps: its URL, size, its SHA-256 for the browser to check, and a revision
    where the name has no hash.
    """
    return [entry for entry in _all(dist) if not _language(entry["url"])]


def languages(dist: Path) -> dict[str, list[dict]]:
    """The files of each language but English, in the same form: a phone keeps those that it was asked to speak."""
    found: dict[str, list[dict]] = {}
    for entry in _all(dist):
        if language := _language(entry["url"]):
            found.setdefault(language, []).append(entry)
    return found


def _all(dist: Path) -> list[dict]:
    files = {path.relative_to(dist).as_posix(): path for path in stamps.files_under(dist) if _is_kept(path)}
    return [_entry(url, path.read_bytes()) for url, path in files.items() if not is_own(url)]


def _language(url: str) -> str | None:
    """The language that a file is of; none for English, which every phone has.

    >>> _language("app-0123456789abcdef/words/de.json"), _language("app-0123456789abcdef/glossary/en.json")
    ('de', None)
    """
    found = _WORDS.match(url)
    return found[1] if found and found[1] != ENGLISH else None


def _is_kept(path: Path) -> bool:
    return path.suffix not in SQUEEZED and path.name not in _NOT_KEPT and not is_worker(path.name)


def _entry(url: str, content: bytes) -> dict:
    digest = hashlib.sha256(content)
    revision = None if HASHED_FOLDER.match(url) else digest.hexdigest()[:16]
    integrity = "sha256-" + base64.b64encode(digest.digest()).decode()
    return {"url": url, "revision": revision, "integrity": integrity, "size": len(content)}


def is_worker(name: str) -> bool:
    """Whether a file at the top of dist/ is the service worker, under either of its names.

    >>> is_worker("sw.js"), is_worker("sw-0123456789abcdef.js"), is_worker("index.html")
    (True, True, False)
    """
    return name == "sw.js" or bool(SPARE.match(name))


def spare_name(source: Path, listed: list[dict], page: str) -> str:
    """The worker's name of its own, by all that goes into it: what is listed so far, the page
    that is to name it, its script.
    """
    return f"sw-{stamps.digest(json.dumps(listed), page, source.read_bytes(), *_parts())}.js"


def _parts() -> list[str]:
    return [_SOURCE_MAP.sub("", path.read_text("utf-8")).strip() for path in WORKER_SCRIPTS]


def service_worker(source: Path, listed: list[dict], spoken: dict[str, list[dict]], spare: str) -> str:
    """The finished sw.js: the list and those of the languages, its version, the name that its page tells, the parts of
    Workbox, then our own script, all in one block.

    A script that is cut short anywhere does not parse, so no browser puts it in place. The last line has the SHA-256 of
    all before it: by that a page tells a script that was altered on its way."""
    build = {
        "version": stamps.digest(json.dumps([listed, spoken]), source.read_bytes(), *_parts()),
        "shownAs": spare,
        "precache": listed,
        "languages": spoken,
    }
    own = bare_text(source).strip()
    text = "\n".join(["{", f"self.MATSIDE_BUILD = {json.dumps(build)};", *_parts(), own, "}"])
    return f"{text} // matside {hashlib.sha256(text.encode()).hexdigest()}\n"
