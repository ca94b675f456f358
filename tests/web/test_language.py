"""The page's languages: which one it speaks, what is fetched and kept of it, and that another comes with nothing lost."""

import json
import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from host import Host
from kept_state import kept
from matside.words.catalogue import languages
from matside.words.saying import say
from one_page import all_parts
from phone import Watched, on_its_way, until
from quilter import app_folder, asleep, seat, totals
from steps.distribution import assemble
from steps.places import WEB
from test_access import FAT_QUARTER

OTHERS = languages()[1:]
OWN_NAMES = {"en": "English", "es": "Español", "de": "Deutsch", "fr": "Français", "ja": "日本語"}
STARTED = "html[data-start=shown]"
SETTLED = "!['waiting', 'installing'].includes(offline.state) && offline.state"

# What a browser complains of where a host goes away, or sends what does not belong there.
GOES_AWAY = ("ERR_FAILED", "ERR_CONNECTION_REFUSED", "sw.js", "integrity", "ervice")


@pytest.fixture
def opened(new_context, site: Host):
    """The page on a device with languages; its Python sleeps."""
    watching: list[Watched] = []

    def open_page(*device: str, at: str = "", host: Host = site) -> Page:
        context = new_context(locale=device[0])
        watching.append(Watched(context))
        for text in GOES_AWAY if host is not site else ():
            watching[-1].expect(text)
        page = context.new_page()
        if len(device) > 1:
            page.add_init_script(
                f"Object.defineProperty(navigator, 'languages', {{ get: () => {json.dumps(device)} }})"
            )
        on_its_way(asleep(page), site.origin).goto(host.url + at)
        page.locator(STARTED).wait_for(state="attached")
        return page

    yield open_page
    assert [complaint for watched in watching for complaint in watched.unexpected()] == []


def spoken(page: Page) -> str:
    """The language that the page says it is in."""
    return page.locator("html").get_attribute("lang")


def choice(page: Page, name: str):
    """A choice of language by its name."""
    return page.locator("language-choice").get_by_role("button", name=name, exact=True)


def chosen(page: Page, language: str) -> Page:
    """Chooses a language in Tools and waits until the page speaks it."""
    choice(page, OWN_NAMES[language]).tap()
    page.locator(f"html[lang={language}]{STARTED[4:]}").wait_for(state="attached")
    return page


def test_the_lists_of_languages_are_one():
    html = (WEB / "index.html").read_text("utf-8")
    assert f'data-languages="{" ".join(languages())}"' in html
    module = (WEB / "lib" / "words" / "language.js").read_text("utf-8")
    assert set(OWN_NAMES) == set(languages())
    assert all(f'{code}: "{name}"' in module for code, name in OWN_NAMES.items())


@pytest.mark.every(6)
@pytest.mark.parametrize(
    "device, language",
    [
        (("de-CH",), "de"),
        (("ja",), "ja"),
        (("pt-BR", "es-AR", "en"), "es"),
        (("nl-NL",), "en"),
        (("en-GB", "fr"), "en"),
    ],
)
def test_a_first_visit_speaks_the_first_of_the_devices_languages_that_there_is(opened, device, language):
    page = opened(*device, at="#tools")
    assert spoken(page) == language
    expect(page.locator("main h1")).to_have_text(say("tools.title", {}, language))
    expect(choice(page, say("tools.language.auto", {}, language))).to_have_attribute("aria-pressed", "true")


@pytest.mark.every(9)
@pytest.mark.parametrize(
    "device, units",
    [
        ("en-DE", "in"),
        ("de-DE", "cm"),
        ("fr-CA", "in"),
        ("es-US", "in"),
        ("es-MX", "cm"),
        ("nl", "cm"),
        ("ja-JP", "cm"),
    ],
)
def test_a_first_visit_measures_as_quilters_do_where_the_device_is(opened, device, units):
    page = opened(device)
    assert page.locator("count-stage .drawing").first.text_content().rstrip().endswith(f" {units}")
    assert kept(page, "settings") is None


