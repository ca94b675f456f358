"""Steps through the built page that several figures need, and the clock that they read inside it."""

from playwright.sync_api import Page

from phone import until

# Resolves in the frame after `when()` first holds, once that frame is painted: the milliseconds since `begun`.
PAINTED = """
window.painted = (when, begun) => new Promise((resolve) => {
  const afterPaint = () => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => resolve(performance.now() - begun);
    port2.postMessage(null);
  };
  const watch = new MutationObserver(look);
  function look() {
    if (!when()) return;
    watch.disconnect();
    requestAnimationFrame(afterPaint);
  }
  watch.observe(document, { subtree: true, childList: true, characterData: true, attributes: true });
  look();
});
"""


def open_count(page: Page, url: str) -> None:
    """Opens "how many do I get?" and waits for its first answer."""
    page.add_init_script(PAINTED)
    page.goto(url)
    until(page, "document.documentElement.dataset.start === 'shown'")  # what stands there before is built
    until(page, "document.querySelector('answer-view .go:not(.stale)') !== null")


def begin_guide(page: Page, url: str) -> None:
    """Starts the guide from the answer at hand."""
    open_count(page, url)
    page.locator('[data-key="start"]').click()
    page.locator(".mat-zone").wait_for()
