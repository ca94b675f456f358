"""Fixtures for everything that runs in a browser.

`page` is a phone-size page of `site`, the built distribution served from a sub-path; a test fails at its end on any
console error, uncaught error or request to an outside host that it did not expect (`watched.expect`).
"""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

from engines.driver import Driver
from engines.outside import Outside
from host import Host
from near import NearHost, near_dist
from phone import TEST_FLAGS, Phone, Watched, on_its_way
from plain_page import plain_dist
from shelf import Shelf
from steps.testing import BROWSER_MEND, find_shell

pytest.register_assert_rewrite(
    "engines.acts", "engines.journeys", "engines.locales", "engines.probing", "engines.widths"
)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Playwright itself."""
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """One Chromium for all tests that need no browser of their own."""
    if not find_shell():
        pytest.fail(BROWSER_MEND)
    started = playwright.chromium.launch(executable_path=find_shell(), args=TEST_FLAGS)
    yield started
    started.close()


@pytest.fixture(scope="session")
def outside() -> Iterator[Outside]:
    """What stands for everything outside this machine."""
    proxy = Outside()
    yield proxy
    proxy.stop()


@pytest.fixture
def engine(started: Driver) -> Iterator[Driver]:
    """The engine that the test's module has `started`; complaints that the test does not expect fail it at its end."""
    started.settled()
    yield started
    started.open("about:blank")
    assert started.unexpected() == []


@pytest.fixture(scope="module")
def hosts() -> Iterator[Callable[[Path], Host]]:
    """Makes hosts that are there until the module's last test is over: what a page still fetches
    when its own is over finds them.
    """
    with ExitStack() as stack:

        def make(folder: Path) -> Host:
            host = Host(folder)
            stack.callback(host.stop)
            return host

        yield make


@pytest.fixture
def host(hosts, dist: Path) -> Host:
    """The distribution at an address where no page has been, so with an empty store; leave it whole."""
    return hosts(dist)


@pytest.fixture(scope="session")
def site(dist: Path, pytestconfig: pytest.Config, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Host]:
    """The distribution, served for the whole session, its Python beside it unless the tests run with `--in-page`;
    leave it running and whole."""
    if pytestconfig.getoption("--in-page"):
        host = Host(dist)
        yield host
        host.stop()
    else:
        near = NearHost(near_dist(dist, tmp_path_factory.mktemp("near") / "dist"))
        yield near
        near.close()


@pytest.fixture
def empty_site(site: Host) -> Iterator[Host]:
    """The same at an address where no page has been, so with an empty store."""
    host = type(site)(site.folder)
    yield host
    host.close()


@pytest.fixture
def own_site(dist: Path, tmp_path: Path) -> Iterator[Host]:
    """A copy of the distribution on a host of the test's own, to stop, damage or publish anew."""
    host = Host(Path(shutil.copytree(dist, tmp_path / "dist")))
    yield host
    host.stop()


@pytest.fixture(scope="session")
def shelf(browser: Browser, site: Host) -> Iterator[Shelf]:
    """The contexts that tests have one after another."""
    made = Shelf(browser, f"{site.url}licences.txt")
    yield made
    made.close()


@pytest.fixture
def context(shelf: Shelf) -> Iterator[BrowserContext]:
    """A phone's browser with empty storage, perhaps one that another test had before."""
    with shelf.lent() as lent:
        yield lent


@pytest.fixture
def watched(context: BrowserContext) -> Iterator[Watched]:
    """The context's complaints; those not expected fail the test at its end."""
    watching = Watched(context)
    yield watching
    assert watching.unexpected() == []


@pytest.fixture
def page(context: BrowserContext, watched: Watched, site: Host) -> Page:
    """An empty page on the phone; go to `site.url`, where it never gets as far as being kept for offline
    use, or to a host of your own.
    """
    return on_its_way(context.new_page(), site.origin)


@pytest.fixture
def phone(playwright: Playwright, tmp_path: Path) -> Iterator[Phone]:
    """A browser of the test's own, to close, kill and open again."""
    made = Phone(playwright, tmp_path / "phone")
    yield made
    made.close()
    assert made.watched.unexpected() == []


@pytest.fixture
def new_context(shelf: Shelf) -> Iterator[Callable[..., BrowserContext]]:
    """Lends further contexts, with settings that differ from the usual phone's."""
    with ExitStack() as lent:
        yield lambda **settings: lent.enter_context(shelf.lent(**settings))


@pytest.fixture(scope="session")
def plain_dists(tmp_path_factory) -> dict[str, Path]:
    """Two versions of a page with nothing but the plumbing, "one" and "two"."""
    folder = tmp_path_factory.mktemp("plain")
    return {word: plain_dist(folder, word) for word in ("one", "two")}


@pytest.fixture
def plain_site(plain_dists: dict[str, Path], tmp_path: Path) -> Iterator[Host]:
    """Version "one" on a host of the test's own."""
    host = Host(Path(shutil.copytree(plain_dists["one"], tmp_path / "plain")))
    yield host
    host.stop()
