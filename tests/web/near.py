"""The built page with Python beside it instead of in it: its host runs the same bridge of the same core, and no page waits for Python's start.

Everything else of the page's worker is as it ships: its stages, its turns, the slices of a search.
"""

import json
import shutil
import threading
from functools import partial
from http import HTTPStatus
from pathlib import Path

from host import Host, _Handler
from steps import precache
from steps.places import WEB

from matside import bridge

_SHIPPED = "async function startedBridge(folders) {"
_NEAR = """async function startedBridge() {
  const call = (name, ...values) => {
    const asked = new XMLHttpRequest();
    asked.open("POST", new URL("../../__bridge", import.meta.url), false);
    asked.send(JSON.stringify([name, ...values]));
    if (asked.status !== 200) throw Object.assign(new Error(asked.responseText), { name: "PythonError" });
    return JSON.parse(asked.responseText);
  };
  return Object.fromEntries(["answer", "start_search", "next_slice", "stop_search"].map((name) => [name, call.bind(null, name)]));
}

async function startedInPage(folders) {"""
_NOT_NEEDED = ("*.wasm", "*.gz", "*.br", "*.zip")


def near_dist(dist: Path, out: Path, version: str = "") -> Path:
    """A whole distribution in `out` whose page has its Python beside it, quick to keep as there is no Pyodide in it; its page says
    which version it is."""
    shutil.copytree(dist, out, ignore=shutil.ignore_patterns(*_NOT_NEEDED))
    _replaced(next(out.glob("app-*/worker/python-worker.js")), _SHIPPED, _NEAR)
    _replaced(out / "index.html", "<body", f'<body data-version="{version}"')
    (out / "sw.js").write_text(precache.service_worker(WEB / "sw.js", precache.entries(out)), "utf-8")
    return out


def _replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert text.count(old) == 1, path
    path.write_text(text.replace(old, new), "utf-8")


class NearHost(Host):
    """Serves such a distribution, and its Python."""

    def handler(self) -> partial:
        """What answers each request."""
        return partial(_Near, host=self, folder=self.folder, prefix=self.prefix)


class _Near(_Handler):
    _one_at_a_time = threading.Lock()

    def do_POST(self) -> None:
        """A call of the bridge: its name and its values."""
        name, *values = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        try:
            with self._one_at_a_time:
                answer = getattr(bridge, name)(*values)
        except Exception as error:  # whatever it is, in the page it is Python that broke
            return self._send(HTTPStatus.INTERNAL_SERVER_ERROR, {"Content-Type": "text/plain"}, f"{error!r}".encode())
        return self._send(HTTPStatus.OK, {"Content-Type": "application/json"}, json.dumps(answer).encode())
