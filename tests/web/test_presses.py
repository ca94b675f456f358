"""A press counts once, though the screen is drawn anew between its beginning and its end, as it
is by every answer that comes.
"""

import pytest
from playwright.sync_api import Locator, Page, expect

from near import NearHost
from phone import until
from quilter import answered, in_sight, said

# What a keystroke does: the same text again draws the whole form anew.
DRAWN_ANEW = """() => {
  document.querySelector('[data-key="piece.text"]').dispatchEvent(new Event("input"));
  return new Promise((drawn) => setTimeout(drawn, 150));
}"""
STEP = "count-slots .stepper button:last-child"


@pytest.fixture
def form(page: Page, site: NearHost) -> Page:
    """The first screen with its answer, by now the core's own: nothing more draws it anew by itself."""
    page.goto(site.url)
    answered(page)
    until(
        page, "(getting) => document.querySelector('.standing').innerText !== getting", said("page.standing.starting")
    )
    return page


def middle(place: Locator) -> tuple[float, float]:
    """Where to press it, once it is in sight."""
    place.scroll_into_view_if_needed()
    box = place.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def pressed_by_mouse(page: Page, place: Locator, meanwhile: str = DRAWN_ANEW) -> None:
    """Down, what happens meanwhile, up."""
    page.mouse.move(*middle(place))
    page.mouse.down()
    page.evaluate(meanwhile)
    page.mouse.up()


def pressed_by_finger(page: Page, place: Locator, meanwhile: str = DRAWN_ANEW) -> None:
    """The same on glass."""
    x, y = middle(place)
    glass = page.context.new_cdp_session(page)
    glass.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    page.evaluate(meanwhile)
    glass.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def pressed_by_key(page: Page, place: Locator, meanwhile: str = DRAWN_ANEW) -> None:
    """The same with the space bar."""
    place.focus()
    page.keyboard.down(" ")
    page.evaluate(meanwhile)
    page.keyboard.up(" ")


def pressed_by_resting_finger(page: Page, place: Locator, meanwhile: str = DRAWN_ANEW) -> None:
    """On glass by a slow hand: browsers take that for something other than a tap, each after a time of its own."""
    pressed_by_finger(page, place, f"{RESTED}.then(() => {meanwhile})")


RESTED = "new Promise((over) => setTimeout(over, 900))"
WAYS = [pressed_by_mouse, pressed_by_finger, pressed_by_resting_finger, pressed_by_key]


def chip(page: Page, size: str) -> Locator:
    """The chip of a size."""
    return in_sight(page.locator(f".chip[data-key$=':{size}']").first)


@pytest.mark.every(4)
@pytest.mark.parametrize("pressed", WAYS)
def test_a_choice_that_is_drawn_anew_while_it_is_pressed_is_taken(form: Page, pressed):
    pressed(form, chip(form, "8"))
    expect(chip(form, "8")).to_have_attribute("aria-pressed", "true")


def test_a_finger_that_the_browser_gives_no_click_for_presses_once(form: Page):
    """As where what was pressed is taken out and put back just after the finger has left it."""
    form.evaluate("addEventListener('click', (event) => event.isTrusted && event.stopImmediatePropagation(), true)")
    count = form.locator("count-slots .stepper output").first
    before = int(count.inner_text())
    pressed_by_finger(form, form.locator(STEP), "null")
    expect(count).to_have_text(str(before + 1))
    form.wait_for_timeout(400)
    expect(count).to_have_text(str(before + 1))


@pytest.mark.every(6)
@pytest.mark.parametrize("meanwhile", ["null", DRAWN_ANEW], ids=["still", "drawn anew"])
@pytest.mark.parametrize("pressed", WAYS)
def test_a_step_is_one_step(form: Page, pressed, meanwhile: str):
    count = form.locator("count-slots .stepper output").first
    before = int(count.inner_text())
    pressed(form, form.locator(STEP), meanwhile)
    expect(count).to_have_text(str(before + 1))
    form.wait_for_timeout(400)
    expect(count).to_have_text(str(before + 1))


def test_the_press_after_one_that_the_browser_gave_no_click_for_counts_at_once(form: Page):
    form.evaluate(
        "addEventListener('click', (event) => event.stopImmediatePropagation(), { capture: true, once: true })"
    )
    count = form.locator("count-slots .stepper output").first
    before = int(count.inner_text())
    for more in (1, 2):
        pressed_by_finger(form, form.locator(STEP), "null")
        expect(count).to_have_text(str(before + more))


# A box of the page's kind that is drawn anew, with its focus, by `anew`.
BOX = """() => {
  window.ticked = false;
  const made = () => {
    const box = Object.assign(document.createElement("input"), { type: "checkbox", checked: ticked });
    box.dataset.key = "tried";
    box.addEventListener("change", () => (ticked = box.checked));
    const row = Object.assign(document.createElement("label"), { className: "row" });
    row.append("tried", box);
    return row;
  };
  window.anew = () => {
    const old = document.querySelector("label:has([data-key=tried])");
    const held = old?.contains(document.activeElement);
    const row = made();
    if (old) old.replaceWith(row);
    else document.querySelector("main").prepend(row);
    if (held) row.querySelector("input").focus();
  };
  anew();
}"""


@pytest.mark.every(2)
@pytest.mark.parametrize("pressed", WAYS)
def test_a_box_that_is_drawn_anew_while_it_is_pressed_is_ticked_once(form: Page, pressed):
    form.evaluate(BOX)
    pressed(form, form.locator("[data-key=tried]"), "anew()")
    expect(form.locator("[data-key=tried]")).to_be_checked()
    form.wait_for_timeout(300)
    assert form.evaluate("ticked") is True


@pytest.mark.parametrize("far", [(0, 60), (60, 0)], ids=["down", "aside"])
def test_a_finger_that_strays_within_a_button_presses_nothing(form: Page, far: tuple[int, int]):
    form.evaluate(WIDE_BUTTON)
    x, y = middle(form.locator("[data-key=wide]"))
    glass = form.context.new_cdp_session(form)
    glass.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    form.evaluate(RESTED)
    away = {"x": x + far[0], "y": y + far[1]}
    glass.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [away]})
    glass.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    form.wait_for_timeout(300)
    assert form.evaluate("taps") == 0


WIDE_BUTTON = """() => {
  window.taps = 0;
  const wide = Object.assign(document.createElement("button"), { textContent: "wide", onclick: () => (taps += 1) });
  wide.dataset.key = "wide";
  wide.style.cssText = "position: fixed; inset: 100px 20px; touch-action: none; z-index: 9";
  document.body.append(wide);
}"""


def test_a_press_that_ends_on_another_button_is_none(form: Page):
    (x, y), there = middle(chip(form, "8")), middle(chip(form, "3"))
    form.mouse.move(x, y)
    form.mouse.down()
    form.evaluate(DRAWN_ANEW)
    form.mouse.move(*there)
    form.mouse.up()
    form.wait_for_timeout(300)
    expect(chip(form, "4")).to_have_attribute("aria-pressed", "true")
