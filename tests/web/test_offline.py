"""Working without a network: what is kept, when the page may say so, and how a new version comes in."""

import re

import pytest
from playwright.sync_api import Page

from host import Host
from phone import until
from steps.precache import HOST_FILES, SBOM, is_worker

SETTLED = "!['waiting', 'installing'].includes(offline.state) && offline.state"
ASK = "createPython().ask({ask: 'anything'})"


@pytest.fixture
def kept(page: Page, plain_site: Host, watched) -> Page:
    """A page that is ready offline."""
    watched.expect("/sw.js)")  # a browser looks for a newer worker when it likes, and the host may be gone then
    page.goto(plain_site.url)
    start(page)
    assert page.evaluate("offline.state") == "ready"
    return page


def start(page: Page) -> None:
    """Registers the service worker and waits until it is settled."""
    page.evaluate("offline.start()")
    until(page, SETTLED)


# A version that is whole is offered once the page has asked it, a moment after it is installed.
OFFERED = "offline.state === 'update'"


def look_for_update(page: Page) -> None:
    """Looks for a new version and waits until it is whole or has been given up."""
    page.evaluate("offline.lookForUpdate()")
    until(page, "navigator.serviceWorker.getRegistration().then(({ installing }) => !installing)")
    page.wait_for_timeout(100)


def word(page: Page) -> str:
    """Which version the page is."""
    return until(page, "window.word")


@pytest.mark.every(4)
@pytest.mark.parametrize("address", ["", "index.html", "?plan=12", "some/old/link"])
def test_the_page_opens_and_computes_with_the_server_gone(kept: Page, plain_site: Host, address: str):
    plain_site.stop()
    tab = kept.context.new_page()
    tab.goto(plain_site.url + address)
    assert word(tab) == "one"
    assert tab.evaluate(ASK)["ok"]


def test_a_reload_works_with_the_server_gone(kept: Page, plain_site: Host):
    plain_site.stop()
    kept.reload()
    assert word(kept) == "one"
    start(kept)
    assert kept.evaluate("offline.state") == "ready"


def test_every_file_but_the_squeezed_copies_the_host_s_and_other_languages_is_kept(kept: Page, plain_site: Host):
    kept_paths = kept.evaluate("""async () => {
      const cache = await caches.open((await caches.keys()).find((name) => name.includes('precache')));
      return (await cache.keys()).map(({ url }) => new URL(url).pathname);
    }""")
    files = {path.relative_to(plain_site.folder).as_posix() for path in plain_site.folder.rglob("*") if path.is_file()}
    wanted = {
        name
        for name in files
        if not name.endswith((".gz", ".br"))
        and not is_worker(name)
        and name not in (SBOM, *HOST_FILES)
        and not other_language(name)
    }
    assert sorted(kept_paths) == sorted(plain_site.prefix + name for name in wanted)


def other_language(name: str) -> bool:
    """Whether a file is of a language that is kept only where it is spoken."""
    return bool(re.search(r"/(words|glossary)/(?!en\b|pictures\b)\w+\.json$", name))


def test_ready_is_not_said_while_a_file_is_lacking(kept: Page, plain_site: Host, watched):
    forget_one_file(kept)
    watched.expect("ERR_CONNECTION_REFUSED")
    with plain_site.gone():
        kept.evaluate("offline.start()")
        assert until(kept, SETTLED) == "failed"
        assert kept.evaluate("offline.message") == "network"


def test_a_file_that_was_lost_is_fetched_again(kept: Page):
    assert forget_one_file(kept) == 1
    start(kept)
    assert kept.evaluate("offline.state") == "ready"


