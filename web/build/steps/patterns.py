"""The pattern page, on which contributors see every component: answers of the core for it to show, and what of it no
phone keeps."""

import json
import os
import re
import tempfile
from pathlib import Path

from . import stamps
from .environment import node
from .fromcore import answer
from .places import CORE, WORK

PAGE = "patterns.html"
ANSWERS = "patterns/answers.json"
OUT = WORK / "patterns"
_OWN = re.compile(r"^(?:patterns\.html|app-[0-9a-f]{16}/patterns/.*)$")


def is_own(url: str) -> bool:
    """Whether a file belongs to the pattern page alone: no visitor pays for it.

    >>> is_own("patterns.html"), is_own("app-0123456789abcdef/patterns/patterns.js"), is_own("index.html")
    (True, True, False)
    """
    return bool(_OWN.match(url))


def answers(folder: Path) -> Path:
    """What the core answers to the requests that the page's modules in an application folder make."""
    asked, answered = _requests(folder), OUT / "answers.json"
    wanted = stamps.digest(asked, *stamps.files_under(CORE), Path(__file__))
    if not stamps.up_to_date("patterns", wanted, answered):
        found = {name: answer(request) for name, request in json.loads(asked).items()}
        OUT.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=OUT) as bench:  # tests build in several processes at once
            whole = Path(bench) / answered.name
            whole.write_text(json.dumps(found, ensure_ascii=False, separators=(",", ":")), "utf-8")
            os.replace(whole, answered)
        stamps.done("patterns", wanted)
    return answered


def _requests(folder: Path) -> str:
    with tempfile.TemporaryDirectory() as bench:
        out = Path(bench) / "requests.json"
        node("patterns", folder, out)
        return out.read_text("utf-8")
