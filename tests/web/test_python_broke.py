"""Python that broke: said where it was asked, with a way on, and nothing that was entered is lost."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

import matside
from broken_functions import REQUEST
from one_page import at_the_mat_anew, go
from phone import SCREEN, Watched, slowed
from quilter import answered, enter, field, number, said

# What the page asks that is named in `window.breaks` is answered by a Python that broke; "*" breaks at everything.
BREAKS = """
window.breaks = [];
window.Worker = class extends Worker {
  postMessage(message, ...more) {
    const { ask } = message.ask ?? message.work ?? {};
    const broken = window.breaks.includes(ask) || window.breaks.includes("*");
    if (!ask || !broken) return super.postMessage(message, ...more);
    const data = { id: message.id, error: { code: "python_broke", message: `ZeroDivisionError in ${ask}` } };
    setTimeout(() => this.dispatchEvent(new MessageEvent("message", { data })));
  }
};
"""


@pytest.fixture(scope="module")
def broken(browser: Browser, site) -> Iterator[Page]:
    """A page whose Python breaks at what `breaks` names."""
    context = slowed(browser.new_context(**SCREEN))
    watched = Watched(context)
    page = context.new_page()
    page.add_init_script(BREAKS)
    page.goto(site.url)
    answered(page)
    yield page
    assert watched.unexpected() == []
    context.close()


@pytest.fixture
def page(broken: Page) -> Iterator[Page]:
    """The page, sound again at the end."""
    yield broken
    breaks(broken)


def breaks(page: Page, *asks: str) -> None:
    """From now on Python breaks at these."""
    page.evaluate("(asks) => { window.breaks = asks; }", list(asks))


def trouble(page: Page):
    """Where it is said."""
    return page.locator("ask-trouble:visible")


def test_the_count_says_that_it_could_not_be_computed_and_counts_when_it_is_tried_again(page: Page):
    go(page, "count")
    breaks(page, "cloth")
    field(page, "piece.text").fill("5")
    expect(trouble(page).get_by_role("alert")).to_have_text(said("trouble.broken"))
    assert trouble(page).locator("pre").count() == 0
    trouble(page).get_by_role("button").tap()
    expect(trouble(page).get_by_role("alert")).to_have_text(said("trouble.again_broken"))
    expect(trouble(page).locator("pre")).to_have_text("cloth: ZeroDivisionError in cloth")
    assert page.locator(".figure").count() == 0  # the number that stood there is not the answer
    breaks(page)
    trouble(page).get_by_role("button", name=said("trouble.again")).tap()
    page.locator(".figure").wait_for()
    answered(page)
    assert trouble(page).count() == 0
    assert (field(page, "piece.text").input_value(), number(page)) == (
        "5",
        matside.answer({"ask": "cloth", **REQUEST, "piece": {**REQUEST["piece"], "size": "5 in"}})["best"]["pieces"],
    )
    enter(page, "piece.text", "4")


def test_what_could_not_be_computed_is_tried_again_and_again_from_the_keyboard(page: Page):
    go(page, "count")
    breaks(page, "cloth")
    field(page, "piece.text").fill("6")  # what was answered before needs no Python
    again = trouble(page).locator("[data-key=ask-again]")
    again.focus()
    page.keyboard.press("Enter")
    expect(trouble(page).get_by_role("alert")).to_have_text(said("trouble.again_broken"))
    expect(again).to_be_focused()
    breaks(page)
    page.keyboard.press("Enter")
    page.locator(".figure").wait_for()
    answered(page)
    assert (trouble(page).count(), field(page, "piece.text").input_value()) == (0, "6")
    enter(page, "piece.text", "4")


def test_another_entry_is_another_question(page: Page):
    go(page, "count")
    breaks(page, "cloth")
    field(page, "piece.text").fill("7")
    trouble(page).wait_for()
    field(page, "piece.text").fill("4")
    expect(trouble(page)).to_have_count(0)
    breaks(page)
    answered(page)
    assert number(page) == 15


def test_a_guide_that_could_not_be_written_is_tried_again_or_left(page: Page):
    go(page, "count")
    answered(page)
    breaks(page, "guide")
    start = page.locator("[data-key=start]")
    start.tap()
    dialog = page.locator("trouble-dialog dialog[open]")
    expect(dialog.get_by_role("heading")).to_have_text(said("trouble.broken"))
    dialog.locator("[data-key=give-up]").tap()
    expect(dialog).to_be_hidden()
    expect(start).to_be_enabled()
    start.tap()
    dialog.locator("[data-key=try-again]").tap()
    expect(dialog.get_by_role("heading")).to_have_text(said("trouble.again_broken"))
    expect(dialog.locator("pre")).to_contain_text("ZeroDivisionError in guide")
    breaks(page)
    dialog.locator("[data-key=try-again]").tap()
    at_the_mat_anew(page)


@pytest.mark.parametrize(
    ("screen", "ask", "do"),
    [
        ("quilt", "quilt", lambda page: field(page, "piece.text").fill("5")),
        ("basket", "quilt_needs", None),
        ("rulers", "rulers", None),
        ("drift", "check", None),
        ("tools", "habits", lambda page: field(page, "mat").fill("30 in")),
    ],
)
def test_every_screen_says_it_where_it_was_asked(page: Page, screen: str, ask: str, do):
    go(page, screen)
    page.locator("main h1").wait_for()
    if not do:
        go(page, "count")
        answered(page)
    breaks(page, ask)
    if do:
        do(page)
    else:  # asked by entering
        go(page, screen)
    expect(trouble(page).get_by_role("alert")).to_have_text(said("trouble.broken"))
    breaks(page)
    trouble(page).get_by_role("button").tap()
    expect(trouble(page)).to_have_count(0)


def test_a_plan_that_could_not_be_made_is_made_when_it_is_tried_again(page: Page):
    go(page, "quilt")
    page.locator("[data-key=example]").tap()
    expect(page.locator(".quilt-figure")).to_be_visible()
    go(page, "basket")
    plan = page.locator("[data-key=plan]")
    plan.wait_for()
    breaks(page, "plan")
    plan.tap()
    expect(trouble(page).get_by_role("alert")).to_have_text(said("trouble.broken"))
    assert page.locator("plan-view").count() == 0
    breaks(page)
    trouble(page).get_by_role("button").tap()
    page.locator("plan-view").wait_for()
    assert trouble(page).count() == 0


def test_at_the_mat_what_could_not_be_worked_out_is_said_above_it_and_the_count_goes_on(page: Page):
    go(page, "count")
    answered(page)
    page.locator("[data-key=start]").tap()
    at_the_mat_anew(page)
    breaks(page, "guide")
    page.locator("[data-key=mend]").tap()
    page.locator("mend-dialog [data-key=another-ruler]").tap()
    page.locator("[data-key=swap-go]").tap()
    dialog = page.locator("trouble-dialog dialog[open]")
    dialog.locator("[data-key=give-up]").tap()
    expect(page.locator("ruler-swap [role=alert]")).to_have_text(said("error.python_broke"))
    breaks(page)
    page.locator("[data-key=swap-go]").tap()
    expect(page.locator("ruler-swap dialog")).to_be_hidden()
    assert page.locator(".mat-sentence").is_visible()