def forget_one_file(page: Page) -> int:
    """Deletes one file from what is kept, as a browser short of space might; how many files went."""
    return page.evaluate("""async () => {
      const cache = await caches.open((await caches.keys()).find((name) => name.includes('precache')));
      const lost = (await cache.keys()).filter(({ url }) => url.endsWith('pyodide.mjs'));
      await Promise.all(lost.map((key) => cache.delete(key)));
      return lost.length;
    }""")


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("fault", ["missing", "damaged"])
def test_a_first_visit_that_cannot_keep_every_file_says_so(page: Page, plain_site: Host, watched, fault: str):
    watched.expect("404")
    watched.expect("integrity")
    watched.expect("service worker")
    plain_site.faults["licences.txt"] = fault
    page.goto(plain_site.url)
    start(page)
    assert page.evaluate("[offline.state, offline.message]") == ["failed", "host"]
    plain_site.faults.clear()
    start(page)
    assert page.evaluate("offline.state") == "ready"


def test_a_new_version_is_offered_and_not_forced(kept: Page, plain_site: Host, plain_dists):
    plain_site.publish(plain_dists["two"])
    look_for_update(kept)
    until(kept, OFFERED)
    assert word(kept) == "one"
    kept.reload()
    assert word(kept) == "one"
    start(kept)
    until(kept, OFFERED)


@pytest.mark.long
def test_the_old_version_works_offline_while_the_new_one_waits(kept: Page, plain_site: Host, plain_dists):
    plain_site.publish(plain_dists["two"])
    look_for_update(kept)
    plain_site.stop()
    kept.reload()
    assert word(kept) == "one"
    assert kept.evaluate(ASK)["ok"]


def test_the_new_version_comes_in_when_asked_for(kept: Page, plain_site: Host, plain_dists):
    plain_site.publish(plain_dists["two"])
    look_for_update(kept)
    until(kept, OFFERED)
    plain_site.stop()
    with kept.expect_navigation():
        kept.evaluate("void offline.applyUpdate()")
    assert word(kept) == "two"
    start(kept)
    assert kept.evaluate("offline.state") == "ready"


@pytest.mark.long
def test_nothing_is_applied_while_a_tab_holds(kept: Page, plain_site: Host, plain_dists):
    cutting = kept.context.new_page()
    cutting.goto(plain_site.url)
    until(cutting, "window.word")
    cutting.evaluate("void (window.release = offline.hold())")
    plain_site.publish(plain_dists["two"])
    look_for_update(kept)
    until(kept, OFFERED)
    assert kept.evaluate("offline.applyUpdate()") is False
    assert word(kept) == "one"
    cutting.evaluate("release()")
    until(kept, "navigator.locks.query().then(({ held }) => held.length === 0)")
    with kept.expect_navigation():
        kept.evaluate("void offline.applyUpdate()")
    assert word(kept) == "two"


@pytest.mark.every(4)
@pytest.mark.parametrize("fault", ["missing", "damaged"])
@pytest.mark.parametrize("file", ["index.html", "main.js"])
def test_a_broken_update_leaves_the_old_version_whole(kept: Page, plain_site: Host, plain_dists, watched, fault, file):
    for text in ("404", "integrity", "service worker", "ServiceWorker"):
        watched.expect(text)
    plain_site.faults[file] = fault
    plain_site.publish(plain_dists["two"])
    look_for_update(kept)
    assert until(kept, "offline.trouble.kind") == "host"
    assert kept.evaluate("offline.state") == "ready"
    with plain_site.gone():
        kept.reload()
        assert word(kept) == "one"
        assert kept.evaluate(ASK)["ok"]
    plain_site.faults.clear()
    start(kept)
    look_for_update(kept)
    until(kept, OFFERED)


def test_a_browser_without_service_workers_is_told_apart(page: Page, plain_site: Host):
    page.add_init_script("Object.defineProperty(navigator, 'serviceWorker', { value: undefined })")
    page.goto(plain_site.url)
    until(page, "window.word")
    start(page)
    assert page.evaluate("offline.state") == "unsupported"


def test_the_built_page_itself_opens_with_the_server_gone(page: Page, own_site: Host):
    page.goto(own_site.url)
    page.evaluate("""async () => {
      const main = document.querySelector('script[type=module]').src;
      window.offline = (await import(main.replace('main.js', 'offline.js'))).offline;
    }""")
    start(page)
    assert page.evaluate("offline.state") == "ready"
    own_site.stop()
    page.reload()
    assert until(page, "document.body.textContent.trim()")
