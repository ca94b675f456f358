"""The commands that make handouts in a shell: what `python -m matside chart` and the like read, ask and write.

Each is a line in `COMMANDS`. What is asked comes from the options, or as a request from standard input; the answer goes
to standard output as JSON, or into a folder as one SVG document a page.
"""

import argparse
import re
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple, NoReturn

from . import answer
from .errors import Refusal
from .fields import Fields
from .handout.chart_sheets import chart_sheets
from .handout.paper import PAPERS, Paper
from .handout.quilt_sheet import quilt_sheet
from .handout.sheet_drawings import sheet_drawings
from .handout.sheet_text import sheet_lines
from .handout.svg import Say, document
from .kinds import KINDS
from .units import shown
from .words.catalogue import languages
from .words.saying import say

#: Ends without an answer, as the shell has it for what is wrong with a command.
_USAGE = 1
_UNITS = ("in", "cm")
_COLOR = re.compile("#[0-9a-fA-F]{6}")


class Option(NamedTuple):
    """An option: its name, how it is read and put into a request, what it is, and whether it describes what is asked.

    One that does not goes beside a request from standard input.
    """

    name: str
    puts: Callable[[dict, str], None]
    told: str
    describes: bool = True


class Command(NamedTuple):
    """A command: the ask that it answers, its options, the pages of an answer, and its lines where it has them."""

    ask: str
    told: str
    options: tuple[Option, ...]
    pages: Callable[[dict, argparse.Namespace, Paper, Say], list[dict]]
    lines: Callable[[dict, argparse.Namespace], list[str]] | None = None


def run(arguments: list[str], request: Callable[[], dict]) -> tuple[dict | None, int]:
    """What a command comes to: the answer to be printed as JSON (None where pages were written), and the exit status.

    `request` reads one from standard input; it is called only where no option describes what is asked. Raises a
    `Refusal` for what is wrong with it.
    """
    command = COMMANDS[arguments[0]]
    chosen = _parser(arguments[0], command).parse_args(arguments[1:])
    asked = _request(command, chosen, request)
    found = answer(asked, chosen.language)
    if not found["ok"]:
        return found, 2
    fields = Fields(asked)
    chosen.units = fields.choice("units", _UNITS)
    if command.lines and chosen.text:
        _print_lines(command.lines(found, chosen))
        return None, 0
    if chosen.svg is None:
        return found, 0
    speak = partial(say, language=chosen.language, units=chosen.units)
    paper = PAPERS[fields.choice("paper", PAPERS)]
    _write(arguments[0], command.pages(found, chosen, paper, speak), Path(chosen.svg), speak, chosen.language)
    _tell_left_out(found.get("left_out", ()), speak)
    return None, 0


def language_of(arguments: list[str]) -> str:
    """The language that a command names: what is wrong with its request is told in it."""
    return _parser(arguments[0], COMMANDS[arguments[0]]).parse_args(arguments[1:]).language


class _Parser(argparse.ArgumentParser):
    """What is wrong with a command ends with how it is used, and not with a refusal's exit status."""

    def error(self, message: str) -> NoReturn:
        self.exit(_USAGE, f"{self.format_usage()}{self.prog}: {message}\n")


def _parser(name: str, command: Command) -> argparse.ArgumentParser:
    parser = _Parser(prog=f"python -m matside {name}", description=command.told, allow_abbrev=False)
    for option in command.options:
        parser.add_argument(f"--{option.name}", help=option.told)
    parser.add_argument("--paper", choices=tuple(PAPERS), default="letter")
    parser.add_argument("--units", choices=_UNITS, default=_UNITS[0])
    parser.add_argument("--language", choices=languages(), default="en")
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--svg", metavar="FOLDER", help="writes one SVG document a page there and prints their names")
    where.add_argument("--json", action="store_true", help="prints the answer as JSON, as where nothing else is said")
    if command.lines:
        where.add_argument("--text", action="store_true", help="prints it as plain lines")
    return parser


def _request(command: Command, chosen: argparse.Namespace, request: Callable[[], dict]) -> dict:
    """The request that the options make, or else the one from standard input, with the command's ask."""
    given = {option: getattr(chosen, option.name) for option in command.options}
    described = {option: text for option, text in given.items() if text is not None}
    made = {"units": chosen.units, "paper": chosen.paper}
    if not any(option.describes for option in described):
        asked = request()
        if not isinstance(asked, dict):
            raise Refusal("", "request_object")
        made |= asked
    for option, text in described.items():
        option.puts(made, text)
    return {**made, "ask": command.ask}


def _write(name: str, pages: list[dict], folder: Path, speak: Say, language: str) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for number, page in enumerate(pages, start=1):
            path = folder / f"{name}-{page.get('file', number)}.svg"
            path.write_text(document(page, speak, language), "utf-8")
            sys.stdout.write(f"{path}\n")
    except OSError as error:
        sys.exit(f"{folder}: {error.strerror}")


