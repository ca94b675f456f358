"""The built page with Python beside it instead of in it: its host runs the same bridge of the same core, and no page waits for Python's start.

Everything else of the page's worker is as it ships: its stages, its turns, the slices of a search.
"""

import json
import threading
from functools import partial
from http import HTTPStatus

from host import Host, _Handler

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


class NearHost(Host):
    """Serves the distribution so."""

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
        except Exception as error:
            return self._send(HTTPStatus.INTERNAL_SERVER_ERROR, {"Content-Type": "text/plain"}, f"{error!r}".encode())
        return self._send(HTTPStatus.OK, {"Content-Type": "application/json"}, json.dumps(answer).encode())

    def _content(self, path) -> tuple[dict[str, str], bytes]:
        headers, content = super()._content(path)
        if path.name != "python-worker.js" or self._fault():
            return headers, content
        shipped = path.read_text("utf-8")
        assert shipped.count(_SHIPPED) == 1
        headers.pop("Content-Encoding", None)
        return {**headers, "ETag": '"near"'}, shipped.replace(_SHIPPED, _NEAR).encode()
