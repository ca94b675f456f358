"""What to buy, on the screen of the whole quilt: the squaring of fat quarters, and what the
sum of prices leaves out.
"""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from host import Host
from kept_state import keep
from one_page import go, one_page, until_kept
from phone import until

SEEN = "document.querySelector('buying-list .amount') && !document.querySelector('.go.stale') ? true : false"
PRICE = "[data-key='fabrics.{}.price']"


@pytest.fixture
def quilt(browser: Browser, site: Host) -> Iterator[Page]:
    """The screen with its first quilt, and the folds of the buying list open."""
    with one_page(browser, f"{site.url}#quilt") as page:
        until(page, SEEN)
        for fold in ("losses", "sale-f1", "sale-f2"):
            page.locator(f"[data-key=fold-{fold}]").click()
        yield page


def line(page: Page, fabric: str):
    """The card of a fabric."""
    return page.locator("buying-list .buying-line", has=page.get_by_role("heading", name=fabric))


@pytest.mark.long
def test_fat_quarters_are_squared_by_half_an_inch_unless_otherwise_said(quilt: Page):
    field = quilt.get_by_label("Squaring a fat quarter takes")
    assert field.input_value() == "½"
    quilt.get_by_role("button", name="Fabric 1: Fat quarters").click()
    expect(line(quilt, "Fabric 1")).to_contain_text("Each leaves 17½ in × 20 in once it is squared.")
    field.fill("0")
    expect(line(quilt, "Fabric 1")).to_contain_text("Each is 18 in × 20 in to cut from.")
    field.fill("18")
    expect(quilt.locator("#field-buying-square-error")).to_contain_text("leaves nothing of a fat quarter")
    expect(field).to_have_attribute("aria-invalid", "true")
    assert field.input_value() == "18"
    field.fill("1 cm")
    expect(quilt.locator("#field-buying-square-error")).to_have_count(0)


@pytest.mark.long
def test_numbers_are_read_as_lengths_are_and_what_is_none_is_said_at_its_field(quilt: Page):
    """A comma parts thousands where people do not write it in a decimal: “1,5” is neither 1.5 nor 15 here."""
    price = quilt.locator(PRICE.format(0))
    price.fill("1,5")
    expect(price).to_have_attribute("aria-invalid", "true")
    price.fill("1.5")
    expect(price).not_to_have_attribute("aria-invalid", "true")
    quilt.get_by_label("Spare pieces, %").fill("")
    until(quilt, SEEN)
    assert quilt.locator("[role=alert]:not(:empty)").count() == 0


@pytest.mark.long
def test_a_sum_says_what_it_leaves_out(quilt: Page):
    assert quilt.locator(".buying-total").count() == 0  # nothing has a price
    quilt.get_by_role("button", name="Fabric 1: Fat quarters").click()
    quilt.locator(PRICE.format(0)).fill("3")
    quilt.locator(PRICE.format(1)).fill("8")
    total = quilt.locator(".buying-total")
    expect(total).to_contain_text("not everything")
    expect(total).to_contain_text("In fat quarters: 15.00.")
    expect(total).to_contain_text("Off the bolt: 9.00.")
    expect(total).to_contain_text("Together 24.00")
    expect(total).to_contain_text("Left out, as they have no price: Fabric 3, Backing, Batting.")
    expect(total).to_contain_text(
        "Left out, as no fat quarter of Fabric 1 gives it: Border, sides; Border, top and bottom; Binding."
    )
    expect(line(quilt, "Fabric 1")).to_contain_text("Costs 15.00, without what cannot be cut so.")
    # The binding and the borders as well come off the bolt.
    quilt.get_by_role("button", name="Fabric 1: Off the bolt").click()
    expect(total).not_to_contain_text("no fat quarter of Fabric 1")


@pytest.mark.long
def test_a_quilt_kept_before_there_was_squaring_opens_with_half_an_inch(quilt: Page):
    quilt.get_by_label("Squaring a fat quarter takes").fill("0")
    state = until_kept(quilt, "quilt", lambda found: found["state"]["buying"]["square"] == "0")["state"]
    before = {**state, "buying": {name: value for name, value in state["buying"].items() if name != "square"}}
    go(quilt, "tools")
    keep(quilt, "quilt", {"state": before, "mine": before})
    go(quilt, "quilt")
    quilt.reload()
    until(quilt, SEEN)
    quilt.get_by_role("button", name="Back to my own quilt").click()
    until(quilt, SEEN)
    quilt.locator("[data-key=fold-losses]").click()
    assert quilt.get_by_label("Squaring a fat quarter takes").input_value() == "½"
    expect(quilt.locator("buying-list")).to_contain_text("fat quarter")


@pytest.mark.long
def test_prices_are_in_what_the_user_calls_them_and_every_fabric_has_its_own_width(quilt: Page):
    quilt.locator(PRICE.format(0)).fill("12")
    quilt.get_by_label("Prices are in").fill("$")
    expect(line(quilt, "Fabric 1")).to_contain_text("Costs $25.50.")
    expect(quilt.get_by_label("Price for a yard, in $").first).to_be_visible()
    quilt.get_by_label("Prices are in").fill("kr")
    expect(line(quilt, "Fabric 1")).to_contain_text("Costs 25.50\u00a0kr.")
    backing = line(quilt, "Backing")
    expect(backing).to_contain_text("3⅜ yd")
    quilt.locator("[data-key=fold-sale-backing]").click()
    quilt.locator("[data-key='own.backing.usable_width']").fill("108")
    expect(backing).to_contain_text("1¾ yd")
    expect(backing).to_contain_text("(107 in to 109 in)")
    quilt.locator("[data-key='own.backing.usable_width']").fill("none")
    expect(backing.locator(".error")).to_have_count(1)
    assert quilt.locator("[data-key='own.backing.usable_width']").input_value() == "none"


@pytest.mark.long
def test_a_kit_costs_what_its_fabrics_do(quilt: Page):
    quilt.get_by_label("Make kits for a class").check()
    quilt.get_by_role("button", name="Fabric 2: Fat quarters").click()
    quilt.locator(PRICE.format(0)).fill("12.50")
    quilt.locator(PRICE.format(1)).fill("4")
    kits = quilt.locator("kit-list")
    expect(kits).to_contain_text("105 fat quarters")
    expect(kits).to_contain_text("A kit costs 46.56")
    expect(kits).to_contain_text("Left out, as they have no price: Fabric 3, Backing.")


def test_batting_is_bought_and_priced_by_its_size(quilt: Page):
    batting = line(quilt, "Batting")
    expect(batting).to_contain_text("58⁷⁄₁₆ in × 70 in")
    quilt.locator("[data-key=fold-sale-batting]").click()
    quilt.locator("[data-key=batting_price]").fill("25")
    expect(batting).to_contain_text("Costs 25.00.")
    expect(quilt.locator(".buying-total")).to_contain_text("Together 25.00, not everything")
