"""Puts dist/ together: a plain static folder that works from any sub-path of any host."""

import shutil
from collections.abc import Sequence
from pathlib import Path

from . import firstscreen, patterns, precache, published, pythonpart, stamps, startwords
from .bare import bare
from .console import Stop, say
from .hostfiles import add_host_files
from .links import check_links, modules_from
from .pagepart import copy_hashed, linked, manifest, page_files
from .places import CORE, DIST, ROOT, WEB, WORK, swap
from .policy import META
from .sbom import add_sbom
from .squeezed import add_squeezed
from .vendored import licences_text

_HEAD = '<meta charset="utf-8">'
_FIRST, _REST = '<template id="first">', '<template id="rest">'


def build() -> None:
    """Brings dist/ up to date."""
    wanted = _wanted()
    if is_up_to_date(wanted):
        return say("dist/ is up to date")
    say("Putting dist/ together")
    assemble(WORK / "dist")
    swap(WORK / "dist", DIST)
    stamps.done("dist", wanted)


def is_up_to_date(wanted: str | None = None) -> bool:
    """Whether dist/ is there and is what the sources give now."""
    return stamps.up_to_date("dist", wanted or _wanted(), DIST / "sw.js")


def _wanted() -> str:
    return stamps.digest(*_inputs(), published.public_address())


def _inputs() -> list[Path]:
    sources = [path for path in stamps.files_under(WEB) if "node_modules" not in path.parts]
    core = [path for path in stamps.files_under(CORE) if path.suffix in (".py", ".json")]
    return [*sources, *core, *stamps.files_under(pythonpart.OUT), ROOT / "LICENSE"]


def assemble(out: Path, web: Path = WEB, python: dict[str, dict[str, Path]] | None = None) -> None:
    """Writes a whole distribution of the page in `web` into `out`, in place of what was there."""
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    files = page_files(web)
    first = _first_screen(files, web, out)
    if (web / patterns.PAGE).exists():
        files[patterns.ANSWERS] = patterns.answers(_bench(out))
    contents = {"app": bare(files), **(python or pythonpart.folders())}
    _write_top(out, web)
    folders = {name: copy_hashed(files, out, name) for name, files in contents.items()}
    spare = _write_page(out, web, folders, first)
    check_links(out)
    worker = precache.service_worker(web / "sw.js", precache.entries(out), precache.languages(out), spare)
    for name in ("sw.js", spare):
        (out / name).write_text(worker, "utf-8")
    add_sbom(out)
    add_host_files(out)
    add_squeezed(out)


def _first_screen(files: dict[str, Path], web: Path, out: Path) -> str:
    """The markup of the first screen, where the page has a place for it; its answers go into the facts."""
    if firstscreen.MARK not in (web / "index.html").read_text("utf-8"):
        return ""
    bench = _bench(out)
    shutil.rmtree(bench, ignore_errors=True)
    for inside, path in files.items():
        (bench / inside).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, bench / inside)
    markup = firstscreen.drawn(bench)
    files["facts.json"] = bench / "facts.json"
    return markup


def _bench(out: Path) -> Path:
    """Where the application folder lies while its modules are run."""
    return out.with_name(f"{out.name}-first")


def _write_page(out: Path, web: Path, folders: dict[str, str], first: str) -> str:
    """Writes the page, last of all that the worker lists; gives the name of the worker's
    spare, which the page tells.
    """
    text = page(web / "index.html", folders, *_modules(out, out / folders["app"]))
    text = text.replace("</head>", f"{published.meta(published.public_address())}</head>", 1)
    spare = precache.spare_name(web / "sw.js", precache.entries(out), text)
    named = f'<meta name="matside-worker" content="{spare}">\n</head>'
    text = text.replace("</head>", named, 1).replace(firstscreen.MARK, first, 1)
    (out / "index.html").write_text(text, "utf-8")
    if (web / patterns.PAGE).exists():
        (out / patterns.PAGE).write_text(page(web / patterns.PAGE, folders), "utf-8")
    return spare


def _modules(out: Path, app: Path) -> tuple[list[str], list[str]]:
    """What the first screen needs, and what only the others do; as the page leads to them."""
    first = modules_from(*(app / name for name in ("main.js", "wiring.js", firstscreen.MODULE)), later=False)
    rest = [path for path in modules_from(app / "main.js") if path not in first]
    return tuple([path.relative_to(out.resolve()).as_posix() for path in paths] for paths in (first, rest))


def _write_top(out: Path, web: Path) -> None:
    (out / "manifest.webmanifest").write_text(manifest(web), "utf-8")
    (out / "licences.txt").write_text(licences_text(), "utf-8")
    shutil.copytree(web / "icons", out / "icons", ignore=shutil.ignore_patterns("*.py", "__pycache__"))


def page(source: Path, folders: dict[str, str], modules: Sequence[str] = (), rest: Sequence[str] = ()) -> str:
    """The page with its policy, led to the hashed folders. It names the modules that its start needs (web/main.js), and
    the rest of them (web/start/modules.js).
    """
    text = startwords.worded(source.read_text("utf-8"))
    if text.count(_HEAD) != 1:
        raise Stop(f"{source.name} needs one {_HEAD} at the top of its head: the page's policy goes right after it")
    text = text.replace(_HEAD, f"{_HEAD}\n{META}")
    text = text.replace(_FIRST, f"{_FIRST}\n{_preloads(modules)}", 1).replace(_REST, f"{_REST}\n{_preloads(rest)}", 1)
    return linked(text, folders)


def _preloads(modules: Sequence[str]) -> str:
    return "".join(f'<link rel="modulepreload" href="{module}">\n' for module in modules)
