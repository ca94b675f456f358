"""The tape below a field for a length: drawn along, stepped, by keys, and always with what stands in the field."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from axe import complaints
from host import Host
from measured import sideways, small_targets
from one_page import choose as chosen
from one_page import go, one_page
from phone import until
from quilter import answered, cloth_kind, enter, error_at, field, in_sight, number, said
from test_quilt import anew


@pytest.fixture(scope="module")
def shared(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for all tests of this file."""
    with one_page(browser, f"{site.url}#count") as page:
        yield page


@pytest.fixture
def count(shared: Page) -> Iterator[Page]:
    """Diamonds of 60° and 4 in from a fat quarter."""
    anew(shared, "count")
    answered(shared)
    yield shared
    shared.set_viewport_size({"width": 390, "height": 844})
    shared.emulate_media(color_scheme="light", forced_colors="none")


def tape(page: Page):
    return page.locator(".tape")


def strip(page: Page):
    return page.get_by_role("slider", name=said("tape.name"), exact=True)


def opener(page: Page, name: str):
    return in_sight(page.locator(f'[data-key="tape-{name}"]'))


def step(page: Page, text: str) -> None:
    page.get_by_role("group", name=said("tape.step")).get_by_role("button", name=text, exact=True).tap()


def told(page: Page) -> str | None:
    return strip(page).get_attribute("aria-valuetext")


def middle(page: Page) -> tuple[float, float]:
    strip(page).evaluate("(strip) => strip.scrollIntoView({ block: 'center' })")
    found = strip(page).bounding_box()
    return found["x"] + found["width"] / 2, found["y"] + found["height"] / 2


def draw(page: Page, aside: float, steps: int = 12, touch: bool = True) -> None:
    """Draws the tape so many px to the right, by a finger or by a mouse."""
    x, y = middle(page)
    if not touch:
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + aside, y, steps=steps)
        page.mouse.up()
        return
    finger = page.context.new_cdp_session(page)
    at = lambda k: [{"x": x + aside * k / steps, "y": y}]  # noqa: E731
    finger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": at(0)})
    for k in range(1, steps + 1):
        finger.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": at(k)})
        page.wait_for_timeout(30)  # answers come meanwhile, and the screen is drawn anew
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    finger.detach()


@pytest.mark.long
def test_there_is_none_until_a_length_is_to_be_typed_and_one_at_the_most(count: Page):
    expect(tape(count)).to_have_count(0)
    field(count, "piece.text").tap()
    expect(strip(count)).to_have_attribute("aria-valuetext", "4 in")
    field(count, "cloth.width").tap()
    expect(tape(count)).to_have_count(1)
    expect(strip(count)).to_have_attribute("aria-valuetext", "20 in")  # what the field offers
    count.locator(".figure").tap()
    expect(tape(count)).to_have_count(0)


def test_the_ruler_opens_it_without_a_keyboard_on_the_screen_and_closes_it(count: Page):
    opener(count, "piece.text").tap()
    expect(strip(count)).to_be_visible()
    assert count.evaluate("document.activeElement.matches('input')") is False
    expect(opener(count, "piece.text")).to_have_attribute("aria-expanded", "true")
    opener(count, "piece.text").tap()
    expect(tape(count)).to_have_count(0)
    expect(opener(count, "piece.text")).to_have_attribute("aria-expanded", "false")


def test_the_field_and_those_beside_it_stay_where_they_are(count: Page):
    def places() -> list:
        return [field(count, name).bounding_box() for name in ("cloth.length", "cloth.width")]

    opener(count, "cloth.width").evaluate("(button) => button.scrollIntoView({ block: 'center' })")
    before = places()
    opener(count, "cloth.width").tap()
    expect(strip(count)).to_be_visible()
    assert places() == before
    assert strip(count).bounding_box()["y"] > before[1]["y"] + before[1]["height"]


@pytest.mark.every(2)
@pytest.mark.parametrize("touch", [True, False])
def test_it_is_drawn_along_under_its_mark_and_the_answer_follows(count: Page, touch: bool):
    """To the left is more; an inch is 112 px. The screen is drawn anew all the while, and the finger never loses it."""
    opener(count, "piece.text").tap()
    draw(count, -112, touch=touch)
    expect(field(count, "piece.text")).to_have_value("5")
    answered(count)
    five = number(count)
    draw(count, 112 * 1.5, touch=touch)
    expect(field(count, "piece.text")).to_have_value("3½")
    answered(count)
    assert number(count) > five
    assert told(count) == "3½ in"


def test_it_is_set_to_marks_of_the_step_that_is_chosen(count: Page):
    opener(count, "piece.text").tap()
    assert [button.inner_text() for button in tape(count).locator(".tape-step").all()] == ["½", "¼", "⅛", "¹⁄₁₆"]
    step(count, "½")
    draw(count, -100)
    expect(field(count, "piece.text")).to_have_value("5")
    step(count, "¹⁄₁₆")
    draw(count, -23)
    expect(field(count, "piece.text")).to_have_value("5³⁄₁₆")


def test_its_ends_go_to_the_next_mark(count: Page):
    enter(count, "piece.text", "4³⁄₁₆")
    count.locator(".figure").tap()
    opener(count, "piece.text").tap()
    more = count.get_by_role("button", name=said("tape.more", step="¹⁄₁₆ in"))  # the step on whose marks it lies
    more.tap()
    expect(field(count, "piece.text")).to_have_value("4¼")
    step(count, "½")
    count.get_by_role("button", name=said("tape.more", step="½ in")).tap()
    expect(field(count, "piece.text")).to_have_value("4½")
    step(count, "¼")
    for _ in range(3):
        count.get_by_role("button", name=said("tape.less", step="¼ in")).tap()
    expect(field(count, "piece.text")).to_have_value("3¾")
    answered(count)
    assert error_at(count, "piece.text") is None


