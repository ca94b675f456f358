"""One page for many tests: Python starts once, and what a test needs is set by hand, as a user would."""

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Page, expect

from clocks import LEAPING
from kept_state import kept
from phone import SCREEN, Watched, slowed, until


@contextmanager
def one_page(browser: Browser, url: str) -> Iterator[Page]:
    """A page of its own phone; at the end, no complaint may have come up in it."""
    context = slowed(browser.new_context(**SCREEN))
    watched = Watched(context)
    page = context.new_page()
    page.add_init_script(LEAPING)
    page.goto(url)
    until(page, "document.documentElement.dataset.start === 'shown'")
    if url.endswith("#quilt"):
        all_parts(page)
    yield page
    complaints = watched.unexpected()
    assert complaints == [], complaints  # pytest tells nothing by itself of what is no test's module
    context.close()


def go(page: Page, screen: str) -> None:
    """Goes to a screen by its address; on the quilt's, to all of its parts at once."""
    page.evaluate("(screen) => { location.hash = screen; }", screen)
    if screen == "quilt":
        all_parts(page)


def all_parts(page: Page) -> None:
    """Shows every part of the quilt below the other."""
    every = page.locator("[data-key=part-all]")
    every.wait_for()
    page.wait_for_function("document.documentElement.dataset.start === 'shown'")
    if every.get_attribute("aria-pressed") == "false":
        every.click()


def ask_for(page: Page, size: int, cloth: str = "Fat quarter") -> None:
    """Asks for diamonds of 60° and this size, in inches, from a kind of cloth."""
    go(page, "count")
    for part, name in (("piece", str(size)), ("cloth", cloth)):
        slot = page.locator(f"[data-key=slot-{part}]")
        if slot.get_attribute("aria-expanded") == "false":
            slot.click()
        page.locator(f"#part-{part}").get_by_role("button", name=name, exact=True).first.click()
    until_kept(
        page,
        "count",
        lambda found: found["answers"] and found["answers"]["piece"]["size"] == size and found["answers"]["count"],
    )


def choose(page: Page, group: str, name: str) -> None:
    """Settles something in the tools."""
    go(page, "tools")
    chip = page.get_by_role("group", name=group, exact=True).get_by_role("button", name=name, exact=True)
    chip.click()
    expect(chip).to_have_attribute("aria-pressed", "true")


def until_kept(page: Page, name: str, fits):
    """What is kept under a name as soon as it fits."""
    for _ in range(600):
        found = kept(page, name)
        if found is not None and fits(found):
            return found
        page.wait_for_timeout(50)
    raise AssertionError(f"what is kept under {name} never fits: {found}")


def begin(page: Page) -> None:
    """Begins the guide for what was asked for, in the place of one that is under way."""
    go(page, "count")
    page.locator("[data-key=start]").click()
    at_the_mat_anew(page)


def at_the_mat_anew(page: Page) -> None:
    """Waits for a guide that was just begun; one that is under way is kept and the new one begun all the same."""
    until(page, "Boolean(document.querySelector('under-way-dialog dialog[open], .mat-sentence'))")
    if page.locator("under-way-dialog dialog[open]").count():
        page.locator("under-way-dialog [data-key=begin]").click()
    page.locator(".mat-sentence").wait_for()


def tap(page: Page, key: str) -> None:
    """Taps a button at the mat, half a second after the tap before, and waits for what it does."""
    before = page.locator("mat-view").inner_text()
    page.evaluate("leap(600)")
    page.locator(f"mat-view [data-key={key}]").click()
    until(page, "(before) => document.querySelector('mat-view').innerText !== before", before)


def tap_until(page: Page, selector: str, text: str) -> None:
    """Goes on cutting until something is said."""
    for _ in range(100):
        if text in page.locator(selector).inner_text():
            return
        tap(page, "zone")
    raise AssertionError(f"{text!r} was never said")
