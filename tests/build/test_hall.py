"""The hall: forty phones at once, nothing but the page and the plan, and whoever asks too much waits."""

import asyncio
import base64
import gzip
import hashlib
import http.client
import json
import os
import random
import re
import shutil
import socket
import ssl
import struct
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager, suppress
from http import HTTPStatus
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from many_phones import CONNECTIONS, visit

from steps import addresses, commands, distribution, hall, hallcode, limits, precache
from steps.certificate import served_by
from steps.console import Stop
from steps.hallserver import LONGEST_HEAD, HallHandler, HallServer, _Arriving
from steps.limits import Doorkeeper, Limits, Place
from steps.places import NODE_MODULES, ROOT, tool
from steps.policy import HEADERS
from steps.shelf import Shelf

HASHED = "app-0123456789abcdef"
PHONES = 40
SECRET = b"not for you"
LARGE = 3_000_000  # bytes: more than lies between two ends that do not take it


@pytest.fixture
def built(tmp_path: Path) -> Path:
    """A small distribution."""
    return small(tmp_path)


def small(around: Path) -> Path:
    """Makes one."""
    made = random.Random(60)
    dist = around / "dist"
    (dist / HASHED).mkdir(parents=True)
    for number in range(24):
        content = made.randbytes(made.randrange(200, 30_000))
        (dist / HASHED / f"part-{number}.js").write_bytes(content)
        (dist / HASHED / f"part-{number}.js.gz").write_bytes(gzip.compress(content, 1))
    (dist / "index.html").write_text("<p>page")
    (dist / "_headers").write_bytes(SECRET)
    return dist


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """The same with a large file, and around it and in it what is nobody's business."""
    around = tmp_path_factory.mktemp("hall")
    dist = small(around)
    (around / "secret.txt").write_bytes(SECRET)
    for name in (".htaccess", ".hidden", ".git/config"):
        (dist / name).parent.mkdir(exist_ok=True)
        (dist / name).write_bytes(SECRET)
    (dist / "large.txt").write_bytes(b"x" * LARGE)
    (dist / "led-out.txt").symlink_to(around / "secret.txt")
    (dist / "led-out").symlink_to(around)
    return dist


class Clock:
    """A clock that stands still until it is set."""

    now = 100.0

    def __call__(self) -> float:
        return self.now


@contextmanager
def serving(folder: Path, made: dict[str, bytes] | None = None, **settings) -> Iterator[HallServer]:
    """The hall's server of a folder, running."""
    with HallServer(0, Shelf(folder, made or {}), **settings) as server:
        running = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        running.start()
        try:
            yield server
        finally:
            server.shutdown()
            running.join()


@pytest.fixture(scope="module")
def server(folder: Path) -> Iterator[HallServer]:
    """The hall's server of the small distribution."""
    with serving(folder) as running:
        yield running


def get(server: HallServer, path: str, **headers: str) -> tuple[http.client.HTTPResponse, bytes]:
    """The response to one request by a connection of its own, and its content."""
    with closing(http.client.HTTPConnection("127.0.0.1", server.server_port)) as connection:
        connection.request("GET", path, headers={name.replace("_", "-"): value for name, value in headers.items()})
        response = connection.getresponse()
        return response, response.read()


def say(server: HallServer, *said: bytes) -> bytes:
    """All that comes back for these very bytes, until the server ends the connection."""
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=20) as connection:
        for part in said:
            connection.sendall(part)
        return all_of(connection)


def all_of(connection: socket.socket) -> bytes:
    """What comes until the other end closes; that it is cut off comes to the same."""
    got = b""
    with suppress(ConnectionError):
        while part := connection.recv(65536):
            got += part
    return got


def until(true) -> None:
    """Waits for what is about to be so."""
    for _ in range(2000):
        if true():
            return
        time.sleep(0.005)
    pytest.fail("it did not come")


# --- Many phones --------------------------------------------------------------------------------------------------


def listed(folder: Path) -> dict[str, str]:
    """The page and every file of the service worker's list, by path, with the SHA-256 that the list has."""
    entries = {entry["url"]: entry["integrity"].removeprefix("sha256-") for entry in precache.entries(folder)}
    files = {f"/{url}": base64.b64decode(integrity).hex() for url, integrity in entries.items()}
    return {"/": files["/index.html"], **files}


def squeezed(folder: Path, encoding: str, ending: str) -> dict[str, str]:
    """The same with the SHA-256 of the squeezed copies, where there are any."""
    files = {path: folder / (path.removeprefix("/") or "index.html") for path in listed(folder)}
    copies = {path: Path(f"{file}{ending}") for path, file in files.items()}
    sent = {path: copies[path] if copies[path].exists() else file for path, file in files.items()}
    return {path: hashlib.sha256(file.read_bytes()).hexdigest() for path, file in sent.items()}


