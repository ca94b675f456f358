"""A host for the tests: serves a folder below a path, can go away and come back, publish anew, and misbehave."""

import shutil
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http import HTTPStatus
from http.server import ThreadingHTTPServer
from pathlib import Path

from steps.serving import Handler

# What may be wrong with a file, and with what its answer says: not there; a page of words in its place, as some hosts
# send for what is not there; nothing; its first half; its middle byte another; no answer at all.
FAULTS = ("missing", "html", "empty", "cut", "damaged", "dropped")
_PAGE = b"<!doctype html><title>Not here</title><p>There is no such page."


class Host:
    """A static host. `faults` maps the ending of a path to one of `FAULTS`; `asked` lists what was asked for.

    `sent` counts the bytes of all answers, headers included.
    """

    def __init__(
        self, folder: Path, prefix: str = "/some/where/", encodings: tuple[str, ...] = ("br", "gzip"), port: int = 0
    ) -> None:
        self.folder = folder
        self.prefix = prefix
        self.encodings = encodings
        self.faults: dict[str, str] = {}
        self.asked: list[str] = []
        self.sent = 0
        self._port = port
        self._last: set[str] | None = None
        self._server: _Server | None = None
        self.start()

    @property
    def origin(self) -> str:
        """Scheme, host and port."""
        return f"http://127.0.0.1:{self._port}"

    @property
    def url(self) -> str:
        """The address of the page."""
        return self.origin + self.prefix

    def start(self) -> None:
        """Serves; after `stop`, at the same address again."""
        self._last = None
        self._server = _Server(("127.0.0.1", self._port), self.handler())
        self._port = self._server.server_port
        threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True).start()

    def handler(self) -> partial:
        """What answers each request."""
        return partial(_Handler, host=self, folder=self.folder, prefix=self.prefix)

    def stop(self) -> None:
        """Is gone: takes no connection and drops the open ones."""
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server.drop_connections()
        self._server = None

    def close(self) -> None:
        """Is gone for good."""
        self.stop()

    def publish(self, folder: Path) -> None:
        """Puts the files of another folder in place of its own, as an upload would."""
        shutil.rmtree(self.folder)
        shutil.copytree(folder, self.folder)

    def gone_after(self, *endings: str) -> None:
        """Answers nothing more once files whose paths end so have all been asked for, until `start`."""
        self._last = set(endings)

    def is_over(self, path: str) -> bool:
        """Whether this is asked for after all that `gone_after` was told of."""
        if self._last is None:
            return False
        self._last = {ending for ending in self._last if not path.split("?")[0].endswith(ending)}
        return not self._last

    @contextmanager
    def gone(self) -> Iterator[None]:
        """Stopped for a while."""
        self.stop()
        try:
            yield
        finally:
            self.start()


def _damaged(content: bytes) -> bytes:
    middle = len(content) // 2
    return content[:middle] + bytes([content[middle] ^ 0xFF]) + content[middle + 1 :]


_BROKEN = {
    "damaged": _damaged,
    "html": lambda _: _PAGE,
    "empty": lambda _: b"",
    "cut": lambda content: content[: len(content) // 2],
}


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    allow_reuse_address = True

    def __init__(self, *arguments) -> None:
        super().__init__(*arguments)
        self._open: set[socket.socket] = set()

    def process_request(self, request, client_address) -> None:
        self._open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request) -> None:
        self._open.discard(request)
        super().shutdown_request(request)

    def drop_connections(self) -> None:
        for connection in list(self._open):
            self.shutdown_request(connection)

    def handle_error(self, request, client_address) -> None:
        """Says nothing: a browser that is killed leaves broken connections behind."""


class _Handler(Handler):
    def __init__(self, *arguments, host: Host, **settings) -> None:
        self._host = host
        super().__init__(*arguments, **settings)

    def do_GET(self) -> None:
        """A browser asks the top of the host for an icon where a document names none: there
        is nothing to show for it.
        """
        if self.path == "/favicon.ico":
            return self._send(HTTPStatus.NO_CONTENT, {}, b"")
        if self._fault() == "dropped" or self._host.is_over(self.path):
            self.close_connection = True
            return None
        super().do_GET()

    def _asked_file(self) -> Path | None:
        self._host.asked.append(self.path.removeprefix(self.prefix))
        return None if self._fault() == "missing" else super()._asked_file()

    def _content(self, path: Path) -> tuple[dict[str, str], bytes]:
        headers, content = super()._content(path)
        fault = self._fault()
        if fault is None:
            return headers, content
        headers = {name: value for name, value in headers.items() if name != "Content-Encoding"}
        headers["ETag"] = f'"{fault}"'
        if fault == "html":
            headers["Content-Type"] = "text/html; charset=utf-8"
        return headers, _BROKEN[fault](path.read_bytes())

    def _accepted(self) -> set[str]:
        return super()._accepted() & set(self._host.encodings)

    def _fault(self) -> str | None:
        path = self.path.split("?")[0]
        return next((fault for ending, fault in self._host.faults.items() if path.endswith(ending)), None)

    def _send(self, status, headers, content) -> None:
        super()._send(status, headers, content)
        self._host.sent += len(content)

    def flush_headers(self) -> None:
        """Counts the headers on their way out."""
        self._host.sent += sum(map(len, getattr(self, "_headers_buffer", [])))
        super().flush_headers()
