"""What a leader prepares, on the screen of the whole quilt: as the core says it, and kept by field."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from host import Host
from one_page import go, one_page, until_kept
from phone import until

SEEN = "document.querySelector('buying-list .amount') && !document.querySelector('.go.stale') ? true : false"


@pytest.fixture
def lesson(browser: Browser, site: Host) -> Iterator[Page]:
    """The screen with its first quilt, made into kits for twelve, and all parts open."""
    with one_page(browser, f"{site.url}#quilt") as page:
        until(page, SEEN)
        page.get_by_label("Make kits for a class").check()
        page.get_by_label("People", exact=True).fill("12")
        for part in ("tools", "time", "weekly", "labels"):
            page.locator(f"[data-key=class-{part}]").click()
        yield page


def part(page: Page, name: str):
    return page.locator(".class-part", has=page.locator(f"[data-key=class-{name}]"))


@pytest.mark.long
def test_everyone_knows_what_to_bring_and_how_long_it_takes(lesson: Page):
    expect(part(lesson, "supplies")).to_contain_text("Fabric 1: 2⅛ yd, 42 in wide without selvages")
    expect(part(lesson, "tools")).to_contain_text(
        "A rotary cutter with a sharp blade, and a spare one: one each, 12 in all"
    )
    expect(part(lesson, "tools")).to_contain_text("An iron and a pressing mat: one for 4 people, 3 in all")
    expect(part(lesson, "tools")).to_contain_text("A ruler 6 × 12 in, with lines at 30°, 45°, 60°: one each, 12 in all")
    expect(part(lesson, "time")).to_contain_text("194 pieces from 38 strips, about 71 minutes")
    lesson.get_by_label("Pieces a minute").fill("12")
    expect(part(lesson, "time")).to_contain_text("about 55 minutes")  # 194 / 12 and 38
    lesson.get_by_label("People to an iron").fill("6")
    expect(part(lesson, "tools")).to_contain_text("one for 6 people, 2 in all")


@pytest.mark.long
def test_a_cut_along_goes_week_by_week_and_labels_bear_names(lesson: Page):
    expect(part(lesson, "weekly").locator("h4")).to_have_count(4)
    lesson.get_by_label("Weeks of a cut-along").fill("none")
    expect(lesson.locator("#field-class-weeks-error")).to_have_count(1)
    assert lesson.get_by_label("Weeks of a cut-along").input_value() == "none"
    lesson.get_by_label("Weeks of a cut-along").fill("3")
    expect(part(lesson, "weekly").locator("h4")).to_have_count(3)
    labels = part(lesson, "labels")
    expect(labels.locator("h4")).to_have_count(13)
    lesson.get_by_label("Names for the labels").fill("Ada, Bea")
    expect(labels.locator("h4").first).to_have_text("Kit for Ada")
    expect(labels.locator("h4").nth(2)).to_have_text("Kit 3")
    expect(labels.locator("h4").last).to_have_text("Spare kit 1")
    lesson.get_by_role("button", name="Uncut").click()
    expect(labels.locator(".kit-label").first).to_contain_text("Fabric 1: 2⅛ yd")
    until_kept(lesson, "quilt", lambda kept: kept["state"]["class"]["made_as"] == "whole")
    go(lesson, "count")
    go(lesson, "quilt")
    assert lesson.get_by_label("Names for the labels").input_value() == "Ada, Bea"


@pytest.mark.long
def test_a_swap_says_who_cuts_what(lesson: Page):
    assert part(lesson, "swapping").count() == 0
    lesson.get_by_label("Everyone cuts one part and swaps").check()
    lesson.locator("[data-key=class-swapping]").click()
    expect(part(lesson, "swapping").locator("h4")).to_have_count(13)
    expect(part(lesson, "swapping")).to_contain_text("Everyone takes")
    lesson.get_by_label("People", exact=True).fill("1")
    expect(lesson.locator("class-plan .error")).to_contain_text("1 cannot swap here")


@pytest.mark.long
def test_others_make_another_size(lesson: Page):
    lesson.get_by_role("button", name="Others make another size").click()
    sizes = lesson.get_by_label("Their quilt")
    sizes.select_option("wall")
    lesson.locator("[data-key='buying.sizes.0.people']").fill("3")
    expect(lesson.locator("kit-list")).to_contain_text("16 kits")
    labels = part(lesson, "labels").locator("h4")
    expect(labels).to_have_count(16)
    expect(labels.last).to_contain_text("Kit 15 (Wall")
    lesson.locator("[data-key='buying.sizes.0.people']").fill("0")
    expect(lesson.locator("#field-buying-sizes-0-people-error")).to_have_count(1)
    lesson.get_by_role("button", name="Remove", exact=True).click()
    expect(labels).to_have_count(13)
