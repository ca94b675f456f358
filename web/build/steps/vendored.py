"""What the page ships from npm, file by file, and whose licence goes with it."""

import json
from dataclasses import dataclass
from pathlib import Path

from .interpreter import PYODIDE
from .places import BUILD_SOURCES, NODE_MODULES, ROOT

FONT = "@fontsource-variable/atkinson-hyperlegible-next"
TYPEFACE = NODE_MODULES / FONT / "files" / "atkinson-hyperlegible-next-latin-wght-normal.woff2"
#: A font that the build draws from the typeface, so under its terms.
FRACTIONS = "vendor/matside-fractions.woff2"

_SCHEMA = NODE_MODULES / "@cfworker" / "json-schema" / "dist" / "esm"

# The page's own modules import these by relative path: no import map, so no inline script.
MODULES = {
    "vendor/atkinson-hyperlegible-next.woff2": TYPEFACE,
    **{
        f"vendor/json-schema/{name}.js": _SCHEMA / f"{name}.js"
        for name in (
            "index",
            "deep-compare-strict",
            "pointer",
            "types",
            "ucs2-length",
            "validator",
        )
    },
}

_QR = NODE_MODULES / "qr"
_QR_SHARED = (
    *("_ALPHANUMERIC", "_BYTES", "_ECC_BLOCKS", "_ECC_LEVELS", "_GF256", "_WORDS_PER_BLOCK"),
    *("_formatBits", "_maskBits", "_popcnt", "_versionBits"),
)
#: Modules that ship with the named exports alone, without what only the others used (steps/reduced.py).
REDUCED = {
    "vendor/idb.js": (NODE_MODULES / "idb" / "build" / "index.js", ("openDB",)),
    **{
        f"vendor/json-schema/{name}.js": (_SCHEMA / f"{name}.js", (name,))
        for name in ("dereference", "format", "validate")
    },
    "vendor/deflate.js": (NODE_MODULES / "fflate" / "esm" / "browser.js", ("deflateSync", "inflateSync")),
    "vendor/qr/index.js": (_QR / "index.js", ("encodeQR", *_QR_SHARED)),
    "vendor/qr/decode.js": (_QR / "decode.js", ("decodeQR",)),
}
#: Where each file that ships from npm comes from.
SOURCES = {**MODULES, **{name: source for name, (source, _) in REDUCED.items()}}

# Ready-made classic scripts; they go to the front of the service worker, in this order.
WORKER_SCRIPTS = tuple(
    NODE_MODULES / f"workbox-{part}" / "build" / f"workbox-{part}.prod.js"
    for part in ("core", "routing", "strategies", "precaching")
)

# What was altered before it shipped, and where what it was made from is: MPL-2.0, 3.2, asks for the second.
PYTHON_ALTERED = (
    "its standard library is cut to the modules that the page loads and compiled to bytecode; asyncio, inspect and the "
    "colours of a terminal have stand-ins; traceback, typing and annotationlib come when they are asked for; and "
    "dataclasses does not compile what the build has (web/build/standins, late and additions of Matside's source)"
)


def pyodide_altered() -> str:
    """What was left out of Pyodide, by which steps, and of which version the sources are."""
    return (
        "altered by leaving parts out: exports, built-in modules of Python and libraries that the page never calls, "
        "and the JavaScript that belonged to them; what of Pyodide is Python has stand-ins. The "
        "steps are web/build/node/shrink.mjs, web/build/node/engine and web/build/standins of Matside's source; the "
        f"sources that it was built from are those of version {_pyodide()['version']}"
    )


def _pyodide() -> dict:
    return json.loads((PYODIDE / "package.json").read_text("utf-8"))


_LICENCE_TEXTS = BUILD_SOURCES / "licences"


@dataclass(frozen=True, slots=True)
class Shipped:
    """Something that ships, by its name, what it is there for, and the file with its licence."""

    name: str
    purpose: str
    licence: Path


def shipped() -> list[Shipped]:
    """Everything in dist/ that is licensed, our own part first."""
    packages = [
        ("idb", "keeps plans and the count in the browser's database"),
        ("fflate", "makes the text of a plan short, and reads it; what the page does not use is left out"),
        (FONT, "the typeface: made to be told apart at a distance"),
        *(
            (f"workbox-{part}", "part of the service worker")
            for part in ("core", "routing", "strategies", "precaching")
        ),
    ]
    return [
        Shipped("Matside", "this page", ROOT / "LICENSE"),
        Shipped(
            "Pyodide",
            f"runs Python in the page; {pyodide_altered()}, at {_pyodide()['repository']['url'].removeprefix('git+')}",
            _LICENCE_TEXTS / "MPL-2.0.txt",
        ),
        Shipped(
            "Python",
            f"the interpreter, inside Pyodide, and its standard library; {PYTHON_ALTERED}",
            _LICENCE_TEXTS / "PSF-2.0.txt",
        ),
        Shipped(
            "Libraries linked into Pyodide",
            "inside pyodide.asm.wasm, what is left of them",
            _LICENCE_TEXTS / "linked-libraries.txt",
        ),
        Shipped(
            "@cfworker/json-schema", "judges the shape of a copy that is taken back", _LICENCE_TEXTS / "json-schema.txt"
        ),
        *(Shipped(name, purpose, NODE_MODULES / name / "LICENSE") for name, purpose in packages),
        Shipped(
            "qr", "draws the code of a plan, and reads it; what the page does not use is left out", _QR / "LICENSE-MIT"
        ),
        Shipped(
            "Matside Fractions",
            "the figures of fractions, drawn from the digits of that typeface: a modified version under another name",
            NODE_MODULES / FONT / "LICENSE",
        ),
    ]


def licences_text() -> str:
    """The text of licences.txt: who made what ships, what it does here, and under which terms."""
    rule = "=" * 78
    return (
        "\n\n".join(
            f"{rule}\n{each.name}: {each.purpose}\n{rule}\n\n{each.licence.read_text('utf-8').strip()}"
            for each in shipped()
        )
        + "\n"
    )
