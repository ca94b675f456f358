"""New versions that come in whole, late, broken or not at all: the version in use goes on, without a network too.

What may go wrong is listed in `host.FAULTS`, and beside each test where it is more than that.
"""

import hashlib
import json
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import product
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page

from amounts import some
from host import Host
from phone import until
from plain_page import plain_dist
from steps.precache import SPARE

SETTLED = "!['waiting', 'installing'].includes(offline.state)"
ENDED = "navigator.serviceWorker.getRegistration().then(({ installing }) => !installing)"
COMPLAINTS = ("404", "unknown error", "integrity", "service worker", "ServiceWorker", "Failed to load resource", "MIME")
KINDS = {"missing": "host", "html": "host", "empty": "host", "cut": "host", "damaged": "host", "dropped": "network"}
FOREIGN = "self.addEventListener('fetch', () => {}); self.addEventListener('message', ({ ports }) => ports[0]?.postMessage({ ok: true }));"


@pytest.fixture(scope="session")
def later_dists(tmp_path_factory) -> dict[str, Path]:
    """Two more versions of the page with nothing but the plumbing."""
    folder = tmp_path_factory.mktemp("later")
    return {word: plain_dist(folder, word) for word in ("three", "four")}


@pytest.fixture
def hurried(context: BrowserContext) -> None:
    """The page waits only a third of its long waits for what does not answer."""
    context.add_init_script(
        "const { setTimeout: late } = window; window.setTimeout = (act, ms, ...more) => late(act, ms >= 5000 ? ms / 3 : ms, ...more);"
    )


@pytest.fixture
def kept(page: Page, plain_site: Host, watched) -> Page:
    """A page of version "one" that is ready offline."""
    for text in COMPLAINTS:
        watched.expect(text)
    page.goto(plain_site.url)
    started(page)
    assert page.evaluate("offline.state") == "ready"
    return page


def started(page: Page) -> None:
    """Registers the service worker and waits until it is settled."""
    until(page, "window.word")
    page.evaluate("void offline.start()")
    until(page, SETTLED)


def look(page: Page) -> None:
    """Looks for a new version and waits until it is whole or was given up."""
    page.evaluate("offline.lookForUpdate()")
    until(page, ENDED)


def standing(page: Page) -> list:
    """Where the page stands, and the kind of trouble with a newer version."""
    return page.evaluate("[offline.state, offline.trouble.kind]")


def opened(context: BrowserContext, host: Host) -> Page:
    """The page, opened anew."""
    tab = context.new_page()
    tab.goto(host.url)
    until(tab, "window.word")
    return tab


def opens_offline(context: BrowserContext, host: Host, word: str = "one") -> None:
    """With the host gone, the page opens anew as this version, and Python starts in it."""
    with host.gone():
        tab = opened(context, host)
        assert tab.evaluate("word") == word
        assert tab.evaluate("createPython().ask({ ask: 'anything' })")["ok"]
        tab.close()


def kept_paths(page: Page, host: Host) -> set[str]:
    """Every file that is kept for use without a network."""
    urls = page.evaluate("""async () => {
      const names = (await caches.keys()).filter((name) => name.includes('precache'));
      return (await (await caches.open(names[0])).keys()).map(({ url }) => url);
    }""")
    return {url.removeprefix(host.url).split("?")[0] for url in urls}


def listed(dist: Path) -> list[str]:
    """Every file that a version's worker lists, in its order."""
    line = next(
        line for line in (dist / "sw.js").read_text("utf-8").splitlines() if line.startswith("self.MATSIDE_BUILD")
    )
    return [
        entry["url"] for entry in json.loads(line.removeprefix("self.MATSIDE_BUILD = ").removesuffix(";"))["precache"]
    ]


def doctored(host: Host, dist: Path, change) -> None:
    """Publishes a version with its worker's script changed."""
    host.publish(dist)
    for script in host.folder.glob("sw*.js"):
        text = script.read_text("utf-8").rpartition(" // matside ")[0]
        changed = change(text)
        assert changed != text
        script.write_text(f"{changed} // matside {hashlib.sha256(changed.encode()).hexdigest()}\n", "utf-8")
        for ending in (".gz", ".br"):
            Path(f"{script}{ending}").unlink()


def put_worker(host: Host, text: str) -> None:
    """Puts a text in place of `sw.js`."""
    (host.folder / "sw.js").write_text(text, "utf-8")
    for ending in (".gz", ".br"):
        (host.folder / f"sw.js{ending}").unlink(missing_ok=True)


# ---- a file of the new version


