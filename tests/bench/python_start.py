"""Python ready in the page: our cut and compiled start beside the unmodified npm package, turn by turn in one browser.

Each time runs from the making of the worker to its first answer, for ours an answer of the core; files come from the
browser's cache, and so does what it has compiled, after a first start that is not counted and some seconds of use.
"""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from statistics import median

from playwright.sync_api import Page

from host import Host
from phone import until
from plain_page import plain_dist
from steps.pythonpart import PYODIDE

from .figures import Figure, spread
from .phones import Contexts

ROUNDS = 9
COMPILING = 8000  # milliseconds after which a browser has stored what it has compiled
SETTLING = 2000  # milliseconds in which the browser before has compiled what it still wanted to
MOST = 0.25

STOCK = """() => new Promise((resolve) => {
  const begun = performance.now();
  window.worker = new Worker(new URL('worker.js', location.href), { type: 'module' });
  worker.onmessage = () => resolve(performance.now() - begun);
})"""
STOCK_USED = "() => new Promise((resolve) => { worker.onmessage = resolve; worker.postMessage('be used'); })"

OURS = """async () => {
  const begun = performance.now();
  window.python = createPython();
  await python.ask({ ask: 'strip', piece: { shape: 'diamond', size: 4, angle: 60 }, length: 42 });
  return performance.now() - begun;
}"""
OURS_USED = """async () => {
  for (let size = 1; size < 12; size += 1 / 32) {
    await python.ask({ ask: 'cloth', piece: { shape: 'diamond', size, angle: 60 }, cloth: { length: 18, width: 20 } });
  }
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median of the ratios, each of two starts one after the other."""
    with tempfile.TemporaryDirectory() as folder, ExitStack() as hosts:
        ours, stock = (
            _page(contexts, *each, hosts)
            for each in ((_ours(Path(folder)), OURS, OURS_USED), (_stock(Path(folder)), STOCK, STOCK_USED))
        )
        pairs = [(_one(ours, OURS), _one(stock, STOCK)) for _ in range(ROUNDS)]
    own, other = zip(*pairs)
    yield Figure(
        "Python ready in the page, ours to the unmodified npm package",
        median(one / two for one, two in pairs),
        MOST,
        detail=f"ours {spread(own)}, unmodified {spread(other)}",
    )


def _ours(folder: Path) -> Path:
    return plain_dist(folder, "real", real_python=True)


def _stock(folder: Path) -> Path:
    shutil.copytree(Path(__file__).with_name("stock"), folder / "stock")
    shutil.copytree(PYODIDE, folder / "stock" / "pyodide")
    return folder / "stock"


def _page(contexts: Contexts, folder: Path, start: str, use: str, hosts: ExitStack) -> Page:
    """A page that has started Python once, used it, and was left to what it does afterwards."""
    host = Host(folder)
    hosts.callback(host.stop)
    page = contexts().new_page()
    page.goto(host.url)
    _one(page, start)
    page.evaluate(use)
    page.wait_for_timeout(COMPILING)
    return page


def _one(page: Page, script: str) -> float:
    page.wait_for_timeout(SETTLING)
    page.reload()
    until(page, "document.readyState === 'complete'")
    return page.evaluate(script)
