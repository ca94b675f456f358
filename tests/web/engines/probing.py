"""What each engine has and what it lacks, found by trying, on a page of its own; and what README says of that."""

import re
import sys
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from host import Host, _Handler
from steps.places import ROOT

from .driver import Driver
from .outside import PLAIN_NAME

_PROBE = (Path(__file__).parent / "probe.js").read_text("utf-8")
_FILES = {
    "": (
        "text/html",
        """<!doctype html><title>Probe</title><button onclick="awake = navigator.wakeLock?.request('screen')">Tap</button>""",
    ),
    "probe-service-worker.js": ("text/javascript", ""),
    "probe-worker.js": (
        "text/javascript",
        """(async () => {
      const file = await (await navigator.storage.getDirectory()).getFileHandle("probe", { create: true });
      const open = await file.createSyncAccessHandle();
      const written = open.write(new Uint8Array([1]), { at: 0 });
      open.flush();
      open.close();
      return written === 1;
    })().then((done) => postMessage(done), () => postMessage(false));""",
    ),
}


class ProbeHost(Host):
    """Serves a page with next to nothing in it."""

    def handler(self) -> partial:
        """What answers each request."""
        return partial(_Probed, host=self, folder=self.folder, prefix=self.prefix)


class _Probed(_Handler):
    def do_GET(self) -> None:
        """The page, or a script of it."""
        kind, text = _FILES.get(self.path.removeprefix(self.prefix), (None, None))
        if kind is None:
            return super().do_GET()
        self.send_response(
            200
        )  # without the headers of the page proper: what it forbids itself is no lack of the browser
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(text.encode())))
        self.end_headers()
        self.wfile.write(text.encode())


@dataclass(frozen=True)
class Found:
    """What an engine has, by name: for a page that it trusts, and for one that came by plain
    HTTP from another machine.
    """

    trusted: dict[str, bool]
    plain: dict[str, bool]


def probed(engine: Driver, folder: Path) -> Found:
    """Tries all of it."""
    host = ProbeHost(folder)
    try:
        found = []
        for url in (host.url, host.url.replace("127.0.0.1", PLAIN_NAME)):
            engine.open(url)
            engine.tap("button")  # some browsers give what they are asked for to a page that was tapped only
            found.append(engine.evaluate(_PROBE))
        return Found(*found)
    finally:
        host.stop()


# How README names what is probed.
CALLED = {
    "service worker": "service worker",
    "files of the page’s own": "own files",
    "locks between windows": "locks",
    "a screen that stays on": "awake screen",
    "a promise to keep what is stored": "kept for good",
    "how much room there is": "room told",
    "random names": "random names",
    "clipboard": "clipboard",
    "sharing": "sharing",
    "vibration": "vibration",
    "codes in pictures": "codes in pictures",
}
COLUMNS = {"Chromium": "Chromium", "Firefox": "Firefox", "WebKit": "WebKitGTK"}


def table(text: str) -> dict[str, dict[str, str]]:
    """README's table of what browsers lack, by what is probed: a row's fields by their columns."""
    lines = re.search(r"^## What browsers lack.*?^(\|.*?)\n\n", text, re.MULTILINE | re.DOTALL)[1].splitlines()
    names, _, *rows = [[field.strip() for field in line.strip("|").split("|")] for line in lines]
    return {CALLED[row[0]]: dict(zip(names, row, strict=True)) for row in rows}


def speaks_of(text: str, engine: Driver) -> bool:
    """Whether README speaks of this version of the engine, on this system."""
    version = re.search(rf"{COLUMNS[engine.name]} ([\d.]+)", text)[1]
    return sys.platform == "linux" and engine.version.split(".")[: version.count(".") + 1] == version.split(".")


class Probed:
    """A class of tests for each engine is made of this one."""

    def test_readme_says_what_the_engine_has(self, engine: Driver, tmp_path: Path):
        engine.expect("probe", "worker")  # a worker that may not start complains
        found = probed(engine, tmp_path)
        text = (ROOT / "README.md").read_text("utf-8")
        rows = table(text)
        column = COLUMNS[engine.name]
        says = {name: row[column] == "yes" for name, row in rows.items()}
        plainly = {
            name: found.trusted[name] if row["plain HTTP"] == "as there" else row["plain HTTP"] == "yes"
            for name, row in rows.items()
        }
        assert {row[column] for row in rows.values()} <= {"yes", "no"}
        assert [name for name, has in says.items() if has and not found.trusted[name]] == []
        assert found.plain == {**found.trusted, **plainly}
        if speaks_of(text, engine):  # another version may have more than that
            assert found.trusted == {**dict.fromkeys(found.trusted, True), **says}
