"""The look in one file: a style sheet whose imports stand in it, so that a phone asks once, without comments."""

import re
from pathlib import Path

from .places import WORK

WHOLE = "look/all.css"
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)  # no text of ours in a style sheet has such a sign
_INDENT = re.compile(r"\n\s+")
_IMPORT = re.compile(r'^@import "([^"/]+)";\n', re.MULTILINE)


def joined(files: dict[str, Path]) -> dict[str, Path]:
    """The files of the application folder with `look/all.css` whole, and without what it is made of."""
    if WHOLE not in files:
        return files
    names = _IMPORT.findall(files[WHOLE].read_text("utf-8"))
    out = WORK / "look.css"
    out.parent.mkdir(parents=True, exist_ok=True)
    whole = "\n".join(files[f"look/{name}"].read_text("utf-8") for name in names)
    out.write_text(_INDENT.sub("\n", _COMMENT.sub("", whole)), "utf-8")
    parts = {f"look/{name}" for name in names}
    return {name: path for name, path in files.items() if name not in parts} | {WHOLE: out}
