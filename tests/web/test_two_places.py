"""What is at hand is kept in two places that do not share their fate, and is read back from whichever has more.

The fault list is the one that browsers test themselves: a log that is found corrupt, a database that is deleted,
emptied, of a newer version, refused, silent, or not there at all."""

import json
import os
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from kept_state import kept, sitting
from phone import Phone, until
from quilter import LEAPS, WORDS, app_folder, asleep, mat, said, seat, tap
from test_resume import MANY, at_the_first_piece

DELETED = """new Promise((done, failed) => {
  const asked = indexedDB.deleteDatabase("matside");
  asked.onsuccess = done;
  asked.onerror = failed;
})"""
EMPTIED = """new Promise((done) => {
  indexedDB.open("matside").onsuccess = ({ target: { result: db } }) => {
    const work = db.transaction([...db.objectStoreNames], "readwrite");
    for (const name of db.objectStoreNames) work.objectStore(name).clear();
    work.oncomplete = () => { db.close(); done(); };
  };
})"""
NEWER = """new Promise((done) => {
  const asked = indexedDB.open("matside", 2);
  asked.onsuccess = () => { asked.result.close(); done(); };
})"""
FILES_LOST = "navigator.storage.getDirectory().then((all) => all.removeEntry('matside', { recursive: true }))"
# A file that the page writes anew between being found and being read cannot be read any more: it is looked for again.
FILES = """(async () => {
  const place = await (await navigator.storage.getDirectory()).getDirectoryHandle("matside", { create: true });
  const read = async (name) => {
    for (;;) {
      try {
        return await (await (await place.getFileHandle(name)).getFile()).text();
      } catch (error) {
        if (error.name !== "NotReadableError") throw error;
      }
    }
  };
  const found = {};
  for await (const name of place.keys()) found[name] = await read(name);
  return found;
})()"""
NOTICES = json.loads((WORDS / "notice.json").read_text("utf-8"))["notice"]
NO_FILES = "delete window.FileSystemFileHandle;"
NO_DATABASE = {
    "missing": "Object.defineProperty(window, 'indexedDB', { value: undefined });",
    "throwing": "IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); };",
    "silent": "IDBFactory.prototype.open = () => new EventTarget();",
}


@pytest.fixture
def cutting(page: Page, site, dist) -> Page:
    """A guide in mid-strip with three pieces cut since."""
    seat(page, site.url, app_folder(dist), MANY, at_the_first_piece())
    tap(page, 3)
    return page


def away(page: Page, site) -> Page:
    """The page is left: nothing of it is open."""
    page.goto(site.url + "licences.txt")
    return page


def back(page: Page, site) -> Page:
    """The page is opened again, at the mat."""
    page.goto(site.url + "#cut")
    page.locator(".mat-sentence").wait_for()
    return page


def told(page: Page, code: str, **values):
    """The bar that says something, at the mat."""
    return page.locator("notice-bar").filter(has_text=said(f"notice.{code}.brief", **values))


def lose(page: Page, site, how: str) -> Page:
    away(page, site).evaluate(how)
    return page


def test_every_count_that_is_shown_stands_in_the_second_place_too(cutting: Page):
    """Compared line by line with the record, as the file stands."""
    (text,) = [text for name, text in cutting.evaluate(FILES).items() if name.endswith(".sitting")]
    events = cutting.evaluate(
        "(text) => text.trim().split('\\n').slice(1).map(JSON.parse).map(({ event }) => event)", text
    )
    stored = sitting(cutting)["events"]
    assert [{**event, "sitting": stored[0]["sitting"]} for event in events] == stored
    assert len(stored) == len(at_the_first_piece()) + 3


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("how", [DELETED, EMPTIED], ids=["deleted", "emptied"])
def test_a_lost_database_is_read_back_and_it_is_said(cutting: Page, site, how: str):
    before, events = mat(cutting), sitting(cutting)["events"]
    back(lose(cutting, site, how), site)
    assert mat(cutting) == before
    assert sitting(cutting)["events"] == events
    expect(cutting.locator("notice-bar")).to_contain_text(said_one("back"))
    cutting.locator("[data-key=notice-read]").tap()
    expect(cutting.locator("notice-bar")).to_be_hidden()
    tap(cutting)
    cutting.reload()
    cutting.locator(".mat-sentence").wait_for()
    expect(cutting.locator("notice-bar")).to_be_hidden()


