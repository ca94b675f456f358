"""A page as an SVG document that prints true to size: black on white, lines told apart by their dashes.

Lengths in the document are millimeters, and so is its own size. Words come from whoever calls, by `say`.
"""

import re
from collections.abc import Callable, Iterable

from .texts import LEADING, POINT, width_of, wrapped

Say = Callable[[str, dict], str]

_MILLIMETERS = 25.4
#: Width of the line in millimeters, and its dashes, by the role of a shape.
_LINES = {
    "cut": (0.35, ""),
    "wedge": (0.35, ""),
    "seam": (0.25, "2 1"),
    "grain": (0.25, ""),
    "bar": (0.25, ""),
    "join": (0.2, "4 1 1 1"),
    "mark": (0.2, ""),
    "rule": (0.2, ""),
    "patch": (0.25, ""),
}
_CLIPPED = ' clip-path="url(#view)"'
_FONT = "Helvetica, Arial, 'Liberation Sans', sans-serif"
_ESCAPED = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"}
#: What XML 1.0 (W3C, section 2.2, Char) does not take.
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def document(page: dict, say: Say, language: str = "en") -> str:
    """The page as a whole SVG document.

    >>> page = {"width": 4, "height": 1, "title": {"text": "a < b"}, "about": {"text": ""}, "texts": [],
    ...         "shapes": [{"role": "cut", "points": [(0, 0), (1, 0)], "closed": False}]}
    >>> print(document(page, lambda path, values: path))
    <svg xmlns="http://www.w3.org/2000/svg" width="101.6mm" height="25.4mm" viewBox="0 0 101.6 25.4" xml:lang="en">
    <title>a &lt; b</title>
    <desc></desc>
    <rect width="101.6" height="25.4" fill="#fff"/>
    <g stroke="#000" stroke-linejoin="round">
    <polyline data-role="cut" points="0,0 25.4,0" fill="none" stroke-width="0.35"/>
    </g>
    </svg>
    <BLANKLINE>
    """
    width, height = _number(page["width"]), _number(page["height"])
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} xml:lang="{escaped(language)}">',
        f"<title>{escaped(_said(page['title'], say))}</title>",
        f"<desc>{escaped(_said(page['about'], say))}</desc>",
        f'<rect width="{width}" height="{height}" fill="#fff"/>',
        *_clip(page),
        f'<g stroke="#000" stroke-linejoin="round"{_CLIPPED if "clip" in page else ""}>',
        *(_shape(shape) for shape in page["shapes"]),
        "</g>",
        *_texts(page["texts"], say),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def escaped(text: str) -> str:
    """A text as XML takes it, in an element or an attribute; characters that XML does not know become U+FFFD.

    >>> escaped("red & <blue>\\x00")
    'red &amp; &lt;blue&gt;�'
    """
    return "".join(_ESCAPED.get(letter, letter) for letter in _NOT_XML.sub("\ufffd", text))


def _said(text: dict, say: Say) -> str:
    return text["text"] if "text" in text else say(text["code"], text["values"])


def _number(inches: float) -> str:
    """Millimeters to a tenth of a micrometer."""
    return f"{inches * _MILLIMETERS:.4f}".rstrip("0").rstrip(".")


def _clip(page: dict) -> Iterable[str]:
    """What of the shapes is seen, where that is not all: a box of the page, [x, y, width, height]."""
    if "clip" in page:
        x, y, width, height = map(_number, page["clip"])
        yield f'<clipPath id="view"><rect x="{x}" y="{y}" width="{width}" height="{height}"/></clipPath>'


def _shape(shape: dict) -> str:
    width, dashes = shape["line"] if "line" in shape else _LINES[shape["role"]]
    name = "polygon" if shape["closed"] else "polyline"
    points = " ".join(f"{_number(x)},{_number(y)}" for x, y in shape["points"])
    fill = escaped(shape.get("fill", "none"))
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<{name} data-role="{shape["role"]}" points="{points}" fill="{fill}" stroke-width="{width}"{dashed}/>'


def _texts(texts: Iterable[dict], say: Say) -> Iterable[str]:
    for text in texts:
        for number, line in enumerate(_fitted(_said(text, say), text)):
            yield _text(line, text, number * text["size"] * LEADING * POINT)


def _fitted(said: str, text: dict) -> list[str]:
    """The lines that there is room for; of one that goes on the rest is left out."""
    lines = wrapped(said, text["size"], text["room"])
    kept = lines[: text["lines"]]
    if len(lines) > len(kept):
        last = kept[-1]
        while last and width_of(last + "…", text["size"]) > text["room"]:
            last = last[:-1]
        kept[-1] = last + "…"
    return kept


def _text(line: str, text: dict, below: float) -> str:
    x, y = _number(text["x"]), _number(text["y"] + below)
    turned = f' transform="rotate({text["turn"]} {x} {y})"' if text["turn"] else ""
    anchor = "" if text["anchor"] == "start" else f' text-anchor="{text["anchor"]}"'
    size = _number(text["size"] * POINT)
    place = f'x="{x}" y="{y}" font-size="{size}" font-family="{_FONT}"{anchor}{turned}'
    return f'<text data-role="{text["role"]}" {place}>{escaped(line)}</text>'