def alone(work):
    """Runs asynchronous work in a thread of its own: in this one a browser of another test may have a loop."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, work).result()


def test_forty_phones_behind_one_address_get_every_byte_at_once(built: Path):
    expected = listed(built)
    assert len(expected) > 24
    with serving(built) as server:
        right = alone(visit(server.server_port, PHONES, expected))
        until(lambda: server.door.inside == 0)
    assert right == PHONES * len(expected)


def test_a_phone_that_takes_squeezed_files_gets_them(server, folder: Path):
    response, content = get(server, f"/{HASHED}/part-3.js", Accept_Encoding="gzip")
    assert response.getheader("Content-Encoding") == "gzip"
    assert gzip.decompress(content) == (folder / HASHED / "part-3.js").read_bytes()


@pytest.mark.long
@pytest.mark.parametrize(("encoding", "ending"), [("identity", ""), ("br", ".br"), ("gzip", ".gz")])
def test_forty_phones_get_every_byte_of_the_real_page_at_once(dist: Path, encoding: str, ending: str):
    expected = squeezed(dist, encoding, ending) if ending else listed(dist)
    with serving(dist) as server:
        assert alone(visit(server.server_port, PHONES, expected, encoding)) == PHONES * len(expected)


def test_forty_phones_behind_one_address_reach_no_limit(dist: Path):
    usual = Limits()
    files = len(precache.entries(dist)) + max(map(len, precache.languages(dist).values()))
    assert PHONES * CONNECTIONS <= usual.each < usual.everyone <= HallServer.request_queue_size
    # By the page and once more by the service worker, and those files besides that the hall adds.
    assert PHONES * 2 * (files + 10) <= usual.burst


def test_what_was_built_when_it_began_is_what_everyone_gets(built: Path):
    with serving(built) as server:
        (built / "index.html").write_text("<p>another")
        assert get(server, "/")[1] == b"<p>page"


# --- Limits -------------------------------------------------------------------------------------------------------


class Bucket:
    """A bucket of tokens by its definition, for one address that is never forgotten (common practice, no published source)."""

    def __init__(self, clock: Clock, usual: Limits) -> None:
        self.clock, self.usual, self.taken = clock, usual, []

    def may(self) -> bool:
        """Whether there was a whole token, told from all that was ever taken."""
        left, at = self.usual.burst, 0.0
        for moment in self.taken:
            left = min(self.usual.burst, left + (moment - at) * self.usual.per_second) - 1
            at = moment
        enough = min(self.usual.burst, left + (self.clock.now - at) * self.usual.per_second) >= 1
        if enough:
            self.taken.append(self.clock.now)
        return enough


# Times are multiples of an eighth, so that they add up exactly.
STEPS = st.lists(st.tuples(st.sampled_from("aaabcd"), st.sampled_from([0, 0, 0, 1, 4, 8, 80])), max_size=60)


@pytest.mark.parametrize("many", [2, 1000])
@given(steps=STEPS)
@settings(max_examples=60, derandomize=True, deadline=None)
def test_requests_are_let_in_as_a_bucket_of_tokens_has_it(many: int, steps):
    clock, usual = Clock(), Limits(burst=3, per_second=0.5)
    door = Doorkeeper(usual, clock)
    buckets: dict[str, Bucket] = {}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(limits, "_MANY", many)  # of two addresses, one is forgotten all the time
        for address, eighths in steps:
            clock.now += eighths / 8
            may = buckets.setdefault(address, Bucket(clock, usual)).may()
            assert (door.wait(address) == 0) == may


def test_who_asks_too_much_is_told_when_to_come_again_and_may_then(folder: Path):
    clock = Clock()
    with serving(folder, door=Doorkeeper(Limits(burst=3, per_second=0.25), clock)) as server:
        assert [get(server, "/")[0].status for _ in range(4)] == [200, 200, 200, 429]
        response, content = get(server, "/")
        assert (response.getheader("Retry-After"), response.getheader("Connection")) == ("4", "close")
        assert b"try again" in content
        assert {name: response.getheader(name) for name in HEADERS} == HEADERS
        clock.now += 4
        assert [get(server, "/")[0].status for _ in range(2)] == [200, 429]


@given(st.lists(st.tuples(st.booleans(), st.sampled_from("abc")), max_size=60))
@settings(max_examples=60, derandomize=True, deadline=None)
def test_connections_are_counted_by_address_and_altogether(steps):
    usual = Limits(everyone=4, each=2, told=1)
    door = Doorkeeper(usual, Clock())
    there: list[tuple[str, Place]] = []
    for comes, address in steps:
        if comes:
            inside = [one for one, place in there if place is Place.INSIDE]
            told = any(place in (Place.CROWDED, Place.FULL) for _, place in there)
            crowded, full = inside.count(address) == usual.each, len(inside) == usual.everyone
            place = door.enter(address)
            refused = Place.OUTSIDE if told else Place.CROWDED if crowded else Place.FULL
            assert place is (refused if crowded or full else Place.INSIDE)
            there.append((address, place))
        elif there:
            door.leave(*there.pop(0))
        assert door.inside == sum(place is Place.INSIDE for _, place in there)


@pytest.mark.parametrize(("few", "status"), [({"each": 2}, 429), ({"everyone": 2}, 503)])
def test_too_many_connections_are_told_so_and_beyond_that_closed(folder: Path, few: dict[str, int], status: int):
    with serving(folder, door=Doorkeeper(Limits(**few, told=1), Clock())) as server:

        def connected() -> socket.socket:
            return socket.create_connection(("127.0.0.1", server.server_port), timeout=20)

        with connected(), connected(), connected() as told, connected() as closed:
            assert all_of(closed) == b""
            told.sendall(b"GET / HTTP/1.1\r\nHost: hall\r\n\r\n")
            answer = all_of(told)
            assert answer.startswith(b"HTTP/1.1 %d " % status)
            assert b"Retry-After: " in answer
        until(lambda: server.door.inside == 0)
        assert get(server, "/")[0].status == 200


# --- Nothing else of the machine ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "target",
    [
        b"/../secret.txt",
        b"/%2e%2e/secret.txt",
        b"/%2E%2E%2Fsecret.txt",
        b"/..%2fsecret.txt",
        b"/" + HASHED.encode() + b"/../../secret.txt",
        b"//secret.txt",
        b"//../secret.txt",
        b"/..\\secret.txt",
        b"/%5c..%5csecret.txt",
        b"\\..\\secret.txt",
        b"/index.html%00",
        b"/%00",
        b"/etc/passwd",
        b"//etc/passwd",
        b"/file:///etc/passwd",
        b"file:///etc/passwd",
        b"/C:/Windows/win.ini",
        b"http://[",
        b"http://hall/../secret.txt",
        b"*",
        b"..",
        b"/%ff%fe",
        b"/led-out.txt",
        b"/led-out/secret.txt",
        b"/.htaccess",
        b"/.hidden",
        b"/.git/config",
        b"/_headers",
        b"/" + HASHED.encode(),
        b"/" + HASHED.encode() + b"/",
        b"/" + HASHED.encode() + b"/part-1.js.gz",
        b"/hall-plan.json",
        b"/" + b"a" * 5000,
    ],
)
def test_nothing_but_the_pages_files_is_given(server, target: bytes):
    answer = say(server, b"GET " + target + b" HTTP/1.1\r\nHost: hall\r\nConnection: close\r\n\r\n")
    assert answer.startswith((b"HTTP/1.1 404 ", b"HTTP/1.1 400 ")), answer[:80]
    head, content = answer.split(b"\r\n\r\n", 1)
    assert SECRET not in content and len(content) < 100
    assert b"Content-Security-Policy: " in head


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "PROPFIND", "get"])
def test_nothing_is_taken_and_nothing_changed(server, folder: Path, method: str):
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    sent = b"GET /second HTTP/1.1\r\n\r\n"
    length = (
        f"{method} /index.html HTTP/1.1\r\nHost: hall\r\nExpect: 100-continue\r\nContent-Length: {len(sent)}\r\n\r\n"
    )
    answer = say(server, length.encode(), sent)
    assert answer.startswith((b"HTTP/1.1 501 ", b"HTTP/1.1 405 "))
    assert answer.count(b"HTTP/1.1") == 1  # no 100 Continue, and what was sent is not read as a request
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("body", [b"Content-Length: 27", b"Transfer-Encoding: chunked"])
def test_what_follows_a_request_is_not_read_as_another(server, body: bytes):
    answer = say(server, b"GET / HTTP/1.1\r\nHost: hall\r\n" + body + b"\r\n\r\nGET /second HTTP/1.1\r\n\r\n")
    assert answer.startswith(b"HTTP/1.1 200 ")
    assert answer.count(b"HTTP/1.1") == 1


def test_a_range_is_not_cut_out(server):
    response, content = get(server, f"/{HASHED}/part-1.js", Range="bytes=2-5")
    assert (response.status, response.getheader("Accept-Ranges")) == (200, None)
    assert len(content) == int(response.getheader("Content-Length")) > 100


def test_over_plain_http_nothing_is_sent_that_wants_https(server):
    # Either would lead the page's requests to an address where nobody answers.
    headers = get(server, "/")[0].headers
    assert "upgrade-insecure-requests" not in headers["Content-Security-Policy"]
    assert "Strict-Transport-Security" not in headers


def test_a_file_is_answered_as_by_serve(server):
    response, _ = get(server, "/")
    assert {name: response.getheader(name) for name in HEADERS} == HEADERS
    assert response.getheader("Cache-Control") == "no-cache"
    assert "immutable" in get(server, f"/{HASHED}/part-1.js")[0].getheader("Cache-Control")
    assert get(server, "/", If_None_Match=response.getheader("ETag"))[0].status == 304


# --- Rude and slow ------------------------------------------------------------------------------------------------

GOOD = b"GET / HTTP/1.1\r\nHost: hall\r\n"


@pytest.mark.parametrize(
    ("said", "status"),
    [
        (b"GET /" + b"a" * 2 * LONGEST_HEAD, 414),
        (GOOD + b"".join(b"X-%d: 1\r\n" % number for number in range(150)) + b"\r\n", 431),
        (GOOD + b"X: " + b"a" * 2 * LONGEST_HEAD + b"\r\n\r\n", 431),
        (GOOD + b"".join(b"X-%d: %s\r\n" % (number, b"a" * 1000) for number in range(60)) + b"\r\n", 431),
        (b"GET / HTTP/9.9\r\n\r\n", 505),
        (b"\x16\x03\x01\x02\x00\x01\x00 nonsense\r\n\r\n", 400),
        (b"GET\r\n\r\n", 400),
    ],
)
def test_a_head_that_is_too_long_or_none_is_refused(server, said: bytes, status: int):
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=20) as connection:
        with suppress(ConnectionError):  # it does not wait for all of it
            connection.sendall(said)
        answer = all_of(connection)
    # Where much is left unread, a system may drop the answer with the connection.
    lost = len(said) > LONGEST_HEAD and not answer
    assert lost or answer.startswith(b"HTTP/1.1 %d " % status), answer[:80]
    assert b"HTTP/1.1 200" not in answer
    assert get(server, "/")[0].status == 200


@pytest.mark.parametrize("drops", [b"", b"GET / HTTP/1.1\r\nHost: h", b"\r\n"])
def test_a_silent_client_is_let_go(folder: Path, drops: bytes):
    with serving(folder, patience=0.2) as server:
        assert say(server, drops) == b""
        until(lambda: server.door.inside == 0)


def test_a_client_that_drips_is_let_go_as_well(folder: Path, capfd):
    with serving(folder, patience=0.2) as server:
        with socket.create_connection(("127.0.0.1", server.server_port), timeout=20) as connection:
            connection.sendall(GOOD)
            with pytest.raises(ConnectionError):
                for _ in range(2000):  # a header that is always about to end
                    connection.sendall(b"X")
                    time.sleep(0.01)
        until(lambda: server.door.inside == 0)
    assert capfd.readouterr() == ("", "")


def test_nothing_is_read_after_the_deadline():
    near, far = socket.socketpair()
    with near, far:
        far.sendall(b"GET")
        arriving = _Arriving(near)
        arriving.begin(time.monotonic() - 1)
        with pytest.raises(TimeoutError):
            arriving.readinto(bytearray(8))
        arriving.begin(time.monotonic() + 60)
        assert arriving.readinto(bytearray(8)) == 3


def test_a_client_that_takes_nothing_is_let_go(folder: Path):
    with serving(folder, patience=0.2) as server, socket.socket() as connection:
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        connection.connect(("127.0.0.1", server.server_port))
        connection.sendall(b"GET /large.txt HTTP/1.1\r\nHost: hall\r\n\r\n")
        until(lambda: server.door.inside == 1)
        until(lambda: server.door.inside == 0)


class Taking:
    """An end that takes what is sent, and notes in what pieces and how long each may take."""

    def __init__(self) -> None:
        self.pieces: list[bytes] = []
        self.times: list[float] = []

    def write(self, piece: bytes) -> None:
        """Takes it."""
        self.pieces.append(bytes(piece))

    def settimeout(self, seconds: float) -> None:
        """Notes it."""
        self.times.append(seconds)


def test_a_client_that_takes_it_slowly_has_time_for_every_piece():
    # A socket's time is for all that one call sends (Python's documentation of `socket.sendall`).
    handler, end = HallHandler.__new__(HallHandler), Taking()
    handler.connection = handler.wfile = end
    handler.requestline, handler.request_version, handler.command, handler._patience = "", "HTTP/1.1", "GET", 30.0
    content = random.Random(1).randbytes(200_001)
    handler._send(HTTPStatus.OK, {}, content)
    head, *pieces = end.pieces
    assert head.startswith(b"HTTP/1.1 200 ") and b"".join(pieces) == content
    assert max(map(len, pieces)) <= 64 * 1024
    assert end.times == [30.0]


def test_a_connection_that_breaks_is_not_worth_a_word(folder: Path, capfd):
    with serving(folder) as server:
        for said in (b"", b"GET /large.txt HTTP/1.1\r\nHost: hall\r\n\r\n", b"GET / HT"):
            connection = socket.create_connection(("127.0.0.1", server.server_port))
            connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))  # ends with a reset
            connection.sendall(said)
            until(lambda: server.door.inside == 1)
            connection.close()
            until(lambda: server.door.inside == 0)
    assert capfd.readouterr() == ("", "")


def test_anything_else_that_goes_wrong_is_one_line(folder: Path, monkeypatch, capfd):
    monkeypatch.setattr(Shelf, "find", lambda *_: 1 / 0)
    with serving(folder) as server:
        assert say(server, GOOD + b"\r\n") == b""
    out, error = capfd.readouterr()
    assert (out.count("\n"), "ZeroDivisionError" in out, error) == (1, True, "")


# --- The plan -----------------------------------------------------------------------------------------------------


def test_a_plan_is_given_as_it_is_and_nothing_else_of_its_file(folder: Path, tmp_path: Path):
    content = '{"matside": 3, "who": "Änne"}\n'.encode()
    path = tmp_path / "our secret name.json"
    path.write_bytes(content)
    with serving(folder, {hall.PLAN: hall.plan(path)}) as server:
        response, given = get(server, "/hall-plan.json")
        path.write_text("changed")
        assert get(server, "/hall-plan.json")[1] == given == content
    assert (response.getheader("Cache-Control"), response.getheader("Content-Type")) == ("no-cache", "application/json")
    assert "secret" not in str(response.headers)


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"not JSON",
        b"[1]",
        b"{}",
        b'{"matside": "1"}',
        b'{"matside": true}',
        b'{"matside": 1.5}',
        b'{"matside": 1, "a": NaN}',
        b'{"matside": 1, "a": "\xff"}',
        b'{"matside": 1} {}',
        b'{"matside": 1, "a": ' + b"[" * 100_000 + b"]" * 100_000 + b"}",
        b'{"matside": 1, "a": "' + b"x" * hall.LARGEST_PLAN + b'"}',
        b'{"matside": 1}'.ljust(hall.LARGEST_PLAN + 1),
        None,
    ],
)
def test_what_is_no_plan_is_told_in_one_line(tmp_path: Path, content: bytes | None):
    path = tmp_path / "plan.json"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(Stop, match="save the plan from the page again") as stopped:
        hall.plan(path)
    assert "\n" not in str(stopped.value)


def test_a_plan_may_have_a_megabyte_and_a_mark_of_its_encoding(tmp_path: Path):
    path = tmp_path / "plan.json"
    for start in (b"", b"\xef\xbb\xbf"):
        begun = start + b'{"matside": 1, "a": "'
        path.write_bytes(begun + b"x" * (hall.LARGEST_PLAN - len(begun) - 2) + b'"}')
        assert len(hall.plan(path)) == hall.LARGEST_PLAN


# --- Addresses and the code ---------------------------------------------------------------------------------------


def test_the_addresses_are_those_of_this_machine(monkeypatch):
    # As the system's own program lists them, on Linux.
    listed = subprocess.run(["ip", "-o", "-4", "addr"], capture_output=True, text=True) if shutil.which("ip") else None
    if listed is None or listed.returncode:
        pytest.skip("no program to ask for the addresses")
    own = {line.split()[3].split("/")[0] for line in listed.stdout.splitlines()}
    wanted = {address for address in own if not address.startswith("127.")}
    assert set(addresses.addresses()) == wanted
    monkeypatch.setattr(addresses, "_routed", list)  # a hotspot leads nowhere
    assert set(addresses.addresses()) == wanted


def test_the_likeliest_address_comes_first(monkeypatch):
    monkeypatch.setattr(addresses, "_routed", lambda: ["192.168.1.5"])
    monkeypatch.setattr(addresses, "_of_interfaces", lambda: ["127.0.0.1", "169.254.8.9", "10.42.0.1", "192.168.1.5"])
    assert addresses.addresses() == ["192.168.1.5", "10.42.0.1", "169.254.8.9"]


def test_a_machine_that_cannot_be_asked_for_its_interfaces_is_asked_by_its_name(monkeypatch):
    monkeypatch.setitem(sys.modules, "fcntl", None)
    monkeypatch.setattr(addresses.os, "name", "nt")
    monkeypatch.setattr(addresses, "_routed", list)
    monkeypatch.setattr(socket, "gethostbyname_ex", lambda name: (name, [], ["192.168.137.1"]))
    assert addresses.addresses() == ["192.168.137.1"]


@pytest.mark.parametrize(
    ("chosen", "names", "secure", "told"),
    [
        (None, [], False, ["10.0.0.2", "10.0.0.3"]),
        ("10.0.0.3", [], False, ["10.0.0.3", "10.0.0.2"]),
        (None, ["hall.test"], True, ["hall.test"]),
        ("a.hall.test", ["hall.test"], True, ["a.hall.test", "hall.test"]),
    ],
)
def test_the_chosen_address_is_told_first(monkeypatch, chosen, names, secure, told):
    monkeypatch.setattr(hall, "addresses", lambda: ["10.0.0.2", "10.0.0.3"])
    assert hall.reached_by(chosen, names, secure) == told


@pytest.mark.parametrize(
    ("chosen", "secure", "mend"),
    [
        (None, False, "hotspot"),
        (None, True, "--address"),
        ("http://a", False, "alone"),
        ("a/b", False, "alone"),
        ("a:80", True, "alone"),
        ("", False, "alone"),
        ("<b>", False, "alone"),
    ],
)
def test_a_machine_that_nobody_reaches_says_what_to_do(monkeypatch, chosen, secure: bool, mend: str):
    monkeypatch.setattr(hall, "addresses", list)
    with pytest.raises(Stop, match=mend):
        hall.reached_by(chosen, [], secure)


ADDRESS = "http://192.168.4.1:8000/#plan/hall"
HALVES = {" ": "..", "▀": "#.", "▄": ".#", "█": "##"}


@pytest.fixture(scope="module")
def code() -> hallcode.Rows:
    """The code of an address."""
    return hallcode.drawn(ADDRESS)


def read(rows: hallcode.Rows) -> str:
    """What another reader of codes, that of the npm package `qr`, makes of it, eight pixels a module."""
    script = """
        import decode from "qr/decode.js";
        const rows = JSON.parse(process.argv[1]);
        const width = rows[0].length * 8;
        const data = new Uint8Array(width * rows.length * 8 * 4).fill(255);
        for (let at = 0; at < data.length; at += 4) {
          const [x, y] = [(at / 4) % width, Math.floor(at / 4 / width)];
          if (rows[y >> 3][x >> 3] === "#") data.fill(0, at, at + 3);
        }
        console.log(decode({ width, height: rows.length * 8, data }));
    """
    command = [tool("node"), "--input-type=module", "-e", script, json.dumps(rows)]
    done = subprocess.run(command, cwd=NODE_MODULES.parent, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


@pytest.mark.skipif(not (NODE_MODULES / "qr").exists(), reason="no other reader of codes is installed")
def test_another_reader_reads_the_code(code):
    assert read(code) == ADDRESS


def test_a_code_has_its_light_border_and_its_three_corners(code):
    # ISO/IEC 18004 [mem]: four light modules all round, a pattern of seven in three corners, an even 4 · version + 17.
    assert (len(code) - 8 - 17) % 4 == 0 and {len(row) for row in code} == {len(code)}
    assert {*code[:4], *code[-4:]} == {"." * len(code)}
    assert all(row.startswith("....") and row.endswith("....") for row in code)
    top, first, second = code[4], code[5], code[6]
    assert (top[4:11], first[4:11], second[4:11]) == ("#######", "#.....#", "#.###.#")
    assert (top[-11:-4], code[-5][4:11]) == ("#######", "#######")
    assert code[-5][-11:-4] != "#######"


def test_the_terminal_and_the_page_show_that_code(code):
    lines = hallcode.in_terminal(code).split("\n")
    shown = [line.removeprefix("\x1b[30;107m").removesuffix("\x1b[0m") for line in lines]
    rows = ["".join(HALVES[sign][half] for sign in line) for line in shown for half in (0, 1)]
    assert rows[: len(code)] == code
    assert all(row == "." * len(code) for row in rows[len(code) :])
    assert drawn_by(hallcode.page(code, ADDRESS)) == code


def drawn_by(page: str) -> hallcode.Rows:
    """The modules that the page's path fills, by the rules of SVG's path data [mem]."""
    size = int(re.search(r'viewBox="0 0 (\d+) \1"', page)[1])
    grid = [["."] * size for _ in range(size)]
    for x, y, length, back in re.findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", re.search(r'"#000" d="([^"]*)"', page)[1]):
        assert length == back
        grid[int(y)][int(x) : int(x) + int(length)] = "#" * int(length)
    return ["".join(row) for row in grid]


def test_the_page_with_the_code_keeps_to_the_policy(code):
    page = hallcode.page(code, ADDRESS)
    assert "style=" not in page and "<style" not in page and "<script" not in page
    assert page.count("href=") == 1 and f'href="{hallcode.STYLE}"' in page
    assert f"<p>{ADDRESS}</p>" in page


@pytest.fixture
def told(folder: Path, tmp_path: Path, monkeypatch, capsys):
    """What the hall tells when it opens, and what it then gives for a path."""

    def opened(path: str, **asked) -> tuple[str, int, bytes]:
        monkeypatch.setattr(hall, "addresses", lambda: ["192.168.4.1", "10.0.0.3"])
        with hall.opened(hall.Hall(0, **asked), folder) as server:
            running = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
            running.start()
            response, content = get(server, path)
            server.shutdown()
            running.join()
        return capsys.readouterr().out.replace(f":{server.server_port}/", ":8000/"), response.status, content

    return opened


def test_the_hall_tells_how_to_get_there(told, tmp_path: Path):
    (tmp_path / "plan.json").write_text('{"matside": 1}')
    out, status, content = told("/hall-plan.json", plan=tmp_path / "plan.json")
    assert (status, content) == (200, b'{"matside": 1}')
    lines = out.splitlines()
    assert "the plan plan.json" in lines[0] and str(tmp_path) not in out
    assert [line.strip() for line in lines[1:3]] == [ADDRESS, "http://10.0.0.3:8000/#plan/hall"]
    assert lines[3].startswith("\x1b[30;107m  ") and len(lines) > 18
    assert lines[-1].endswith("http://127.0.0.1:8000/hall.html")


@pytest.mark.parametrize(("page", "type_"), [("/hall.html", b"<svg"), ("/hall.css", b"svg {")])
def test_the_page_with_the_code_is_given(told, page: str, type_: bytes):
    out, status, content = told(page)
    assert status == 200 and type_ in content
    assert "no plan" in out


def test_without_what_draws_codes_the_address_does(told, monkeypatch):
    def lacking(text: str) -> None:
        raise Stop("there is none")

    monkeypatch.setattr(hallcode, "drawn", lacking)
    out, status, content = told("/hall.html")
    assert "there is no code to show, only the address: there is none" in out and "http://192.168.4.1:8000/" in out
    assert status == 200 and b"<svg" not in content and b"192.168.4.1" in content


# --- HTTPS --------------------------------------------------------------------------------------------------------


def openssl(*arguments: str | Path, cwd: Path) -> None:
    """Runs openssl, which has to be there."""
    if not shutil.which("openssl"):
        pytest.skip("no openssl to make certificates with")
    done = subprocess.run(["openssl", *map(str, arguments)], cwd=cwd, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


KEY = ("-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes")


def certified(folder: Path, names: str = "DNS:localhost,DNS:*.hall.test,IP:127.0.0.1") -> tuple[Path, Path]:
    """A certificate that signed itself, and its key."""
    subject = ("-subj", "/CN=hall", "-addext", f"subjectAltName={names}")
    openssl("req", "-x509", *KEY, "-keyout", "key.pem", "-out", "own.pem", "-days", "2", *subject, cwd=folder)
    return folder / "own.pem", folder / "key.pem"


def test_https_is_spoken_to_a_phone_that_trusts_the_certificate(folder: Path, tmp_path: Path, capfd):
    certificate, key = certified(tmp_path)
    context, names = served_by(certificate, key)
    assert names == ["localhost", "127.0.0.1"]
    assert context.minimum_version is ssl.TLSVersion.TLSv1_2
    trusting = ssl.create_default_context(cafile=certificate)
    with serving(folder, context=context) as server:
        port = server.server_port
        with closing(http.client.HTTPSConnection("localhost", port, context=trusting, timeout=20)) as connection:
            for path in ("/", "/large.txt", "/"):  # by one connection
                connection.request("GET", path)
                assert connection.getresponse().read() == (folder / (path[1:] or "index.html")).read_bytes()
        with pytest.raises(ssl.SSLCertVerificationError):
            http.client.HTTPSConnection("localhost", port, context=ssl.create_default_context()).connect()
        assert say(server, GOOD + b"\r\n")[:4] != b"HTTP"  # who does not speak it is not answered
        until(lambda: server.door.inside == 0)
    assert capfd.readouterr() == ("", "")


def test_a_handshake_that_does_not_come_holds_nobody(folder: Path, tmp_path: Path):
    certificate, key = certified(tmp_path)
    trusting = ssl.create_default_context(cafile=certificate)
    with (
        serving(folder, context=served_by(certificate, key)[0], patience=0.3) as server,
        socket.create_connection(("127.0.0.1", server.server_port), timeout=20) as silent,
    ):
        until(lambda: server.door.inside == 1)
        speaking = http.client.HTTPSConnection("localhost", server.server_port, context=trusting, timeout=20)
        with closing(speaking):
            speaking.request("GET", "/")
            assert speaking.getresponse().read() == b"<p>page"
        assert all_of(silent) == b""


def test_the_key_may_be_in_the_same_file(tmp_path: Path):
    certificate, key = certified(tmp_path, "DNS:hall.test")
    both = tmp_path / "both.pem"
    both.write_bytes(key.read_bytes() + certificate.read_bytes())
    assert served_by(both)[1] == ["hall.test"]


@pytest.mark.parametrize("wrong", ["gone", "no key", "another's key", "locked", "no PEM", "expired", "a folder"])
def test_a_certificate_that_does_not_do_is_told_in_one_line(tmp_path: Path, wrong: str):
    certificate, key = certified(tmp_path)
    mend = "give --certificate a PEM file"
    if wrong == "gone":
        certificate = tmp_path / "gone.pem"
    elif wrong == "a folder":
        certificate = tmp_path
    elif wrong == "no key":
        key = None
    elif wrong == "another's key":
        openssl("ecparam", "-name", "prime256v1", "-genkey", "-noout", "-out", "key.pem", cwd=tmp_path)
    elif wrong == "locked":
        openssl("ec", "-in", "key.pem", "-out", "locked.pem", "-aes256", "-passout", "pass:sixty", cwd=tmp_path)
        key, mend = tmp_path / "locked.pem", "locked by a password"
    elif wrong == "no PEM":
        certificate.write_text("nothing")
    else:
        openssl("req", "-new", "-key", "key.pem", "-subj", "/CN=hall", "-out", "asked.pem", cwd=tmp_path)
        openssl("x509", "-req", "-in", "asked.pem", "-key", "key.pem", "-days", "-1", "-out", "own.pem", cwd=tmp_path)
        mend = "expired"
    with pytest.raises(Stop, match=mend) as stopped:
        served_by(certificate, key)
    assert "\n" not in str(stopped.value)


# --- The command --------------------------------------------------------------------------------------------------

# Every way to a network, and every program but that which draws the code, is told by Python's own audit events
# (PEP 578, and the table of events in Python's documentation). A socket that carries no connection sends nothing when
# it is told where its letters would go.
_WATCH = """
import os, socket, sys
def watch(event, given):
    if event in ("socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr", "socket.sendto") or (
        event == "socket.connect" and given[0].type != socket.SOCK_DGRAM
    ) or (event == "subprocess.Popen" and "draw_code.py" not in " ".join(map(str, given[1]))):
        print("WENT OUT", event, given[1:], flush=True)
        os._exit(9)
