"""The files that tell other hosts what to send: read by the rules of each format, they say what our own server sends.

Both server formats were also tried on the servers themselves: Apache 2.4.71 and nginx 1.22.1 sent the
same headers for each file."""

import http.client
import re
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from steps import serving
from steps.policy import HEADERS
from steps.precache import HOST_FILES, SQUEEZED

NAMES = [*HEADERS, "Cache-Control"]


def by_path(text: str, path: str) -> dict[str, str]:
    """`_headers`: every block whose path matches (`*` stands for any rest) adds its headers; one that is
    there twice is joined by a comma.
    """
    found: dict[str, str] = {}
    for block in text.strip().split("\n\n"):
        pattern, *lines = block.splitlines()
        if re.fullmatch(re.escape(pattern).replace(r"\*", ".*"), path):
            for name, value in (line.strip().split(": ", 1) for line in lines):
                found[name] = f"{found[name]}, {value}" if name in found else value
    return found


def apache(text: str, path: str) -> dict[str, str]:
    """`.htaccess`: a later `Header set` of one name stands for an earlier one; what is inside <If>
    holds where its pattern is found.
    """
    found: dict[str, str] = {}
    holds = True
    for line in text.splitlines():
        if inside := re.fullmatch(r'<If "%{REQUEST_URI} =~ m#(.+)#">', line):
            holds = bool(re.search(inside[1], path))
        elif line == "</If>":
            holds = True
        elif (header := re.fullmatch(r'Header (?:always )?set (\S+) "(.*)"', line)) and holds:
            found[header[1]] = header[2]
    return found


def nginx(text: str, path: str) -> dict[str, str]:
    """For nginx: variables that are set, once more where a pattern is found in the path, and headers made of them."""
    found: dict[str, str] = {}
    variables: dict[str, str] = {}
    for line in text.splitlines():
        condition = re.fullmatch(r'if \(\$uri ~ "(.+)"\) \{ (.*) \}', line)
        if condition and not re.search(condition[1], path):
            continue
        line = condition[2] if condition else line
        if setting := re.fullmatch(r'set (\$\w+) "(.*)";', line):
            variables[setting[1]] = setting[2]
        elif header := re.fullmatch(r'add_header (\S+) (?:"(.*)"|(\$\w+))(?: always)?;', line):
            found[header[1]] = variables[header[3]] if header[3] else header[2]
    return found


@pytest.fixture(scope="module")
def server(dist: Path) -> Iterator[serving.ThreadingHTTPServer]:
    """Our own server of the distribution."""
    with serving.listening(dist, 0) as running:
        threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
        yield running
        running.shutdown()


def sent(server: serving.ThreadingHTTPServer, path: str) -> dict[str, str | None]:
    """The headers of a file as our own server sends them."""
    connection = http.client.HTTPConnection("127.0.0.1", server.server_port)
    connection.request("HEAD", path)
    response = connection.getresponse()
    connection.close()
    assert response.status == 200, path
    return {name: response.getheader(name) for name in NAMES}


def paths(dist: Path) -> list[str]:
    """The address of the page, and those of all files."""
    files = [
        path.relative_to(dist).as_posix() for path in dist.rglob("*") if path.is_file() and path.suffix not in SQUEEZED
    ]
    return ["/", *(f"/{name}" for name in files if name not in HOST_FILES)]


@pytest.mark.parametrize(("name", "read"), [*zip(HOST_FILES, (by_path, apache, nginx), strict=True)], ids=HOST_FILES)
def test_a_host_is_told_to_send_what_our_own_server_sends(
    dist: Path, server, name: str, read: Callable[[str, str], dict]
):
    text = (dist / name).read_text("utf-8")
    assert {path: read(text, path) for path in paths(dist)} == {path: sent(server, path) for path in paths(dist)}


@pytest.mark.parametrize("name", HOST_FILES[1:])
def test_server_formats_hold_below_any_path(dist: Path, server, name: str):
    text, read = (dist / name).read_text("utf-8"), {".htaccess": apache}.get(name, nginx)
    for path in paths(dist):
        assert read(text, f"/some/where{path}") == sent(server, path)


@pytest.mark.parametrize("ending", [".mjs", ".js", ".wasm", ".webmanifest"])
def test_types_that_hosts_may_not_know_are_named(dist: Path, ending: str):
    kind = serving.TYPES[ending].split(";")[0]
    assert f"AddType {kind} {ending}\n" in (dist / ".htaccess").read_text("utf-8")
    assert re.search(
        rf"^  {re.escape(kind)}(?: \w+)* {ending[1:]}[ ;]",
        (dist / "nginx-headers.conf").read_text("utf-8"),
        re.MULTILINE,
    )


def test_nothing_of_them_breaks_a_line_or_a_quotation():
    assert all('"' not in value and "\n" not in value for value in HEADERS.values())


def test_a_copy_of_the_folder_has_the_hidden_file_too(dist: Path, tmp_path: Path):
    copy = shutil.copytree(dist, tmp_path / "copy", ignore=shutil.ignore_patterns("*-*"))
    assert (Path(copy) / ".htaccess").is_file()
