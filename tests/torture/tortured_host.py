"""A host whose page plays by itself, tells every act and every write, and can be stopped dead at any of them."""

import json
import threading
from collections.abc import Callable
from functools import partial
from http import HTTPStatus
from pathlib import Path

from host import Host, _Handler

HERE = Path(__file__).parent
_TOLD = "__torture/"
# The worker of the second place tells its writes as the page does.
_WATCHED_WORKER = """
const tell = (what) => {
  const asked = new XMLHttpRequest();
  asked.open("POST", new URL("__torture/write", new URL("../../", import.meta.url)), false);
  asked.send(JSON.stringify({ what }));
};
for (const name of ["write", "truncate", "flush", "close"]) {
  const work = FileSystemSyncAccessHandle.prototype[name];
  FileSystemSyncAccessHandle.prototype[name] = function (...values) {
    tell(`FileSystemSyncAccessHandle.${name}`);
    return work.apply(this, values);
  };
}
"""


class TorturedHost(Host):
    """Serves `dist` with the hand in it. `heard(name, content)` is called for everything that the page tells; what it
    gives is the answer, and None lets the page wait for ever."""

    def __init__(
        self, dist: Path, heard: Callable[[str, dict], dict | None], watched: bool = False, port: int = 0
    ) -> None:
        self.heard = heard
        self.watched = watched
        self.ended = threading.Event()
        super().__init__(dist, port=port)

    @property
    def port(self) -> int:
        """Where it serves: what a browser has kept belongs to this port."""
        return self._port

    def handler(self) -> partial:
        """Pages that tell."""
        return partial(_Telling, host=self, folder=self.folder, prefix=self.prefix)


class _Telling(_Handler):
    def do_POST(self) -> None:
        """What the page tells; an answer of None is never sent."""
        content = json.loads(self.rfile.read(int(self.headers.get("Content-Length", 0))) or b"{}")
        name = self.path.removeprefix(self.prefix + _TOLD)
        answer = self._host.heard(name, content)
        if answer is None:
            self._host.ended.wait(30)
            self.close_connection = True
            return
        self._send(HTTPStatus.OK, {"Content-Type": "application/json"}, json.dumps(answer).encode())

    def do_GET(self) -> None:
        """The page with the hand in it; Python sleeps."""
        path = self.path.split("?")[0].removeprefix(self.prefix)
        if path == "torture.js":
            return self._send(HTTPStatus.OK, {"Content-Type": "text/javascript"}, (HERE / "torture.js").read_bytes())
        if path.endswith("/python-worker.js"):
            return self._send(HTTPStatus.OK, {"Content-Type": "text/javascript"}, b"")
        if path.endswith("/spare-worker.js") and self._host.watched:
            own = (self.folder / path).read_text("utf-8")
            return self._send(HTTPStatus.OK, {"Content-Type": "text/javascript"}, (own + _WATCHED_WORKER).encode())
        if path in ("", "index.html"):
            return self._send(HTTPStatus.OK, {"Content-Type": "text/html; charset=utf-8"}, self._page())
        super().do_GET()

    def _page(self) -> bytes:
        text = (self.folder / "index.html").read_text("utf-8")
        return text.replace(
            '<script type="module"', '<script type="module" src="torture.js"></script>\n<script type="module"', 1
        ).encode()
