"""The server: types, policy, caching, squeezed copies, and nothing from outside its folder."""

import gzip
import http.client
import socket
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from steps import serving
from steps.console import Stop
from steps.policy import HEADERS

HASHED = "app-0123456789abcdef"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A small distribution, and a file outside it."""
    (tmp_path / "secret.txt").write_text("not for you")
    dist = tmp_path / "dist"
    (dist / HASHED).mkdir(parents=True)
    (dist / "index.html").write_text("<p>page")
    (dist / HASHED / "main.mjs").write_text("plain")
    (dist / HASHED / "main.mjs.gz").write_bytes(gzip.compress(b"plain", mtime=0))
    (dist / HASHED / "main.mjs.br").write_bytes(b"brotli")
    (dist / HASHED / "code.wasm").write_bytes(b"\0asm")
    (dist / ".htaccess").write_text("for the host")
    return dist


@pytest.fixture
def server(folder: Path) -> Iterator[serving.ThreadingHTTPServer]:
    """A server of it below /mat/."""
    with serving.listening(folder, 0, "/mat/") as running:
        threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
        yield running
        running.shutdown()


def get(server, path: str, **headers: str) -> tuple[http.client.HTTPResponse, bytes]:
    """The response to one request, and its content."""
    connection = http.client.HTTPConnection("127.0.0.1", server.server_port)
    connection.request("GET", path, headers={name.replace("_", "-"): value for name, value in headers.items()})
    response = connection.getresponse()
    content = response.read()
    connection.close()
    return response, content


@pytest.mark.parametrize(
    ("path", "type_"),
    [
        ("/mat/", "text/html; charset=utf-8"),
        ("/mat/?plan=1", "text/html; charset=utf-8"),
        (f"/mat/{HASHED}/main.mjs", "text/javascript; charset=utf-8"),
        (f"/mat/{HASHED}/code.wasm", "application/wasm"),
    ],
)
def test_each_file_has_its_type_and_every_careful_header(server, path: str, type_: str):
    response, _ = get(server, path)
    assert (response.status, response.getheader("Content-Type")) == (200, type_)
    assert {name: response.getheader(name) for name in HEADERS} == HEADERS
    assert "'unsafe" not in HEADERS["Content-Security-Policy"]
    assert "frame-ancestors 'none'" in HEADERS["Content-Security-Policy"]


def test_hashed_files_may_be_kept_for_good_and_the_rest_is_asked_for_again(server):
    assert "immutable" in get(server, f"/mat/{HASHED}/main.mjs")[0].getheader("Cache-Control")
    assert get(server, "/mat/index.html")[0].getheader("Cache-Control") == "no-cache"


@pytest.mark.parametrize(
    ("accepted", "encoding", "content"),
    [
        ("", None, b"plain"),
        ("identity", None, b"plain"),
        ("gzip, deflate", "gzip", gzip.compress(b"plain", mtime=0)),
        ("gzip, br;q=0.5", "br", b"brotli"),
    ],
)
def test_the_smallest_copy_that_the_browser_takes_is_sent(server, accepted: str, encoding: str | None, content: bytes):
    response, found = get(server, f"/mat/{HASHED}/main.mjs", Accept_Encoding=accepted)
    assert (response.getheader("Content-Encoding"), found[10:]) == (encoding, content[10:])
    assert response.getheader("Vary") == "Accept-Encoding"


def test_what_the_browser_has_is_not_sent_again(server):
    etag = get(server, "/mat/")[0].getheader("ETag")
    response, content = get(server, "/mat/", If_None_Match=etag)
    assert (response.status, content) == (304, b"")


def test_the_head_of_a_file_has_its_length_and_no_content(server):
    with socket.create_connection(("127.0.0.1", server.server_port)) as connection:
        connection.sendall(b"HEAD /mat/ HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    head, content = answer.split(b"\r\n\r\n")
    assert (b"Content-Length: 7" in head, content) == (True, b"")


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/mat/no-such-file",
        "/mat/../secret.txt",
        "/mat/%2e%2e/secret.txt",
        "/mat/a%00b",
        "/mat/.htaccess",
        "/mat//etc/passwd",
        f"/mat/{HASHED}/",
    ],
)
def test_nothing_else_is_given_away(server, path: str):
    assert get(server, path)[0].status == 404


def test_the_next_free_port_is_taken(folder: Path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with serving.listening(folder, port) as server:
            assert port < server.server_port < port + serving.PORTS_TRIED


def test_no_free_port_is_told_in_one_line(folder: Path, monkeypatch):
    monkeypatch.setattr(serving, "PORTS_TRIED", 1)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(Stop, match="--port"):
            serving.listening(folder, taken.getsockname()[1])
