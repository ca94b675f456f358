"""What dist/ is: whole, led by relative links, named by content, licensed, and strict about what the page may do."""

import base64
import gzip
import hashlib
import itertools
import json
import re
import struct
import subprocess
import zipfile
from html.parser import HTMLParser
from pathlib import Path

import pytest

from matside.words.catalogue import languages
from matside.words.saying import say
from steps import patterns, stamps, vendored
from steps.console import Stop
from steps.distribution import page
from steps.links import check_links, modules_from
from steps.pagepart import copy_hashed
from steps.places import ROOT, WEB, tool
from steps.precache import HOST_FILES, SBOM, is_worker

HASHED = re.compile(r"^(app|py|pyodide)-[0-9a-f]{16}$")
NAMESPACES = {
    "https://json-schema.org/draft/2020-12/schema",
    "http://www.w3.org/2000/svg",
    "http://www.w3.org/1999/xhtml",
    "http://www.w3.org/1999/xlink",
}
TEXTS = {".html", ".js", ".mjs", ".css", ".json", ".webmanifest", ".txt", ".svg", ".wasm"}


def files(folder: Path) -> dict[str, Path]:
    """The files of a folder by name, without the squeezed copies."""
    return {
        path.relative_to(folder).as_posix(): path
        for path in folder.rglob("*")
        if path.is_file() and path.suffix not in (".gz", ".br")
    }


def only(folder: Path, pattern: str) -> Path:
    """The one file or folder that matches."""
    (found,) = folder.glob(pattern)
    return found


def listed(dist: Path) -> dict[str, dict]:
    """The service worker's lists by URL: of what every phone keeps, and of what belongs to a language."""
    line = next(
        line for line in (dist / "sw.js").read_text("utf-8").splitlines() if line.startswith("self.MATSIDE_BUILD")
    )
    build = json.loads(line.removeprefix("self.MATSIDE_BUILD = ").removesuffix(";"))
    entries = [*build["precache"], *itertools.chain.from_iterable(build["languages"].values())]
    found = {entry["url"]: entry for entry in entries}
    assert len(found) == len(entries)
    return found


