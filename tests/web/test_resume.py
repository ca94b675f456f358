"""Never losing the count: reloads, killed browsers, full stores, lost connections and several windows."""

import time

import pytest
from playwright.sync_api import Page, expect

import matside
from folding import fold_log
from kept_state import sitting
from phone import Phone, until
from quilter import CHANGED, LEAPS, SAME, app_folder, asleep, awake, mat, painted, said, seat, sentence, tap, totals

# 90 diamonds of 2 in from one cloth: enough for any test here.
MANY = {
    "piece": {"shape": "diamond", "size": 2, "angle": 60},
    "cloth": {"length": 18, "width": 20},
    "way": "along_length",
}
CUT = {"event": "cut"}


def at_the_first_piece() -> list[dict]:
    steps = matside.answer({"ask": "guide", **MANY})["script"]["steps"]
    return [CUT] * [step["do"] for step in steps].index("piece")


@pytest.fixture
def cutting(page: Page, site, dist) -> Page:
    """A guide in mid-strip, in a page whose Python never gets ready."""
    return seat(page, site.url, app_folder(dist), MANY, at_the_first_piece())


def cuts_only(page: Page, expected: str) -> None:
    until(page, "(text) => document.querySelector('.mat-total').innerText.startsWith(text)", expected)


# --- Coming back ----------------------------------------------------------------------------------------------------


def test_a_reload_in_mid_strip_shows_the_same_before_python_is_ready_and_counts_on(cutting: Page):
    tap(cutting, 2)
    before = mat(cutting)
    cutting.reload()
    cutting.locator(".mat-sentence").wait_for()
    assert mat(cutting) == before
    made, _ = totals(cutting)
    tap(cutting)
    assert totals(cutting)[0] in (made, made + 1)  # a check of the angle may come first
    assert sentence(cutting)


@pytest.mark.long
def test_another_tab_and_a_closed_one_lead_to_the_same_cut(cutting: Page, site):
    tap(cutting, 2)
    before = mat(cutting)
    other = cutting.context.new_page()
    cutting.close()
    asleep(other)
    other.goto(site.url + "#cut")
    other.locator(".mat-sentence").wait_for()
    assert mat(other) == before


def test_the_start_of_the_page_is_the_cut_under_way(cutting: Page, site):
    """Reopened without any address of the guide's own, at the step that it had."""
    tap(cutting, 2)
    before = mat(cutting)
    cutting.goto(site.url + "licences.txt")
    cutting.goto(site.url)
    cutting.locator(".mat-sentence").wait_for()
    assert mat(cutting) == before
    tap(cutting)


def test_a_page_whose_cutting_is_done_or_that_has_none_starts_as_ever(page: Page, site, dist):
    page.goto(site.url)
    page.locator("answer-view").wait_for()
    steps = matside.answer({"ask": "guide", **MANY})["script"]["steps"]
    seat(page, site.url, app_folder(dist), MANY, [CUT] * (len(steps) - 1))
    page.goto(site.url + "licences.txt")
    page.goto(site.url)
    page.locator("answer-view").wait_for()


def test_with_nothing_begun_the_tab_says_so_and_where_to_begin(page: Page, site):
    page.goto(site.url)
    page.get_by_role("link", name=said("page.tab.cut"), exact=True).tap()
    expect(page.get_by_role("heading", name=said("mat.nothing.title"))).to_be_visible()
    expect(page.locator(".tabs")).to_be_visible()
    assert page.locator("main nav a").all_inner_texts() == [
        said(f"mat.nothing.{name}") for name in ("count", "quilt", "basket", "tools")
    ]
    page.get_by_role("link", name=said("mat.nothing.basket")).tap()
    expect(page.get_by_role("link", name=said("page.tab.basket"), exact=True)).to_have_attribute("aria-current", "page")


@pytest.mark.long
def test_before_another_is_begun_it_is_said_what_becomes_of_the_one_under_way(cutting: Page, site):
    tap(cutting, 2)
    made, all_of_it = totals(cutting)
    before = mat(cutting)
    awake(cutting)
    cutting.goto(site.url + "licences.txt")
    cutting.goto(site.url + "#count")
    begin, dialog = cutting.get_by_role("button", name=said("page.start")), cutting.get_by_role("dialog")
    begin.tap()
    expect(dialog).to_contain_text(said("mat.under_way.stands", made=made, all=all_of_it))
    dialog.get_by_role("button", name=said("mat.under_way.back")).tap()
    expect(dialog).to_be_hidden()
    assert cutting.url.endswith("#count")
    begin.tap()
    dialog.get_by_role("button", name=said("mat.under_way.go_on")).tap()
    cutting.locator(".mat-sentence").wait_for()
    assert mat(cutting) == before
    cutting.goto(site.url + "#count")
    begin.tap()
    dialog.get_by_role("button", name=said("mat.under_way.begin")).tap()
    until(cutting, "() => document.querySelector('.mat-total')?.innerText.startsWith('0 ')")
    cutting.goto(site.url + "#tools")
    expect(cutting.locator("past-list")).to_contain_text(said("tools.earlier.far", made=made, all=all_of_it))


