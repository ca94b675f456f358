"""The figures of fractions: a small font that is drawn from the page's typeface."""

from pathlib import Path

from . import stamps
from .console import run, step
from .places import BUILD_SOURCES, WORK, tool
from .vendored import FRACTIONS, TYPEFACE

OUT = WORK / "fractions" / "matside-fractions.woff2"

_DRAWS = BUILD_SOURCES / "draw_fractions.py"


def drawn_files() -> dict[str, Path]:
    """The font by its path in the application folder, drawn anew where what it is drawn from has changed."""
    wanted = stamps.digest(_DRAWS, TYPEFACE.read_bytes(), BUILD_SOURCES / "requirements" / "serve.txt")
    if not stamps.up_to_date("fractions", wanted, OUT):
        with step("Drawing the figures of fractions"):
            OUT.parent.mkdir(parents=True, exist_ok=True)
            run("fractions", [tool("python"), _DRAWS, TYPEFACE, OUT], f"see what {_DRAWS.name} says")
        stamps.done("fractions", wanted)
    return {FRACTIONS: OUT}
