"""Typing, focus and questions that are not waited for: key by key as a person does it, where filling a
field at once would hide it.
"""

import re

import pytest
from playwright.sync_api import Page, expect

from kept_state import kept, sitting
from one_page import go, until_kept
from phone import until
from quilter import answered, app_folder, asleep, field, in_sight, mend, mending, said, seat, start_cutting, tap, totals

FAT_QUARTER = {
    "piece": {"shape": "diamond", "size": 4, "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}
CUT = {"event": "cut"}
FOCUS = "document.activeElement.dataset.key"


@pytest.fixture
def first(page: Page, site) -> Page:
    """The first screen, with its answer."""
    page.goto(site.url)
    answered(page)
    return page


@pytest.fixture
def tools(page: Page, site) -> Page:
    """The screen of the tools, in a page whose Python never gets ready."""
    asleep(page).goto(site.url + "#tools")
    page.locator("main h1").wait_for()
    return page


@pytest.fixture
def at_the_mat(page: Page, site, dist):
    """The guide for a fat quarter after so many cuts, in a page that may start Python at its next load."""
    return lambda cuts: seat(page, site.url, app_folder(dist), FAT_QUARTER, [CUT] * cuts)


# --- The focus ------------------------------------------------------------------------------------------------------


def test_the_basket_is_typed_into_key_by_key(first: Page):
    go(first, "basket")
    first.get_by_label("Add a cloth").select_option(label=said("cloth.fat_quarter.name"))
    for name, text in (("cloths.0.length", "17 1/2"), ("cloths.0.width", "19"), ("cloths.0.count", "23")):
        field(first, name).fill("")
        field(first, name).focus()
        first.keyboard.type(text)
        assert (field(first, name).input_value(), first.evaluate(FOCUS)) == (text, name)


def test_what_is_pressed_with_a_key_keeps_the_focus_in_the_basket(first: Page):
    go(first, "basket")
    first.get_by_role("button", name="List pieces myself").focus()
    first.keyboard.press("Enter")
    assert first.evaluate(FOCUS).endswith(":typed")
    first.get_by_label("Add a cloth").select_option(label=said("cloth.fat_quarter.name"))
    first.locator("[data-key=plan]").focus()
    first.keyboard.press("Enter")
    first.locator("plan-view .layout").first.wait_for()
    until(first, "document.querySelector('.basket-bar').contains(document.activeElement)")


def test_the_slider_of_the_bank_card_goes_on_under_the_arrow_key(tools: Page):
    tools.get_by_text(said("tools.distance.check")).click()
    tools.locator("[data-key=px]").focus()
    for _ in range(3):
        tools.keyboard.press("ArrowRight")
    until_kept(tools, "settings", lambda found: found["pxPerInch"] == 163)
    assert tools.evaluate(FOCUS) == "px"


# What is asked of Python about the quilt waits until `release` is called.
HELD = """
const held = [];
let holding = true;
window.release = () => { holding = false; held.forEach((go) => go()); };
window.Worker = class extends Worker {
  postMessage(message, ...more) {
    const go = () => super.postMessage(message, ...more);
    return holding && message.ask?.ask === "quilt" ? void held.push(go) : go();
  }
};
"""


def test_the_first_answer_about_the_quilt_may_come_while_a_field_is_typed_into(page: Page, site):
    page.add_init_script(HELD)
    page.goto(site.url + "#quilt")
    entry = field(page, "piece.text")
    entry.select_text()
    assert page.locator(".quilt-figure").count() == 0
    page.evaluate("release()")
    page.locator(".quilt-figure").wait_for()
    page.keyboard.type("5 1/2")
    assert (entry.input_value(), page.evaluate(FOCUS)) == ("5 1/2", "piece.text")


# Opens a fold and at once, before the browser has told of it, types into the field of that name: is the
# fold made anew still open?
OPENED = """async ([fold, name, text]) => {
  const part = () => document.querySelector(`[data-key="${fold}"]`).parentElement;
  const [was, entry] = [part(), document.querySelector(`[data-key="${name}"]`)];
  was.firstChild.click();
  entry.value = text;
  entry.dispatchEvent(new Event(entry.type === "range" ? "change" : "input", { bubbles: true }));
  await new Promise((drawn) => setTimeout(drawn, 150)); // where an answer is known to come soon it is drawn with that
  return [was.open, was !== part(), part().open];
}"""


@pytest.mark.every(3)
@pytest.mark.parametrize(("screen", "fold", "name", "text"), [
    ("quilt", "fold-seam", "piece.text", "5"), ("quilt", "fold-losses", "buying.usable_width", "41"), ("count", "seam", "piece.text", "5"),
    ("basket", "cloth-1", "cloths.0.count", "3"), ("tools", "fold-card", "px", "170"),
])  # fmt: skip
def test_what_was_just_opened_stays_open_while_a_form_is_filled_anew(
    first: Page, screen: str, fold: str, name: str, text: str
):
    go(first, "basket")
    for _ in range(2):
        first.get_by_label("Add a cloth").select_option(label=said("cloth.fat_quarter.name"))
    if screen == "basket":
        first.locator("[data-key=cloth-1]").click()
    go(first, screen)
    in_sight(first.locator(f"[data-key='{fold}']")).wait_for()
    assert first.evaluate(OPENED, [fold, name, text]) == [True, True, True]


def test_the_rows_that_are_read_stay_open_when_the_answer_changes(first: Page):
    go(first, "quilt")
    summary = "sewing-list [data-key=fold-rows]"
    first.locator(summary).click()
    first.evaluate(f"document.querySelector('{summary}').parentElement.was = true")
    field(first, "piece.text").fill("5")
    until(first, f"!document.querySelector('{summary}').parentElement.was")  # made anew, from the new answer
    rows = first.locator("sewing-list details", has=first.locator("[data-key=fold-rows]"))
    expect(rows).to_have_attribute("open", "")


def test_the_cloths_that_stay_are_folded_when_one_is_taken_out(first: Page):
    go(first, "basket")
    for code in ("fat_quarter", "fat_eighth"):
        first.get_by_label("Add a cloth").select_option(label=said(f"cloth.{code}.name"))
    expect(field(first, "cloths.1.count")).to_be_visible()
    first.locator("[data-key=cloth-0]").click()
    first.locator("[data-key=remove-cloth-0]").click()
    expect(first.locator(".cloth-row")).to_have_count(1)
    expect(first.locator(".cloth-row")).not_to_have_attribute("open", "")
    expect(first.locator(".cloth-row summary")).to_contain_text(said("cloth.fat_eighth.name"))


@pytest.mark.parametrize("width", [320, 390])
def test_the_bank_card_stands_upright_in_its_true_size(tools: Page, width: int):
    """85.60 × 53.98 mm (ISO/IEC 7810, ID-1) at 160 px to the inch: 340 × 539 px."""
    tools.set_viewport_size({"width": width, "height": 844})
    tools.get_by_text(said("tools.distance.check")).click()
    card = tools.locator(".bank-card").bounding_box()
    assert (round(card["width"]), round(card["height"])) == (round(53.98 / 25.4 * 160), round(85.6 / 25.4 * 160))
    assert tools.locator("#px").bounding_box()["width"] < width


@pytest.mark.parametrize("width", [320, 390])
def test_the_main_button_stands_above_the_tabs_in_letters_twice_as_large(first: Page, width: int):
    first.set_viewport_size({"width": width, "height": 844})
    first.evaluate("document.documentElement.style.setProperty('font-size', '200%')")
    until(
        first,
        "document.querySelector('.go').getBoundingClientRect().bottom <= document.querySelector('.tabs').getBoundingClientRect().top + 1",
    )
    assert first.evaluate(
        "[...document.querySelectorAll('.tabs a')].every((tab) => tab.scrollWidth <= tab.clientWidth + 1)"
    )


# --- What is asked and not waited for -------------------------------------------------------------------------------


def test_a_dialog_is_closed_when_the_mat_is_left_by_the_browser(at_the_mat):
    page = at_the_mat(3)
    page.evaluate("location.hash = 'count'")
    page.evaluate("location.hash = 'cut'")
    mending(page)
    page.go_back()
    page.go_forward()
    page.locator(".mat-sentence").wait_for()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(mending(page)).to_be_visible()


def test_rulers_that_were_not_wanted_after_all_are_not_taken(first: Page):
    page = first
    start_cutting(page)
    mending(page).get_by_role("button", name=said("rulers_screen.swap.open")).tap()
    page.locator("ruler-swap [aria-pressed=false]").first.tap()
    page.evaluate("""() => {
      document.querySelector('[data-key=swap-go]').click();
      document.querySelector('[data-key=swap-cancel]').click();
    }""")
    # Python answers in turn: once it has answered this, it has answered what was asked for the rulers.
    mending(page).get_by_role("button", name=said("mat.another_cloth.any")).tap()
    page.locator("[data-key=smaller-go]").tap()
    page.locator("[data-key=replan-yes]").wait_for()
    assert sitting(page)["events"] == []


def test_a_result_goes_with_its_measures_even_when_it_comes_later(first: Page):
    go(first, "drift")
    first.locator("drift-before .verdict").wait_for()
    first.evaluate("""() => {
      const type = (name, text) => {
        const input = document.querySelector(`[data-key="measured.${name}"]`);
        input.value = text;
        input.dispatchEvent(new Event('input', { bubbles: true }));
      };
      type('edge', '4');
      type('short_diagonal', '4 1/2');
      type('edge', '');
    }""")
    first.get_by_label("How far off may a sewn row be?", exact=True).fill("1/2")
    until_kept(first, "settings", lambda found: found.get("tolerance") == "1/2 in")
    assert first.locator("drift-result").inner_text() == ""


# --- Counts ---------------------------------------------------------------------------------------------------------


@pytest.mark.long
def test_the_cloths_count_says_what_the_total_says(at_the_mat):
    page = at_the_mat(0)
    while totals(page)[0] < 3:
        tap(page)
    mend(page, said("mat.extra"))
    page.locator(".mat-total").tap()
    assert set(re.findall(r"4\s+of\s+\d\d", page.get_by_role("dialog").inner_text())) == {"4 of 16"}


# --- Two windows ----------------------------------------------------------------------------------------------------


@pytest.mark.long
def test_a_window_keeps_what_another_one_has_changed(tools: Page, site):
    other = asleep(tools.context.new_page())
    other.goto(site.url + "#tools")
    other.locator("main h1").wait_for()
    tools.get_by_role("button", name=said("tools.hand.left"), exact=True).tap()
    until_kept(tools, "settings", lambda found: found["hand"] == "left")
    other.get_by_role("button", name=said("tools.lay.away"), exact=True).tap()
    until_kept(other, "settings", lambda found: found.get("lay") == "away")
    assert kept(other, "settings")["hand"] == "left"
