"""The glossary: reached from every screen and from the mat, fetched only then, looked through, and there offline."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

import matside
from axe import complaints
from host import Host
from measured import sideways, small_targets
from phone import SCREEN, Watched, on_its_way, slowed, until
from quilter import app_folder, asleep, said, seat

SCREENS = ("count", "quilt", "basket", "cut", "tools", "rulers", "drift")
PICTURES = matside.answer({"ask": "glossary"})["pictures"]
REQUEST = {
    "piece": {"shape": "diamond", "size": 3, "angle": 60},
    "cloth": {"kind": "full_width_strip", "width": 42},
    "way": "along_width",
}
ENTRY = ".all-terms > .term:not([hidden])"


@pytest.fixture(scope="module")
def desk(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for all, whose Python sleeps: no word needs it."""
    context = slowed(browser.new_context(**SCREEN))
    watched = Watched(context)
    page = on_its_way(asleep(context.new_page()), site.origin)
    page.goto(site.url)
    until(page, "document.documentElement.dataset.start === 'shown'")
    yield page
    assert watched.unexpected() == []
    context.close()


def at(page: Page, screen: str) -> None:
    """Goes to a screen by its address, and waits until it is there."""
    page.evaluate(
        """(screen) => location.hash !== `#${screen}` && new Promise((resolve) => {
      addEventListener("hashchange", () => setTimeout(resolve), { once: true });
      location.hash = screen;
    })""",
        screen,
    )
    expect(page.locator("repair-view")).to_have_count(0)
    page.locator("main h1").wait_for()


def at_the_words(page: Page) -> None:
    """Goes to the list and waits until it is there."""
    at(page, "terms")
    page.locator(ENTRY).first.wait_for()
    page.get_by_label(said("glossary.find")).fill("")


def test_nothing_of_it_is_fetched_before_it_is_asked_for(page: Page, site: Host):
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    asleep(page).goto(site.url)
    page.locator("main h1").wait_for()
    until(page, "document.documentElement.dataset.start === 'shown'")
    page.wait_for_load_state("networkidle")
    assert not [url for url in asked if "/glossary/" in url]
    at_the_words(page)
    assert len([url for url in asked if "/glossary/" in url]) == 2


@pytest.mark.every(3)
@pytest.mark.parametrize("screen", SCREENS)
def test_the_list_is_reached_from_every_screen_and_back_leads_back(desk: Page, screen: str):
    at(desk, screen)
    title = desk.locator("main h1").inner_text()
    desk.get_by_role("link", name=said("glossary.open"), exact=True).tap()
    expect(desk.locator("main h1")).to_have_text(said("glossary.title"))
    expect(desk.locator(ENTRY)).to_have_count(len(PICTURES))
    desk.go_back()
    expect(desk.locator("main h1")).to_have_text(title)
    assert desk.url.endswith(f"#{screen}")


def test_a_word_opens_with_its_meaning_and_picture_by_key_as_well(desk: Page):
    at_the_words(desk)
    for code, how in (("selvage", "tap"), ("cornerstone", "key")):
        entry = desk.locator(ENTRY).filter(has=desk.get_by_text(said(f"terms.{code}.name"), exact=True))
        summary = entry.locator("summary")
        summary.tap() if how == "tap" else summary.press("Enter")
        expect(entry.locator("p")).to_have_text(said(f"terms.{code}.meaning"))
        expect(entry.locator("p")).to_be_visible()
        picture = entry.locator("svg")
        expect(picture).to_be_visible()
        assert picture.bounding_box()["height"] > 60
        assert picture.locator("path").count() == len(PICTURES[code]["shapes"])


def test_every_word_can_be_opened_and_nothing_is_wider_than_the_page(desk: Page):
    at_the_words(desk)
    desk.evaluate("document.querySelectorAll('.term').forEach((term) => { term.open = true; })")
    until(desk, "document.querySelectorAll('.all-terms .term-picture').length", seconds=10)
    expect(desk.locator(".all-terms .term-picture")).to_have_count(len(PICTURES))
    assert sideways(desk) == []
    assert small_targets(desk) == []
    for scheme in ("light", "dark"):
        desk.emulate_media(color_scheme=scheme)
        assert complaints(desk) == [], scheme
    desk.emulate_media(color_scheme="light")