def said_one(code: str) -> str:
    """The short form of a notice for one cutting."""
    return said(f"notice.{code}.brief.one")


@pytest.mark.long
def test_a_log_whose_end_was_torn_by_a_kill_loses_nothing(phone: Phone, site, dist, tmp_path: Path):
    """A kill can leave a bare record header (checksum, length, type: seven bytes) at the end of the database's log. The
    next start appends after it, the one after that finds the log corrupt and deletes the database."""
    page = seat(phone.open("about:blank"), site.url, app_folder(dist), MANY, at_the_first_piece())
    tap(page, 2)
    phone.close()
    (log,) = sorted((tmp_path / "phone").glob("Default/IndexedDB/*.indexeddb.leveldb/*.log"))
    with log.open("ab") as file:
        file.write(bytes([0x5A, 0x13, 0x77, 0x21, 0x40, 0x00, 0x01]))
        os.fsync(file.fileno())
    page = again(phone, site)
    tap(page, 5)
    before = mat(page)
    phone.close()
    page = again(phone, site)
    assert mat(page) == before
    expect(page.locator("notice-bar")).to_contain_text(said_one("back"))  # the browser did throw its database away
    tap(page)


# What can be the matter with a database's files after a crash, a full disk or a broken card.
DAMAGED = {
    "the log in its middle": lambda folder: _overwrite(next(folder.glob("*.log")), 0.5),
    "the list of files": lambda folder: _overwrite(next(folder.glob("MANIFEST-*")), 0.0),
    "the name of the list": lambda folder: (folder / "CURRENT").write_bytes(b""),
}


def _overwrite(path: Path, where: float) -> None:
    content = bytearray(path.read_bytes())
    start = int(len(content) * where)
    content[start : start + 64] = b"\xa5" * 64
    path.write_bytes(content)


@pytest.mark.long
@pytest.mark.parametrize("what", DAMAGED)
def test_a_database_whose_files_are_damaged_loses_nothing(phone: Phone, site, dist, tmp_path: Path, what: str):
    page = seat(phone.open("about:blank"), site.url, app_folder(dist), MANY, at_the_first_piece())
    tap(page, 2)
    before = mat(page)
    phone.close()
    DAMAGED[what](next((tmp_path / "phone").glob("Default/IndexedDB/*.indexeddb.leveldb")))
    page = again(phone, site)
    assert mat(page) == before
    tap(page)


def test_a_database_thrown_away_under_the_open_page_is_made_again_and_the_tap_counts(cutting: Page, site):
    events = sitting(cutting)["events"]
    cutting.context.new_cdp_session(cutting).send(
        "Storage.clearDataForOrigin", {"origin": site.origin, "storageTypes": "indexeddb"}
    )
    tap(cutting)
    found = sitting(cutting)["events"]
    assert (found[:-1], len(found)) == (events, len(events) + 1)


