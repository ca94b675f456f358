"""Python ready in the page: our cut and compiled start beside the unmodified npm package, turn by turn in one browser.

Each time runs from the making of the worker to its first answer, for ours an answer of the core; files come from the
browser's cache after a first start that is not counted.
"""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from statistics import median

from host import Host
from phone import until
from plain_page import plain_dist
from playwright.sync_api import Page
from steps.pythonpart import PYODIDE

from .figures import Figure, spread
from .phones import Contexts

ROUNDS = 7
MOST = 0.25

STOCK = """() => new Promise((resolve) => {
  const begun = performance.now();
  const worker = new Worker(new URL('worker.js', location.href), { type: 'module' });
  worker.onmessage = () => { resolve(performance.now() - begun); worker.terminate(); };
})"""

OURS = """async () => {
  const begun = performance.now();
  const python = createPython();
  await python.ask({ ask: 'strip', piece: { shape: 'diamond', size: 4, angle: 60 }, length: 42 });
  return performance.now() - begun;
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The ratio of the two medians."""
    with tempfile.TemporaryDirectory() as folder, ExitStack() as hosts:
        ours, stock = (_page(contexts, each, hosts) for each in (_ours(Path(folder)), _stock(Path(folder))))
        pairs = [(_one(ours, OURS), _one(stock, STOCK)) for _ in range(ROUNDS + 1)][1:]
    own, other = zip(*pairs)
    yield Figure("Python ready in the page, ours to the unmodified npm package", median(own) / median(other), MOST,
                 detail=f"ours {spread(own)}, unmodified {spread(other)}")


def _ours(folder: Path) -> Path:
    return plain_dist(folder, "real", real_python=True)


def _stock(folder: Path) -> Path:
    shutil.copytree(Path(__file__).with_name("stock"), folder / "stock")
    shutil.copytree(PYODIDE, folder / "stock" / "pyodide")
    return folder / "stock"


def _page(contexts: Contexts, folder: Path, hosts: ExitStack) -> Page:
    host = Host(folder)
    hosts.callback(host.stop)
    page = contexts().new_page()
    page.goto(host.url)
    return page


def _one(page: Page, script: str) -> float:
    page.reload()
    until(page, "document.readyState === 'complete'")
    return page.evaluate(script)
