"""The built page with Python beside it instead of in it: its host runs the same bridge of the same core, and no
page waits for Python's start.

Everything else of the page's worker is as it ships: its stages, its turns, the slices of a search.
"""

import json
import os
import shutil
import subprocess
import sys
import threading
from functools import partial
from http import HTTPStatus
from pathlib import Path

from host import Host, _Handler
from steps import precache
from steps.places import ROOT, WEB

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
    """A whole distribution in `out` whose page has its Python beside it, quick to keep as there is no Pyodide in it;
    its page says which version it is."""
    shutil.copytree(dist, out, ignore=shutil.ignore_patterns(*_NOT_NEEDED))
    _replaced(next(out.glob("app-*/worker/python-worker.js")), _SHIPPED, _NEAR)
    _replaced(out / "index.html", "<body", f'<body data-version="{version}"')
    (spare,) = (path.name for path in out.glob("sw-*.js"))
    (out / "sw.js").write_text(
        precache.service_worker(WEB / "sw.js", precache.entries(out), precache.languages(out), spare), "utf-8"
    )
    return out


def _replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert text.count(old) == 1, path
    path.write_text(text.replace(old, new), "utf-8")


class NearHost(Host):
    """Serves such a distribution. Its Python is a process of its own: a long search takes nothing from the test."""

    def __init__(self, *arguments, **settings) -> None:
        self._turn = threading.Lock()
        program = [sys.executable, str(Path(__file__).with_name("near_bridge.py"))]
        environment = {**os.environ, "PYTHONPATH": str(ROOT / "core")}
        self._python = subprocess.Popen(
            program, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8", env=environment
        )
        super().__init__(*arguments, **settings)

    def called(self, call: str) -> dict:
        """What the bridge gives for a call, a name and its values as JSON: {"value": …} or {"error": …}."""
        with self._turn:
            print(call, file=self._python.stdin, flush=True)
            return json.loads(self._python.stdout.readline())

    def close(self) -> None:
        """Is gone for good, its Python too."""
        self.stop()
        self._python.kill()
        self._python.wait()
        self._python.stdin.close()
        self._python.stdout.close()

    def handler(self) -> partial:
        """What answers each request."""
        return partial(_Near, host=self, folder=self.folder, prefix=self.prefix)


class _Near(_Handler):
    def do_POST(self) -> None:
        """A call of the bridge."""
        told = self._host.called(self.rfile.read(int(self.headers["Content-Length"])).decode())
        if "error" in told:
            return self._send(HTTPStatus.INTERNAL_SERVER_ERROR, {"Content-Type": "text/plain"}, told["error"].encode())
        return self._send(HTTPStatus.OK, {"Content-Type": "application/json"}, json.dumps(told["value"]).encode())