@pytest.mark.long
def test_a_disk_that_is_full_is_called_full_and_nothing_is_counted(phone: Phone, site, dist):
    """Said by the browser itself when all is to be written; it looks at what is left only at
    the first write after a start.
    """
    seat(phone.open("about:blank"), site.url, app_folder(dist), MANY, at_the_first_piece())
    phone.close()
    page = again(phone, site)
    quota = page.context.new_cdp_session(page)
    before, log = mat(page), sitting(page)["events"]
    quota.send("Storage.overrideQuotaForOrigin", {"origin": site.origin, "quotaSize": 1})
    page.evaluate("leap(600)")
    page.locator(".mat-zone").tap()
    expect(page.get_by_role("alert").filter(has_text=said("mat.stored_failed.full"))).to_be_visible()
    assert sitting(page)["events"] == log
    quota.send("Storage.overrideQuotaForOrigin", {"origin": site.origin})
    tap(page)
    assert mat(page) != before
    assert len(sitting(page)["events"]) == len(log) + 1


LEFT_AT_ONCE = """async ([module, number]) => {
  const { Store } = await import(module);
  const store = new Store();
  await store.open();
  void store.put("tried", number);
  setTimeout(() => (location.href = "licences.txt"));
}"""
KEPT_SO = "async (module) => { const { Store } = await import(module); return new Store().get('tried'); }"


@pytest.mark.long
def test_what_is_kept_as_the_page_is_left_is_kept(page: Page, site, dist):
    """The browser is told that a write is over before the page hears of it."""
    module = f"{site.url}{app_folder(dist)}/store/store.js"
    for number in range(15):
        page.goto(f"{site.url}#tools")
        page.evaluate(LEFT_AT_ONCE, [module, number])
        page.wait_for_url("**/licences.txt")
        page.goto(f"{site.url}#tools")
        assert page.evaluate(KEPT_SO, module) == number


@pytest.mark.long
def test_settings_that_cannot_be_kept_are_said_not_to_be(page: Page, site):
    page.goto(site.url + "#tools")
    dark = page.get_by_role("group", name=said("tools.theme.name"), exact=True).get_by_role(
        "button", name=said("tools.theme.dark")
    )
    dark.wait_for()
    page.context.new_cdp_session(page).send("Storage.overrideQuotaForOrigin", {"origin": site.origin, "quotaSize": 1})
    dark.tap()
    expect(page.locator("notice-bar")).to_contain_text(said("notice.unkept_full.full"))
    expect(dark).to_have_attribute("aria-pressed", "true")
    page.wait_for_timeout(1000)
    page.locator("[data-key=notice-read]").tap()
    expect(page.locator("notice-bar")).to_be_hidden()


def again(phone: Phone, site) -> Page:
    page = phone.open("about:blank")
    page.add_init_script(LEAPS)
    return back(asleep(page), site)


@pytest.mark.long
def test_a_database_of_a_newer_version_is_left_as_it_is_and_counting_goes_on(cutting: Page, site):
    before = mat(cutting)
    back(lose(cutting, site, NEWER), site)
    assert mat(cutting) == before
    expect(told(cutting, "store_newer")).to_be_visible()
    tap(cutting)
    before = mat(cutting)
    cutting.reload()
    cutting.locator(".mat-sentence").wait_for()
    assert mat(cutting) == before
    assert cutting.evaluate("indexedDB.databases().then(([{ version }]) => version)") == 2


@pytest.mark.every(4)
@pytest.mark.parametrize("how", NO_DATABASE)
def test_without_a_database_it_counts_in_the_second_place(cutting: Page, site, how: str):
    before = mat(cutting)
    cutting.add_init_script(f"if (!sessionStorage.getItem('mended')) {{ {NO_DATABASE[how]} }}")
    back(away(cutting, site), site)
    assert mat(cutting) == before
    expect(told(cutting, "store_second")).to_be_visible()
    cutting.locator("[data-key=notice-read]").tap()
    tap(cutting, 2)
    before = mat(cutting)
    cutting.evaluate("sessionStorage.setItem('mended', 'yes')")
    back(away(cutting, site), site)  # the database answers again, and has less
    assert mat(cutting) == before
    assert sitting(cutting)["events"][-1]["sequence"] == len(at_the_first_piece()) + 4


