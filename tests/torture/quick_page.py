"""The built page with Python beside it instead of in it: the host answers what the page asks, from the same core, at once."""

import json
import shutil
from functools import partial
from http import HTTPStatus
from pathlib import Path

import matside
from host import Host, _Handler
from steps import precache
from steps.places import WEB

_WORKER = """
const answer = async ({ id, ask, work }) => {
  const answered = await fetch(new URL("../../__core", import.meta.url), { method: "POST", body: JSON.stringify(ask ?? work) });
  self.postMessage({ id, answer: await answered.json() });
};
self.addEventListener("message", ({ data }) => {
  if (data.start) self.postMessage({ stage: "ready" });
  if (data.ping) self.postMessage({ pong: data.ping });
  if (data.ask || data.work) answer(data);
});
"""


def quick_dist(dist: Path, out: Path, version: str) -> Path:
    """A whole distribution of that version in `out`, quick to keep: without Pyodide."""
    shutil.copytree(dist, out, ignore=shutil.ignore_patterns("*.wasm", "*.gz", "*.br", "*.zip"))
    next(out.glob("app-*/worker/python-worker.js")).write_text(_WORKER, "utf-8")
    index = out / "index.html"
    index.write_text(index.read_text("utf-8").replace("<body", f'<body data-version="{version}"', 1), "utf-8")
    (out / "sw.js").write_text(precache.service_worker(WEB / "sw.js", precache.entries(out)), "utf-8")
    return out


class CoreHost(Host):
    """Serves such a distribution and answers its questions."""

    def handler(self) -> partial:
        """What answers each request."""
        return partial(_Answering, host=self, folder=self.folder, prefix=self.prefix)


class _Answering(_Handler):
    def do_POST(self) -> None:
        """A request of the stable door."""
        request = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        self._send(HTTPStatus.OK, {"Content-Type": "application/json"}, json.dumps(matside.answer(request)).encode())
