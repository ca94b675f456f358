"""The same starts of Python in Firefox and WebKit, where they are there: told beside those of Chromium."""

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from engines.driver import Driver
from engines.firefox import Firefox
from engines.outside import Outside
from engines.webkit import WebKit
from steps.testing import skipped

from .figures import Figure
from .phones import Contexts
from .starts import Started, at_new_addresses, pages, ratio, told

ROUNDS = 5
MOST = 1


def measure(_contexts: Contexts) -> Iterator[Figure]:
    """The median of the ratios, each of two starts one after the other at addresses that are new to the browser."""
    outside = Outside()
    with pages() as both, TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        for kind in (Firefox, WebKit):
            if not skipped(kind.name):
                pairs = _measured(kind(Path(folder) / kind.name, outside), both)
                what = f"Python ready in {kind.name}, ours to the unmodified npm package"
                yield Figure(what, ratio(pairs), MOST, detail=told(pairs))
    outside.stop()


def _measured(engine: Driver, both: tuple[Started, Started]) -> list[tuple[dict, dict]]:
    def go(one: Started, url: str) -> dict:
        engine.open(url)
        return engine.evaluate(one.start)

    engine.start()
    try:
        return [tuple(at_new_addresses(one, go) for one in both) for _ in range(ROUNDS)]
    finally:
        engine.close()
