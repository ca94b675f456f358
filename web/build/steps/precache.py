"""The list of files that a phone keeps, with the hash that each must have, and the service worker that carries it."""

import base64
import hashlib
import json
import re
from pathlib import Path

from . import stamps
from .vendored import WORKER_SCRIPTS

SQUEEZED = {".gz", ".br"}
# They tell a host what to send, and are nothing that a phone asks for.
HOST_FILES = ("_headers", ".htaccess", "nginx-headers.conf")
SBOM = "sbom.cdx.json"
_NOT_KEPT = {"sw.js", SBOM, *HOST_FILES}
HASHED_FOLDER = re.compile(r"^[a-z]+-[0-9a-f]{16}/")
_SOURCE_MAP = re.compile(r"^//# sourceMappingURL=.*$", re.MULTILINE)


def entries(dist: Path) -> list[dict]:
    """One entry a file: its URL, its SHA-256 for the browser to check, and a revision where the name has no hash."""
    files = [path for path in stamps.files_under(dist) if path.suffix not in SQUEEZED and path.name not in _NOT_KEPT]
    return [_entry(path.relative_to(dist).as_posix(), path.read_bytes()) for path in files]


def _entry(url: str, content: bytes) -> dict:
    digest = hashlib.sha256(content)
    revision = None if HASHED_FOLDER.match(url) else digest.hexdigest()[:16]
    return {"url": url, "revision": revision, "integrity": "sha256-" + base64.b64encode(digest.digest()).decode()}


def service_worker(source: Path, listed: list[dict]) -> str:
    """The finished sw.js: the list, its version, the parts of Workbox, then our own script."""
    build = {"version": stamps.digest(json.dumps(listed), source.read_bytes()), "precache": listed}
    scripts = [_SOURCE_MAP.sub("", path.read_text("utf-8")).strip() for path in WORKER_SCRIPTS]
    return "\n".join([f"self.MATSIDE_BUILD = {json.dumps(build)};", *scripts, source.read_text("utf-8")])