def test_the_units_of_a_first_visit_stay_once_anything_is_chosen(opened):
    page = opened("de-DE", at="#tools")
    page.get_by_role("button", name=say("tools.theme.dark", {}, "de"), exact=True).tap()
    until(page, "document.documentElement.dataset.theme === 'dark'")
    until(page, "(async () => true)()")
    page.reload()
    page.locator(STARTED).wait_for(state="attached")
    assert kept(page, "settings") == {"units": "cm", "mat": "60 cm", "theme": "dark"}


@pytest.mark.parametrize(("device", "long"), [("en-US", "24 in"), ("de-DE", "60 cm")])
def test_whoever_described_no_ruler_begins_with_one_in_the_units_of_the_device(opened, device, long):
    page = opened(device)
    rulers = page.evaluate(
        """async () => {
      const found = document.querySelector('script[src*="app-"]').src.replace(/(app-[^/]*).*/, '$1');
      const { Shelf } = await import(`${found}/lib/kept/shelf.js`);
      const facts = await (await fetch(`${found}/facts.json`)).json();
      const units = document.querySelector('count-stage').textContent.includes(' cm') ? 'cm' : 'in';
      const settings = { values: { units, rulers: null }, words: { has: () => false } };
      return new Shelf({ store: null, settings, facts }).owned();
    }"""
    )
    assert [ruler["length"] for ruler in rulers] == [long]


def test_only_the_language_that_is_spoken_is_fetched(opened, site: Host):
    page = opened("fr-FR")
    asked = page.evaluate("performance.getEntriesByType('resource').map(({ name }) => name)")
    assert sorted({url.rpartition("/")[2] for url in asked if "/words/" in url and url.endswith(".json")}) == [
        "en.json",
        "fr.json",
    ]


@pytest.mark.parametrize("sign, text", [("comma", "11,5"), ("point", "11.5"), ("auto", "11.5")])
def test_the_decimal_sign_can_be_chosen(opened, sign, text):
    page = opened("en-US", at="#tools")
    for group, button in (
        (say("tools.units.name"), say("tools.units.cm")),
        (say("tools.decimal.name"), say(f"tools.decimal.{sign}")),
    ):
        page.get_by_role("group", name=group).get_by_role("button", name=button, exact=True).tap()
    page.evaluate("location.hash = 'count'")
    expect(page.locator(".measures")).to_contain_text(f"{text} cm")  # the edge of a diamond of 10 cm: 10 / sin 60°


def test_a_field_that_nobody_typed_in_has_the_decimal_sign_of_the_device(opened):
    page = opened("de-DE", at="#quilt")
    all_parts(page)
    assert page.locator('[data-key="piece.seam"]').input_value() == "0,75"


# Sizes in points, 72 to the inch: ISO 216 has A4 210 mm by 297 mm, ASME Y14.1 has A (letter) 8.5 in by 11 in. Where
# which of them is usual: Unicode CLDR, supplemental data.
PAPERS = {"a4": (595, 842), "letter": (612, 792)}


@pytest.mark.every(4)
@pytest.mark.parametrize(
    "device, usual", [("en-US", "letter"), ("es-MX", "letter"), ("de-DE", "a4"), ("en-GB", "a4"), ("en", "letter")]
)
def test_paper_is_that_of_the_device_and_can_be_chosen(opened, device, usual):
    page = opened(device, at="#tools")
    assert printed_on(page) == PAPERS[usual]
    other = {"a4": "letter", "letter": "a4"}[usual]
    group, button = (say(f"tools.paper.{code}", {}, spoken(page)) for code in ("name", other))
    page.get_by_role("group", name=group).get_by_role("button", name=button, exact=True).tap()
    until(page, f"document.documentElement.dataset.paper === '{other}'")
    assert printed_on(page) == PAPERS[other]


