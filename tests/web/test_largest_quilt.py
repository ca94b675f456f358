"""The largest quilt that the basket gives: asked with one button, drawn, told with what one
size more takes, and taken over.

That it is the largest is tested in tests/core; here, that the page asks for it, shows it, takes
it over and gives it back."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from axe import complaints
from host import Host
from kept_state import kept
from one_page import go, one_page, until_kept
from phone import until
from test_quilt import quilt_anew


@pytest.fixture(scope="module")
def shared(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for all tests of this file."""
    with one_page(browser, f"{site.url}#quilt") as page:
        yield page


@pytest.fixture
def example(shared: Page) -> Page:
    """The example's basket beside its quilt."""
    quilt_anew(shared)
    shared.get_by_role("button", name="Show me an example").click()
    until(
        shared,
        "document.querySelector('.quilt-figure')?.innerText.includes('87 pieces') && !document.querySelector('.go.stale') || false",
    )
    go(shared, "basket")
    return shared


def find(page: Page) -> None:
    """Asks for the largest quilt and waits for all of the answer."""
    page.locator("[data-key=largest-find]").click()
    page.locator("largest-view .card").first.wait_for()
    while page.locator("[data-key=largest-stop], [data-key=largest-on]").count():  # it pauses where the machine is slow
        page.evaluate("document.querySelector('[data-key=largest-on]')?.click()")
        page.wait_for_timeout(100)


def cloths(page: Page, of: str, count: str) -> None:
    """Says how many cloths of one row there are."""
    row = page.locator("basket-list details").filter(has=page.locator("summary", has_text=of)).first
    if row.get_attribute("open") is None:
        row.locator("summary").click()
    row.get_by_label("How many", exact=True).fill(count)


@pytest.mark.long
def test_the_example_s_basket_gives_just_its_quilt_and_says_what_the_next_size_takes(example: Page):
    find(example)
    view = example.locator("largest-view")
    expect(view).to_contain_text("7 × 5: 87 pieces")
    expect(view).to_contain_text("59 × Diamonds")
    expect(view).to_contain_text("Just the size that your quilt is now.")
    expect(view).to_contain_text("A larger one does not.")
    expect(view.locator(".largest-buy")).to_contain_text("Ink blue")
    assert view.locator("canvas").evaluate("canvas => canvas.width > 100 && canvas.height > canvas.width")
    view.locator("summary").click()
    expect(view.locator(".largest-over li").first).to_contain_text("uncut")
    assert complaints(example) == []


@pytest.mark.long
def test_with_more_cloth_it_is_larger_and_is_taken_over_and_given_back(example: Page):
    cloths(example, "Honey", "20")
    for of in ("Yards off the bolt", "Fat quarter, Old rose", "Fat eighth"):
        cloths(example, of, "12")
    find(example)
    size = example.locator("largest-view .largest-size").inner_text()
    before = kept(example, "quilt")["state"]
    example.locator("[data-key=use-size]").click()
    taken = until_kept(example, "quilt", lambda found: found["state"]["by"] == "steps")["state"]
    assert (int(taken["steps"]["columns"]), int(taken["steps"]["rows"])) > (7, 5)
    expect(example.locator("need-list summary").first).not_to_contain_text("87 pieces")
    go(example, "quilt")
    expect(example.locator(".quilt-figure span")).to_have_text(size)
    go(example, "basket")
    example.locator("[data-key=size-back]").click()
    until_kept(
        example,
        "quilt",
        lambda found: (found["state"]["by"], found["state"]["steps"]) == (before["by"], before["steps"]),
    )
    expect(example.locator("[data-key=use-size]")).to_be_visible()


@pytest.mark.long
def test_what_no_cloth_of_the_basket_gives_is_told_with_its_reason(example: Page):
    for _ in range(example.locator("basket-list details").count()):
        row = example.locator("basket-list details").first
        if row.get_attribute("open") is None:
            row.locator("summary").click()
        row.get_by_role("button", name="Remove").click()
    expect(example.locator("[data-key=largest-find]")).to_have_count(0)
    example.get_by_label("Add a cloth").select_option(label="5-inch square")
    example.locator("basket-list").get_by_label("Fabric").select_option(label="Honey")
    find(example)
    expect(example.locator("largest-view")).to_contain_text("Not even the smallest quilt of this kind")
    expect(example.locator("largest-view")).to_contain_text("no cloth of this fabric is in the basket")
    expect(example.locator("largest-view")).to_contain_text("would take this much more")


@pytest.mark.long
def test_what_is_wrong_is_said_and_what_has_changed_is_seen_to_be_stale(example: Page):
    find(example)
    cloths(example, "Honey", "5")
    expect(example.locator("largest-view")).to_have_class("stale")
    cloths(example, "Honey", "none")
    example.locator("[data-key=largest-find]").click()
    row = example.locator("basket-list details").filter(has=example.locator("summary", has_text="Honey")).first
    expect(row.locator("[aria-invalid=true]")).to_have_value("none")
    expect(row.locator(".error")).to_contain_text("whole number")