sys.addaudithook(watch)
sys.argv = ["build.py", "serve", "--hall", "--port", "0", "--address", "hall.test"]
import runpy
runpy.run_path("build.py", run_name="__main__")
"""


def test_once_it_is_built_the_hall_asks_no_network(dist: Path):
    if not distribution.is_up_to_date():
        pytest.skip("dist/ is not what the sources give now: run python3 build.py build")
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    command = [sys.executable, "-c", _WATCH]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, env=environment, text=True) as program:
        try:
            said = []
            for line in program.stdout:
                said.append(line)
                if "for this screen" in line:
                    break
            port = int(line.split(":")[-1].split("/")[0]) if program.poll() is None else pytest.fail("".join(said))
            with closing(http.client.HTTPConnection("127.0.0.1", port)) as connection:
                connection.request("GET", "/sw.js")
                assert connection.getresponse().read() == (dist / "sw.js").read_bytes()
        finally:
            program.terminate()
    assert "WENT OUT" not in "".join(said)
    assert any("http://" in line for line in said) and any("█" in line for line in said)


@pytest.fixture
def served(monkeypatch):
    """The halls that the command opens, with a build that does not get through."""
    opened: list[hall.Hall] = []

    def build(_parsed) -> None:
        raise Stop("no network: check it")

    monkeypatch.setattr(commands, "build", build)
    monkeypatch.setattr(hall, "serve", opened.append)
    return opened


def test_a_hall_goes_on_with_what_was_built_before(served, monkeypatch, tmp_path: Path, capsys):
    monkeypatch.setattr(commands, "DIST", tmp_path)
    asked = ["serve", "--hall", "--plan", "p.json", "--certificate", "c.pem", "--key", "k.pem", "--address", "a"]
    assert commands.main(asked, "") == 1
    assert served == []
    (tmp_path / "sw.js").write_text("built")
    assert commands.main(asked, "") == 0
    assert served == [hall.Hall(8000, Path("p.json"), Path("c.pem"), Path("k.pem"), "a")]
    out = capsys.readouterr().out
    assert "no network: check it" in out and "as it was built before" in out


@pytest.mark.parametrize(
    ("asked", "mend"),
    [
        (["serve", "--plan", "p.json"], "--plan goes with serve --hall only"),
        (["serve", "--address", "a"], "--address goes with serve --hall only"),
        (["serve", "--hall", "--key", "k.pem"], "--key goes with --certificate only"),
    ],
)
def test_what_is_for_the_hall_alone_is_told(served, capsys, asked: list[str], mend: str):
    assert commands.main(asked, "") == 1
    assert (served, mend in capsys.readouterr().out) == ([], True)