def test_keys_set_it_and_it_keeps_the_focus(count: Page):
    opener(count, "piece.text").tap()
    strip(count).focus()
    for key, text in (("ArrowRight", "4¼"), ("ArrowUp", "4½"), ("ArrowLeft", "4¼"), ("PageUp", "5¼"), ("PageDown", "4¼"),
                      ("End", "120"), ("Home", "0")):  # fmt: skip
        count.keyboard.press(key)
        expect(field(count, "piece.text")).to_have_value(text)
        answered(count)
        expect(strip(count)).to_be_focused()
    count.keyboard.press("Escape")
    expect(tape(count)).to_have_count(0)
    expect(field(count, "piece.text")).to_be_focused()


def test_a_length_that_is_refused_stays_and_says_why(count: Page):
    opener(count, "piece.text").tap()
    strip(count).focus()
    count.keyboard.press("Home")
    answered(count)
    assert field(count, "piece.text").input_value() == "0"
    assert error_at(count, "piece.text") is not None
    expect(strip(count)).to_be_visible()


def test_it_goes_where_what_is_typed_stands(count: Page):
    field(count, "piece.text").fill("6 3/8")
    expect(strip(count)).to_have_attribute("aria-valuetext", "6⅜ in")
    field(count, "piece.text").fill("nonsense")
    expect(strip(count)).to_have_attribute("aria-valuetext", "0 in")
    field(count, "piece.text").fill("10 cm")
    expect(strip(count)).to_have_attribute("aria-valuetext", "10 cm")
    count.get_by_role("button", name=said("tape.more", step="5 mm")).tap()
    expect(field(count, "piece.text")).to_have_value("10.5 cm")
    field(count, "piece.text").fill("95 mm")
    count.get_by_role("button", name=said("tape.more", step="5 mm")).tap()
    expect(field(count, "piece.text")).to_have_value("10 cm")


def test_in_centimetres_it_has_millimetres(count: Page):
    chosen(count, said("tools.units.name"), said("tools.units.cm"))
    go(count, "count")
    answered(count)
    opener(count, "cloth.width").tap()
    assert [button.inner_text() for button in tape(count).locator(".tape-step").all()] == ["1 cm", "5 mm", "1 mm"]
    step(count, "1 mm")
    strip(count).focus()
    count.keyboard.press("ArrowRight")
    expect(field(count, "cloth.width")).to_have_value("50.9")
    step(count, "1 cm")
    strip(count).focus()
    count.keyboard.press("ArrowRight")
    expect(field(count, "cloth.width")).to_have_value("51")
    chosen(count, said("tools.units.name"), said("tools.units.in"))


def test_yards_have_a_tape_of_their_own(count: Page):
    cloth_kind(count, "yardage")
    opener(count, "cloth.length").tap()
    assert [button.inner_text() for button in tape(count).locator(".tape-step").all()] == ["½ yd", "¼ yd", "⅛ yd"]
    count.get_by_role("button", name=said("tape.more", step="¼ yd")).tap()
    expect(field(count, "cloth.length")).to_have_value("½")
    answered(count)
    assert error_at(count, "cloth.length") is None
    assert "18 in" in count.locator("count-stage .drawing").text_content()


def test_angles_counts_prices_and_names_have_none(count: Page):
    plain = []
    for screen in ("count", "quilt", "basket"):
        go(count, screen)
        count.locator("main h1").wait_for()
        if screen == "basket":
            count.get_by_role("button", name=said("basket_screen.from_typed")).click()
            field(count, "typed.0.size").wait_for(state="attached")
        until(count, "document.querySelectorAll('.entry').length > 0")
        plain += count.evaluate(
            "[...document.querySelectorAll('input.entry:not([data-tape])')].map((one) => one.dataset.key.split('.').at(-1))"
        )
        lengths = count.evaluate(
            "[...document.querySelectorAll('input.entry[data-tape]')].map((one) => one.dataset.key.split('.').at(-1))"
        )
        assert not set(lengths) & {"angle", "need", "count", "price", "batting_price", "money", "columns", "rows", "have",
                                   "people", "leader", "weeks", "pace", "spare_percent", "spare_pieces", "shrink_length",
                                   "shrink_width", "name", "names"}  # fmt: skip
        assert lengths
    assert {"angle", "need", "spare_percent", "money"} <= set(plain)
    go(count, "count")


@pytest.mark.long
@pytest.mark.parametrize("width", [320, 390])
def test_it_fits_a_narrow_phone_dark_large_and_with_forced_colours(count: Page, width: int):
    count.set_viewport_size({"width": width, "height": 844})
    opener(count, "cloth.width").tap()
    expect(strip(count)).to_be_visible()
    assert (sideways(count), small_targets(count)) == ([], [])
    smallest = count.evaluate("""() => [...document.querySelectorAll('.tape button, .tape-strip')]
      .map((part) => part.getBoundingClientRect()).map(({ width, height }) => Math.min(width, height))""")
    assert min(smallest) >= 47.9
    for scheme, forced in (("light", "none"), ("dark", "none"), ("light", "active")):
        count.emulate_media(color_scheme=scheme, forced_colors=forced)
        assert complaints(count) == [], (scheme, forced)
    count.evaluate("document.documentElement.style.fontSize = '200%'")
    assert sideways(count) == []
    count.evaluate("document.documentElement.style.fontSize = ''")