class Tags(HTMLParser):
    """The tags of a page, and any text inside scripts and styles."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inline: list[str] = []
        self._inside = ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self._inside = tag

    def handle_endtag(self, tag):
        self._inside = ""

    def handle_data(self, data):
        if self._inside in ("script", "style") and data.strip():
            self.inline.append(data)


def test_only_hashed_folders_and_a_few_fixed_names_are_at_the_top(dist: Path):
    top = {path.name for path in dist.iterdir() if path.suffix not in (".gz", ".br") and not HASHED.match(path.name)}
    assert top == {
        "index.html",
        "patterns.html",
        "sw.js",
        only(dist, "sw-*.js").name,
        "manifest.webmanifest",
        "licences.txt",
        "icons",
        SBOM,
        *HOST_FILES,
    }
    assert sorted(path.name.split("-")[0] for path in dist.iterdir() if HASHED.match(path.name)) == [
        "app",
        "py",
        "pyodide",
    ]


def test_a_folder_is_named_by_all_that_is_in_it(tmp_path: Path):
    names = []
    for text in ("a", "a", "b"):
        source = tmp_path / "source.js"
        source.write_text(text)
        names.append(copy_hashed({"x.js": source}, tmp_path / "out", "app"))
    assert names[0] == names[1] != names[2]
    assert copy_hashed({"y.js": source}, tmp_path / "out", "app") != names[2]


def test_the_service_worker_lists_every_file_with_its_hash(dist: Path):
    entries = listed(dist)
    not_kept = {"sw.js", only(dist, "sw-*.js").name, SBOM, *HOST_FILES, *filter(patterns.is_own, files(dist))}
    assert entries.keys() == files(dist).keys() - not_kept
    for url, entry in entries.items():
        digest = base64.b64encode(hashlib.sha256((dist / url).read_bytes()).digest()).decode()
        assert entry["integrity"] == f"sha256-{digest}"
        assert entry["size"] == (dist / url).stat().st_size
        assert (entry["revision"] is None) == bool(HASHED.match(url.split("/")[0]))


def test_no_visitor_pays_for_the_pattern_page(dist: Path):
    own = {name for name in files(dist) if patterns.is_own(name)}
    assert {"patterns.html", f"{only(dist, 'app-*').name}/{patterns.ANSWERS}"} < own
    assert {name.split("/")[1] for name in own - {"patterns.html"}} == {"patterns"}
    assert own & listed(dist).keys() == set()
    assert "patterns" not in (dist / "index.html").read_text("utf-8")
    assert Tags((dist / "patterns.html").read_text("utf-8")).inline == []


def test_every_language_has_its_two_files_in_a_list_of_its_own(dist: Path):
    text = (dist / "sw.js").read_text("utf-8").split("self.MATSIDE_BUILD = ")[1].splitlines()[0]
    spoken = json.loads(text.removesuffix(";"))["languages"]
    app = only(dist, "app-*").name
    assert set(spoken) == set(languages()) - {"en"}
    for language, entries in spoken.items():
        wanted = [f"{app}/glossary/{language}.json", f"{app}/words/{language}.json"]
        assert sorted(entry["url"] for entry in entries) == wanted


def test_the_worker_ships_twice_and_ends_with_its_own_hash(dist: Path):
    worker, spare = dist / "sw.js", only(dist, "sw-*.js")
    assert worker.read_bytes() == spare.read_bytes()
    text, _, end = worker.read_text("utf-8").rpartition(" // matside ")
    assert end == hashlib.sha256(text.encode()).hexdigest() + "\n"
    assert (text[:2], text[-2:]) == ("{\n", "\n}")
    named = [
        attributes["content"]
        for tag, attributes in Tags((dist / "index.html").read_text("utf-8")).tags
        if attributes.get("name") == "matside-worker"
    ]
    assert named == [spare.name]


def test_what_we_wrote_names_no_outside_origin(dist: Path):
    ours = {
        name: path
        for name, path in files(dist).items()
        if path.suffix in TEXTS - {".wasm"}
        and not name.startswith(("pyodide-", "licences"))
        and "/vendor/" not in name
        and not is_worker(name)
    }
    texts = {name: path.read_text("utf-8") for name, path in ours.items()}
    texts["sw.js"] = (ROOT / "web" / "sw.js").read_text("utf-8")
    found = {
        (name, url) for name, text in texts.items() for url in re.findall(r"(?:https?|wss?)://[^\s\"'<>`)]*", text)
    }
    assert {(name, url) for name, url in found if url not in NAMESPACES} == set()


def test_every_link_of_the_page_is_relative(dist: Path):
    links = [
        value
        for _, attributes in Tags((dist / "index.html").read_text("utf-8")).tags
        for name, value in attributes.items()
        if name in ("href", "src")
    ]
    manifest = json.loads((dist / "manifest.webmanifest").read_text("utf-8"))
    links += [manifest["start_url"], manifest["scope"], manifest["id"], *(icon["src"] for icon in manifest["icons"])]
    assert len(links) > 5
    assert [link for link in links if link.startswith("/") or ":" in link] == []


def test_the_policy_allows_nothing_but_the_page_s_own_origin(dist: Path):
    tags = Tags((dist / "index.html").read_text("utf-8")).tags
    (policy,) = [
        attributes["content"] for tag, attributes in tags if attributes.get("http-equiv") == "Content-Security-Policy"
    ]
    directives = {name: sources for name, *sources in (part.split() for part in policy.split(";"))}
    assert directives["default-src"] == ["'none'"]
    assert directives["script-src"] == ["'self'", "'wasm-unsafe-eval'"]
    # Only one place in the page makes a trusted address of a script, and nothing makes markup or script text trusted.
    assert (directives.pop("require-trusted-types-for"), directives.pop("trusted-types")) == (["'script'"], ["matside"])
    allowed = {"'self'", "'none'", "'wasm-unsafe-eval'", "blob:"}
    assert {source for sources in directives.values() for source in sources} <= allowed
    assert {name for name, sources in directives.items() if "blob:" in sources} <= {"img-src"}


def test_the_policy_comes_before_anything_that_it_governs(dist: Path):
    tags = [attributes for tag, attributes in Tags((dist / "index.html").read_text("utf-8")).tags]
    names = [next((key for key in ("http-equiv", "href", "src") if key in attributes), "") for attributes in tags]
    assert names.index("http-equiv") < min(names.index("href"), names.index("src"))


def test_the_page_has_nothing_inline(dist: Path):
    parsed = Tags((dist / "index.html").read_text("utf-8"))
    assert parsed.inline == []
    assert [
        name for _, attributes in parsed.tags for name in attributes if name == "style" or name.startswith("on")
    ] == []


SINKS = re.compile(
    r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|DOMParser|parseFromString|createContextualFragment|setHTML|srcdoc"
    r"|\beval\b|\bFunction\(|setAttribute\(.on|execCommand|importScripts\(|set(?:Timeout|Interval)\(\s*['\"`]"
)


def test_no_module_of_ours_makes_markup_or_script_of_a_text():
    ours = [
        path
        for path in stamps.files_under(WEB, "*.js")
        if not {"node_modules", "build"} & set(path.relative_to(WEB).parts)
    ]
    assert len(ours) > 80
    assert [(path.name, found[0]) for path in ours if (found := SINKS.search(path.read_text("utf-8")))] == []
    plain = re.compile(r"(?:new (?:Shared)?Worker|serviceWorker\.register)\((?!trustedScript\()")
    assert [path.name for path in ours if plain.search(path.read_text("utf-8"))] == []
    assert [path.name for path in ours if "createPolicy" in path.read_text("utf-8")] == ["trusted.js"]


def test_every_package_that_ships_has_its_licence(dist: Path):
    text = (dist / "licences.txt").read_text("utf-8")
    packages = json.loads((ROOT / "web" / "package.json").read_text("utf-8"))["dependencies"]
    named = {each.name.lower() for each in vendored.shipped()}
    assert packages.keys() <= named
    for each in vendored.shipped():
        assert f"\n{each.name}: " in text
        assert each.licence.read_text("utf-8").strip() in text


def test_each_squeezed_copy_holds_the_file(dist: Path):
    squeezable = [path for path in files(dist).values() if path.suffix in TEXTS]
    assert [path for path in squeezable if gzip.decompress(Path(f"{path}.gz").read_bytes()) != path.read_bytes()] == []
    script = (
        "const fs = require('fs'), zlib = require('zlib');"
        "console.log(process.argv.slice(1).filter((path) => "
        "!zlib.brotliDecompressSync(fs.readFileSync(path + '.br')).equals(fs.readFileSync(path))).join())"
    )
    command = [str(tool("node")), "-e", script, *map(str, squeezable)]
    assert subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip() == ""


def test_a_link_to_a_missing_file_stops_the_build(dist: Path, tmp_path: Path):
    (tmp_path / "app-0123456789abcdef").mkdir()
    (tmp_path / "manifest.webmanifest").write_text('{"icons": []}')
    (tmp_path / "index.html").write_text("<p>")
    module = tmp_path / "app-0123456789abcdef" / "main.js"
    for line in (
        "import { a } from './gone.js';",
        "export * from './gone.js';",
        "await import('./gone.js')",
        "import {\n  a,\n} from './gone.js';",
        'import a, * as b from "./gone.js";',
        "export { $a } from './gone.js';",
        "new URL('./gone.js', import.meta.url)",
    ):
        module.write_text(line)
        with pytest.raises(Stop, match=r"main\.js leads to \./gone\.js"):
            check_links(tmp_path)
    module.write_text("import './main.js';\nexport function named() {\n  return './gone.js';\n}")
    check_links(tmp_path)


def test_the_page_asks_at_once_for_what_its_first_screen_needs_and_names_the_rest(dist: Path):
    head, rest = (dist / "index.html").read_text("utf-8").split('<template id="rest">')
    app = only(dist, "app-*")
    first, later = ({link.removeprefix(f"{app.name}/") for link in preloads(part)} for part in (head, rest))
    assert {"main.js", "offline.js", "worker/python.js", "vendor/idb.js", "screens/count.js"} <= first
    assert {"screens/quilt.js", "screens/mat.js", "screens/tools.js"} <= later
    assert not first & later
    assert first | later == {path.relative_to(app).as_posix() for path in modules_from(app / "main.js")}


def preloads(text: str) -> list[str]:
    links = [
        attributes["href"]
        for tag, attributes in Tags(text).tags
        if (tag, attributes.get("rel")) == ("link", "modulepreload")
    ]
    assert len(links) == len(set(links))
    return links


def test_modules_are_followed_from_import_to_import(tmp_path: Path):
    for name, text in {
        "main.js": "import './a.js';\nimport {\n  b,\n} from './a.js';",
        "a.js": "export * from './b/c.js';",
        "b/c.js": "import '../main.js';",
        "d.js": "",
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    assert [path.name for path in modules_from(tmp_path / "main.js")] == ["main.js", "a.js", "c.js"]


def test_a_browser_without_scripts_is_told_in_every_language(dist: Path):
    text = (dist / "index.html").read_text("utf-8")
    told = re.search(r"<noscript>(.*?)</noscript>", text, re.DOTALL)[1]
    assert re.findall(r'<p lang="(\w+)">', told) == sorted(languages())
    assert all(say("start.no_script", {}, language) in told for language in languages())


def test_what_is_imported_only_when_wanted_can_be_left_out(tmp_path: Path):
    (tmp_path / "main.js").write_text("import './a.js';\nconst later = () => import('./b.js');")
    for name in ("a.js", "b.js"):
        (tmp_path / name).write_text("")
    names = {later: [path.name for path in modules_from(tmp_path / "main.js", later=later)] for later in (True, False)}
    assert names == {True: ["main.js", "a.js", "b.js"], False: ["main.js", "a.js"]}


def test_a_page_without_a_place_for_its_policy_stops_the_build(tmp_path: Path):
    source = tmp_path / "index.html"
    source.write_text("<!doctype html><title>x</title>")
    with pytest.raises(Stop, match="charset"):
        page(source, {}, [])


def test_the_lock_names_what_ships_and_nothing_else(dist: Path):
    folder = only(dist, "py-*")
    lock = json.loads((folder / "pyodide-lock.json").read_text("utf-8"))
    assert list(lock["packages"]) == ["matside"]
    wheel = only(folder, "*.whl")
    assert lock["packages"]["matside"]["file_name"] == wheel.name
    assert lock["packages"]["matside"]["sha256"] == hashlib.sha256(wheel.read_bytes()).hexdigest()


def test_python_ships_as_bytecode_only(dist: Path):
    for archive in (only(dist, "py-*/python_stdlib.zip"), only(dist, "py-*/*.whl")):
        names = zipfile.ZipFile(archive).namelist()
        assert [name for name in names if name.endswith(".py")] == []
        assert [name for name in names if name.endswith(".pyc")] != []


def test_the_icons_are_as_large_as_the_manifest_says(dist: Path):
    icons = [
        icon
        for icon in json.loads((dist / "manifest.webmanifest").read_text("utf-8"))["icons"]
        if icon["type"] == "image/png"
    ]
    assert {icon.get("purpose", "any") for icon in icons} == {"any", "maskable"}
    for icon in icons:
        # PNG, 3rd edition (W3C 2025), 11.2.1: the header chunk begins with width and height, four bytes each.
        width, height = struct.unpack(">II", (dist / icon["src"]).read_bytes()[16:24])
        assert icon["sizes"] == f"{width}x{height}"


def test_a_mask_cuts_nothing_off_the_maskable_icon():
    # W3C Web Application Manifest, "Icon masks and safe zone": a circle of two fifths of the icon's width always stays.
    svg = (ROOT / "web" / "icons" / "icon-maskable.svg").read_text("utf-8")
    pen = float(re.search(r'stroke-width="([\d.]+)"', svg)[1]) / 2
    points = [point for path in re.findall(r'\bd="M([^"]+)"', svg) for point in _points(path)]
    assert len(points) == 10
    assert max(((x - 256) ** 2 + (y - 256) ** 2) ** 0.5 + pen for x, y in points) <= 0.4 * 512


def _points(path: str) -> list[tuple[float, float]]:
    """The corners of a path of absolute moves, lines and horizontal lines."""
    points: list[tuple[float, float]] = []
    for command, numbers in re.findall(r"([MLH ]?)([\d. ]+)", "M" + path.replace("Z", "").replace("L", " L")):
        values = [float(number) for number in numbers.split()]
        if command == "H":
            points.append((values.pop(0), points[-1][1]))
        points.extend(zip(values[::2], values[1::2]))
    return points
