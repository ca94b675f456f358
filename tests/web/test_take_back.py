"""Whatever is taken out can be put back, as long as nothing else is done on that screen."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from host import Host
from one_page import ask_for, begin, go, one_page
from phone import until
from quilter import said

OFFER = "take-back"


@pytest.fixture(scope="module")
def shared(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for all tests of this file."""
    with one_page(browser, f"{site.url}#quilt") as page:
        yield page


def put_back(page: Page) -> None:
    """Takes the offer."""
    page.locator(f"{OFFER} [data-key=put-back]").click()
    expect(page.locator(OFFER)).to_be_hidden()


@pytest.mark.long
def test_a_fabric_with_all_that_was_set_of_it(shared: Page):
    go(shared, "quilt")
    names = shared.locator("fabric-list .fabric-name")
    before = names.all_inner_texts()
    shared.locator("[data-key=edit-f2]").click()
    shared.locator("[data-key=remove-f2]").click()
    expect(shared.locator(OFFER)).to_contain_text(before[1])
    expect(names).to_have_count(len(before) - 1)
    put_back(shared)
    expect(names).to_have_text(before)


def test_a_border(shared: Page):
    go(shared, "quilt")
    shared.locator("[data-key=fold-borders]").click()
    shared.locator("[data-key=remove-border-0]").click()
    expect(shared.locator('[data-key="borders.0.width"]')).to_have_count(0)
    put_back(shared)
    expect(shared.locator('[data-key="borders.0.width"]')).to_have_value("3")


def take_out(page: Page) -> None:
    """The basket's second cloth; its row is opened where it is folded."""
    if not page.locator("[data-key=remove-cloth-1]").is_visible():
        page.locator("[data-key=cloth-1]").click()
    page.locator("[data-key=remove-cloth-1]").click()


def test_a_cloth_of_the_basket_and_the_offer_ends_with_the_next_change(shared: Page):
    go(shared, "basket")
    for code in ("fat_quarter", "fat_eighth"):
        shared.get_by_label("Add a cloth").select_option(label=said(f"cloth.{code}.name"))
    rows = shared.locator("basket-list .cloth-row")
    expect(rows).to_have_count(2)
    take_out(shared)
    expect(rows).to_have_count(1)
    put_back(shared)
    expect(rows).to_have_count(2)
    take_out(shared)
    shared.get_by_label("Add a cloth").select_option(label=said("cloth.fat_eighth.name"))
    expect(shared.locator(OFFER)).to_be_hidden()


def test_what_was_cut_earlier_with_every_count(shared: Page):
    ask_for(shared, 8, said("cloth.full_width_strip.name"))
    begin(shared)
    go(shared, "tools")
    shared.locator("[data-key=fold-earlier]").click()
    entries = shared.locator("past-list li")
    expect(entries).to_have_count(1)
    told = entries.first.inner_text()
    entries.first.locator('[data-key^="remove "]').click()
    shared.locator('past-list [data-key^="remove-yes "]').click()
    until(shared, "document.querySelectorAll('past-list li').length === 0")
    put_back(shared)
    expect(entries).to_have_count(1)
    assert entries.first.inner_text() == told


def test_on_another_screen_nothing_is_offered(shared: Page):
    go(shared, "quilt")
    shared.locator("[data-key=edit-f3]").click()
    shared.locator("[data-key=remove-f3]").click()
    expect(shared.locator(OFFER)).to_be_visible()
    go(shared, "count")
    expect(shared.locator(OFFER)).to_be_hidden()
