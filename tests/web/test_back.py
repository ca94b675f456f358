"""The phone's back button where a browser has no close watchers: what is open is closed before the page is left."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from host import Host
from phone import SCREEN, Watched, at_every_load, slowed, until
from quilter import answered, count_screen, in_sight

PIECE, CLOTH = "#part-piece", "#part-cloth"


@pytest.fixture(scope="module")
def shared(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for all tests of this file."""
    context = slowed(browser.new_context(**SCREEN))
    watching = Watched(context)
    page = at_every_load(context.new_page(), "delete globalThis.CloseWatcher")
    yield count_screen(page, site.url)
    context.close()
    assert watching.unexpected() == []


@pytest.fixture
def count(shared: Page) -> Page:
    """The first screen, come to from Tools, with nothing open."""
    for screen in ("tools", "count"):
        shared.evaluate("name => (location.hash = name)", screen)
        until(shared, f"location.hash === '#{screen}'")
    answered(shared)
    expect(shared.locator(PIECE)).to_be_hidden()
    return shared


def turn(page: Page, name: str) -> None:
    """Opens one of the two parts, or closes it."""
    in_sight(page.locator(f"[data-key=slot-{name}]")).tap()


def back(page: Page) -> None:
    """As the button does; a page that is left by it is one that was in this window before."""
    page.evaluate("history.back()")


def test_what_is_open_is_closed_and_then_the_screen_is_left(count: Page):
    turn(count, "piece")
    back(count)
    expect(count.locator(PIECE)).to_be_hidden()
    assert count.evaluate("location.hash") == "#count"
    back(count)
    until(count, "location.hash === '#tools'")


def test_what_was_closed_otherwise_asks_for_no_press_of_its_own(count: Page):
    for _ in range(2):
        turn(count, "piece")
        turn(count, "piece")
    expect(count.locator(PIECE)).to_be_hidden()
    back(count)
    until(count, "location.hash === '#tools'")


def test_what_was_gone_on_to_from_an_open_part_is_come_back_from(count: Page):
    turn(count, "cloth")
    count.evaluate("location.hash = 'terms'")
    until(count, "location.hash === '#terms'")
    back(count)
    until(count, "location.hash === '#count'")
    back(count)
    until(count, "location.hash === '#tools'")


def test_a_tape_is_closed_before_the_part_that_it_is_in(count: Page):
    turn(count, "piece")
    count.locator("[data-key='tape-piece.text']").tap()
    expect(count.locator(".tape")).to_be_visible()
    back(count)
    expect(count.locator(".tape")).to_have_count(0)
    expect(count.locator(PIECE)).to_be_visible()
    count.keyboard.press("Escape")
    expect(count.locator(PIECE)).to_be_hidden()
    back(count)
    until(count, "location.hash === '#tools'")


def test_a_dialog_is_closed(count: Page):
    count.evaluate(
        """async () => {
      const page = document.querySelector('script[src*="app-"]').src.replace(/(app-[^/]*).*/, '$1');
      const { openOver } = await import(`${page}/lib/page/closing.js`);
      const dialog = document.body.appendChild(document.createElement('dialog'));
      dialog.textContent = 'Something is said';
      openOver(dialog);
    }"""
    )
    expect(count.get_by_role("dialog")).to_be_visible()
    back(count)
    expect(count.get_by_role("dialog")).to_be_hidden()
    assert count.evaluate("location.hash") == "#count"