@pytest.mark.long
def test_a_killed_browser_comes_back_to_the_same_cut_before_python_is_ready(phone: Phone, site, dist):
    page = seat(phone.open("about:blank"), site.url, app_folder(dist), MANY, at_the_first_piece())
    tap(page, 2)
    before = mat(page)
    phone.kill()
    page = phone.open("about:blank")
    page.add_init_script(LEAPS)
    asleep(page)
    page.goto(site.url + "#cut")
    page.locator(".mat-sentence").wait_for()
    assert mat(page) == before
    tap(page)


# --- Storing --------------------------------------------------------------------------------------------------------

WATCHED_STORE = """
window.written = [];
const open = IDBDatabase.prototype.transaction;
IDBDatabase.prototype.transaction = function (names, mode, options) {
  const work = open.call(this, names, mode, options);
  if (mode === 'readwrite' && [...work.objectStoreNames].includes('log')) {
    work.addEventListener('complete', () => written.push({ durability: work.durability, shown: document.querySelector('.mat-total')?.innerText }));
  }
  return work;
};
"""


def test_a_count_is_shown_only_after_it_is_stored_for_good(page: Page, site, dist):
    """Chrome's own default has been relaxed since version 121: it must be asked to flush."""
    page.add_init_script(WATCHED_STORE)
    seat(page, site.url, app_folder(dist), MANY, at_the_first_piece())
    before = page.locator(".mat-total").inner_text()
    tap(page)
    assert page.evaluate("written") == [{"durability": "strict", "shown": before}]
    assert page.locator(".mat-total").inner_text() != before


# How a browser says that it cannot store: at once, when the request fails, or when all is to be flushed.
FULL = {
    "at once": "IDBObjectStore.prototype.add = () => { throw new DOMException('no room', 'QuotaExceededError'); };",
    "at the end": """
        const add = IDBObjectStore.prototype.add;
        IDBObjectStore.prototype.add = function (...put) {
          const asked = add.apply(this, put);
          asked.addEventListener('success', () => this.transaction.abort());
          return asked;
        };""",
}


TOLD_AS = {"at once": "full", "at the end": "broken"}  # what was aborted without a reason is not called full


@pytest.mark.every(2)
@pytest.mark.parametrize("when", FULL)
def test_a_store_that_is_full_is_told_and_nothing_is_counted(cutting: Page, when: str):
    before, log = totals(cutting), sitting(cutting)["events"]
    said_now = sentence(cutting)
    cutting.evaluate(f"() => {{ window.kind = IDBObjectStore.prototype.add; {FULL[when]} }}")
    cutting.evaluate("leap(600)")
    cutting.locator(".mat-zone").tap()
    alert = cutting.get_by_role("alert").filter(has_text=said(f"mat.stored_failed.{TOLD_AS[when]}"))
    expect(alert).to_be_visible()
    cutting.wait_for_timeout(1000)  # it stays there until something is counted
    expect(alert).to_be_visible()
    assert (totals(cutting), sentence(cutting)) == (before, said_now)
    assert sitting(cutting)["events"] == log
    cutting.evaluate("() => { IDBObjectStore.prototype.add = window.kind; }")
    tap(cutting)
    assert totals(cutting)[0] == before[0] + 1
    expect(alert).to_be_hidden()


def test_a_store_that_is_full_does_not_start_a_guide_in_silence(page: Page, site):
    page.add_init_script(
        "IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); };"
    )
    page.goto(site.url)
    page.get_by_role("button", name=said("page.start")).tap()
    expect(page.get_by_role("alert").filter(has_text=said("mat.stored_failed.full"))).to_be_in_viewport()


@pytest.mark.long
def test_a_connection_that_the_system_dropped_is_opened_again_and_the_cut_counts_once(cutting: Page):
    """As iOS does in the background (WebKit 277615)."""
    before, log = totals(cutting)[0], len(sitting(cutting)["events"])
    cutting.evaluate("""() => {
      const open = IDBDatabase.prototype.transaction;
      let dropped = false;
      IDBDatabase.prototype.transaction = function (...how) {
        if (!dropped) {
          dropped = true;
          this.close();
        }
        return open.apply(this, how);
      };
    }""")
    tap(cutting)
    assert (totals(cutting)[0], len(sitting(cutting)["events"])) == (before + 1, log + 1)


def test_a_cut_whose_answer_was_lost_with_the_connection_counts_once(cutting: Page):
    """It reached the store, but the page heard an error: the second try finds its own mark."""
    before, log = totals(cutting)[0], len(sitting(cutting)["events"])
    cutting.evaluate("""() => {
      const open = IDBDatabase.prototype.transaction;
      let lost = false;
      IDBDatabase.prototype.transaction = function (names, mode, options) {
        const work = open.call(this, names, mode, options);
        if (mode === 'readwrite' && !lost) {
          lost = true;
          const listen = work.addEventListener.bind(work);
          work.addEventListener = (type, heard, how) => listen(type, type === 'complete' ? () => {
            Object.defineProperty(work, 'error', { value: new DOMException('connection lost', 'UnknownError') });
            work.dispatchEvent(new Event('abort'));
          } : heard, how);
        }
        return work;
      };
    }""")
    tap(cutting)
    assert (totals(cutting)[0], len(sitting(cutting)["events"])) == (before + 1, log + 1)
    assert cutting.get_by_role("alert").filter(has_text=said("mat.counted_elsewhere")).count() == 0


