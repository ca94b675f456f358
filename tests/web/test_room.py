"""The big-screen view: read from 5 m on a picture 1 m wide, walked over without counting.

Capitals of 16 minutes of arc for sentences and 20 for whatever has a number: common practice, no published source. How
high that is on the picture is arithmetic."""

import math

import pytest
from playwright.sync_api import Page, expect

from axe import complaints
from kept_state import sitting
from phone import until
from quilter import app_folder, guide, mat, painted, said, seat, sentence_of, tap

FAR, WIDE = 5.0, 1.0  # meters: from the picture, and how wide it is
SENTENCE, NUMBER = 16, 20  # minutes of arc
SIZES = [(1200, 700), (1280, 800), (1920, 1080)]
FAT_QUARTER = {
    "piece": {"shape": "diamond", "size": 4, "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}
#: Those whose steps take the most words: lengths with fractions, marks, a cloth that is divided.
WORDY = {
    "marks": {**FAT_QUARTER, "piece": {"shape": "half-diamond", "size": 4.125, "angle": 60}, "rulers": [
        {"name": "narrow", "width": 2.5, "length": 18, "angles": []}]},
    "divided": {"piece": {"shape": "diamond", "size": 4.625, "angle": 60}, "cloth": {"length": 24, "width": 27}, "way": "mixed"},
}  # fmt: skip
MOVE = "(document.querySelector('room-view scene-view').dataset.move ?? null)"

# Every text in sight, with the height of its capitals, or of its lowest figure, as a share of the picture's width.
LETTERS = """() => {
  const canvas = document.createElement("canvas").getContext("2d");
  const walker = document.createTreeWalker(document.querySelector("#page"), NodeFilter.SHOW_TEXT);
  const found = [];
  while (walker.nextNode()) {
    const node = walker.currentNode, element = node.parentElement, text = node.data.trim();
    if (!text || !element.checkVisibility() || element.closest(".unseen, dialog:not([open])")) continue;
    const style = getComputedStyle(element);
    const scale = element.ownerSVGElement ? element.getScreenCTM().d : 1;
    canvas.font = `${style.fontWeight} 1000px ${style.fontFamily}`;
    const high = (letter) => (canvas.measureText(letter).actualBoundingBoxAscent / 1000) * parseFloat(style.fontSize) * Math.abs(scale);
    const figures = text.match(/\\d/g);
    found.push({ text, figure: Boolean(figures), share: Math.min(...(figures ?? ["H"]).map(high)) / innerWidth });
  }
  return found;
}"""
# What cannot be seen whole: what reaches beyond the screen, words beyond their place, and parts that lie on each other.
SPILT = """() => {
  const view = document.querySelector("room-view");
  const parts = [...view.querySelectorAll(".room-caution, .room-sentence, .room-counts, .room-next, .room-foot, .room-then, .room-foot p, button")]
    .filter((part) => part.checkVisibility() && part.innerText);
  const box = (part) => part.getBoundingClientRect();
  const out = parts.filter((part) => { const { left, top, right, bottom } = box(part);
    return left < -1 || top < -1 || right > innerWidth + 1 || bottom > innerHeight + 1 || part.scrollWidth > part.clientWidth + 1; });
  const apart = parts.filter((part) => !parts.some((other) => other !== part && other.contains(part)));
  const over = apart.flatMap((one, i) => apart.slice(i + 1).filter((other) => { const [a, b] = [box(one), box(other)];
    return Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 6; }));
  return [...out, ...over].map((part) => `${part.className}: ${part.innerText}`);
}"""


def share(minutes: float) -> float:
    """How high that is, as a share of the picture's width."""
    return 2 * FAR * math.tan(math.radians(minutes / 60) / 2) / WIDE


@pytest.fixture
def room(page, site, dist):
    """The view before a room, of a guide that stands at a step; on a screen of a size."""

    def show(do: str, nth: int = 0, size=SIZES[0], settings=None, request=FAT_QUARTER, on: Page | None = None) -> Page:
        here = on or page
        here.set_viewport_size({"width": size[0], "height": size[1]})
        seat(here, site.url, app_folder(dist), request, cuts_to(do, nth, request), settings)
        here.locator("[data-key=room]").click()
        here.locator("room-view").wait_for()
        painted(here)
        return here

    return show


def cuts_to(do: str, nth: int, request: dict) -> list[dict]:
    steps = guide(request)["steps"]
    return [{"event": "cut"}] * [i for i, step in enumerate(steps) if step["do"] == do][nth]


def says(page: Page) -> str:
    return page.locator(".room-sentence").inner_text()


def walk(page: Page, look) -> int:
    """Looks at every step from here on; how many there are."""
    steps = 1
    look(page)
    while page.locator(".room-next button.room-next").is_enabled():
        page.keyboard.press("PageDown")
        painted(page)
        look(page)
        steps += 1
    return steps


# --- Read from afar -------------------------------------------------------------------------------------------------


def test_the_heights_that_are_wanted_are_those_of_the_arithmetic():
    assert share(SENTENCE) == pytest.approx(0.0233, abs=5e-5)
    assert share(NUMBER) == pytest.approx(0.0291, abs=5e-5)


@pytest.mark.every(21)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("request_", ["fat quarter", *WORDY])
def test_all_of_every_step_is_seen_and_large_enough_from_the_last_row(room, size, request_: str):
    request = {"fat quarter": FAT_QUARTER, **WORDY}[request_]
    page = room("press", size=size, request=request)
    seen = set()

    def look(page: Page) -> None:
        if says(page) in seen:
            return
        seen.add(says(page))
        letters = page.evaluate(LETTERS)
        small = [one for one in letters if one["share"] < share(NUMBER if one["figure"] else SENTENCE)]
        assert small == []
        assert any(one["figure"] for one in letters)
        assert page.evaluate(SPILT) == []

    assert walk(page, look) == len(guide(request)["steps"])


def test_where_the_window_is_low_words_make_room_but_stay_large_enough(room):
    page = room("piece", size=(1200, 520))
    until(page, "document.querySelector('room-view').dataset.level > 0")
    letters = page.evaluate(LETTERS)
    assert [one for one in letters if one["share"] < share(NUMBER if one["figure"] else SENTENCE)] == []
    assert page.evaluate(SPILT) == []


def test_its_stills_are_as_large(room):
    page = room("piece")
    page.locator("[data-key=room-show-me]").click()
    page.get_by_role("dialog", name=said("show_me.title")).wait_for()
    letters = [one for one in page.evaluate(LETTERS) if one["text"] != said("show_me.close")]
    assert [one for one in letters if one["share"] < share(NUMBER if one["figure"] else SENTENCE)] == []


# --- Shown, not counted ---------------------------------------------------------------------------------------------


def test_it_begins_where_the_sitting_stands_and_walks_over_its_steps(room):
    page = room("piece", 1)
    steps = guide(FAT_QUARTER)["steps"]
    at = len(cuts_to("piece", 1, FAT_QUARTER))
    assert says(page) == sentence_of(steps[at])
    for keys, way in ((("ArrowRight", "PageDown", " "), 1), (("ArrowLeft", "PageUp"), -1)):
        for key in keys:
            at += way
            page.keyboard.press(key)
            assert says(page) == sentence_of(steps[at])
            assert page.locator(".room-of").inner_text().startswith("of 3") or steps[at]["do"] in ("strip", "press")
    page.locator("[data-key=room-next]").click()
    page.locator("[data-key=room-back]").click()
    assert says(page) == sentence_of(steps[at])


def test_a_leaders_own_count_stays_what_it_was(room):
    page = room("piece", 1)
    before = len(sitting(page)["events"])
    for _ in range(5):
        page.keyboard.press("PageDown")
    expect(page.get_by_text(said("room.looking"))).to_be_visible()
    assert page.locator(".room-total").text_content().startswith("3 of 15")
    page.keyboard.press("Escape")
    page.locator("mat-view").wait_for()
    assert page.evaluate("location.hash") == "#cut"
    assert page.locator(".mat-total").inner_text().startswith("1 of 15")
    assert len(sitting(page)["events"]) == before
    shown = mat(page)
    tap(page)  # and there it counts as ever
    assert mat(page) != shown and len(sitting(page)["events"]) == before + 1


@pytest.mark.long
def test_it_ends_at_the_first_and_the_last_step(room):
    page = room("done")
    assert says(page) == sentence_of(guide(FAT_QUARTER)["steps"][0])  # all is cut: it is shown from the start
    expect(page.locator("[data-key=room-back]")).to_be_disabled()
    page.keyboard.press("PageUp")
    assert says(page) == sentence_of(guide(FAT_QUARTER)["steps"][0])
    walk(page, lambda page: None)
    page.keyboard.press("PageDown")
    assert says(page) == said("guide.done.short")


def test_a_button_reached_by_keyboard_is_pressed_by_space(room):
    page = room("piece")
    for _ in range(3):
        page.keyboard.press("Tab")
    expect(page.locator("[data-key=room-show-me]")).to_be_focused()
    first = says(page)
    page.keyboard.press(" ")
    page.get_by_role("dialog", name=said("show_me.title")).wait_for()
    assert says(page) == first


def test_it_has_an_address_of_its_own_and_a_narrow_screen_stays_at_the_mat(room, page):
    room("piece")
    page.reload()
    page.locator("room-view").wait_for()
    page.set_viewport_size({"width": 390, "height": 844})
    page.reload()
    page.locator("mat-view .mat-sentence").wait_for()
    assert page.evaluate("location.hash") == "#cut"
    expect(page.locator("[data-key=room]")).to_be_hidden()


# --- Moving, and for every eye and hand -----------------------------------------------------------------------------


@pytest.mark.long
@pytest.mark.parametrize(("do", "key"), [("piece", "PageDown"), ("press", "PageUp")])
def test_show_me_plays_there_and_a_key_ends_it(room, new_context, do: str, key: str):
    """Even one that leads nowhere, as back does at the first step."""
    moving = new_context(reduced_motion="no-preference").new_page()
    page = room(do, on=moving, settings={"shown": {"piece": 2, "press": 2}})
    page.locator("[data-key=room-show-me]").click()
    until(page, f"{MOVE} !== null")
    strike = "(key) => document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }))"
    page.evaluate(strike, key)
    assert page.evaluate(MOVE) is None
    assert says(page) == said("guide.recheck.short" if do == "piece" else "guide.press.short", short_diagonal="4⅝ in")


def test_the_left_hand_has_the_drawing_at_its_left(room):
    page = room("piece", settings={"hand": "left"}, request={**FAT_QUARTER, "hand": "left"})
    drawing, words = (page.locator(part).bounding_box()["x"] for part in ("room-view scene-view", ".room-words"))
    assert drawing < words


@pytest.mark.every(2)
@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("do", ["strip", "piece"])
def test_axe_finds_nothing_wrong(room, theme: str, do: str):
    page = room(do, settings={"theme": theme})
    assert complaints(page) == []
