"""A small server for dist/ on this machine, as a careful static host would serve it."""

import hashlib
from collections.abc import Callable
from functools import partial
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

from .console import Stop, say
from .places import DIST
from .policy import HEADERS
from .precache import HASHED_FOLDER, HOST_FILES

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".wasm": "application/wasm",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".txt": "text/plain; charset=utf-8",
    ".zip": "application/zip",
}
# What lies in a folder named by its content never changes; of everything else it is asked each time whether it has.
LASTING, ASKED_ANEW = "public, max-age=31536000, immutable", "no-cache"
ENCODINGS = (("br", ".br"), ("gzip", ".gz"))  # the smaller first
PORTS_TRIED = 50


def serve(port: int) -> None:
    """Serves dist/ until interrupted, on the port or the next free one."""
    with listening(DIST, port) as server:
        say(f"Matside is at http://127.0.0.1:{server.server_port}/ (stop with Ctrl+C)")
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            say("stopped")


def listening(folder: Path, port: int, prefix: str = "/") -> ThreadingHTTPServer:
    """A server bound to the port, or to the next free one after it; 0 takes any."""
    handler = partial(Handler, folder=folder, prefix=prefix)
    return bound(port, lambda tried: ThreadingHTTPServer(("127.0.0.1", tried), handler))


def bound(port: int, make: Callable[[int], ThreadingHTTPServer]) -> ThreadingHTTPServer:
    """The server that `make` gives for the port, or for the first after it at which it raises no OSError."""
    for tried in range(port, min(port + PORTS_TRIED, 65536)):
        try:
            return make(tried)
        except OSError:
            continue
    raise Stop(f"no free port from {port} on: choose another with --port")


def asked_path(target: str) -> str | None:
    """The path that a request names, without what only the page reads; none where it is no address at all.

    >>> asked_path("/a%20b?plan=1"), asked_path("http://host/a"), asked_path("http://["), asked_path("/%00")
    ('/a b', '/a', None, None)
    """
    try:
        path = unquote(urlsplit(target).path)
    except ValueError:
        return None
    return None if "\0" in path else path


def headers_of(inside: str, content: bytes, encoding: str = "") -> dict[str, str]:
    """What is said of a file of dist/, by its path in it and the content that is sent."""
    headers = {
        "Content-Type": TYPES.get(Path(inside).suffix, "application/octet-stream"),
        "Cache-Control": LASTING if HASHED_FOLDER.match(inside) else ASKED_ANEW,
        "ETag": f'"{hashlib.sha256(content).hexdigest()[:16]}"',
        "Vary": "Accept-Encoding",
    }
    return {**headers, **({"Content-Encoding": encoding} if encoding else {})}


class Answering(BaseHTTPRequestHandler):
    """Answers GET and HEAD with what `_found` gives for the request: headers and content, or none."""

    protocol_version = "HTTP/1.1"
    server_version = "matside"
    sys_version = ""
    disable_nagle_algorithm = True  # a file's content follows its headers at once, not after 40 ms

    def do_GET(self) -> None:
        """Sends the file, its squeezed copy where the browser takes one, or 304 where it has it already."""
        found = self._found()
        if found is None:
            return self._send(HTTPStatus.NOT_FOUND, {"Content-Type": TYPES[".txt"]}, b"There is no such file.\n")
        headers, content = found
        if self.headers.get("If-None-Match") == headers["ETag"]:
            return self._send(HTTPStatus.NOT_MODIFIED, headers, b"")
        self._send(HTTPStatus.OK, headers, content)

    do_HEAD = do_GET

    def _accepted(self) -> set[str]:
        return {part.split(";")[0].strip() for part in self.headers.get("Accept-Encoding", "").split(",")}

    def _send(self, status: HTTPStatus, headers: dict[str, str], content: bytes) -> None:
        self.send_response(status)
        for name, value in {**HEADERS, **headers}.items():
            self.send_header(name, value)
        if status != HTTPStatus.NOT_MODIFIED:
            self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        if self.command != "HEAD" and content:
            self._write(content)

    def _write(self, content: bytes) -> None:
        self.wfile.write(content)

    def log_message(self, *_arguments) -> None:
        """Says nothing: the page is asked for many files."""


class Handler(Answering):
    """Answers with files of one folder, below one path."""

    def __init__(self, *arguments, folder: Path, prefix: str = "/") -> None:
        self.folder = folder.resolve()
        self.prefix = prefix
        super().__init__(*arguments)

    def _found(self) -> tuple[dict[str, str], bytes] | None:
        path = self._asked_file()
        return None if path is None else self._content(path)

    def _asked_file(self) -> Path | None:
        asked = asked_path(self.path)
        if asked is None or not asked.startswith(self.prefix):
            return None
        path = (self.folder / asked[len(self.prefix) :]).resolve()
        path = path / "index.html" if path.is_dir() else path
        return path if path.is_relative_to(self.folder) and path.is_file() and path.name not in HOST_FILES else None

    def _content(self, path: Path) -> tuple[dict[str, str], bytes]:
        encoding, chosen = self._best_copy(path)
        content = chosen.read_bytes()
        return headers_of(path.relative_to(self.folder).as_posix(), content, encoding), content

    def _best_copy(self, path: Path) -> tuple[str, Path]:
        accepted = self._accepted()
        for encoding, ending in ENCODINGS:
            squeezed = path.with_name(path.name + ending)
            if encoding in accepted and squeezed.is_file():
                return encoding, squeezed
        return "", path