def kinds_of_files(dist: Path, before: Path) -> list[str]:
    """One file of each folder and kind that the new version has and the one before has not, in the
    order in which they are fetched.
    """
    found, fetched = {}, listed(dist)
    for name in fetched:
        if not (before / name).exists() or (before / name).read_bytes() != (dist / name).read_bytes():
            found[(name.split("-")[0].split("/")[0], Path(name).suffix)] = name
    return sorted(found.values(), key=fetched.index)


@pytest.mark.long
def test_any_file_broken_in_any_way_leaves_the_version_in_use(kept: Page, plain_site: Host, plain_dists):
    files = kinds_of_files(plain_dists["two"], plain_dists["one"])
    assert {Path(name).suffix for name in files} >= {".html", ".js", ".mjs", ".json", ".svg"}
    plain_site.publish(plain_dists["two"])
    for name, (fault, kind) in some(list(product(files, KINDS.items())), 5):
        plain_site.faults = {name: fault}
        kept.evaluate("offline.trouble = { kind: '', detail: '' }")
        look(kept)
        until(kept, "offline.trouble.kind")
        assert standing(kept) == ["ready", kind], (name, fault)
        assert name in kept.evaluate("offline.trouble.detail")
    opens_offline(kept.context, plain_site)
    plain_site.faults = {}
    look(kept)
    until(kept, "offline.state === 'update'")
    assert standing(kept) == ["update", ""]


@pytest.mark.long
def test_the_network_going_in_the_middle_is_called_that(kept: Page, plain_site: Host, plain_dists):
    plain_site.publish(plain_dists["two"])
    plain_site.gone_after("main.js", "index.html")
    look(kept)
    until(kept, "offline.trouble.kind")
    assert standing(kept) == ["ready", "network"]
    opens_offline(kept.context, plain_site)


# ---- the worker's own script


@pytest.mark.long
@pytest.mark.parametrize("fault", ["missing", "html", "cut"])
def test_a_script_that_is_none_is_not_installed(kept: Page, plain_site: Host, plain_dists, fault):
    plain_site.publish(plain_dists["two"])
    plain_site.faults["/sw.js"] = fault
    look(kept)
    assert kept.evaluate("navigator.serviceWorker.getRegistration().then(({ waiting }) => waiting)") is None
    assert standing(kept) == ["ready", ""]
    opens_offline(kept.context, plain_site)