@pytest.mark.every(2)
@pytest.mark.parametrize("how", NO_DATABASE)
def test_where_nothing_can_be_kept_it_says_so_and_counts(page: Page, site, how: str):
    page.add_init_script(LEAPS)
    page.add_init_script(NO_DATABASE[how] + NO_FILES)
    page.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('no', 'QuotaExceededError'); };")
    page.goto(site.url)
    expect(page.locator("notice-bar")).to_contain_text(said("notice.store_memory.full"))
    page.locator("[data-key=notice-read]").tap()
    page.locator("[data-key=start]").tap()
    page.locator(".mat-sentence").wait_for()
    before = mat(page)
    tap(page)
    assert mat(page) != before


@pytest.mark.long
def test_without_files_web_storage_gives_back_what_it_has_and_asks_to_count_once_more(page: Page, site, dist):
    page.add_init_script(NO_FILES)
    seat(page, site.url, app_folder(dist), MANY, at_the_first_piece())
    tap(page, 3)
    before = mat(page)
    back(lose(page, site, DELETED), site)
    assert mat(page) == before
    expect(page.locator("notice-bar")).to_contain_text(NOTICES["back_as_of"]["brief"].split("{")[0])
    as_of = page.evaluate(
        "(at) => new Date(at).toLocaleString('en-US', { dateStyle: 'medium', timeStyle: 'short' })",
        sitting(page)["events"][-1]["at"],
    )
    expect(page.locator("notice-bar")).to_contain_text(as_of)


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("how", [FILES_LOST, "localStorage.clear()"], ids=["files", "web storage"])
def test_a_second_place_that_is_lost_alone_is_filled_again_without_a_word(cutting: Page, site, how: str):
    before = mat(cutting)
    back(lose(cutting, site, how), site)
    assert mat(cutting) == before
    expect(cutting.locator("notice-bar")).to_be_hidden()
    tap(cutting)
    before = mat(cutting)
    back(lose(cutting, site, DELETED), site)
    assert mat(cutting) == before


# What a kill leaves that came after the database's write and before the file's.
BEHIND = """(async () => {
  const place = await (await navigator.storage.getDirectory()).getDirectoryHandle("matside");
  for await (const [name, handle] of place.entries()) {
    if (!name.endsWith(".sitting")) continue;
    const text = await (await handle.getFile()).text();
    const writing = await handle.createWritable();
    await writing.write(text.slice(0, text.lastIndexOf("\\n", text.length - 2) + 1));
    await writing.close();
  }
})()"""


def test_what_a_kill_kept_from_the_second_place_is_written_there_at_the_next_start(cutting: Page, site):
    """Else it would be shown, and be gone with the database all the same."""
    before, events = mat(cutting), sitting(cutting)["events"]
    back(lose(cutting, site, BEHIND), site)
    assert mat(cutting) == before
    back(lose(cutting, site, DELETED), site)
    assert mat(cutting) == before
    assert sitting(cutting)["events"] == events


@pytest.mark.long
def test_the_same_with_many_sittings_that_the_second_place_lacks(cutting: Page, site, dist):
    cutting.evaluate(MANY_MORE, [f"{site.url}{app_folder(dist)}/store/store.js", 12])
    lose(cutting, site, FILES_LOST)
    for _ in range(2):
        back(cutting, site)
        until(
            cutting,
            f"{FILES}.then((found) => Object.entries(found).some(([name, text]) => name.startsWith('whole') && text.split('more ').length > 12))",
        )
        lose(cutting, site, DELETED)
    back(cutting, site)
    assert cutting.evaluate(COUNTED) == 13