def _print_lines(lines: list[str]) -> None:
    # UTF-8 whatever the terminal's own encoding, as JSON is.
    sys.stdout.buffer.write("".join(f"{line}\n" for line in lines).encode("utf-8", "backslashreplace"))


def _tell_left_out(left_out: list[dict], speak: Say) -> None:
    for one in left_out:
        called = speak(one["name"]["code"], one["name"]["values"])
        told = speak(f"handout.left_out.{one['code']}", one["values"])
        sys.stderr.write(f"{called}: {told}\n")


def _listed(text: str) -> list[str]:
    return [item.strip() for item in text.split(",") if item.strip()]


def _put(place: str, text: str | list, made: dict) -> None:
    """Puts a value at a dotted place of a request."""
    *above, last = place.split(".")
    for name in above:
        made = made.setdefault(name, {})
    made[last] = text


def _at(place: str, read: Callable[[str], object] = str) -> Callable[[dict, str], None]:
    return lambda made, text: _put(place, read(text), made)


def _diamonds(made: dict, text: str) -> None:
    """Diamonds of several sizes; an angle that was put before is theirs."""
    angle = made.pop("angle", "60")
    made["pieces"] = [{"shape": "diamond", "size": size, "angle": angle} for size in _listed(text)]


def _chart_pages(found: dict, chosen: argparse.Namespace, paper: Paper, speak: Say) -> list[dict]:
    return chart_sheets(found, paper, speak)


def _template_pages(found: dict, chosen: argparse.Namespace, paper: Paper, speak: Say) -> list[dict]:
    return found["pages"]


def _quilt_pages(found: dict, chosen: argparse.Namespace, paper: Paper, speak: Say) -> list[dict]:
    if not found["drawing"]:
        sys.exit(speak(f"quilt.not_drawn.{found['not_drawn']}", {}))
    colors = _listed(chosen.colors or "")
    for number, color in enumerate(colors):
        if not _COLOR.fullmatch(color):
            raise Refusal(f"colors[{number}]", "color", given=shown(color))
    return [quilt_sheet(found, colors, paper)]


def _sheet_pages(found: dict, chosen: argparse.Namespace, paper: Paper, speak: Say) -> list[dict]:
    return sheet_drawings(found["sheet"], paper, chosen.language, chosen.units, _names(found, speak))


def _sheet_lines(found: dict, chosen: argparse.Namespace) -> list[str]:
    speak = partial(say, language=chosen.language, units=chosen.units)
    return sheet_lines(found["sheet"], chosen.language, chosen.units, _names(found, speak))


def _names(found: dict, speak: Say) -> dict[str, str]:
    """Cloths that are called by a kind of cloth, by its name."""
    called = {cloth["id"] for cloth in found["sheet"]["cloths"]}
    return {code: speak(f"cloth.{code}.name", {}) for code in {*KINDS, "scrap"} & called}


_ANGLE = "the sharp angle in degrees (60)"
COMMANDS = {
    "chart": Command(
        "chart",
        "How many diamonds each kind of cloth gives of each size, both ways and at best, with the reason.",
        (
            Option("angle", _at("piece.angle"), _ANGLE),
            Option("sizes", _at("sizes", _listed), 'sizes as cut, such as "2 in, 3 in"'),
            Option("cloths", _at("cloths", _listed), 'kinds of cloth, such as "fat_quarter, fat_eighth"'),
        ),
        _chart_pages,
    ),
    "templates": Command(
        "templates",
        "True-size templates of pieces, or of a whole quilt by a request from standard input.",
        (
            Option("angle", _at("angle"), _ANGLE),
            Option("sizes", _diamonds, 'sizes of diamonds as cut, such as "2 in, 3 in"'),
            Option("seam", _at("seam"), "the seam allowance (1/4 in)"),
        ),
        _template_pages,
    ),
    "quilt-drawing": Command(
        "quilt",
        "A quilt's drawing in lines, or in its fabrics' colors.",
        (
            Option("size", _at("piece.size"), "the diamond's size as cut"),
            Option("angle", _at("piece.angle"), "its sharp angle in degrees"),
            Option("columns", _at("columns"), "how many columns"),
            Option("rows", _at("rows"), "how many rows"),
            Option("setting", _at("setting"), "how the diamonds are set, such as grid or zigzag"),
            Option("edge", _at("edge"), "how the edge ends, such as filled or trimmed"),
            Option("colors", lambda made, text: None, 'the fabrics\' colors, such as "#aa3322, #eeddcc"', False),
        ),
        _quilt_pages,
    ),
    "cutting-sheet": Command(
        "cutting_sheet",
        "Cut by cut on paper, with boxes to tick; as SVG a drawing of every cloth and of every new way to lay a ruler.",
        (
            Option("size", _at("piece.size"), "the diamond's size as cut"),
            Option("angle", _at("piece.angle"), "its sharp angle in degrees"),
            Option("cloth", _at("cloth.kind"), "a kind of cloth, such as fat_quarter"),
            Option("hand", _at("hand"), "the hand that holds the cutter, right or left (right)", False),
        ),
        _sheet_pages,
        _sheet_lines,
    ),
}  # fmt: skip
