"""The pattern page: every component is on it and can be seen, in light and in dark and with letters twice as large."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from axe import complaints
from host import Host
from measured import sideways
from phone import SCREEN, Watched
from steps.places import WEB

DEFINED = re.compile(r"customElements\.define\(\"([\w-]+)\"")
ELEMENTS = sorted(
    name for path in (WEB / "components").glob("*.js") for name in DEFINED.findall(path.read_text("utf-8"))
)
# What of the elements is nowhere to be seen, neither itself nor anything in it.
UNSEEN = """(names) => names.filter((name) => ![...document.querySelectorAll(name)]
  .some((one) => [one, ...one.querySelectorAll("*")].some((part) => part.checkVisibility() && part.getBoundingClientRect().height > 8)))"""


@pytest.fixture(scope="module", params=[("light", "100"), ("dark", "200")], ids="-".join)
def page(request: pytest.FixtureRequest, browser: Browser, site: Host) -> Iterator[Page]:
    """The page as it is looked at; no complaint may have come up in it at the end."""
    context = browser.new_context(**SCREEN)
    watched = Watched(context)
    page = context.new_page()
    look, size = request.param
    page.goto(f"{site.url}patterns.html?look={look}&size={size}")
    page.locator("body[data-shown]").wait_for()
    yield page
    assert watched.unexpected() == []
    context.close()


@pytest.mark.every(2)
def test_every_element_is_shown(page: Page):
    assert len(ELEMENTS) > 40
    assert page.evaluate(UNSEEN, ELEMENTS) == []


def test_the_tape_is_open_and_a_refused_length_says_why(page: Page):
    assert page.locator(".tape-strip .tape-mark").is_visible()
    assert page.locator("#fields .with-tape:has([aria-invalid=true]) ~ .error").is_visible()


@pytest.mark.long
@pytest.mark.every(2)
def test_it_is_accessible(page: Page):
    assert complaints(page) == []


def test_each_contrast_is_as_it_is_needed(page: Page):
    assert page.locator(".pairs li").count() > 20
    assert page.locator(".falls-short").all_inner_texts() == []


def test_nothing_is_wider_than_the_screen(page: Page):
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth && innerWidth === 390")
    assert sideways(page) == []


def test_what_can_be_tried_changes(page: Page):
    chips = page.locator("#choices .chips").first.get_by_role("button")
    chips.nth(1).click()
    assert [chip.get_attribute("aria-pressed") for chip in chips.all()][:2] == ["false", "true"]
    slot = page.locator("#count count-slots").first.locator(".slot").first
    slot.click()
    assert slot.get_attribute("aria-expanded") == "true"
    assert page.locator("#count .pattern-opened piece-picker").count() == 2
    slot.click()
