"""The look in one file: a style sheet whose imports stand in it, so that a phone asks once."""

import re
from pathlib import Path

from .places import WORK

WHOLE = "look/all.css"
_IMPORT = re.compile(r'^@import "([^"/]+)";\n', re.MULTILINE)


def joined(files: dict[str, Path]) -> dict[str, Path]:
    """The files of the application folder with `look/all.css` whole, and without what it is made of."""
    if WHOLE not in files:
        return files
    names = _IMPORT.findall(files[WHOLE].read_text("utf-8"))
    out = WORK / "look.css"
    out.parent.mkdir(parents=True, exist_ok=True)
    out.write_text("\n".join(files[f"look/{name}"].read_text("utf-8") for name in names), "utf-8")
    parts = {f"look/{name}" for name in names}
    return {name: path for name, path in files.items() if name not in parts} | {WHOLE: out}
