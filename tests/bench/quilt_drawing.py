"""A quilt of about 2,000 pieces on the screen: painted, and recoloured by another way of placing its fabrics."""

from collections.abc import Iterator
from statistics import median

from playwright.sync_api import Page

from host import Host
from phone import until
from steps.places import DIST

from .figures import Figure, spread
from .phones import Contexts

MOST = 100  # milliseconds at the median
WAYS = ("stripes", "columns", "rows", "rings") * 3
SETTLED = "document.querySelector('.quilt-figure') && !document.querySelector('.go.stale') ? true : false"

# From the tap on a way of placing the fabrics to the first picture in other colours.
RECOLOURED = """(way) => new Promise((resolve) => {
  const drawing = document.querySelector('quilt-drawing');
  const canvas = drawing.querySelector('canvas');
  const look = () => canvas.getContext('2d').getImageData(0, canvas.height / 2, canvas.width, 1).data.join();
  const before = look();
  const begun = performance.now();
  const drawn = () => {
    const took = performance.now() - begun;
    if (look() === before) return;
    drawing.removeEventListener('drawn', drawn);
    resolve(took);
  };
  drawing.addEventListener('drawn', drawn);
  [...document.querySelectorAll('fabric-list .chip')].find((chip) => chip.dataset.key.endsWith(`:${way}`)).click();
})"""

# Painting alone, pixels read back so that nothing is put off.
PAINTED = """() => {
  const drawing = document.querySelector('quilt-drawing');
  const canvas = drawing.querySelector('canvas');
  const begun = performance.now();
  drawing.look.whole();
  canvas.getContext('2d').getImageData(0, 0, 1, 1);
  return performance.now() - begun;
}"""


def measure(contexts: Contexts) -> Iterator[Figure]:
    """Medians over a dozen times each."""
    host = Host(DIST)
    page = contexts().new_page()
    pieces = _large_quilt(page, host.url)
    painted = [page.evaluate(PAINTED) for _ in WAYS]
    recoloured = [_recoloured(page, way) for way in WAYS]
    page.context.close()
    host.stop()
    yield Figure(f"A quilt of {pieces} painted", median(painted), MOST, "ms", spread(painted))
    yield Figure(
        f"A quilt of {pieces} recoloured, from the tap to the picture",
        median(recoloured),
        MOST,
        "ms",
        spread(recoloured),
    )


def _large_quilt(page: Page, url: str) -> str:
    page.goto(f"{url}#quilt")
    until(page, SETTLED)
    for label, text in (("Width, finished", "68"), ("Height, finished", "76"), ("Size as cut", "2")):
        page.get_by_label(label, exact=True).first.fill(text)
    page.wait_for_timeout(500)
    until(page, SETTLED)
    return page.locator(".quilt-figure b").inner_text()


def _recoloured(page: Page, way: str) -> float:
    took = page.evaluate(RECOLOURED, way)
    page.wait_for_timeout(200)
    until(page, SETTLED)
    return took
