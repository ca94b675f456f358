"""Other units become the usual ones: whatever was typed before stays what was meant, on every screen."""

import re

import pytest
from playwright.sync_api import BrowserContext, Page, expect

import one_page
from one_page import ask_for, go, until_kept
from phone import Watched, until
from quilter import answered, choose, cloth_kind, enter, field, number, said


@pytest.fixture
def page(context: BrowserContext, watched: Watched, site) -> Page:
    """The first screen, with its answer."""
    page = context.new_page()
    page.goto(site.url)
    answered(page)
    return page


def to_centimetres(page: Page) -> None:
    one_page.choose(page, said("tools.units.name"), said("tools.units.cm"))


def texts(page: Page, *names: str) -> list[str]:
    return [field(page, name).input_value() for name in names]


def test_the_piece_and_the_cloth_stay_as_large_as_they_were(page: Page):
    """A scrap of 18 by 20 in gives 15 diamonds of 4 in, as a fat quarter does."""
    cloth_kind(page, "scrap")
    enter(page, "cloth.length", "18")
    enter(page, "cloth.width", "20")
    assert number(page) == 15
    to_centimetres(page)
    go(page, "count")
    answered(page)
    assert texts(page, "piece.text", "cloth.length", "cloth.width") == ["4 in", "18 in", "20 in"]
    assert number(page) == 15
    page.reload()
    answered(page)
    assert texts(page, "piece.text", "cloth.length", "cloth.width") == ["4 in", "18 in", "20 in"]


def test_yardage_is_typed_by_the_yard_in_any_units(page: Page):
    ask_for(page, 4, "Yards off the bolt")
    enter(page, "cloth.length", "1/2")
    enter(page, "cloth.width", "40")
    before = number(page)
    to_centimetres(page)
    go(page, "count")
    answered(page)
    assert (texts(page, "cloth.length", "cloth.width"), number(page)) == (["1/2", "40 in"], before)


def test_what_a_quilt_needs_from_the_basket_is_the_same_and_its_plan_stays_good(page: Page):
    go(page, "quilt")
    page.locator("[data-key=example]").click()
    until(
        page,
        "document.querySelector('.quilt-figure')?.innerText.includes('87 pieces') && !document.querySelector('.go.stale') || false",
    )
    go(page, "basket")
    page.locator("need-list summary").first.wait_for()
    page.locator("[data-key=plan]").click()
    page.locator("[data-key=cut]").wait_for()
    to_centimetres(page)
    go(page, "basket")
    go(page, "count")
    choose(
        page, said("page.size_quick", unit="cm"), "10"
    )  # Python answers in turn: what the basket asked is answered too
    go(page, "basket")
    expect(page.locator("[data-key=cut]")).to_be_visible()
    assert page.get_by_text(said("basket_screen.stale")).count() == 0


def test_what_was_measured_stays_what_it_was(page: Page):
    ask_for(page, 4)
    go(page, "drift")
    page.locator("drift-before .verdict").wait_for()
    edge = page.get_by_label(re.compile("^A – "))
    edge.fill("4 5/8")
    until_kept(page, "drift", lambda found: found["measured"]["edge"] == "4 5/8")
    to_centimetres(page)
    go(page, "drift")
    expect(edge).to_have_value("4 5/8 in")


def test_a_ruler_that_is_being_described_stays_what_it_was(page: Page):
    go(page, "rulers")
    page.get_by_role("button", name="Add a ruler").click()
    page.get_by_label("Width", exact=True).fill("6 1/2")
    until_kept(page, "rulers", lambda found: found["editing"]["draft"]["width"] == "6 1/2")
    to_centimetres(page)
    go(page, "rulers")
    expect(page.get_by_label("Width", exact=True)).to_have_value("6 1/2 in")
