"""A worker that dies in silence, in the page itself: the mat goes on, and no old answer stays as if it were today's."""

from playwright.sync_api import Page

from host import Host
from phone import until
from quilter import ANSWERED, LEAPS, count_screen, field, number, said, start_cutting, tap, totals

# The page watches its worker in steps of a second; here they are shorter.
HURRIED = "const { setInterval: often } = window; window.setInterval = (act, ms, ...more) => often(act, ms === 1000 ? 150 : ms, ...more);"
STANDING = "document.querySelector('.standing').innerText"


def kill_python(page: Page) -> None:
    """Python's worker ends itself; no event tells the page."""
    next(worker for worker in page.workers if "python-worker" in worker.url).evaluate("self.close()")


def test_the_mat_counts_on_while_the_worker_is_dead_and_the_next_answer_is_a_new_worker_s(page: Page, site: Host):
    page.add_init_script(HURRIED)
    page.add_init_script(LEAPS)
    count_screen(page, site.url)
    start_cutting(page)
    kill_python(page)
    before = totals(page)[0]
    tap(page, 15)
    assert totals(page)[0] > before
    page.evaluate("location.hash = 'count'")
    page.evaluate(f"""() => {{
      window.said = new Set();
      new MutationObserver(() => said.add({STANDING})).observe(document.querySelector('.standing'), {{ childList: true, subtree: true }});
    }}""")
    old = number(page)
    field(page, "cloth.length").fill("9")
    until(page, "document.querySelector('answer-view .go').matches('.stale')")
    until(page, ANSWERED, said("page.unanswered"))
    assert number(page) != old
    until(page, "said.size > 1")
    assert said("updates.python.again") in page.evaluate("[...said]")
