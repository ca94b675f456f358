"""Names that people give (of fabrics, of rulers): one long word widens no screen, and nothing
of a name becomes markup.
"""

import json
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from host import Host
from measured import sideways
from one_page import at_the_mat_anew, go, one_page
from phone import until
from quilter import said

LONG = "WOMMEL" * 6
MARKUP = "<img src=x onerror=document.title=1>"
WIDTHS = (320, 390)
QUILT = "document.querySelector('.quilt-figure') && !document.querySelector('.go.stale, quilt-drawing.stale') ? true : false"
OPENED = "document.querySelectorAll('details').forEach((part) => { part.open = true; })"


@pytest.fixture(scope="module", params=[LONG, MARKUP], ids=["long", "markup"])
def name(request) -> str:
    """What everything is called."""
    return request.param


@pytest.fixture(scope="module")
def named(browser: Browser, site: Host, name: str) -> Iterator[Page]:
    """The example with its plan, its first fabric and the one ruler at hand of that name, both
    typed as a quilter types them.
    """
    with one_page(browser, f"{site.url}#quilt") as page:
        until(page, QUILT)
        page.get_by_role("button", name="Show me an example").click()
        until(page, f"document.querySelector('.quilt-figure')?.innerText.includes('87 pieces') && {QUILT}")
        for number in range(4):
            name_the_fabric(page, number, name)
        name_a_ruler(page, name)
        go(page, "basket")
        page.locator("[data-key=plan]").click()
        page.locator("plan-view .layout").first.wait_for()
        yield page


def name_the_fabric(page: Page, number: int, name: str) -> None:
    """Types a fabric's name into its field, with the number that keeps it apart from the others."""
    page.locator(f"[data-key=edit-f{number + 1}]").click()
    page.locator(f'[data-key="fabrics.{number}.name"]').fill(f"{name}{number or ''}")
    page.locator(f"[data-key=edit-f{number + 1}]").click()
    until(page, QUILT)


def name_a_ruler(page: Page, name: str) -> None:
    """Describes a ruler, which then is the only one at hand."""
    go(page, "rulers")
    page.get_by_role("button", name=said("rulers_screen.add")).click()
    for field, text in {"name": name, "width": "6", "length": "24"}.items():
        page.locator(f'ruler-editor [data-key="{field}"]').fill(text)
    page.locator("ruler-editor [data-key=keep]").click()
    page.locator("ruler-editor").wait_for(state="hidden")
    ticked = page.locator("ruler-list input:checked")
    for key in ticked.evaluate_all("(boxes) => boxes.slice(0, -1).map((box) => box.dataset.key)"):
        page.locator(f"ruler-list [data-key={key}]").uncheck()
    expect(ticked).to_have_count(1)
    expect(page.locator("ruler-list b", has_text=name)).to_be_visible()


def opened(page: Page, screen: str, width: int = 390) -> Page:
    """A screen with everything on it that can be opened."""
    page.set_viewport_size({"width": width, "height": 844})
    go(page, screen)
    page.locator("main h1").first.wait_for()
    page.wait_for_timeout(100)
    page.evaluate(OPENED)
    return page


def at_the_mat(page: Page, width: int = 390) -> Page:
    """The guide for the plan, with the list of where one is open over it."""
    opened(page, "basket").locator("[data-key=cut]").click()
    at_the_mat_anew(page)
    page.set_viewport_size({"width": width, "height": 844})
    page.locator(".mat-total").click()
    page.get_by_role("dialog").wait_for()
    return page


def as_text(page: Page, name: str) -> bool:
    """Whether the name stands there, letter for letter, and nothing was made of it but text."""
    assert page.evaluate("document.querySelectorAll('[onerror], [src=x], main img, dialog img').length") == 0
    assert page.title() != "1"
    return name in page.evaluate("document.body.innerText")


@pytest.mark.long
@pytest.mark.every(12)
@pytest.mark.parametrize("screen", ["quilt", "basket", "rulers"])
def test_a_screen_shows_the_name_as_it_was_typed_and_is_no_wider_for_it(named: Page, name: str, screen: str):
    for width in WIDTHS:
        assert as_text(opened(named, screen, width), name)
        assert (width, sideways(named)) == (width, [])
        assert named.evaluate("innerWidth") == width  # a phone shows a page that is too wide smaller


@pytest.mark.long
@pytest.mark.every(3)
@pytest.mark.parametrize("width", WIDTHS)
def test_the_mat_shows_the_name_as_it_was_typed_and_is_no_wider_for_it(named: Page, name: str, width: int):
    assert as_text(at_the_mat(named, width), name)
    assert sideways(named) == []
    assert named.evaluate("innerWidth") == width
    named.get_by_role("dialog").get_by_role("button", name=said("where.close"), exact=True).click()
    named.locator("[data-key=mend]").click()
    named.get_by_role("button", name="Another ruler").click()
    named.locator("ruler-swap dialog").wait_for()
    assert as_text(named, name)
    assert sideways(named) == []
    named.locator("[data-key=swap-cancel]").click()


@pytest.mark.long
def test_a_copy_taken_back_elsewhere_shows_the_name_as_text(
    named: Page, name: str, site: Host, new_context: Callable[..., BrowserContext]
):
    opened(at_the_mat(named), "tools")
    with named.expect_download() as loading:
        named.locator("[data-key=copy-save]").click()
    assert name in json.dumps(json.loads(loading.value.path().read_text("utf-8")), ensure_ascii=False)
    other = new_context().new_page()
    other.goto(f"{site.url}#tools")
    other.locator("keeping-state p").first.wait_for()
    other.locator("#import").set_input_files(loading.value.path())
    other.locator("copy-keeper [role=status]").filter(has_text=said("copies.taken.kept")).wait_for()
    other.reload()
    for width in WIDTHS:
        assert as_text(opened(other, "rulers", width), name)
        assert sideways(other) == []