MANY_MORE = """async ([module, many]) => {
  const { Store } = await import(module);
  const store = new Store();
  const { scripts } = (await store.exported())[0];
  const sittings = Array.from({ length: many }, (_, i) => ({ id: `more ${i}`, title: {}, started: i, scripts }));
  await store.takeIn(sittings.map((sitting) => ({ kind: "new", sitting, events: [] })));
}"""
COUNTED = """new Promise((done) => {
  indexedDB.open("matside").onsuccess = ({ target: { result: db } }) => {
    db.transaction("sittings").objectStore("sittings").count().onsuccess = ({ target }) => { db.close(); done(target.result); };
  };
})"""


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("place", ["file-spare.js FileSpare", "web-spare.js WebSpare"])
def test_a_start_makes_no_second_place_shorter_where_another_window_has_gone_on(cutting: Page, site, dist, place: str):
    module, name = place.split()
    lengths = cutting.evaluate(BEGUN_AGAIN, [f"{site.url}{app_folder(dist)}/store/", module, name])
    assert lengths == [5, 5, 3, 4]


BEGUN_AGAIN = """async ([folder, module, name]) => {
  const { Store } = await import(folder + "store.js");
  const place = new (await import(folder + module))[name](...(name === 'WebSpare' ? [localStorage] : []));
  const [sitting] = await new Store().exported();
  const lengths = [];
  for (const [n, longer] of [[5, false], [3, true], [3, false], [4, true]]) {
    await place.begin({ ...sitting, events: sitting.events.slice(0, n) }, longer);
    lengths.push((await place.read()).sittings[0].events.length);
  }
  return lengths;
}"""


@pytest.mark.long
def test_what_was_removed_and_came_back_with_a_copy_is_not_gone_any_more(cutting: Page, site, dist):
    module = f"{site.url}{app_folder(dist)}/store/store.js"
    cutting.get_by_role("button", name=said("mat.leave")).tap()
    found = sitting(cutting)
    until_whole(cutting, found["id"])
    cutting.evaluate(REMOVED_AND_BACK, module)
    lose(cutting, site, DELETED)
    cutting.goto(site.url + "#tools")
    cutting.locator("main h1").wait_for()
    assert cutting.evaluate(COUNTED) == 1


REMOVED_AND_BACK = """async (module) => {
  const { Store } = await import(module);
  const store = new Store();
  const [{ events, ...sitting }] = await store.exported();
  await store.removeSitting(sitting.id);
  await store.takeIn([{ kind: "new", sitting, events }]);
}"""


@pytest.mark.long
def test_while_any_mark_is_left_a_loss_is_told_until_it_is_read(cutting: Page, site):
    lose(cutting, site, DELETED).evaluate(FILES_LOST)
    for _ in range(2):
        cutting.goto(site.url)
        expect(cutting.locator("notice-bar")).to_contain_text(said("notice.lost_all.full"))
        away(cutting, site)
    cutting.goto(site.url)
    cutting.locator("[data-key=notice-read]").tap()
    until_marked(cutting, 0)
    away(cutting, site)
    cutting.goto(site.url)
    cutting.locator("main h1").wait_for()
    expect(cutting.locator("notice-bar")).to_be_hidden()


def until_marked(page: Page, n: int) -> None:
    """Waits until every place notes that so many sittings are kept."""
    until(page, f"JSON.parse(localStorage.getItem('matside.notes')).mark.n === {n}")


def until_whole(page: Page, text: str) -> None:
    """Waits until all that is kept lies in the second place, this text in it: at every leaving
    of the mat it is written anew.
    """
    until(
        page,
        f"(text) => {FILES}.then((found) => Object.entries(found).some(([name, content]) => name.startsWith('whole') && content.includes(text)))",
        text,
    )


