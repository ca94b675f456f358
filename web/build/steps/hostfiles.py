"""What dist/ brings along for hosts that read their headers from a file: the same as our own
server sends, in three formats.
"""

from pathlib import Path

from .policy import HEADERS
from .precache import HASHED_FOLDER, HOST_FILES
from .serving import ASKED_ANEW, LASTING, TYPES

# Hosts know the other types; these are young, or left to chance where they are not named.
_NAMED_TYPES = (".mjs", ".js", ".wasm", ".webmanifest")


def add_host_files(dist: Path) -> None:
    """Writes the three files; they go by the folders that are there."""
    for name, text in zip(HOST_FILES, (_by_path(dist), _apache(), _nginx()), strict=True):
        (dist / name).write_text(text, "utf-8")


def _by_path(dist: Path) -> str:
    """`_headers`: a path, and below it, indented, its headers. Where several paths match, all of their headers are
    sent, so that no header may stand at two of them. The paths begin at the top of the host."""
    blocks = [_block("/*", HEADERS)]
    for path in ["/", *sorted(f"/{item.name}" for item in dist.iterdir())]:
        if HASHED_FOLDER.match(f"{path[1:]}/"):
            blocks.append(_block(f"{path}/*", {"Cache-Control": LASTING}))
        elif path[1:] not in HOST_FILES:
            blocks.append(
                _block(
                    f"{path}/*" if (dist / path[1:]).is_dir() and path != "/" else path, {"Cache-Control": ASKED_ANEW}
                )
            )
    return "\n".join(blocks)


def _block(path: str, headers: dict[str, str]) -> str:
    return "".join([f"{path}\n", *(f"  {name}: {value}\n" for name, value in headers.items())])


def _apache() -> str:
    """`.htaccess`: needs mod_headers and leave to be read (AllowOverride FileInfo)."""
    types = [f"AddType {TYPES[ending].split(';')[0]} {ending}" for ending in _NAMED_TYPES]
    always = [f'Header always set {name} "{value}"' for name, value in HEADERS.items()]
    return _lines(
        *types,
        "AddDefaultCharset utf-8",
        "<IfModule mod_headers.c>",
        *always,
        f'Header set Cache-Control "{ASKED_ANEW}"',
        f'<If "%{{REQUEST_URI}} =~ m#/{_hashed()}#">',
        f'Header set Cache-Control "{LASTING}"',
        "</If>",
        "</IfModule>",
    )


def _nginx() -> str:
    """For `include` in the server or location block that serves the folder. Headers of a block
    around it are not sent any more.
    """
    types = [f"  {kind.split(';')[0]} {ending[1:]};" for ending, kind in TYPES.items() if ending != ".mjs"]
    always = [f'add_header {name} "{value}" always;' for name, value in HEADERS.items()]
    return _lines(
        "types {",
        *(line.replace(" js;", " js mjs;") for line in types),
        "}",
        "charset utf-8;",
        f'set $matside_cache "{ASKED_ANEW}";',
        f'if ($uri ~ "/{_hashed()}") {{ set $matside_cache "{LASTING}"; }}',
        "add_header Cache-Control $matside_cache;",
        *always,
    )


def _hashed() -> str:
    """The pattern of a hashed folder's name, anywhere in a path."""
    return HASHED_FOLDER.pattern.removeprefix("^")


def _lines(*lines: str) -> str:
    return "\n".join([*lines, ""])
