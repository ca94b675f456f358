"""A start that does not come, and one that is not whole: what is said, what is kept, and what mends it."""

import pytest
from playwright.sync_api import Page, expect

from host import Host
from kept_state import keep, kept
from matside.words.saying import say
from one_page import until_kept
from phone import until
from quilter import answered, app_folder, asleep, count_screen, number, said

NOT_CUT = {"state": {"cloth": {"kind": "velvet", "length": "", "width": ""}}, "answers": None}

CACHES = "caches.keys()"


@pytest.fixture
def kept_offline(page: Page, own_site: Host) -> Page:
    """A page that is kept for use without a network, with a size that was typed."""
    page.goto(own_site.url)
    expect(page.locator(".standing")).to_have_text(said("page.standing.ready"), timeout=60_000)
    page.locator("[data-key='piece.text']").fill("5")
    answered(page)
    return page


def damage(page: Page, ending: str) -> None:
    """Puts something else in the place of a file that is kept."""
    assert (
        page.evaluate(
            """async (ending) => {
      const cache = await caches.open((await caches.keys()).find((name) => name.includes('precache')));
      const found = (await cache.keys()).filter(({ url }) => new URL(url).pathname.endsWith(ending));
      for (const key of found) await cache.put(key, new Response("this is (", { headers: { "Content-Type": "text/javascript" } }));
      return found.length;
    }""",
            ending,
        )
        == 1
    )


@pytest.mark.long
def test_a_kept_file_that_is_damaged_is_said_and_the_repair_keeps_the_data(kept_offline: Page, own_site: Host, watched):
    watched.expect("")  # a script that cannot be read is complained of in many words
    page = kept_offline
    damage(page, "/main.js")
    page.reload()
    broken = page.locator("#start-broken")
    expect(broken).to_contain_text("could not start")
    broken.locator("summary").tap()
    expect(page.locator("#start-report")).to_contain_text("Matside " + app_folder(own_site.folder).removeprefix("app-"))
    before = page.evaluate(CACHES)
    own_site.stop()
    page.locator("#start-repair").tap()
    expect(page.locator("#start-repairing")).to_contain_text("Nothing was changed")
    assert page.evaluate(CACHES) == before
    own_site.start()
    page.locator("#start-repair").tap()
    page.locator(".figure b").wait_for()  # in the page that comes then
    answered(page)
    assert page.locator("[data-key='piece.text']").input_value() == "5"
    expect(page.locator(".standing")).to_have_text(said("page.standing.ready"), timeout=60_000)
    own_site.stop()
    page.reload()
    answered(page)
    assert page.locator("[data-key='piece.text']").input_value() == "5"


@pytest.mark.long
def test_a_repair_does_nothing_while_a_file_is_lacking(kept_offline: Page, own_site: Host, watched):
    watched.expect("404")
    page = kept_offline
    before = page.evaluate(CACHES)
    own_site.faults["/words/en.json"] = "missing"
    page.goto(own_site.url + "#repair")
    page.locator("[data-key=repair]").tap()
    expect(page.locator("repair-view [role=status]")).to_have_text(said("repair.told.lacking"))
    assert page.evaluate(CACHES) == before
    assert page.evaluate("Boolean(navigator.serviceWorker.controller)")


def test_a_screen_that_is_missing_leaves_the_others_and_says_so(page: Page, own_site: Host, watched):
    watched.expect("404")
    watched.expect("Failed to fetch")
    own_site.faults["/screens/quilt.js"] = "missing"
    asleep(page).goto(own_site.url + "#quilt")
    expect(page.locator("main h1")).to_have_text(said("repair.part_title", name=said("repair.screen.quilt")))
    expect(page.get_by_role("link", name=said("repair.load_again"))).to_be_visible()
    page.get_by_role("link", name=said("page.tab.basket")).tap()
    expect(page.locator("main h1")).to_have_text(said("basket_screen.title"))
    own_site.faults.clear()
    page.get_by_role("link", name=said("page.tab.quilt")).tap()
    page.get_by_role("link", name=said("repair.load_again")).tap()
    expect(page.locator("main h1")).to_have_text(said("page.count_title"))
    page.goto(own_site.url + "#quilt")
    expect(page.locator("main h1")).to_have_text(said("quilt_screen.title"))


def test_words_that_come_damaged_once_are_asked_for_again(page: Page, site):
    asked = []

    def answer(route):
        asked.append(route.request.url)
        if len(asked) == 1:
            return route.fulfill(body="<!doctype html><p>Log in here", content_type="text/html")
        return route.continue_()

    page.route("**/words/en.json", answer)
    asleep(page).goto(site.url)
    until(page, "document.documentElement.dataset.start === 'shown'")
    expect(page.locator("main h1")).to_have_text(said("page.count_title"))
    assert len(asked) == 2