@pytest.mark.long
def test_at_the_end_of_a_sitting_everything_goes_to_the_second_place(cutting: Page, site):
    """Earlier sittings, settings and rulers come back with it."""
    cutting.goto(site.url + "#tools")
    cutting.get_by_role("group", name=said("tools.theme.name"), exact=True).get_by_role(
        "button", name=said("tools.theme.dark")
    ).tap()
    cutting.goto(site.url + "#cut")
    cutting.locator(".mat-sentence").wait_for()
    tap(cutting)
    first = sitting(cutting)
    cutting.get_by_role("button", name=said("mat.leave")).tap()
    until_whole(cutting, '"theme":"dark"')
    until_whole(cutting, first["events"][-1]["mark"])
    lose(cutting, site, DELETED)
    back(cutting, site)
    assert sitting(cutting)["events"] == first["events"]
    assert kept(cutting, "settings")["theme"] == "dark"
    assert cutting.evaluate("document.documentElement.dataset.theme") == "dark"


@pytest.mark.long
def test_what_was_removed_is_not_brought_back(cutting: Page, site):
    cutting.get_by_role("button", name=said("mat.leave")).tap()
    until_whole(cutting, sitting(cutting)["id"])
    cutting.goto(site.url + "#tools")
    cutting.locator("[data-key=fold-earlier]").tap()
    cutting.get_by_role("button", name=said("tools.earlier.remove"), exact=True).tap()
    cutting.get_by_role("button", name=said("tools.earlier.remove_yes")).tap()
    expect(cutting.locator("past-list")).to_contain_text(said("tools.earlier.none"))
    until_marked(cutting, 0)
    lose(cutting, site, DELETED)
    cutting.goto(site.url + "#tools")
    cutting.locator("[data-key=fold-earlier]").tap()
    expect(cutting.locator("past-list")).to_contain_text(said("tools.earlier.none"))
    expect(cutting.locator("notice-bar")).to_be_hidden()


@pytest.mark.every(2)
@pytest.mark.parametrize("leap", [-86_400_000, 86_400_000], ids=["back", "forward"])
def test_a_clock_on_the_wall_that_is_set_anew_stops_no_tap(cutting: Page, leap: int):
    """The half second of a bump is told by a clock that only goes on."""
    cutting.evaluate("(leap) => { const set = Date.now; Date.now = () => set() + leap; }", leap)
    tap(cutting, 2)
    before = mat(cutting)
    cutting.locator(".mat-zone").tap()  # at once: a bump
    cutting.evaluate("new Promise((shown) => requestAnimationFrame(() => requestAnimationFrame(shown)))")
    assert mat(cutting) == before


def test_after_a_sleep_in_which_one_clock_stood_still_taps_count(cutting: Page):
    """While a device sleeps the clock that only goes on may stand still: a tap half a second
    after waking counts as ever.
    """
    made = len(sitting(cutting)["events"])
    cutting.evaluate("() => { const set = Date.now; Date.now = () => set() + 3_600_000; }")
    tap(cutting)
    assert len(sitting(cutting)["events"]) == made + 1


FORKED = """async (module) => {
  const { lacking } = await import(module);
  const log = (...marks) => marks.map((mark, sequence) => ({ event: "cut", mark, sitting: "a", sequence }));
  const found = (...marks) => ({ id: "a", scripts: [], events: log(...marks) });
  const held = (...marks) => ({ id: "a", scripts: [], events: log(...marks) });
  const told = (change) => change && [change.kind, change.sitting.id, change.events.map(({ mark, sitting }) => mark + sitting).join(" ")];
  return [
    lacking(found("x", "y"), undefined, () => "b"), lacking(found("x"), held("x", "y"), () => "b"), lacking(found("x", "y"), held("x", "y"), () => "b"),
    lacking(found("x", "y", "z"), held("x"), () => "b"), lacking(found("x", "z"), held("x", "y"), () => "b"),
  ].map(told);
}"""


def test_what_the_second_place_has_more_is_taken_and_what_forks_stands_beside(page: Page, site, dist):
    page.goto(site.url + "licences.txt")
    assert page.evaluate(FORKED, f"{site.url}{app_folder(dist)}/store/read-back.js") == [
        ["new", "a", "xa ya"],
        None,
        None,
        ["longer", "a", "ya za"],
        ["beside", "b", "xb zb"],
    ]