def test_words_are_in_the_order_of_the_alphabet_and_looked_for_by_name_and_meaning(desk: Page):
    at_the_words(desk)
    names = desk.locator(f"{ENTRY} summary").all_inner_texts()
    assert names == sorted(names, key=str.casefold)
    wanted = desk.get_by_label(said("glossary.find"))
    wanted.fill("Batt")  # backing's meaning has the word
    assert desk.locator(f"{ENTRY} summary").all_inner_texts() == ["batting"]
    wanted.fill("quarter yard")
    assert desk.locator(f"{ENTRY} summary").all_inner_texts() == ["fat eighth"]
    wanted.fill("zzz")
    expect(desk.locator(ENTRY)).to_have_count(0)
    expect(desk.locator("main [role=status]")).to_have_text(said("glossary.none"))
    wanted.fill("")
    expect(desk.locator(ENTRY)).to_have_count(len(PICTURES))
    expect(desk.locator("main [role=status]")).to_have_text("")


def test_the_words_of_a_screen_are_at_its_foot_and_a_longer_word_hides_the_one_in_it(desk: Page):
    at(desk, "count")
    foot = desk.locator("words-here")
    foot.locator("summary").first.tap()
    foot.locator(".term").first.wait_for()
    names = foot.locator(".term > summary").all_inner_texts()
    assert {"sharp angle", "fat quarter", "selvage", "seam allowance"} <= set(names)
    assert not {"cornerstone", "cut-along"} & set(names)
    assert len(names) == len(set(names))
    found = desk.evaluate("""async (app) => {
      const { termsIn } = await import(`${app}/lib/words/terms.js`);
      const terms = { diamond: { match: "diamonds?" }, half: { match: "half-diamonds?" }, none: { match: "kits?" } };
      return ["Two half-diamonds", "Diamonds and half-diamonds", "kitten"].map((text) => termsIn(text, terms));
    }""", desk.evaluate("document.querySelector('link[rel=stylesheet]').href.replace(/\\/look\\/.*/, '')"))  # fmt: skip
    assert found == [["half"], ["diamond", "half"], []]
    at(desk, "tools")
    assert desk.locator("words-here details").get_attribute("open") is None
    assert desk.locator("main + words-here").count() == 1


def test_at_the_mat_the_words_of_a_step_open_and_all_are_one_tap_away(page: Page, site: Host, dist):
    steps = matside.answer({"ask": "guide", **REQUEST})["script"]["steps"]
    starter = [step["do"] for step in steps].index("starter")
    seat(page, site.url, app_folder(dist), REQUEST, [{"event": "cut"}] * starter)
    page.get_by_role("button", name=said("mat.why")).tap()
    dialog = page.get_by_role("dialog")
    entry = dialog.locator(".term").filter(has_text=said("terms.starter_cut.meaning"))
    entry.locator("summary").tap()
    expect(entry.locator("svg")).to_be_visible()
    dialog.get_by_role("button", name=said("glossary.all")).tap()
    page.locator(ENTRY).first.wait_for()
    assert sideways(page) == []
    page.get_by_role("link", name=said("drift_screen.back")).tap()
    page.locator(".mat-sentence").wait_for()
    assert page.get_by_role("dialog").count() == 0
    page.get_by_role("button", name=said("mat.why")).tap()
    page.get_by_role("dialog").get_by_role("button", name=said("glossary.all")).tap()
    page.locator(ENTRY).first.wait_for()
    page.go_back()
    page.locator(".mat-sentence").wait_for()


def test_where_it_cannot_be_fetched_that_is_said_and_tried_again(page: Page, site: Host, watched):
    watched.expect("Failed to load resource")
    page.route("**/glossary/en.json", lambda route: route.abort())
    asleep(page).goto(f"{site.url}#terms")
    expect(page.locator("main [role=alert]")).to_have_text(said("glossary.missing"))
    page.unroute("**/glossary/en.json")
    page.get_by_role("button", name=said("glossary.again")).tap()
    expect(page.locator(ENTRY)).to_have_count(len(PICTURES))


@pytest.mark.long
def test_it_is_there_without_a_network_though_it_was_never_looked_at(page: Page, own_site: Host, watched):
    page.goto(own_site.url)
    expect(page.locator(".standing")).to_have_text(said("page.standing.ready"), timeout=60_000)
    own_site.stop()
    watched.expect("ERR_")
    at_the_words(page)
    page.reload()
    expect(page.locator(ENTRY)).to_have_count(len(PICTURES))
