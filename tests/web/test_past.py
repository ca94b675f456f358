"""Earlier cutting: what was begun before is kept with its log, found again, gone on with, begun anew or
removed; never lost in silence.
"""

import pytest
from playwright.sync_api import Page, expect

import matside
from axe import complaints
from kept_state import kept, sitting
from measured import sideways, small_targets
from phone import until
from quilter import LEAPS, asleep, guide, mat, said, sentence, sentence_of, start_cutting, tap, totals

FAT_QUARTER = {
    "piece": {"shape": "diamond", "size": 4, "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}
STRIP = {
    "piece": {"shape": "diamond", "size": 8, "angle": 60},
    "cloth": {"kind": "full_width_strip", "width": 30},
    "way": "along_width",
}
DAY = 86_400_000

# The store as the page's first version made it.
FIRST_STORE = """([sittings, kept]) => new Promise((done, failed) => {
  const opening = indexedDB.open('matside', 1);
  opening.onupgradeneeded = () => {
    const made = opening.result;
    made.createObjectStore('kept');
    made.createObjectStore('sittings', { keyPath: 'id' });
    made.createObjectStore('log', { keyPath: ['sitting', 'sequence'] });
  };
  opening.onsuccess = () => {
    const writing = opening.result.transaction(['kept', 'sittings', 'log'], 'readwrite');
    for (const { events, ...sitting } of sittings) {
      writing.objectStore('sittings').put(sitting);
      events.forEach((event, sequence) => writing.objectStore('log').put({ ...event, sitting: sitting.id, sequence, mark: `${sequence}` }));
    }
    if (kept) writing.objectStore('kept').put(kept, 'sitting');
    writing.oncomplete = () => { opening.result.close(); done(); };
    writing.onerror = failed;
  };
})"""


def record(
    name: str, day: int, cuts: int | None = None, request: dict = FAT_QUARTER, title: dict | None = None
) -> dict:
    """A sitting of that day, with so many cuts; to its end, unless told."""
    script = guide(request)
    done = len(script["steps"]) - 1 if cuts is None else cuts
    events = [{"event": "cut", "at": day * DAY + (i + 1) * 1000} for i in range(done)]
    return {
        "id": name,
        "title": title or {},
        "started": day * DAY,
        "scripts": [{**script, "request": {"ask": "guide", **request}}],
        "events": events,
    }


def pieces_cut(cuts: int) -> int:
    steps = guide(FAT_QUARTER)["steps"]
    return sum(step["do"] == "piece" for step in steps[:cuts])


@pytest.fixture
def with_past(page: Page, site):
    """A phone on which this was cut before; `kept` is the sitting at hand."""

    def seated(*records: dict, kept: str | None = None, python: bool = False) -> Page:
        page.add_init_script(LEAPS)
        if not python:
            asleep(page)
        page.goto(f"{site.url}licences.txt")
        page.evaluate(FIRST_STORE, [list(records), kept])
        return look_back(page, site)

    return seated


def look_back(page: Page, site) -> Page:
    page.goto(f"{site.url}#tools")
    page.locator("main h1").wait_for()
    if not page.locator("past-list").is_visible():
        page.get_by_text(said("tools.earlier.title")).tap()
    page.locator("past-list > *").first.wait_for()
    return page


def rows(page: Page) -> list[str]:
    return page.locator("past-list li b").all_inner_texts()


def row(page: Page, text: str):
    return page.locator("past-list li").filter(has_text=text)


def act(page: Page, text: str, code: str) -> None:
    row(page, text).get_by_role("button", name=said(f"tools.earlier.{code}"), exact=True).tap()


def at_mat(page: Page) -> Page:
    page.locator(".mat-sentence").wait_for()
    return page


# --- The list -------------------------------------------------------------------------------------------------------


def test_what_was_stored_by_the_first_version_is_there_the_last_touched_first(with_past):
    page = with_past(record("a", 1, 16), record("b", 3), record("c", 2, 3, STRIP), kept="a")
    assert rows(page) == [
        "Diamonds of 4 in, 60°, from Fat quarter",
        "Diamonds of 8 in, 60°, from Full-width strip",
        "Diamonds of 4 in, 60°, from Fat quarter",
    ]
    texts = page.locator("past-list li > p").all_inner_texts()
    assert [text.split(" · ")[0] for text in texts] == ["All 15 cut", "0 of 2 cut", f"{pieces_cut(16)} of 15 cut"]
    assert [text.split("last touched ")[1] for text in texts] == page.evaluate(
        "(all) => all.map((at) => new Date(at).toLocaleString('en-US', { dateStyle: 'medium', timeStyle: 'short' }))",
        [each["events"][-1]["at"] for each in (record("b", 3), record("c", 2, 3, STRIP), record("a", 1, 16))],
    )


def test_a_plan_is_told_by_its_kinds_and_cloths(with_past):
    honey = {"id": "Honey", "length": 18, "width": 20, "count": 2}
    pieces = [
        {"id": "d", "shape": "diamond", "size": 4, "angle": 60, "need": 15},
        {"id": "r", "shape": "rectangle", "size": 4, "length": 6, "need": 12},
    ]
    layouts = matside.answer({"ask": "plan", "cloths": [honey], "pieces": pieces})["layouts"]
    page = with_past(record("a", 1, 2, {"pieces": pieces, "cloths": [honey], "layouts": layouts}))
    assert rows(page) == ["2 kinds of piece, from Honey"]


def test_nothing_cut_yet_is_said(with_past):
    assert with_past().locator("past-list").inner_text().endswith(said("tools.earlier.none"))


# --- Going on -------------------------------------------------------------------------------------------------------


def test_a_half_cut_one_is_gone_on_with_and_is_the_one_at_hand_from_then_on(with_past):
    page = with_past(record("a", 1, 16), record("b", 2, 3, STRIP), kept="b")
    act(page, "Fat quarter", "go_on")
    at_mat(page)
    assert totals(page) == (pieces_cut(16), 15)
    tap(page)
    before = mat(page)
    page.reload()
    at_mat(page)
    assert mat(page) == before
    assert (kept(page, "sitting"), len(sitting(page)["events"])) == ("a", 17)


@pytest.mark.long
def test_the_other_one_stays_where_it_was(with_past, site):
    page = with_past(record("a", 1, 16), record("b", 2, 3, STRIP), kept="b")
    act(page, "Fat quarter", "go_on")
    tap(at_mat(page))
    look_back(page, site)
    act(page, "Full-width strip", "go_on")
    at_mat(page)
    steps = guide(STRIP)["steps"]
    assert sentence(page) == sentence_of(steps[3])


@pytest.mark.long
def test_one_is_begun_anew_and_the_old_one_stays(with_past, site):
    page = with_past(record("a", 1, 16, title={"ask": "guide", **FAT_QUARTER}), python=True)
    act(page, "Fat quarter", "anew")
    at_mat(page)
    assert (totals(page), sentence(page)) == ((0, 15), said("guide.press.short"))
    look_back(page, site)
    assert [text.split(" · ")[0] for text in page.locator("past-list li > p").all_inner_texts()] == [
        "0 of 15 cut",
        f"{pieces_cut(16)} of 15 cut",
    ]


# --- Nothing is lost in silence -------------------------------------------------------------------------------------


def test_a_new_guide_says_before_it_begins_where_the_half_cut_one_will_be(with_past, site):
    page = with_past(record("a", 1, 16), kept="a", python=True)
    page.goto(f"{site.url}#count")
    page.get_by_role("button", name=said("page.start")).tap()
    expect(page.get_by_role("dialog")).to_contain_text(said("mat.under_way.stands", made=pieces_cut(16), all=15))
    page.get_by_role("dialog").get_by_role("button", name=said("mat.under_way.begin")).tap()
    at_mat(page)
    look_back(page, site)
    expect(row(page, f"{pieces_cut(16)} of 15 cut")).to_be_visible()


@pytest.mark.long
def test_only_what_is_finished_or_was_never_begun_goes_beyond_the_last_twelve(with_past, site):
    old = [record("half", 1, 16), record("done", 2), record("untouched", 3, 0)]
    page = with_past(*old, *[record(f"r{day}", day) for day in range(4, 15)], kept="r14", python=True)
    assert len(rows(page)) == 14
    page.goto(f"{site.url}#count")
    start_cutting(page)
    until(
        page,
        "() => new Promise((done) => { const o = indexedDB.open('matside'); o.onsuccess = () => { const all = o.result.transaction('sittings').objectStore('sittings').getAllKeys(); all.onsuccess = () => { o.result.close(); done(all.result.length === 13); }; }; })",
    )
    look_back(page, site)
    assert len(rows(page)) == 13
    expect(row(page, f"{pieces_cut(16)} of 15 cut")).to_have_count(1)


# --- Removing -------------------------------------------------------------------------------------------------------

LOGS = """() => new Promise((done) => {
  const opening = indexedDB.open('matside');
  opening.onsuccess = () => {
    const all = opening.result.transaction('log').objectStore('log').getAll();
    all.onsuccess = () => { opening.result.close(); done([...new Set(all.result.map(({ sitting }) => sitting))]); };
  };
})"""


@pytest.mark.long
def test_a_removal_is_asked_again_and_can_be_thought_better_of(with_past):
    page = with_past(record("a", 1, 16), record("b", 2, 3, STRIP))
    act(page, "Fat quarter", "remove")
    expect(row(page, "Fat quarter").get_by_role("alert")).to_have_text(said("tools.earlier.remove_ask"))
    expect(row(page, "Fat quarter").get_by_role("button", name=said("tools.earlier.keep"))).to_be_focused()
    act(page, "Fat quarter", "keep")
    assert len(rows(page)) == 2
    assert sorted(page.evaluate(LOGS)) == ["a", "b"]
    act(page, "Fat quarter", "remove")
    act(page, "Fat quarter", "remove_yes")
    expect(page.locator("past-list li")).to_have_count(1)
    assert page.evaluate(LOGS) == ["b"]


@pytest.mark.long
def test_the_one_at_hand_can_be_removed_and_the_tab_leads_to_a_new_one(with_past, site):
    page = with_past(record("a", 1, 16), kept="a")
    act(page, "Fat quarter", "remove")
    act(page, "Fat quarter", "remove_yes")
    expect(page.locator("past-list li")).to_have_count(0)
    page.get_by_role("link", name=said("page.tab.cut"), exact=True).tap()
    expect(page.get_by_role("heading", name=said("mat.nothing.title"))).to_be_visible()
    page.reload()
    expect(page.get_by_role("heading", name=said("mat.nothing.title"))).to_be_visible()
    assert kept(page, "sitting") is None


@pytest.mark.long
def test_a_window_at_a_sitting_that_was_removed_says_so_and_counts_nothing(with_past, site):
    page = with_past(record("a", 1, 16), kept="a")
    other = page.context.new_page()
    other.add_init_script(LEAPS)
    asleep(other)
    other.goto(f"{site.url}#cut")
    at_mat(other)
    act(page, "Fat quarter", "remove")
    act(page, "Fat quarter", "remove_yes")
    expect(page.locator("past-list li")).to_have_count(0)
    before = totals(other)
    other.evaluate("leap(600)")
    other.locator(".mat-zone").tap()
    expect(other.get_by_role("alert").filter(has_text=said("mat.removed"))).to_be_visible()
    assert totals(other) == before
    assert other.evaluate(LOGS) == []


def test_a_log_that_cannot_be_read_stops_nothing_and_can_be_removed(with_past):
    odd = {**record("odd", 1, 2), "events": [{"event": "of another version", "at": 5}]}
    page = with_past(odd, record("b", 2, 3, STRIP), kept="odd")
    assert said("tools.earlier.unreadable") in rows(page)
    assert row(page, said("tools.earlier.unreadable")).get_by_role("button").all_inner_texts() == [
        said("tools.earlier.remove")
    ]
    act(page, said("tools.earlier.unreadable"), "remove")
    act(page, said("tools.earlier.unreadable"), "remove_yes")
    expect(page.locator("past-list li")).to_have_count(1)


# --- For every eye and hand -----------------------------------------------------------------------------------------


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize(("width", "theme"), [(390, "light"), (320, "dark")])
def test_the_list_is_accessible_and_fits(with_past, width: int, theme: str):
    page = with_past(
        record("a", 1, 16, title={"ask": "guide", **FAT_QUARTER}), record("b", 2, 3, STRIP), record("c", 3)
    )
    page.set_viewport_size({"width": width, "height": 640})
    page.emulate_media(color_scheme=theme)
    act(page, "Full-width strip", "remove")
    assert (complaints(page), small_targets(page), sideways(page)) == ([], [], [])