def test_settings_of_the_wrong_kind_are_as_at_first_and_the_rest_is_kept(page: Page, site):
    asleep(page).goto(site.url)
    keep(
        page,
        "settings",
        {"units": "furlong", "rulers": 7, "hand": "left", "keys": "Enter", "volume": "loud", "theme": "dark"},
    )
    page.reload()
    expect(page.locator("notice-bar [role=alert]")).to_contain_text(said("start.part.settings"))
    assert page.evaluate("document.documentElement.dataset.theme") == "dark"
    page.goto(site.url + "#tools")
    expect(page.get_by_role("button", name=said("tools.hand.left"), exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.get_by_role("button", name=said("tools.units.in"), exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    assert kept(page, "settings")["rulers"] == 7  # nothing is written before something is changed


def test_a_screen_that_cannot_be_shown_as_it_was_is_shown_as_at_first(page: Page, site):
    asleep(page).goto(site.url)
    keep(page, "count", NOT_CUT)
    page.reload()
    expect(page.locator("notice-bar [role=alert]")).to_contain_text(said("start.part.count"))
    expect(page.locator("main h1")).to_have_text(said("page.count_title"))
    expect(page.get_by_role("button", name=said("cloth.fat_quarter.name"), exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )


def test_without_a_secure_connection_it_is_said_once_what_cannot_be_done(page: Page, site):
    page.add_init_script("Object.defineProperty(window, 'isSecureContext', { value: false })")
    count_screen(page, site.url)
    assert number(page) == 15
    bar = page.locator("notice-bar")
    expect(bar).to_contain_text("https")
    bar.locator("[data-key=notice-read]").tap()
    assert bar.is_hidden()
    until_kept(page, "settings", lambda found: found.get("insecureRead"))
    page.reload()
    answered(page)
    assert bar.is_hidden()


def test_a_start_that_takes_long_says_so_and_goes_on(page: Page, site):
    held = []
    page.clock.install()
    page.route("**/lib/mat/past.js", lambda route: held.append(route))
    asleep(page).goto(site.url, wait_until="commit")
    until(page, "Boolean(window.matside)")
    while not held:  # the start takes a few turns of the clock until it asks for its modules
        page.clock.run_for(100)
        page.wait_for_timeout(20)
    page.clock.fast_forward(13_000)
    expect(page.locator("#start-what")).to_contain_text("longer than usual")
    held[0].continue_()
    page.clock.run_for(5_000)
    until(page, "document.documentElement.dataset.start === 'shown'")
    expect(page.locator("main h1")).to_have_text(said("page.count_title"))
    assert page.locator("#start-broken").count() == 0


def test_a_fault_that_nobody_caught_is_said_with_a_way_on(page: Page, site):
    asleep(page).goto(site.url)
    until(page, "document.documentElement.dataset.start === 'shown'")
    page.evaluate("dispatchEvent(new ErrorEvent('error', { error: new TypeError('of made-up') })), undefined")
    page.locator("notice-bar [data-key=notice-way]").tap()
    expect(page.locator("main h1")).to_have_text(said("repair.title"))
    page.locator("repair-view summary").tap()
    expect(page.locator("repair-view pre")).to_contain_text("of made-up")


@pytest.mark.every(7)
@pytest.mark.parametrize("language", ["", "C", "en-US@posix", "xx-invalid", "ar", "de-DE", None])
def test_any_language_shows_words_and_numbers(new_context, site, language):
    page = new_context().new_page()
    page.add_init_script(
        f"""for (const [name, value] of [["language", {language!r}], ["languages", [{language!r}]]]) {{
      Object.defineProperty(Navigator.prototype, name, {{ get: () => value, configurable: true }});
    }}""".replace("None", "undefined")
    )
    count_screen(page, site.url)
    assert number(page) == (
        20 if language in ("ar", "de-DE") else 15
    )  # of a fat quarter, the metric one in centimeters
    until_kept(page, "count", bool)
    keep(page, "settings", {"units": "cm"})
    page.reload()
    edge = {"de-DE": "11,5 cm", "ar": "11.5 cm"}.get(language, "11.7 cm")  # 10 cm, or 4 in, / sin 60°
    expect(page.locator(".measures")).to_contain_text(edge)
    page.locator("[data-key=start]").tap()
    page.locator(".mat-sentence").wait_for()
    told = say("guide.press.short", {}, "de" if language == "de-DE" else "en")
    assert page.locator(".mat-sentence").inner_text() == told
