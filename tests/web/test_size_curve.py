"""The size that wastes least: a picture that is dragged in, with its good sizes, on the
screens "How many" and "Basket".

Where the cliffs are is tested in tests/core; here, that the page shows them, follows the finger and the keys without
asking anything, and takes a size over and back."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

import one_page as paged
from axe import complaints
from host import Host
from one_page import go, one_page, until_kept
from phone import until
from quilter import answered, cloth_kind, enter, error_at, field, number, said
from test_quilt import anew

# How often the page has asked for a curve: what the worker is told goes by here.
COUNTING = """() => {
  const post = Worker.prototype.postMessage;
  window.asked = 0;
  Worker.prototype.postMessage = function (message, ...more) {
    if (message?.work?.ask === 'best_size') window.asked += 1;
    return post.call(this, message, ...more);
  };
}"""


@pytest.fixture(scope="module")
def shared(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for all tests of this file."""
    with one_page(browser, f"{site.url}#count") as page:
        yield page


@pytest.fixture
def count(shared: Page) -> Page:
    """Diamonds of 60° and 4 in from a fat quarter, with the picture open."""
    anew(shared, "count")
    answered(shared)
    open_curve(shared)
    return shared


def open_curve(page: Page) -> None:
    """Unfolds the picture and waits for it."""
    page.locator("[data-key=best-size]").click()
    page.locator("size-curve .curve-picture").wait_for()


def handle(page: Page):
    """What is dragged."""
    return page.locator(".curve-handle")


def spoken(page: Page) -> str:
    """What a screen reader says of it."""
    return handle(page).get_attribute("aria-valuetext")


def drag(page: Page, part: float) -> None:
    """Drags the handle to a part of the picture's width, in small moves."""
    page.locator(".curve").scroll_into_view_if_needed()
    box, at = page.locator(".curve").bounding_box(), handle(page).bounding_box()
    page.mouse.move(at["x"] + at["width"] / 2, box["y"] + 40)
    page.mouse.down()
    page.mouse.move(box["x"] + part * box["width"], box["y"] + 60, steps=12)
    page.mouse.up()


def test_it_begins_at_the_size_at_hand_with_the_number_of_the_answer(count: Page):
    assert spoken(count) == said("best_size.spoken_good.other", size="4 in", n=number(count), used=77)
    assert count.locator(".curve-mark").count() >= 4
    box = handle(count).bounding_box()
    assert box["width"] >= 44 and box["height"] >= 44
    assert complaints(count) == []


@pytest.mark.long
def test_dragging_says_number_and_use_without_asking_anything(count: Page):
    count.evaluate(COUNTING)
    drag(count, 0.02)
    low = spoken(count)
    drag(count, 0.95)
    high = spoken(count)
    assert low != high and int(low.split(": ")[1].split()[0]) > int(high.split(": ")[1].split()[0])
    assert count.evaluate("window.asked") == 0


def test_near_a_good_size_the_handle_takes_it(count: Page):
    expect(count.locator(".curve-mark").last).to_be_visible()
    box, plot = count.locator(".curve-mark").last.bounding_box(), count.locator(".curve").bounding_box()
    drag(count, (box["x"] + box["width"] + 3 - plot["x"]) / plot["width"])
    assert "a good size" in spoken(count)
    expect(count.locator(".curve-good")).to_be_visible()


def test_keys_go_by_the_ruler_s_lines_and_from_good_size_to_good_size(count: Page):
    handle(count).focus()
    handle(count).press("ArrowRight")
    assert spoken(count).startswith("4¹⁄₁₆ in: ")
    handle(count).press("PageDown")
    assert spoken(count).startswith("4 in, a good size")
    handle(count).press("Home")
    assert spoken(count).startswith("2 in")
    handle(count).press("End")
    assert spoken(count).startswith("8 in: 2 pieces")


def test_a_good_size_is_taken_over_and_given_back(count: Page):
    count.locator("size-curve .chip").filter(has_text="3 in").first.click()
    promised = int(spoken(count).split(": ")[1].split()[0])
    count.locator("[data-key=use-size]").click()
    until_kept(count, "count", lambda found: found["state"]["piece"]["text"] == "3")
    answered(count)
    assert number(count) == promised
    expect(count.locator("[data-key=use-size]")).to_have_count(0)
    count.locator("[data-key=size-back]").click()
    until_kept(count, "count", lambda found: found["state"]["piece"]["text"] == "4")
    expect(count.locator("[data-key=size-back]")).to_have_count(0)


def test_another_cloth_has_another_picture_and_what_is_wrong_is_said_at_its_field(count: Page):
    before = count.locator(".curve-used").get_attribute("d")
    cloth_kind(count, "fat_eighth")
    until(count, "(before) => document.querySelector('.curve-used').getAttribute('d') !== before", before)
    enter(count, "piece.text", "4 1/0")
    assert error_at(count, "piece.text")
    expect(count.locator("size-curve")).to_have_class("stale")
    expect(count.locator("[data-key=use-size]")).to_have_count(0)


def test_in_centimetres_good_sizes_lie_on_millimetres(count: Page):
    paged.choose(count, said("tools.units.name"), said("tools.units.cm"))
    go(count, "count")
    answered(count)
    if count.locator(".best-size").get_attribute("open") is None:
        open_curve(count)
    until(count, "document.querySelector('.curve-ends')?.innerText.includes('cm') || false")
    sizes = count.locator("size-curve .chip b").all_inner_texts()
    assert sizes and all(size.endswith(" cm") for size in sizes)


@pytest.mark.long
def test_a_basket_s_pieces_take_the_size_that_wastes_least_of_all_of_it(count: Page):
    go(count, "basket")
    count.get_by_role("button", name="List pieces myself").click()
    open_curve_on(count)
    expect(count.locator(".best-size")).to_contain_text(said("best_size.unready"))
    for kind in ("Fat quarter", "10-inch square"):
        count.get_by_label("Add a cloth").select_option(label=kind)
    count.locator("size-curve .curve-picture").wait_for()
    # Fifteen from the fat quarter, two strips of one from the square: as the ask `cloth` says.
    expect(handle(count)).to_have_attribute("aria-valuetext", re.compile("^4 in.*17 pieces"))
    handle(count).press("PageDown")
    size = spoken(count).split(" in, a good size")[0]
    count.locator("[data-key=use-size]").click()
    expect(field(count, "typed.0.size")).to_have_value(size)
    count.locator("[data-key=size-back]").click()
    expect(field(count, "typed.0.size")).to_have_value("4")


def open_curve_on(page: Page) -> None:
    """Unfolds it where there is no picture yet."""
    page.locator("main .best-size summary").click()
