"""The code of the hall's address: drawn, for a terminal, and on a page for a whole room."""

from collections.abc import Iterator
from html import escape
from itertools import zip_longest

from .console import run
from .places import BUILD_SOURCES, WORK, tool

# "#" for dark, "." for light, with the light border; no row where there is no code.
Rows = list[str]

_DRAWS = BUILD_SOURCES / "draw_code.py"
_OUT = WORK / "hall-code.txt"
# Dark on light whatever the terminal's own colors are: readers of codes want it so.
_BLACK_ON_WHITE, _AS_BEFORE = "\x1b[30;107m", "\x1b[0m"
_HALVES = {"..": " ", "#.": "▀", ".#": "▄", "##": "█"}  # the upper module, the lower one

# A page without a script and, as its policy asks, without a style in it. Black on white is what a camera reads in a
# dark room, off a projector too.
PAGE, STYLE = "hall.html", "hall.css"
CSS = """html { background: #fff; color: #000; font-family: system-ui, sans-serif; text-align: center; }
body { margin: 0; }
svg { display: block; width: min(100vw, 84vh); height: auto; margin: 0 auto; }
p { margin: 0 2vmin; font-size: min(8vh, 5vw); font-weight: 700; overflow-wrap: anywhere; }
"""


def drawn(text: str) -> Rows:
    """The code of a text. Stop where the environment does not have what draws it."""
    WORK.mkdir(exist_ok=True)
    run("hall-code", [tool("python"), _DRAWS, text, _OUT], f"see what {_DRAWS.name} says")
    return _OUT.read_text("ascii").split()


def in_terminal(rows: Rows) -> str:
    """Two rows a line, by half blocks.

    >>> in_terminal(["#.", "##", ".#"]).replace(_BLACK_ON_WHITE, "[").replace(_AS_BEFORE, "]")
    '[█▄]\\n[ ▀]'
    """
    light = "." * len(rows[0]) if rows else ""
    lines = (_line(upper, lower) for upper, lower in zip_longest(rows[::2], rows[1::2], fillvalue=light))
    return "\n".join(f"{_BLACK_ON_WHITE}{line}{_AS_BEFORE}" for line in lines)


def _line(upper: str, lower: str) -> str:
    return "".join(_HALVES[a + b] for a, b in zip(upper, lower))


def page(rows: Rows, address: str) -> str:
    """The page with the code and the address, as large as the screen has room for."""
    said = escape(address)
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>{said}</title>\n'
        f'<meta name="viewport" content="width=device-width">\n<link rel="stylesheet" href="{STYLE}">\n</head>\n'
        f"<body>\n{svg(rows, address) if rows else ''}\n<p>{said}</p>\n</body>\n</html>\n"
    )


def svg(rows: Rows, label: str) -> str:
    """The code as a drawing, one unit a module.

    >>> svg(["...", ".##", "#.."], "a")[-49:]
    ' fill="#000" d="M1 1h2v1h-2zM0 2h1v1h-1z"/></svg>'
    """
    path = "".join(f"M{x} {y}h{length}v1h-{length}z" for x, y, length in _runs(rows))
    return (
        f'<svg viewBox="0 0 {len(rows[0])} {len(rows)}" shape-rendering="crispEdges" role="img" '
        f'aria-label="{escape(label)}"><path fill="#fff" d="M0 0h{len(rows[0])}v{len(rows)}H0z"/>'
        f'<path fill="#000" d="{path}"/></svg>'
    )


def _runs(rows: Rows) -> Iterator[tuple[int, int, int]]:
    """Every run of dark modules: where it begins, in which row, and how long it is."""
    for y, row in enumerate(rows):
        x = 0
        for part in row.replace("#.", "# .").replace(".#", ". #").split():
            if part.startswith("#"):
                yield x, y, len(part)
            x += len(part)
