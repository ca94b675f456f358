"""The address at which the page is public: what a code of a plan says, so that any phone's camera opens it."""

from urllib.parse import urlsplit

from .console import Stop
from .places import WORK

#: The address is remembered, so that whoever serves the page in a hall need not give it again.
KEPT = WORK / "public-address"


def public_address() -> str:
    """The address that was given last; empty where none was."""
    return KEPT.read_text("utf-8").strip() if KEPT.exists() else ""


def set_public_address(given: str | None) -> None:
    """Remembers an address; an empty one takes it away, None leaves it as it is."""
    if given is None:
        return
    KEPT.parent.mkdir(parents=True, exist_ok=True)
    KEPT.write_text(checked(given), "utf-8")


def checked(given: str) -> str:
    """The address as it goes before a "#", or a `Stop` with what is wrong with it.

    >>> checked("https://quilts.example/cut"), checked("")
    ('https://quilts.example/cut/', '')
    """
    if not given:
        return ""
    parts = urlsplit(given)
    if parts.scheme != "https" or not parts.hostname or parts.query or parts.fragment or not given.isprintable():
        raise Stop(f"{given!r} is no public address of the page: give it as https://…, with no ? or # in it")
    last = parts.path.rsplit("/", 1)[-1]
    return given if given.endswith("/") or "." in last else f"{given}/"


def meta(address: str) -> str:
    """What tells the page its public address; nothing where there is none.

    >>> meta("https://quilts.example/")
    '<meta name="matside-public" content="https://quilts.example/">\\n'
    """
    return f'<meta name="matside-public" content="{_escaped(address)}">\n' if address else ""


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace('"', "&quot;").replace("<", "&lt;")