def printed_on(page: Page) -> tuple[int, int]:
    """The size of the first page of what is printed, in points."""
    width, height = re.search(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", page.pdf(prefer_css_page_size=True)).groups()
    return round(float(width)), round(float(height))


def test_a_start_that_fails_says_so_in_the_devices_language(new_context, site: Host):
    context = new_context(locale="de-DE")
    page = context.new_page()
    page.route("**/lib/words/words.js", lambda route: route.abort())
    page.goto(site.url)
    broken = page.locator("#start-broken")
    expect(broken).to_have_attribute("lang", "de")
    for code in ("start.broken", "repair.kept", "repair.how"):
        expect(broken).to_contain_text(say(code, {}, "de"))
    page.route("**/*", lambda route: route.abort())
    page.locator("#start-repair").tap()
    expect(page.locator("#start-repairing")).to_have_text(say("repair.told.offline", {}, "de"))


def test_another_language_comes_at_the_same_place_with_nothing_lost_while_cutting(opened, site: Host, dist: Path):
    page = seat(opened("en-US"), site.url, app_folder(dist), FAT_QUARTER, [{"event": "cut"}] * 5)
    made, expected = totals(page)
    page.evaluate("location.hash = 'tools'")
    chosen(page, "fr")
    assert page.url.endswith("#tools")
    expect(page.locator("main h1")).to_have_text(say("tools.title", {}, "fr"))
    expect(choice(page, OWN_NAMES["fr"])).to_have_attribute("aria-pressed", "true")
    page.evaluate("location.hash = 'cut'")
    page.locator(".mat-sentence").wait_for()
    total = " ".join(page.locator(".mat-total").inner_text().split())
    assert total == say("mat.total", {"total": made, "all": expected}, "fr")
    page.reload()
    page.locator(".mat-sentence").wait_for()
    assert spoken(page) == "fr"
    page.evaluate("location.hash = 'tools'")
    choice(page, say("tools.language.auto", {}, "fr")).tap()
    page.locator("html[lang=en]").wait_for(state="attached")
    assert page.evaluate("localStorage.getItem('matside-language')") is None


def test_a_draft_says_so_and_english_does_not(opened):
    page = opened("en-US", at="#tools")
    assert say("tools.language.draft") not in page.locator("main").inner_text()
    chosen(page, "ja")
    assert say("tools.language.draft", {}, "ja") in page.locator("main").inner_text()


def test_a_language_whose_words_are_broken_leaves_the_page_in_english_and_says_so(new_context, site: Host):
    context = new_context(locale="de-DE")
    context.route("**/words/de.json", lambda route: route.fulfill(body="{}"))
    page = asleep(context.new_page())
    page.goto(site.url)
    page.locator(STARTED).wait_for(state="attached")
    assert spoken(page) == "en"
    expect(page.locator("notice-bar")).to_contain_text(say("notice.language_lacking.full"))


# --- Without a network ----------------------------------------------------------------------------------------------


def offline_ready(page: Page) -> None:
    """Waits until the page can do without a network."""
    page.evaluate(
        """async () => {
      const main = document.querySelector('script[type=module]').src;
      window.offline = (await import(main.replace('main.js', 'offline.js'))).offline;
      void window.offline.start();
    }"""
    )
    assert until(page, SETTLED) == "ready"


def kept_words(page: Page) -> list[str]:
    """The files of languages that are kept."""
    urls = page.evaluate(
        """async () => {
      const cache = await caches.open((await caches.keys()).find((name) => name.includes('precache')));
      return (await cache.keys()).map(({ url }) => url);
    }"""
    )
    return sorted("/".join(url.split("/")[-2:]) for url in urls if re.search(r"/(words|glossary)/\w+\.json$", url))


ENGLISH = ["glossary/en.json", "glossary/pictures.json", "words/en.json"]


@pytest.fixture
def german(opened, own_site: Host) -> Page:
    """A German page that is ready offline."""
    page = opened("de-DE", host=own_site)
    offline_ready(page)
    return page


@pytest.mark.long
def test_the_language_of_a_first_visit_is_kept_with_its_glossary(german: Page, own_site: Host):
    assert kept_words(german) == sorted([*ENGLISH, "words/de.json", "glossary/de.json"])
    with own_site.gone():
        german.goto(f"{own_site.url}#terms")
        german.reload()
        german.locator(".term").first.wait_for()
        assert spoken(german) == "de"


@pytest.mark.long
def test_a_language_that_is_not_here_is_not_taken_without_a_network(german: Page, own_site: Host, watched):
    german.evaluate("location.hash = 'tools'")
    with own_site.gone():
        choice(german, OWN_NAMES["es"]).tap()
        lacking = say("tools.language.lacking", {"name": OWN_NAMES["es"]}, "de")
        expect(german.locator("language-choice [role=status]")).to_have_text(lacking)
        assert spoken(german) == "de"
        assert german.evaluate("localStorage.getItem('matside-language')") is None
    chosen(german, "es")
    with own_site.gone():
        german.reload()
        german.locator(STARTED).wait_for(state="attached")
        assert spoken(german) == "es"
        chosen(german, "de")
    assert {"words/es.json", "glossary/es.json"} <= set(kept_words(german))


@pytest.mark.long
def test_a_file_of_the_language_that_was_lost_is_fetched_again(german: Page):
    german.evaluate(
        """async () => {
      const cache = await caches.open((await caches.keys()).find((name) => name.includes('precache')));
      for (const key of await cache.keys()) if (key.url.endsWith('/de.json')) await cache.delete(key);
    }"""
    )
    assert "words/de.json" not in kept_words(german)
    german.evaluate("void offline.start()")
    assert until(german, SETTLED) == "ready"
    assert {"words/de.json", "glossary/de.json"} <= set(kept_words(german))


@pytest.mark.long
def test_a_new_version_brings_the_languages_that_are_kept(german: Page, own_site: Host, dist: Path, tmp_path: Path):
    """Those and no others; and where one of them is not as it was built, the version in use stays."""
    own_site.publish(changed(dist, tmp_path))
    (spoiled,) = own_site.folder.glob("app-*/words/de.json")
    whole = spoiled.read_bytes()
    spoiled.write_bytes(whole.replace(b"Streifen", b"Stripes "))
    for ending in (".br", ".gz"):
        Path(f"{spoiled}{ending}").unlink()
    looked(german)
    assert german.evaluate("offline.state") == "ready"
    spoiled.write_bytes(whole)
    german.evaluate("void offline.start()")
    until(german, SETTLED)
    looked(german)
    assert until(german, "offline.state === 'update'")
    with own_site.gone(), german.expect_navigation():
        german.evaluate("void offline.applyUpdate()")
    with own_site.gone():
        german.locator(STARTED).wait_for(state="attached")
        assert spoken(german) == "de"
        assert (
            german.evaluate("document.querySelector('script[type=module]').src").split("/")[-2]
            == spoiled.parent.parent.name
        )
        german.goto(f"{own_site.url}#terms")
        german.locator(".term").first.wait_for()
    assert "words/fr.json" not in kept_words(german)


def changed(dist: Path, folder: Path) -> Path:
    """A version of the page that differs in one of its words."""
    web = folder / "web"
    shutil.copytree(WEB, web, ignore=shutil.ignore_patterns("node_modules", "build"))
    with (web / "look" / "tokens.css").open("a") as look:
        look.write("/* another version */\n")
    assemble(folder / "next", web, {name: files(dist, name) for name in ("py", "pyodide")})
    return folder / "next"


def files(dist: Path, name: str) -> dict[str, Path]:
    """The files of a hashed folder by their names, without the squeezed ones."""
    (found,) = dist.glob(f"{name}-*")
    return {path.name: path for path in found.iterdir() if path.suffix not in (".br", ".gz")}


def looked(page: Page) -> None:
    """Looks for a new version and waits until it is whole or was given up."""
    page.evaluate("offline.lookForUpdate()")
    until(page, "navigator.serviceWorker.getRegistration().then(({ installing }) => !installing)")
    page.wait_for_timeout(300)
