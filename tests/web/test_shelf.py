"""A context that was lent before is as good as a new one; what cannot be cleared away is not lent again."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from host import Host
from phone import at_every_load, until
from shelf import Shelf

# One thing in each of the browser's places, some of them still in use; the file and the database stay open.
LEAVE = """async (worker) => {
  localStorage.setItem('mine', 'yes');
  sessionStorage.setItem('mine', 'yes');
  document.cookie = 'mine=yes';
  await (await caches.open('mine')).put('mine', new Response('yes'));
  const file = await (await navigator.storage.getDirectory()).getFileHandle('mine', { create: true });
  window.writing = await file.createWritable();
  await new Promise((made) => {
    const opening = indexedDB.open('mine');
    opening.onupgradeneeded = () => opening.result.createObjectStore('mine').put('yes', 'mine');
    opening.onsuccess = () => { window.open = opening.result; made(); };
  });
  await new Promise((held) => {
    navigator.locks.request('mine', () => { held(); return new Promise(() => {}); });
  });
  await navigator.serviceWorker.register(trustedTypes.createPolicy('matside', { createScriptURL: (url) => url }).createScriptURL(worker));
  new BroadcastChannel('mine').onmessage = () => {};
}"""
FOUND = """async () => {
  const files = [];
  for await (const name of (await navigator.storage.getDirectory()).keys()) files.push(name);
  return {
    local: { ...localStorage }, session: { ...sessionStorage }, cookie: document.cookie, caches: await caches.keys(), files,
    databases: (await indexedDB.databases()).map(({ name }) => name), locks: (await navigator.locks.query()).held.map(({ name }) => name),
    workers: (await navigator.serviceWorker.getRegistrations()).length, permission: (await navigator.permissions.query({ name: 'geolocation' })).state,
    online: navigator.onLine,
  };
}"""
NOTHING = {"local": {}, "session": {}, "cookie": "", "caches": [], "files": [], "databases": [], "locks": [], "workers": 0, "permission": "denied",
           "online": True}  # fmt: skip


@pytest.fixture
def own_shelf(browser: Browser, site: Host) -> Iterator[Shelf]:
    """A shelf that nothing has been taken from."""
    made = Shelf(browser, f"{site.url}licences.txt")
    yield made
    made.close()


def quiet(page: Page, site: Host) -> Page:
    """The page at an address of the host at which nothing is done."""
    page.goto(f"{site.url}licences.txt")
    return page


def test_nothing_that_a_test_leaves_is_found_by_the_next(own_shelf: Shelf, site: Host):
    heard = []
    with own_shelf.lent() as first:
        page = quiet(first.new_page(), site)
        assert page.evaluate(FOUND) == NOTHING
        first.grant_permissions(["geolocation"])
        page.evaluate(LEAVE, f"{site.url}sw.js")
        page.add_init_script("window.left = 'yes'")
        first.on("console", lambda message: heard.append(message.text))
        found = page.evaluate(FOUND)
        first.set_offline(True)
        found["online"] = not until(page, "!navigator.onLine")
    assert [name for name in NOTHING if found[name] == NOTHING[name]] == []  # each of them was really left
    with own_shelf.lent() as second:
        assert second is first
        page = quiet(second.new_page(), site)
        assert page.evaluate(FOUND) == NOTHING
        assert page.evaluate("window.left") is None
        page.evaluate("console.log('said')")
    assert heard == []


@pytest.mark.long
def test_what_is_still_on_its_way_into_the_cache_does_not_come_after_the_clearing(own_shelf: Shelf, site: Host):
    for _ in range(2):
        with own_shelf.lent() as context:
            page = quiet(context.new_page(), site)
            assert page.evaluate(FOUND) == NOTHING
            page.evaluate(
                "(worker) => { navigator.serviceWorker.register(trustedTypes.createPolicy('matside', { createScriptURL: (url) => url }).createScriptURL(worker)); }",
                f"{site.url}sw.js",
            )
            until(page, "caches.keys().then((names) => names.length)")


@pytest.mark.parametrize(("name", "values"), [
    ("expose_function", ["left", lambda: "yes"]),
    ("once", ["page", lambda page: None]),
])  # fmt: skip
def test_what_would_last_is_not_lent_again(own_shelf: Shelf, site: Host, name: str, values: list):
    with own_shelf.lent() as first:
        getattr(first, name)(*values)
    with own_shelf.lent() as second:
        assert second is not first


DARK = "matchMedia('(prefers-color-scheme: dark)').matches"


def test_the_page_is_lent_again_without_what_was_done_to_it(own_shelf: Shelf, site: Host):
    heard = []
    with own_shelf.lent() as context:
        page = quiet(context.new_page(), site)
        at_every_load(page, "window.left = 'yes'")
        page.add_init_script("window.left += ' and more'")
        context.add_init_script("window.whole = 'yes'")
        page.route("**/sw.js", lambda route: route.fulfill(body="not that"))
        page.on("console", lambda message: heard.append(message.text))
        page.set_viewport_size({"width": 844, "height": 390})
        context.new_cdp_session(page).send(
            "Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": "dark"}]}
        )
        quiet(page, site)
        said = page.evaluate("fetch('sw.js').then((answer) => answer.text())")
        assert [page.evaluate("window.left"), page.evaluate("window.whole"), said] == [
            "yes and more",
            "yes",
            "not that",
        ]
        assert page.evaluate(DARK)
    with own_shelf.lent() as context:
        again = quiet(context.new_page(), site)
        assert again is page
        said = again.evaluate("fetch('sw.js').then((answer) => answer.text())")
        assert [again.evaluate("window.left"), again.evaluate("window.whole"), said == "not that"] == [
            None,
            None,
            False,
        ]
        assert [again.evaluate("screen.width"), again.evaluate(DARK)] == [390, False]
        again.evaluate("console.log('said')")
        assert heard == []
        at_every_load(again, "window.left = 'yes'")
        assert quiet(again, site).evaluate("window.left") == "yes"


@pytest.mark.long
def test_who_asks_for_a_second_page_gets_another(own_shelf: Shelf, site: Host):
    with own_shelf.lent() as context:
        assert context.new_page() is not context.new_page()


@pytest.mark.long
@pytest.mark.parametrize("do", [
    lambda page: page.emulate_media(color_scheme="dark"), lambda page: page.close(), lambda page: page.clock.install(),
    lambda page: page.set_default_timeout(1000),
])  # fmt: skip
def test_a_page_that_something_of_it_would_stay_with_is_not_lent_again(own_shelf: Shelf, site: Host, do):
    with own_shelf.lent() as context:
        page = quiet(context.new_page(), site)
        do(page)
    with own_shelf.lent() as context:
        assert context.new_page() is not page


def test_who_was_at_another_host_is_not_lent_again(own_shelf: Shelf, plain_site: Host):
    with own_shelf.lent() as first:
        first.new_page().goto(plain_site.url)
    with own_shelf.lent() as second:
        assert second is not first


@pytest.mark.long
def test_each_set_of_settings_has_its_own_and_two_at_a_time_are_two(own_shelf: Shelf):
    with own_shelf.lent() as first, own_shelf.lent() as second, own_shelf.lent(locale="de-DE") as german:
        assert first is not second
        assert [each.new_page().evaluate("navigator.language") for each in (first, german)] == ["en-US", "de-DE"]
    with own_shelf.lent(locale="de-DE") as again:
        assert again is german


@pytest.mark.long
def test_the_page_itself_is_over_in_the_middle_of_its_start(own_shelf: Shelf, site: Host):
    """Its store open, its workers at work: the next one finds nothing kept, now or a little later."""
    with own_shelf.lent() as context:
        page = context.new_page()
        page.goto(site.url)
        until(page, "indexedDB.databases().then((all) => all.length)")
    with own_shelf.lent() as context:
        page = quiet(context.new_page(), site)
        page.wait_for_timeout(300)
        assert page.evaluate(FOUND) == NOTHING