@pytest.mark.long
def test_a_script_cut_anywhere_does_not_parse(kept: Page, plain_site: Host, plain_dists):
    """Its first line, every line's end of our own part, and the end of the whole are tried by the browser itself."""
    text = (plain_dists["two"] / "sw.js").read_text("utf-8")
    ends = [match.end() for match in re.finditer("\n", text)]
    cuts = [1, 2, *ends[: -1 : len(ends) // 30], text.rindex("}")]
    for cut in cuts:
        put_worker(plain_site, text[:cut])
        assert (
            kept.evaluate(
                "navigator.serviceWorker.getRegistration().then((each) => each.update()).then(() => 'taken', () => 'refused')"
            )
            == "refused"
        ), cut
    assert standing(kept) == ["ready", ""]


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("text", ["", FOREIGN], ids=["empty", "foreign"])
def test_a_script_that_answers_nothing_is_never_put_in_place(hurried, kept: Page, plain_site: Host, text):
    context = kept.context
    put_worker(plain_site, text)
    look(kept)
    until(kept, "offline.trouble.kind")
    assert standing(kept) == ["ready", "damaged"]
    assert kept.evaluate("offline.applyUpdate()") is False
    until(kept, "navigator.serviceWorker.getRegistration().then(({ waiting }) => waiting?.scriptURL.includes('sw-'))")
    kept.close()  # now the browser itself puts in place what waits
    opens_offline(context, plain_site)


@pytest.mark.long
def test_once_the_host_is_mended_its_own_script_is_used_again(hurried, kept: Page, plain_site: Host, plain_dists):
    context = kept.context
    put_worker(plain_site, "")
    look(kept)
    until(kept, "navigator.serviceWorker.getRegistration().then(({ waiting }) => waiting?.scriptURL.includes('sw-'))")
    kept.close()
    tab = opened(context, plain_site)
    started(tab)
    assert standing(tab) == ["ready", ""]
    assert SPARE.match(tab.evaluate("navigator.serviceWorker.controller.scriptURL").split("/")[-1])
    plain_site.publish(plain_dists["two"])
    tab.evaluate("void offline.start()")
    until(tab, "offline.state === 'update'")
    with tab.expect_navigation():
        tab.evaluate("void offline.applyUpdate()")
    until(tab, "window.word === 'two'")
    assert tab.evaluate("navigator.serviceWorker.controller.scriptURL").endswith("/sw.js")


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("fault", ["missing", "empty"])
def test_where_this_version_s_own_script_is_gone_too_that_is_told_and_mended_later(
    hurried, kept: Page, plain_site: Host, plain_dists, fault
):
    context = kept.context
    put_worker(plain_site, "")
    plain_site.faults[spare_of(plain_site)] = fault
    look(kept)
    until(kept, "offline.trouble.kind")
    assert standing(kept) == ["ready", "exposed"]
    with plain_site.gone():
        kept.reload()  # a tab is open all the while: the version in use goes on
        assert until(kept, "window.word") == "one"
    kept.close()
    tab = opened(context, plain_site)  # the empty worker is in place, and the page comes by the network
    started(tab)
    assert tab.evaluate("[offline.state, offline.fault.kind]") == ["failed", "host"]
    plain_site.faults = {}
    plain_site.publish(plain_dists["one"])
    started(tab)
    until(tab, "offline.state === 'ready'")
    opens_offline(context, plain_site)


@pytest.mark.every(3)
@pytest.mark.parametrize("fault", ["missing", "html", "empty", "cut", "damaged"])
def test_a_first_visit_that_meets_a_broken_script_is_kept_offline_all_the_same(
    page: Page, plain_site: Host, watched, fault
):
    watched.expect("404")
    plain_site.faults["/sw.js"] = fault
    page.goto(plain_site.url)
    started(page)
    assert page.evaluate("offline.state") == "ready"
    opens_offline(page.context, plain_site)


@pytest.mark.long
def test_a_version_that_falls_silent_after_it_was_offered_is_not_put_in_place(
    hurried, kept: Page, plain_site: Host, plain_dists
):
    once = "const actions = { check: () => (self.asked ? new Promise(() => {}) : ((self.asked = true), check(...arguments))),"
    spare = spare_of(plain_site)
    doctored(
        plain_site,
        plain_dists["two"],
        lambda text: text.replace("const actions = {\ncheck,", once.replace("...arguments", "{ type: 'message' }")),
    )
    shutil.copy(plain_dists["one"] / spare, plain_site.folder)  # a release leaves that of the one before for a day
    look(kept)
    until(kept, "offline.state === 'update'")
    assert kept.evaluate("offline.applyUpdate()") is False
    until(kept, "offline.trouble.kind")
    assert standing(kept) == ["ready", "damaged"]
    opens_offline(kept.context, plain_site)


def test_a_version_whose_script_was_altered_is_not_offered_though_it_answers(kept: Page, plain_site: Host, plain_dists):
    script = (plain_dists["two"] / "sw.js").read_text("utf-8")
    plain_site.publish(plain_dists["two"])
    shutil.copy(next(plain_dists["one"].glob("sw-*.js")), plain_site.folder)
    assert script.count("const here = [") == 1
    put_worker(plain_site, script.replace("const here = [", "const here =  ["))
    look(kept)
    until(kept, "offline.trouble.kind")
    assert standing(kept) == ["ready", "damaged"]


@pytest.mark.long
def test_a_version_that_does_not_answer_with_its_own_page_is_not_offered(kept: Page, plain_site: Host, plain_dists):
    doctored(plain_site, plain_dists["two"], lambda text: text.replace("const here = [", "const here = false && ["))
    look(kept)
    until(kept, "offline.trouble.kind")
    assert kept.evaluate("offline.state") == "ready"
    assert kept.evaluate("word") == "one"


# ---- versions that are skipped, or go back


@pytest.mark.long
def test_three_versions_later(kept: Page, plain_site: Host, plain_dists, later_dists):
    dists = {**plain_dists, **later_dists}
    for word in ("two", "three", "four"):
        plain_site.publish(dists[word])
        look(kept)
        until(kept, "offline.state === 'update'")
    opens_offline(kept.context, plain_site)
    skipped = {*listed(dists["two"])} - {*listed(dists["one"]), *listed(dists["four"])}
    assert skipped
    assert skipped & kept_paths(kept, plain_site) == set()
    with kept.expect_navigation():
        kept.evaluate("void offline.applyUpdate()")
    assert until(kept, "window.word") == "four"
    started(kept)
    assert kept_paths(kept, plain_site) == {*listed(dists["four"])}
    opens_offline(kept.context, plain_site, "four")


@pytest.mark.long
def test_an_older_version_can_be_put_back(page: Page, plain_site: Host, plain_dists):
    plain_site.publish(plain_dists["two"])
    page.goto(plain_site.url)
    started(page)
    plain_site.publish(plain_dists["one"])
    look(page)
    until(page, "offline.state === 'update'")
    opens_offline(page.context, plain_site, "two")
    with page.expect_navigation():
        page.evaluate("void offline.applyUpdate()")
    assert until(page, "window.word") == "one"
    opens_offline(page.context, plain_site, "one")


@pytest.mark.long
def test_another_tab_goes_on_with_its_version_and_then_its_files_go(kept: Page, plain_site: Host, plain_dists):
    other = opened(kept.context, plain_site)
    started(other)
    plain_site.publish(plain_dists["two"])
    look(kept)
    until(kept, "offline.state === 'update'")
    with kept.expect_navigation():
        kept.evaluate("void offline.applyUpdate()")
    assert until(kept, "window.word") == "two"
    other.context.new_cdp_session(other).send(
        "Network.clearBrowserCache"
    )  # what the browser itself may have is no help
    plain_site.stop()
    assert other.evaluate("word") == "one"
    assert other.evaluate("createPython().ask({ ask: 'anything' })")[
        "ok"
    ]  # from files that the new version does not have
    plain_site.start()
    assert {*listed(plain_dists["one"])} <= kept_paths(kept, plain_site)
    other.close()
    started(kept)
    assert kept_paths(kept, plain_site) == {*listed(plain_dists["two"])}


@pytest.mark.long
def test_the_last_tab_keeps_its_files_where_it_shows_the_version_before(kept: Page, plain_site: Host, plain_dists):
    """The one with the new version was closed first: what this one has still to load is not let go under it."""
    other = opened(kept.context, plain_site)
    plain_site.publish(plain_dists["two"])
    look(kept)
    until(kept, "offline.state === 'update'")
    with kept.expect_navigation():
        kept.evaluate("void offline.applyUpdate()")
    started(kept)
    kept.close()
    other.bring_to_front()
    started(other)
    other.context.new_cdp_session(other).send("Network.clearBrowserCache")
    with plain_site.gone():
        assert other.evaluate("word") == "one"
        assert other.evaluate("createPython().ask({ ask: 'anything' })")["ok"]
    assert {*listed(plain_dists["one"])} <= kept_paths(other, plain_site)
    other.reload()
    started(other)
    assert other.evaluate("word") == "two"
    assert kept_paths(other, plain_site) == {*listed(plain_dists["two"])}


# ---- no room


@contextmanager
def room_for(page: Page, host: Host, more: int) -> Iterator[None]:
    """A browser that gives the page's origin no more than so many bytes on top of what it has."""
    usage = page.evaluate("navigator.storage.estimate().then(({ usage }) => usage)")
    session = page.context.new_cdp_session(page)
    session.send("Storage.overrideQuotaForOrigin", {"origin": host.origin, "quotaSize": usage + more})
    yield
    session.send("Storage.overrideQuotaForOrigin", {"origin": host.origin})


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("asks_first", [True, False], ids=["estimated", "met"])
def test_a_full_disk_is_called_that_and_leaves_the_room_it_found(kept: Page, plain_site: Host, plain_dists, asks_first):
    """Met: the estimate says nothing, and the browser itself refuses a file."""
    unasked = {
        True: lambda text: text.replace("const here = [", "const here =  ["),
        False: lambda text: text.replace("if (quota && ", "if (false && "),
    }
    doctored(plain_site, plain_dists["two"], unasked[asks_first])
    before = kept_paths(kept, plain_site)
    with room_for(kept, plain_site, 20_000):
        look(kept)
        until(kept, "offline.trouble.kind")
        assert standing(kept) == ["ready", "storage"]
        assert kept_paths(kept, plain_site) == before
        opens_offline(kept.context, plain_site)
    look(kept)
    until(kept, "offline.state === 'update'")


def test_a_first_visit_with_a_full_disk_says_so(page: Page, plain_site: Host, watched):
    for text in COMPLAINTS:
        watched.expect(text)
    page.goto(plain_site.url)
    until(page, "window.word")
    with room_for(page, plain_site, 20_000):
        started(page)
        assert page.evaluate("[offline.state, offline.fault.kind]") == ["failed", "storage"]
    started(page)
    assert page.evaluate("offline.state") == "ready"


# ---- what a first visit meets


def spare_of(host: Host) -> str:
    """The worker's script under the name that belongs to its version alone."""
    return next(path.name for path in host.folder.iterdir() if SPARE.match(path.name))


@pytest.mark.every(3)
@pytest.mark.parametrize(
    ("fault", "kind"),
    [("missing", "host"), ("html", "host"), ("damaged", "host"), ("cut", "host"), ("dropped", "network")],
)
def test_a_script_that_cannot_be_had_is_told_by_its_kind(page: Page, plain_site: Host, watched, fault, kind):
    for text in COMPLAINTS:
        watched.expect(text)
    page.goto(plain_site.url)
    plain_site.faults = {"/sw.js": fault, spare_of(plain_site): fault}
    started(page)
    assert page.evaluate("[offline.state, offline.fault.kind]") == ["failed", kind]
    plain_site.faults = {}
    started(page)
    assert page.evaluate("offline.state") == "ready"
