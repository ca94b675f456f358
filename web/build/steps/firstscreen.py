"""The first screen as it ships: asked of the core at build time and drawn by the page's own modules, so that a page
arrives with an answer."""

import json
import tempfile
from pathlib import Path

from .environment import node
from .fromcore import answer

MARK = "<!-- the first screen -->"
MODULE = "screens/count.js"


def drawn(folder: Path) -> str:
    """The markup of the first screen for an application folder; its facts get the answers that it shows."""
    facts = folder / "facts.json"
    with tempfile.TemporaryDirectory() as bench:
        asked = json.loads(_run("ask", folder, Path(bench)))
        first = {units: {key: answer(request) for key, request in one.items()} for units, one in asked.items()}
        content = {**json.loads(facts.read_text("utf-8")), "first": first}
        facts.write_text(json.dumps(content, ensure_ascii=False, separators=(",", ":")), "utf-8")
        return _run("draw", folder, Path(bench))


def _run(act: str, folder: Path, bench: Path) -> str:
    out = bench / act
    node("first_screen", act, folder, out)
    return out.read_text("utf-8")
