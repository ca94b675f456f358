"""sbom.cdx.json: what ships and whose it is, file by file, as CycloneDX 1.6 says it; the
same bytes for the same content.
"""

import hashlib
import json
import re
import uuid
from base64 import b64decode
from fnmatch import fnmatch
from pathlib import Path
from urllib.parse import quote

from . import stamps
from .interpreter import REPORT
from .places import CORE, NODE_MODULES, WEB
from .precache import HOST_FILES, SBOM, SQUEEZED
from .vendored import FONT, FRACTIONS, PYTHON_ALTERED, SOURCES, pyodide_altered

_NAMESPACE = uuid.UUID("6f1c2f2a-3f5d-5c1e-9d0b-6d61747369de")
_PYTHON_LICENCE = "Python-2.0"

_PYODIDE, _STDLIB = "pyodide-*/*", "py-*/python_stdlib.zip"

# What Pyodide links into its WebAssembly, with the identifiers of licences by SPDX; web/build/licences has their terms.
LINKED = {
    "zlib": "Zlib",
    "bzip2": "bzip2-1.0.6",
    "xz": "0BSD",
    "zstd": "BSD-3-Clause",
    "LZ4": "BSD-2-Clause",
    "SQLite": "blessing",
    "Expat": "MIT",
    "libffi": "MIT",
    "libmpdec": "BSD-2-Clause",
    "HACL*": "MIT",
    "hiwire": "MPL-2.0",
    "musl": "MIT",
    "Emscripten": "MIT",
    "LLVM": "Apache-2.0 WITH LLVM-exception",
}
# Those of them that are a part that can be left out (web/build/parts.json).
_PARTS = {
    "libmpdec, libexpat, HACL": ("libmpdec", "Expat", "HACL*"),
    "libffi": ("libffi",),
    "liblzma": ("xz",),
    "libsqlite3": ("SQLite",),
    "libzstd": ("zstd",),
    "libbz2": ("bzip2",),
    "libz": ("zlib",),
}


def inside() -> list[str]:
    """The libraries that are in the WebAssembly that ships."""
    gone = {name for part in json.loads(REPORT.read_text("utf-8"))["parts"] for name in _PARTS.get(part, ())}
    return [name for name in LINKED if name not in gone]


def add_sbom(dist: Path) -> None:
    """Writes the list of all files there, by the component that they belong to."""
    (dist / SBOM).write_text(sbom_text(dist), "utf-8")


def sbom_text(dist: Path) -> str:
    """The list as JSON, of everything but itself, squeezed copies, and what is meant for the host."""
    return json.dumps(_listed(dist), indent=1, ensure_ascii=False) + "\n"


def _listed(dist: Path) -> dict:
    ships = (
        path
        for path in stamps.files_under(dist)
        if path.suffix not in SQUEEZED and path.name not in (SBOM, *HOST_FILES)
    )
    files = {path.relative_to(dist).as_posix(): path for path in ships}
    packages = _packages(files)
    others = [*packages, _fractions(files, packages), _python(files)]
    claimed = {item["name"] for one in others for item in one["components"] if item["type"] == "file"}
    own = _own({name: path for name, path in files.items() if name not in claimed})
    body = {
        "metadata": {"component": own},
        "components": others,
        "dependencies": _dependencies(own, others),
    }
    content = json.dumps(body, sort_keys=True).encode()
    serial = uuid.uuid5(_NAMESPACE, hashlib.sha256(content).hexdigest())
    return {"bomFormat": "CycloneDX", "specVersion": "1.6", "serialNumber": f"urn:uuid:{serial}", "version": 1, **body}


def _own(files: dict[str, Path]) -> dict:
    version = re.search(r'^__version__ = "(.+)"$', (CORE / "__init__.py").read_text("utf-8"), re.MULTILINE)[1]
    purl = f"pkg:generic/matside@{version}"
    return {**_component("application", "matside", version, "MIT", purl), "components": _file_parts(files)}


def _packages(files: dict[str, Path]) -> list[dict]:
    lock = json.loads((WEB / "package-lock.json").read_text("utf-8"))["packages"]
    wanted = json.loads((WEB / "package.json").read_text("utf-8"))["dependencies"]
    return [_package(name, lock[f"node_modules/{name}"], files) for name in sorted(wanted)]