# --- Several windows ------------------------------------------------------------------------------------------------


@pytest.fixture
def other(cutting: Page, site) -> Page:
    """A second window at the same guide."""
    page = cutting.context.new_page()
    page.add_init_script(LEAPS)
    asleep(page)
    page.goto(site.url + "#cut")
    page.locator(".mat-sentence").wait_for()
    return page


def test_a_second_window_follows_the_first_and_takes_over_when_it_is_told_to(cutting: Page, other: Page):
    expect(other.get_by_role("alert").filter(has_text=said("mat.following"))).to_be_visible()
    for _ in range(2):
        before = mat(other)
        tap(cutting)
        until(other, CHANGED, before)
        assert mat(other) == mat(cutting)
    log, before = len(sitting(cutting)["events"]), mat(other)
    other.evaluate("leap(600)")
    other.locator(".mat-zone").tap()
    other.keyboard.press("Enter")
    painted(other)
    assert (len(sitting(cutting)["events"]), mat(other)) == (log, before)
    take_over(other)
    expect(cutting.get_by_role("alert").filter(has_text=said("mat.following"))).to_be_visible()
    tap(other)
    until(cutting, SAME, mat(other))
    assert len(sitting(cutting)["events"]) == log + 1


def test_a_window_counts_by_itself_once_the_one_that_counted_is_gone(cutting: Page, other: Page):
    cutting.close()
    expect(other.locator("[data-key=take-over]")).to_be_hidden()
    tap(other)


@pytest.mark.long
def test_a_window_that_leaves_the_mat_lets_the_other_count(cutting: Page, other: Page):
    cutting.get_by_role("button", name=said("mat.leave")).tap()
    expect(other.locator("[data-key=take-over]")).to_be_hidden()
    tap(other)


def take_over(page: Page) -> None:
    page.get_by_role("button", name=said("mat.take_over")).tap()
    expect(page.locator("[data-key=take-over]")).to_be_hidden()


@pytest.fixture
def unlocked(page: Page, site, dist) -> tuple[Page, Page]:
    """Two windows at one guide in a browser that cannot tell them apart, as over plain HTTP: each may count."""
    one, other = page, page.context.new_page()
    for each in (one, other):
        each.add_init_script("Object.defineProperty(navigator, 'locks', { value: undefined })")
    seat(one, site.url, app_folder(dist), MANY, at_the_first_piece())
    other.add_init_script(LEAPS)
    asleep(other)
    other.goto(site.url + "#cut")
    other.locator(".mat-sentence").wait_for()
    return one, other


@pytest.mark.long
def test_a_window_that_was_not_told_says_so_and_counts_nothing_twice(unlocked: tuple[Page, Page]):
    cutting, other = unlocked
    other.evaluate("() => { BroadcastChannel.prototype.dispatchEvent = () => {}; }")
    log = len(sitting(cutting)["events"])
    cutting.evaluate("""() => { BroadcastChannel.prototype.postMessage = () => {}; }""")
    tap(cutting)
    tap(other)
    expect(other.get_by_role("alert").filter(has_text=said("mat.counted_elsewhere"))).to_be_visible()
    assert totals(other) == totals(cutting)
    assert len(sitting(cutting)["events"]) == log + 1
    tap(other)
    assert len(sitting(cutting)["events"]) == log + 2


def at_rest(page: Page) -> dict:
    """The sitting as it is stored, once a second has passed in which no window has added to it."""
    found = sitting(page)
    while True:
        page.wait_for_timeout(1000)
        before, found = found, sitting(page)
        if len(found["events"]) == len(before["events"]):
            return found


def test_two_windows_tapped_at_the_same_time_count_every_tap_that_they_took(unlocked: tuple[Page, Page]):
    """Acknowledged ⊆ stored, none twice: each window is told whether its tap was taken."""
    cutting, other = unlocked
    log = len(sitting(cutting)["events"])
    start = time.time() * 1000 + 1500
    for page in (cutting, other):
        page.evaluate(
            """(start) => {
          const wall = new Date(performance.timeOrigin).getTime();
          window.busy = new Promise((done) => setTimeout(async () => {
            for (let i = 0; i < 12; i += 1) {
              leap(600);
              document.querySelector('.mat-zone').click();
              await new Promise((on) => setTimeout(on, 15));
            }
            done();
          }, start - wall - passed()));
        }""",
            start,
        )
    for page in (cutting, other):
        page.evaluate("window.busy")
    stored = at_rest(cutting)
    events = stored["events"]
    assert [event["sequence"] for event in events] == list(range(len(events)))
    assert len({event["mark"] for event in events}) == len(events)
    assert log + 12 <= len(events) <= log + 24
    made = fold_log(stored["scripts"], events).total("made")
    for page in (cutting, other):
        cuts_only(page, f"{made} ")
