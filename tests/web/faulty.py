"""A host where every visitor has a page of their own, each with one fault in it: below `/<number>/` the
distribution, one file broken.
"""

import threading
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

from steps.serving import Handler

HTML = b"<!doctype html><title>Hello</title><p>There is something else here."
FAULTS = {
    "missing": None,
    "empty": lambda content: b"",
    "html": lambda content: HTML,
    "cut": lambda content: content[: len(content) // 2],
}


class FaultyHost:
    """Serves the folder below `/<number>/` for each number that `visit` gives."""

    def __init__(self, folder: Path) -> None:
        self.faults: list[tuple[str, str] | None] = []
        self._server = _Server(("127.0.0.1", 0), partial(_Handler, host=self, folder=folder))
        self.origin = f"http://127.0.0.1:{self._server.server_port}"
        threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True).start()

    def visit(self, file: str | None = None, fault: str = "missing") -> str:
        """The address of a page in which this file is broken so."""
        self.faults.append((file, fault) if file else None)
        return f"{self.origin}/{len(self.faults) - 1}/"

    def stop(self) -> None:
        """Is gone."""
        self._server.shutdown()
        self._server.server_close()


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request, client_address) -> None:
        """Says nothing: pages are closed in the middle of a load."""


class _Handler(Handler):
    def __init__(self, *arguments, host: FaultyHost, folder: Path) -> None:
        self._host = host
        super().__init__(*arguments, folder=folder)

    def _asked_file(self) -> Path | None:
        number, _, inside = self.path.split("?")[0].lstrip("/").partition("/")
        self._fault = None
        if not number.isdigit():
            return None
        broken = self._host.faults[int(number)]
        if broken and inside == broken[0]:
            self._fault = broken[1]
        path = self.folder / (inside or "index.html")
        return path if path.is_file() and self._fault != "missing" else None

    def _content(self, path: Path) -> tuple[dict[str, str], bytes]:
        headers, content = super()._content(path)
        return headers, FAULTS[self._fault](content) if self._fault else content

    def _accepted(self) -> set[str]:
        return set()
