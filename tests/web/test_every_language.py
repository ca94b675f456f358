"""Every main screen in every language, and in one that nobody speaks (pseudo.py): nothing sticks out or is cut off, nothing
stays English, axe-core finds nothing."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from axe import complaints
from matside.words.catalogue import languages
from matside.words.saying import say
from measured import sideways
from near import NearHost
from phone import SCREEN, Watched, on_its_way, slowed, until
from pseudo import CODE, pseudo, pseudo_dist
from quilter import app_folder, guide, painted, seat

REGIONS = {"en": "en-US", "de": "de-DE", "es": "es-ES", "fr": "fr-FR", "ja": "ja-JP", CODE: CODE}
SCREENS = (
    "count",
    "quilt",
    "basket",
    "tools",
    "rulers",
    "drift",
    "group",
    "pass",
    "plan",
    "paper",
    "terms",
    "repair",
    "cut",
)
REQUEST = {
    "piece": {"shape": "diamond", "size": 4, "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}
STARTED = "html[data-start=shown]"
# What is to be read, seen or heard: texts in sight, and the names and hints that elements have.
TOLD = """() => {
  const told = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { parentElement: at, data } = texts.currentNode;
    if (at.checkVisibility({ visibilityProperty: true }) && !at.closest('[lang]:not(html), pre, script, noscript')) told.push(data);
  }
  for (const at of document.querySelectorAll('[aria-label], [placeholder], [title]'))
    if (at.checkVisibility()) told.push(...['aria-label', 'placeholder', 'title'].map((name) => at.getAttribute(name) ?? ''));
  return told;
}"""
# Letters of the language have accents: what has none is English. Names of keys and units are the same everywhere.
ENGLISH = re.compile(r"[A-Za-z]{3,}")
SAME_EVERYWHERE = re.compile(r"Matside|Arrow\w+|Page(?:Up|Down)|Enter|Escape|F1\d|XXL|\bMB\b")


class Walk:
    """Opens the screens of a page in one language, one after another."""

    def __init__(self, page: Page, host: NearHost, language: str):
        self.page, self.host = page, host
        waiting = say("page.waiting", {}, "en" if language == CODE else language)
        self.waiting = pseudo(waiting) if language == CODE else waiting
        page.goto(host.url)
        page.locator(STARTED).wait_for(state="attached")

    def at(self, screen: str) -> list[str]:
        """Goes to a screen; gives the keys of its parts, where it has a row of them."""
        if screen == "cut":
            app = app_folder(self.host.folder)
            seat(self.page, self.host.url, app, REQUEST, [{"event": "cut"}] * 4, script=guide(REQUEST))
        else:
            self.page.evaluate("(screen) => { location.hash = screen; }", screen)
        main = "repair-view" if screen == "repair" else "main :is(h1, .mat-sentence)"
        self.page.locator(main).first.wait_for(state="attached")
        if screen in ("quilt", "terms"):
            wanted = ".part-tabs button" if screen == "quilt" else ".term"
            self.page.locator(wanted).first.wait_for(state="attached")
        until(self.page, f"!document.body.innerText.includes({json.dumps(self.waiting)})")
        painted(self.page)
        return self.page.evaluate(
            "[...document.querySelectorAll('.part-tabs [data-key]')].filter((each) => each.checkVisibility()).map(({ dataset }) => dataset.key)"
        )


def opened(browser: Browser, host: NearHost, language: str, width: int) -> Iterator[Walk]:
    size = {**SCREEN, "viewport": {"width": width, "height": 700}, "locale": REGIONS[language]}
    context = slowed(browser.new_context(**size))
    watching = Watched(context)
    yield Walk(on_its_way(context.new_page(), host.origin), host, language)
    context.close()
    assert watching.unexpected() == []


@pytest.fixture(scope="module")
def pseudo_host(dist: Path, tmp_path_factory) -> Iterator[NearHost]:
    host = NearHost(pseudo_dist(dist, tmp_path_factory.mktemp("pseudo") / "dist"))
    yield host
    host.close()


@pytest.fixture(scope="module")
def narrow(browser: Browser, pseudo_host: NearHost) -> Iterator[Walk]:
    """A narrow phone in the language that nobody speaks."""
    yield from opened(browser, pseudo_host, CODE, 320)


def english(page: Page) -> list[str]:
    """What is still English."""
    return [text for text in page.evaluate(TOLD) if ENGLISH.search(SAME_EVERYWHERE.sub("", text))]


@pytest.mark.every(2)
@pytest.mark.parametrize("screen", SCREENS)
def test_a_language_of_long_words_from_right_to_left_fits_and_leaves_no_english(narrow: Walk, screen: str):
    parts = narrow.at(screen)
    assert narrow.page.locator("html").get_attribute("lang") == CODE
    for part in [None, *parts]:
        if part:
            narrow.page.locator(f'[data-key="{part}"]').first.click()
            painted(narrow.page)
        assert (part, sideways(narrow.page)) == (part, [])
        assert (part, english(narrow.page)) == (part, [])
    if screen == "cut":
        narrow.page.locator("[data-key=mend]").click()
        narrow.page.locator("dialog[open]").wait_for()
        assert (sideways(narrow.page), english(narrow.page)) == ([], [])


def test_drawings_and_numbers_run_from_left_to_right_everywhere(narrow: Walk):
    narrow.at("count")
    assert narrow.page.evaluate("getComputedStyle(document.documentElement).direction") == "rtl"
    found = narrow.page.evaluate(
        "[...document.querySelectorAll('.drawing')].map((each) => getComputedStyle(each).direction)"
    )
    assert set(found) == {"ltr"}


def test_what_is_still_english_would_be_found(narrow: Walk):
    narrow.at("tools")
    narrow.page.evaluate("document.querySelector('main h1').append(' Tools')")
    assert [text.strip() for text in english(narrow.page)] == ["Tools"]
    assert pseudo(say("tools.title")) in narrow.page.locator("main h1").inner_text()


# --- The languages that ship ----------------------------------------------------------------------------------------

CASES = [(language, width, screen) for language in languages() for width in (320, 1280) for screen in SCREENS]


@pytest.fixture(scope="module")
def walks(browser: Browser, site: NearHost) -> Iterator:
    """The page in a language at a width, opened once for all screens."""
    made: dict[tuple[str, int], tuple[Iterator[Walk], Walk]] = {}

    def walk(language: str, width: int) -> Walk:
        if (language, width) not in made:
            opening = opened(browser, site, language, width)
            made[language, width] = (opening, next(opening))
        return made[language, width][1]

    yield walk
    for opening, _ in made.values():
        next(opening, None)


@pytest.mark.every(38)
@pytest.mark.parametrize(("language", "width", "screen"), CASES)
def test_a_screen_fits_and_is_sound_in_every_language(walks, language: str, width: int, screen: str):
    walk = walks(language, width)
    walk.at(screen)
    assert until(walk.page, "document.documentElement.lang") == language
    assert (sideways(walk.page), complaints(walk.page)) == ([], [])