def _package(name: str, locked: dict, files: dict[str, Path]) -> dict:
    """A package from npm; its hash is that of the archive it was taken from, and its files
    are those that ship of it.
    """
    patterns = (
        [_PYODIDE]
        if name == "pyodide"
        else [f"app-*/{inside}" for inside, source in SOURCES.items() if _from(source, name)]
    )
    own = {inside: path for inside, path in files.items() if any(fnmatch(inside, pattern) for pattern in patterns)}
    purl = f"pkg:npm/{quote(name, safe='/')}@{locked['version']}"
    algorithm, digest = locked["integrity"].split("-", 1)
    made = _component("library", name, locked["version"], locked["license"], purl)
    made["hashes"] = [{"alg": algorithm.upper().replace("SHA", "SHA-"), "content": b64decode(digest).hex()}]
    if name != "pyodide":
        return {**made, "components": _file_parts(own)}
    linked = [_linked(part) for part in inside()]
    return {**made, "pedigree": {"notes": pyodide_altered()}, "components": [*_file_parts(own), *linked]}


def _fractions(files: dict[str, Path], packages: list[dict]) -> dict:
    """The font that is drawn from the typeface, with what it comes from."""
    (typeface,) = (one for one in packages if one["purl"].startswith(f"pkg:npm/{quote(FONT, safe='/')}@"))
    ((licence,), version) = (typeface["licenses"], typeface["version"])
    own = {inside: path for inside, path in files.items() if fnmatch(inside, f"app-*/{FRACTIONS}")}
    purl = f"pkg:generic/matside-fractions@{version}"
    made = _component("library", "matside-fractions", version, licence["license"]["id"], purl)
    ancestor = {name: typeface[name] for name in ("type", "group", "name", "version", "licenses", "purl")}
    return {**made, "pedigree": {"ancestors": [ancestor]}, "components": _file_parts(own)}


def _from(source: Path, package: str) -> bool:
    """Whether a file that the build takes lies in a package. (The parts of Workbox stand at the
    front of sw.js, which is ours.)
    """
    return source.is_relative_to(NODE_MODULES / package)


def _linked(name: str) -> dict:
    """A library inside Pyodide; which version of it, only the compiler's is told."""
    version = (
        _pyodide_info()["platform"].removeprefix("emscripten_").replace("_", ".") if name == "Emscripten" else None
    )
    purl = f"pkg:generic/{quote(name.lower(), safe='')}{f'@{version}' if version else ''}"
    return _component("library", name, version, LINKED[name], purl)


def _python(files: dict[str, Path]) -> dict:
    """The interpreter, which is inside Pyodide, and its standard library, cut and compiled."""
    version = _pyodide_info()["python"]
    own = {inside: path for inside, path in files.items() if fnmatch(inside, _STDLIB)}
    return {
        **_component("platform", "python", version, _PYTHON_LICENCE, f"pkg:generic/python@{version}"),
        "pedigree": {"notes": PYTHON_ALTERED},
        "components": _file_parts(own),
    }


def _pyodide_info() -> dict:
    return json.loads((NODE_MODULES / "pyodide" / "pyodide-lock.json").read_text("utf-8"))["info"]


def _component(kind: str, name: str, version: str | None, licence: str, purl: str) -> dict:
    group, _, name = name.rpartition("/")
    terms = {"expression": licence} if " " in licence else {"license": {"id": licence}}
    return {
        "type": kind,
        "bom-ref": purl,
        **({"group": group} if group else {}),
        "name": name,
        **({"version": version} if version else {}),
        "licenses": [terms],
        "purl": purl,
    }


def _file_parts(files: dict[str, Path]) -> list[dict]:
    return [
        {
            "type": "file",
            "name": name,
            "hashes": [{"alg": "SHA-256", "content": hashlib.sha256(path.read_bytes()).hexdigest()}],
        }
        for name, path in sorted(files.items())
    ]


def _dependencies(own: dict, others: list[dict]) -> list[dict]:
    """The page needs all of them; Pyodide needs what is linked into it, and Python."""
    refs = [one["bom-ref"] for one in others]
    (pyodide,) = (one for one in others if one["name"] == "pyodide")
    (python,) = (one["bom-ref"] for one in others if one["name"] == "python")
    linked = [part["bom-ref"] for part in pyodide["components"] if part["type"] != "file"]
    needs = {own["bom-ref"]: refs, pyodide["bom-ref"]: [python, *linked]}
    return [{"ref": ref, "dependsOn": sorted(needs.get(ref, []))} for ref in [own["bom-ref"], *refs, *linked]]
