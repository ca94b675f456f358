"""Two pages that do nothing but start Python: ours, and one with the unmodified npm package."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from host import Host
from plain_page import plain_dist
from steps.interpreter import PYODIDE

STAGES = ("loading", "starting", "ready", "answer")

# From the making of the worker to its first answer: in all, and at which time each stage came.
_STOCK = """async () => {
  const policy = globalThis.trustedTypes?.createPolicy('matside', { createScriptURL: (url) => url });
  const address = new URL('worker.js', location.href).href;
  const begun = performance.now();
  window.worker = new Worker(policy?.createScriptURL(address) ?? address, { type: 'module' });
  await new Promise((resolve) => { worker.onmessage = resolve; });
  return { answer: performance.now() - begun };
}"""
_STOCK_USED = (
    "() => new Promise((resolve) => { worker.onmessage = () => resolve(true); worker.postMessage('be used'); })"
)
_OURS = """async () => {
  const times = {};
  const begun = performance.now();
  window.python = createPython();
  python.addEventListener('stage', ({ detail }) => { times[detail.stage] = performance.now() - begun; });
  await python.ask({ ask: 'strip', piece: { shape: 'diamond', size: 4, angle: 60 }, length: 42 });
  return { ...times, answer: performance.now() - begun };
}"""
_OURS_USED = """async () => {
  for (let size = 1; size < 12; size += 1 / 32) {
    await python.ask({ ask: 'cloth', piece: { shape: 'diamond', size, angle: 60 }, cloth: { length: 18, width: 20 } });
  }
  return true;
}"""


@dataclass(frozen=True)
class Started:
    """A page that starts Python: the folder that is served, what starts it, and what uses it for some seconds."""

    folder: Path
    start: str
    use: str


@contextmanager
def pages() -> Iterator[tuple[Started, Started]]:
    """Ours and the other, as folders to serve."""
    with TemporaryDirectory() as folder:
        stock = Path(folder) / "stock"
        shutil.copytree(Path(__file__).with_name("stock"), stock)
        shutil.copytree(PYODIDE, stock / "pyodide")
        ours = plain_dist(Path(folder), "real", real_python=True)
        yield Started(ours, _OURS, _OURS_USED), Started(stock, _STOCK, _STOCK_USED)


def at_new_addresses(one: Started, go: Callable[[Started, str], dict]) -> dict:
    """What comes of it at an address where nothing has been asked for before."""
    host = Host(one.folder)
    try:
        return go(one, host.url)
    finally:
        host.stop()


def ratio(pairs: list[tuple[dict, dict]]) -> float:
    """The median of the ratios, each of two starts one after the other."""
    return median(own["answer"] / other["answer"] for own, other in pairs)


def told(pairs: list[tuple[dict, dict]]) -> str:
    """The least, the middle and the greatest time of both, and the middle of ours stage by stage."""
    own, other = zip(*pairs)
    stages = " → ".join(f"{stage} {median(each[stage] for each in own):.0f}" for stage in STAGES if stage in own[0])
    return f"ours {_spread(own)}, unmodified {_spread(other)}; ours by stages, ms: {stages}"


def _spread(starts: tuple[dict, ...]) -> str:
    times = sorted(start["answer"] for start in starts)
    return f"{times[0]:.0f} / {median(times):.0f} / {times[-1]:.0f} ms"
