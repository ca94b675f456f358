"""`serve --hall`: the page and one plan for everyone nearby, without any network beyond the room."""

import json
import re
import sys
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from . import hallcode
from .addresses import addresses
from .certificate import served_by
from .console import Stop, say
from .hallserver import HallServer
from .places import DIST
from .serving import bound
from .shelf import Shelf

PLAN = "hall-plan.json"
LARGEST_PLAN = 1_000_000  # bytes
#: Where the page takes in the plan that the hall gives out.
_TO_PLAN = "#plan/hall"
_FILES = 2048  # that this program may have open: each connection is one
_HOST = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?")
_PLAN_MEND = "save the plan from the page again and name that file"


@dataclass(frozen=True)
class Hall:
    """What was asked for on the command line."""

    port: int
    plan: Path | None = None
    certificate: Path | None = None
    key: Path | None = None
    address: str | None = None


def serve(hall: Hall, folder: Path = DIST) -> None:
    """Serves the folder and the plan to everyone nearby until interrupted, and tells how to get there."""
    _allow_files()
    with opened(hall, folder) as server:
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            say("stopped")


def opened(hall: Hall, folder: Path) -> HallServer:
    """The hall's server, listening, after telling its addresses and showing the code of the first."""
    shelf = Shelf(folder, {PLAN: plan(hall.plan)} if hall.plan else {})
    context, names = served_by(hall.certificate, hall.key) if hall.certificate else (None, [])
    hosts = reached_by(hall.address, names, bool(context))
    server = bound(hall.port, lambda tried: HallServer(tried, shelf, context))
    page = _TO_PLAN if hall.plan else ""
    urls = [_url(host, server.server_port, bool(context), page) for host in hosts]
    code = _code(urls[0])
    shelf.add(hallcode.PAGE, hallcode.page(code, urls[0]).encode())
    shelf.add(hallcode.STYLE, hallcode.CSS.encode())
    _tell(urls, hall.plan, code)
    # By a certificate it is trusted under its name alone.
    own = _url(hosts[0] if context else "127.0.0.1", server.server_port, bool(context), hallcode.PAGE)
    say(f"the same for this screen or a projector: {own}")
    return server


def plan(path: Path) -> bytes:
    """The content of a plan's file, as it is. Stop where the page could not read it."""
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST_PLAN + 1)
    except OSError as error:
        raise Stop(f"the plan {path} cannot be read ({error.strerror}): {_PLAN_MEND}") from None
    if len(content) > LARGEST_PLAN:
        raise Stop(f"the plan {path} is larger than 1 MB, which no plan is: {_PLAN_MEND}")
    if not _is_plan(content):
        raise Stop(f"{path} is no plan of Matside: {_PLAN_MEND}")
    return content


def _is_plan(content: bytes) -> bool:
    try:
        told = json.loads(content.decode("utf-8-sig"), parse_constant=_no_number)
    except (ValueError, RecursionError):
        return False
    return isinstance(told, dict) and type(told.get("matside")) is int


def _no_number(name: str) -> None:
    raise ValueError(f"{name} is not JSON")


def reached_by(chosen: str | None, names: Sequence[str], secure: bool) -> list[str]:
    """The names and addresses to tell, the one that the code leads to first. Stop where there is none.

    >>> reached_by("10.0.0.2", ["hall.example.org"], secure=True)
    ['10.0.0.2', 'hall.example.org']
    """
    if chosen is not None and not _HOST.fullmatch(chosen):
        raise Stop(f"--address {chosen}: give a name or an IPv4 address alone, such as 192.168.4.1")
    found = [*([chosen] if chosen else []), *(names if secure else addresses())]
    if found:
        return list(dict.fromkeys(found))
    if secure:
        raise Stop("the certificate has no whole name in it: say by --address which of its names is this machine's")
    raise Stop("this machine is in no network: join the hall's wifi or turn on its hotspot, then start again")


def _url(host: str, port: int, secure: bool, page: str = "") -> str:
    """An address as people type it.

    >>> _url("10.0.0.2", 8000, False), _url("hall.example.org", 443, True, "hall.html")
    ('http://10.0.0.2:8000/', 'https://hall.example.org/hall.html')
    """
    scheme, usual = ("https", 443) if secure else ("http", 80)
    return f"{scheme}://{host}{'' if port == usual else f':{port}'}/{page}"


def _code(url: str) -> hallcode.Rows:
    try:
        return hallcode.drawn(url)
    except Stop as stop:
        say(f"there is no code to show, only the address: {stop}")
        return []


def _tell(urls: Sequence[str], plan: Path | None, code: hallcode.Rows) -> None:
    say(f"Matside is in the hall, with {f'the plan {plan.name}' if plan else 'no plan'} (stop with Ctrl+C), at")
    for url in urls:
        print(f"    {url}", flush=True)
    with suppress(UnicodeEncodeError):  # where a terminal has no such signs, the page has the code
        print(hallcode.in_terminal(code), flush=True)


def _allow_files() -> None:
    """Lets this program have as many connections as it takes; some systems allow 256 files unless they are asked."""
    if sys.platform == "win32":
        return
    import resource

    allowed, most = resource.getrlimit(resource.RLIMIT_NOFILE)
    if allowed != resource.RLIM_INFINITY and allowed < _FILES:
        wanted = _FILES if most == resource.RLIM_INFINITY else min(_FILES, most)
        with suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, most))
