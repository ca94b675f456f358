"""What crosses the network on a first visit, until the page is ready offline, to a browser that takes gzip."""

from collections.abc import Iterator

from host import Host
from phone import until
from steps.places import DIST

from .figures import Figure
from .phones import Contexts

MOST = 5.5  # million bytes


def measure(contexts: Contexts) -> Iterator[Figure]:
    """Contents and headers of all answers, in millions of bytes."""
    host = Host(DIST, encodings=("gzip",))
    context = contexts()
    page = context.new_page()
    page.goto(host.url)
    until(
        page,
        """import(document.querySelector('script[type=module]').src.replace('main.js', 'offline.js'))
      .then(({ offline }) => offline.state === 'ready')""",
    )
    context.close()
    host.stop()
    twice = len(host.asked) - len(set(host.asked))
    yield Figure(
        "A first visit, everything",
        host.sent / 1e6,
        MOST,
        "MB gzip",
        f"{len(host.asked)} requests, {twice} for something asked for before",
    )
