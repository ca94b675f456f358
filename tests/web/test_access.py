"""For every eye and hand: axe-core on every screen, sizes and contrast measured in the page,
narrow screens, large text, keys.
"""

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from amounts import some
from axe import complaints
from measured import sideways, small_targets, texts_at_the_mat
from phone import SCREEN, Watched, slowed, until
from quilter import (
    answered,
    app_folder,
    cloth_kind,
    count_screen,
    enter,
    field,
    guide,
    mat,
    mending,
    painted,
    said,
    seat,
    totals,
)

FAT_QUARTER = {
    "piece": {"shape": "diamond", "size": 4, "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}
SCREENS = ("count", "quilt", "basket", "cut", "tools", "rulers", "drift", "group", "pass", "plan", "paper", "terms")
STEPS = ("press", "selvage", "selvage", "strip", "lay", "starter", "turn", "piece", "recheck", "strip_done", "done")
DIALOGS = {"mend": said("mat.mend"), "where": None, "why": said("mat.why")}


@pytest.fixture(scope="module")
def desk(browser, site) -> Iterator[Page]:
    """One page for all screens but the guide, with an answer on the first."""
    context = slowed(browser.new_context(**SCREEN))
    watching = Watched(context)
    yield count_screen(context.new_page(), site.url)
    assert watching.unexpected() == []
    context.close()


@pytest.fixture(scope="module")
def guide_page(browser) -> Iterator[Page]:
    context = slowed(browser.new_context(**SCREEN))
    watching = Watched(context)
    yield context.new_page()
    assert watching.unexpected() == []
    context.close()


@pytest.fixture(scope="module")
def seating(guide_page: Page, site, dist):
    """Sits down at a step, or stays where the one before sat who only looked."""
    looked_at = [None]

    def sit(do: str, settings: dict | None, habits: dict, looking: bool) -> Page:
        wanted = [do, settings, habits] if looking else None
        if wanted is None or looked_at[0] != wanted:
            seated(guide_page, site, dist, do, settings, habits)
        looked_at[0] = wanted
        for _ in range(2):
            painted(guide_page)  # the screen fits itself to its frame with the next picture
        return guide_page

    return sit


@pytest.fixture
def at_step(seating, guide_page: Page) -> Iterator:
    """Sits down at the first step that does something, with settings and habits."""
    yield lambda do, settings=None, **habits: seating(do, settings, habits, looking=False)
    guide_page.set_viewport_size(SCREEN["viewport"])
    guide_page.emulate_media(color_scheme="light", forced_colors="none")


@pytest.fixture
def look_at_step(seating, guide_page: Page) -> Iterator:
    """The same for tests that do nothing but look: from one screen to the next the guide stays as it is."""
    yield lambda do, settings=None, **habits: seating(do, settings, habits, looking=True)
    guide_page.set_viewport_size(SCREEN["viewport"])


def seated(page: Page, site, dist, do: str, settings, habits) -> Page:
    request = {**FAT_QUARTER, **habits}
    steps = guide(request)["steps"]
    at = [step["do"] for step in steps].index(do)
    return seat(page, site.url, app_folder(dist), request, [{"event": "cut"}] * at, settings)


def look(page: Page, scheme: str) -> None:
    page.emulate_media(color_scheme=scheme, forced_colors="none")


def open_dialog(page: Page, name: str) -> None:
    if DIALOGS[name] is None:
        page.locator(".mat-total").tap()
    else:
        page.get_by_role("button", name=DIALOGS[name], exact=True).tap()
    page.get_by_role("dialog").wait_for()


# --- axe-core -------------------------------------------------------------------------------------------------------


@pytest.mark.every(14)
@pytest.mark.parametrize("screen", SCREENS)
def test_axe_finds_nothing_on_any_screen_in_light_and_dark(desk: Page, screen: str):
    show(desk, screen)
    for scheme in ("light", "dark"):
        look(desk, scheme)
        assert complaints(desk) == [], scheme


def show(page: Page, screen: str) -> None:
    page.evaluate("(screen) => { location.hash = screen; }", screen)
    page.locator("main h1").first.wait_for()
    page.get_by_text(said("page.waiting")).wait_for(state="hidden")


@pytest.mark.long
def test_axe_finds_nothing_while_there_are_errors_and_while_there_is_no_answer(desk: Page):
    show(desk, "count")
    cloth_kind(desk, "scrap")
    enter(desk, "piece.text", "wide")
    enter(desk, "cloth.length", "4 1/0")
    for scheme in ("light", "dark"):
        look(desk, scheme)
        assert complaints(desk) == [], scheme
    enter(desk, "piece.text", "4")
    cloth_kind(desk, "fat_quarter")


@pytest.mark.every(14)
@pytest.mark.parametrize("do", STEPS)
def test_axe_finds_nothing_at_any_step_in_light_and_dark(at_step, do: str):
    page = at_step(do)
    for scheme in ("light", "dark"):
        look(page, scheme)
        assert complaints(page) == [], scheme


@pytest.mark.every(2)
@pytest.mark.parametrize("name", DIALOGS)
def test_axe_finds_nothing_in_the_dialogs_of_the_guide(at_step, name: str):
    page = at_step("recheck")
    open_dialog(page, name)
    for scheme in ("light", "dark"):
        look(page, scheme)
        assert complaints(page) == [], scheme


def test_axe_finds_nothing_with_forced_colours(desk: Page, at_step):
    show(desk, "count")
    desk.emulate_media(forced_colors="active")
    assert complaints(desk) == []
    desk.emulate_media(forced_colors="none")
    page = at_step("piece")
    page.emulate_media(forced_colors="active")
    assert complaints(page) == []
    mending(page)
    assert complaints(page) == []


def test_a_choice_can_be_told_by_more_than_its_colour_with_forced_colours(desk: Page):
    show(desk, "count")
    desk.emulate_media(forced_colors="active")
    outlines = desk.evaluate("""() => ['true', 'false'].map((taken) =>
      getComputedStyle(document.querySelector(`.chip[aria-pressed=${taken}]`)).outlineStyle)""")
    desk.emulate_media(forced_colors="none")
    assert outlines == ["solid", "none"]


# --- Reading at arm's length ----------------------------------------------------------------------------------------


@pytest.mark.every(7)
@pytest.mark.parametrize("do", STEPS)
def test_nothing_at_the_mat_is_below_34_px_or_below_a_contrast_of_7(at_step, do: str):
    """34 px are 16 minutes of arc at 70 cm (NUREG-0700); 7:1 is WCAG 2.2, 1.4.6. Working text
    has 42 px, the count far more.
    """
    page = at_step(do)
    for scheme in ("light", "dark"):
        look(page, scheme)
        texts = texts_at_the_mat(page)
        assert [each for each in texts if each["size"] < 33.99 or each["contrast"] < 7] == [], scheme
    sizes = page.evaluate("""() => ['.mat-sentence', '.mat-count'].map((name) => document.querySelector(name))
      .map((element) => (element.textContent ? parseFloat(getComputedStyle(element).fontSize) : null))""")
    assert sizes[0] >= 42
    assert sizes[1] is None or sizes[1] >= 70


@pytest.mark.long
@pytest.mark.parametrize("name", DIALOGS)
def test_nothing_in_the_dialogs_of_the_guide_is_smaller_or_fainter(at_step, name: str):
    page = at_step("recheck")
    open_dialog(page, name)
    for scheme in ("light", "dark"):
        look(page, scheme)
        texts = texts_at_the_mat(page)
        assert texts
        assert [each for each in texts if each["size"] < 33.99 or each["contrast"] < 7] == [], scheme


def test_a_phone_further_away_has_larger_letters(at_step):
    near = {each["text"]: each["size"] for each in texts_at_the_mat(at_step("piece", {"distance": 70}))}
    far = {each["text"]: each["size"] for each in texts_at_the_mat(at_step("piece", {"distance": 80}))}
    make_room = (
        "then ",
        "strip ",
        said("mat.past.turn"),
        "Take the “",
    )  # what comes next, what was done, and the explanation
    assert {text for text in near.keys() - far.keys() if not text.startswith(make_room)} == set()
    for text, size in far.items():
        assert size >= near[text] * 80 / 70 - 1, text  # rounded to whole px


# --- Targets --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("screen", SCREENS)
def test_everything_that_is_tapped_is_at_least_44_px(desk: Page, screen: str):
    show(desk, screen)
    assert small_targets(desk) == []


def test_everything_that_is_tapped_at_the_mat_is_larger_still(at_step):
    page = at_step("piece")
    assert small_targets(page) == []
    mending(page)
    assert small_targets(page) == []


# --- Narrow screens and large text ----------------------------------------------------------------------------------


@pytest.mark.parametrize("screen", SCREENS)
def test_nothing_is_scrolled_sideways_at_320_px_and_with_text_twice_as_large(desk: Page, screen: str):
    """WCAG 2.2, 1.4.10 and 1.4.4."""
    show(desk, screen)
    desk.set_viewport_size({"width": 320, "height": 640})
    narrow = sideways(desk)
    desk.set_viewport_size(SCREEN["viewport"])
    desk.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    large = sideways(desk)
    desk.evaluate("() => { document.documentElement.style.fontSize = ''; }")
    assert (narrow, large) == ([], [])


@pytest.mark.every(7)
@pytest.mark.parametrize("size", [(320, 640), (390, 844), (844, 390), (768, 1024), (1366, 768)])
def test_the_guide_fits_every_screen_either_way_round(at_step, size):
    """No orientation is locked; every word can be reached and is not under the hint that is told where to tap."""
    for do in ("selvage", "piece", "recheck"):
        page = at_step(do)
        page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
        assert sideways(page) == []
        assert hidden_words(page) == [], do
        box = page.locator("scene-view").bounding_box()
        assert min(box["width"], box["height"]) >= 120, do


# Words that can not be reached, or that lie on each other or under the hint, when all is scrolled to its end.
HIDDEN = """() => {
  const body = document.querySelector('.mat-body');
  body.scrollTop = body.scrollHeight;
  const names = ['.mat-problem', '.mat-caution', '.mat-count', '.mat-where', '.mat-sentence', '.mat-more', '.mat-hint', '.mat-then'];
  const boxes = names.map((name) => [name, document.querySelector(name)]).filter(([, part]) => part.checkVisibility() && part.textContent)
    .map(([name, part]) => [name, part.getBoundingClientRect()]);
  const over = (one, other) => Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 2 && Math.min(one.right, other.right) - Math.max(one.left, other.left) > 2;
  return boxes.flatMap(([name, box], i) => boxes.slice(i + 1).filter(([, other]) => over(box, other)).map(([other]) => `${name} on ${other}`));
}"""


def hidden_words(page: Page) -> list[str]:
    return page.evaluate(HIDDEN)


@pytest.mark.every(10)
@pytest.mark.parametrize("size", some([(390, 844), (320, 640), (844, 390), (1024, 768)], 2))
@pytest.mark.parametrize("do", ["strip", "starter", "piece", "recheck"])
@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_labels_of_the_drawing_are_wholly_in_sight(look_at_step, size, do: str, hand: str):
    page = look_at_step(do, {"hand": hand}, hand=hand)
    page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    until(page, "(wide) => Math.abs(document.querySelector('mat-view').clientWidth - wide) < 1", size[0])
    page.wait_for_timeout(60)  # the drawing fits itself to its frame with the next picture
    cut_off = page.evaluate("""() => {
      const frame = document.querySelector('scene-view').getBoundingClientRect();
      return [...document.querySelectorAll('scene-view text')].map((text) => [text.textContent, text.getBoundingClientRect()])
        .filter(([, box]) => box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1)
        .map(([text]) => text);
    }""")
    assert cut_off == []


@pytest.mark.every(3)
@pytest.mark.parametrize("hand", ["right", "left"])
def test_from_afar_the_sentence_is_in_sight_and_the_hint_is_not_over_the_drawing(at_step, hand: str):
    """80 cm away, with the caution of a sitting that was taken up again."""
    for do in ("selvage", "strip", "lay", "starter", "piece", "recheck"):
        page = at_step(do, {"distance": 80, "hand": hand}, hand=hand)
        boxes = page.evaluate("""() => Object.fromEntries(['.mat-body', '.mat-sentence', 'scene-view', '.mat-hint'].map((name) => {
          const { top, bottom, height } = document.querySelector(name).getBoundingClientRect();
          return [name, { top, bottom, height }];
        }))""")
        assert boxes[".mat-sentence"]["bottom"] <= boxes[".mat-body"]["bottom"], do
        assert boxes[".mat-hint"]["height"] == 0 or boxes["scene-view"]["bottom"] <= boxes[".mat-hint"]["top"] + 1, do


# --- What has its place ---------------------------------------------------------------------------------------------

SIZES = [(390, 844), (390, 664), (360, 640), (320, 568), (360, 560), (844, 390), (667, 375)]
ZOOMED = [(260, 563), (195, 422), (563, 260), (422, 195)]  # a phone's page at 150 and 200 %
# What is seen whole, inside the screen and not behind the bars: by name.
SEEN = """(names) => names.filter((name) => {
  const part = document.querySelector(name);
  const [box, body] = [part.getBoundingClientRect(), document.querySelector('.mat-body').getBoundingClientRect()];
  return part.checkVisibility() && box.height > 0 && box.top >= body.top - 1 && box.bottom <= body.bottom + 7 && box.left >= -1 && box.right <= innerWidth + 1;
})"""


def sized(page: Page, size: tuple[int, int]) -> Page:
    """The same page on another screen, once it is laid out."""
    page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    until(page, "(wide) => Math.abs(document.querySelector('mat-view').clientWidth - wide) < 1", size[0])
    page.evaluate("document.fonts.ready")
    for _ in range(2):
        painted(page)  # the screen fits itself to its frame with the next picture
    return page


@pytest.mark.every(10)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("do", ["press", "piece", "recheck"])
def test_where_to_tap_is_told_on_every_screen_until_it_was_followed_a_few_times(look_at_step, size, do: str):
    page = sized(look_at_step(do), size)
    assert page.evaluate(SEEN, [".mat-hint", ".mat-sentence"]) == [".mat-hint", ".mat-sentence"]
    assert "tap" in page.locator(".mat-hint").inner_text().lower()


@pytest.mark.parametrize("size", [(390, 664), (390, 844)])
def test_at_the_end_the_buttons_say_where_to_tap_and_nothing_looks_out_from_behind_them(look_at_step, size):
    assert (
        sized(look_at_step("done"), size).evaluate(
            "getComputedStyle(document.querySelector('.at-end .mat-hint')).display"
        )
        == "none"
    )


@pytest.mark.long
def test_where_to_tap_makes_room_once_it_is_known(at_step):
    page = sized(at_step("piece", {"tapped": 6}), (320, 568))
    assert page.evaluate(SEEN, [".mat-hint"]) == []
    page = sized(at_step("piece", {"tapped": 5}), (320, 568))
    page.evaluate("leap(600)")
    page.locator(".mat-zone").tap()
    until(page, "() => document.querySelector('.mat-body').dataset.known === 'true'")


@pytest.mark.every(10)
@pytest.mark.parametrize("size", [*SIZES, *ZOOMED])
@pytest.mark.parametrize("do", ["selvage", "strip", "piece", "recheck"])
def test_sentence_and_drawing_stay_in_sight_on_every_screen_and_when_the_page_is_zoomed(look_at_step, size, do: str):
    page = sized(look_at_step(do, {"tapped": 6}), size)
    page.evaluate("leap(600)")
    assert page.evaluate(SEEN, [".mat-sentence", "scene-view"]) == [".mat-sentence", "scene-view"]
    assert sideways(page) == []
    assert hidden_words(page) == []


@pytest.mark.long
def test_a_caution_takes_no_other_words_place(at_step):
    """The first strip is told with a caution, the second without: instruction and explanation stand at both."""
    page = at_step("strip")
    page.evaluate("leap(600)")
    places = []
    for _ in range(2):
        assert page.locator(".mat-more").is_visible()
        places.append(page.locator(".mat-sentence").bounding_box()["y"])
        page.locator(".mat-zone").tap()
        page.evaluate("leap(600)")
        until(page, "() => !document.querySelector('.mat-problem').textContent")
    page = at_step("recheck")
    with_caution = page.locator(".mat-caution").bounding_box()
    assert with_caution["y"] + with_caution["height"] <= page.locator(".mat-count").bounding_box()["y"] + 1
    above = page.locator(".mat-count").bounding_box()["y"]
    page.evaluate("leap(600)")
    page.locator(".mat-zone").tap()
    page.locator(".mat-caution").wait_for(state="hidden")
    assert page.locator(".mat-count").bounding_box()["y"] == pytest.approx(above, abs=6)


@pytest.mark.long
def test_several_cautions_are_one_short_line(at_step):
    page = at_step("press")
    script = guide(FAT_QUARTER)
    first = {**script["steps"][0], "cautions": ["sharp_glove", "cut_away"]}
    page = seat(
        page,
        page.url.split("#")[0],
        page.evaluate(
            "[...document.scripts].map((each) => each.src).find((src) => src.endsWith('/main.js')).split('/').at(-2)"
        ),
        FAT_QUARTER,
        script={**script, "steps": [first, *script["steps"][1:]]},
    )
    assert page.locator(".mat-caution").inner_text().strip() == said("mat.due_brief.sharp_glove") + said(
        "mat.due_and"
    ) + said("mat.due_brief.cut_away")
    assert page.locator(".mat-caution").bounding_box()["height"] < 60


@pytest.mark.long
def test_from_ten_on_the_total_breaks_only_between_its_parts(at_step):
    page = at_step("done")
    for size in SIZES:
        sized(page, size)
        assert page.locator(".mat-all .whole").all_inner_texts() == ["15 of 15", "in all"]
        assert page.locator(".mat-all .whole").evaluate_all(
            "(parts) => parts.map((part) => part.getClientRects().length)"
        ) == [1, 1]


# --- The drawing's words --------------------------------------------------------------------------------------------

OVER_EACH_OTHER = """() => {
  const boxes = [...document.querySelectorAll('scene-view text')].map((text) => [text.textContent, text.getBBox(), text.getScreenCTM()])
    .map(([text, box, to]) => [text, new DOMPoint(box.x + box.width / 2, box.y + box.height / 2).matrixTransform(to), box.width * Math.hypot(to.a, to.b), box.height * Math.hypot(to.c, to.d) * 0.7]);
  return boxes.flatMap(([one, at, w, h], i) => boxes.slice(i + 1).filter(([, to, W, H]) => Math.abs(at.x - to.x) < (w + W) / 2 - 1 && Math.abs(at.y - to.y) < (h + H) / 2 - 1).map(([other]) => `${one} on ${other}`));
}"""
# The share of a label's own line that lies under it.
OWN_LINE = """(role) => {
  const [text, line] = [`text.${role}`, `path.${role}`].map((name) => document.querySelector(`scene-view ${name}`));
  const [box, to] = [text.getBoundingClientRect(), line.getScreenCTM()];
  const long = line.getTotalLength();
  const under = Array.from({ length: 200 }, (_, i) => line.getPointAtLength((i / 199) * long).matrixTransform(to))
    .filter(({ x, y }) => x > box.left + 4 && x < box.right - 4 && y > box.top + box.height * 0.2 && y < box.bottom - box.height * 0.2);
  return under.length / 200;
}"""


@pytest.mark.every(10)
@pytest.mark.parametrize("size", [(390, 844), (390, 664), (320, 568), (360, 560), (844, 390)])
@pytest.mark.parametrize(
    ("do", "roles"),
    [("piece", ["measure-line", "angle-line"]), ("starter", ["angle-line"]), ("recheck", ["measure-line"])],
)
def test_labels_lie_neither_on_each_other_nor_on_the_line_they_name(look_at_step, size, do: str, roles: list[str]):
    page = sized(look_at_step(do, {"tapped": 6}), size)
    assert page.evaluate(OVER_EACH_OTHER) == []
    for role in roles:
        assert page.evaluate(OWN_LINE, role) < 0.1, role


def lines_by_role() -> dict:
    """A script whose drawing has a line of every role, side by side."""
    script = guide(FAT_QUARTER)
    roles = ["cut", "measure-line", "angle-line", "mark", "ruler-line", "fold", "edge", "side", "last-cut", "grain"]
    labels = {
        "side": {"length": 20},
        "edge": {"word": "squared_edge"},
        "fold": {"word": "fold"},
        "last-cut": {"word": "last_cut"},
    }
    lines = [
        {"role": role, "points": [[2 * i, 0], [2 * i, 12]], **({"label": labels[role]} if role in labels else {})}
        for i, role in enumerate(roles)
    ]
    scene = {
        "moves": "strip",
        "view": [-2, -2, 24, 16],
        "advance": [0, 0],
        "still": [],
        "pieces": [],
        "over": {"press": lines},
        "turned": 0,
    }
    first = {**script["steps"][0], "scene": len(script["scenes"])}
    return {**script, "scenes": [*script["scenes"], scene], "steps": [first, *script["steps"][1:]]}


def test_every_line_of_a_drawing_can_be_told_from_the_others_without_its_color(guide_page: Page, site, dist):
    page = seat(guide_page, site.url, app_folder(dist), FAT_QUARTER, script=lines_by_role())
    looks = page.evaluate("""() => [...document.querySelectorAll('scene-view path')].filter((path) => !path.matches('.casing, .end, .piece, .hatch')).map((path) => {
      const { strokeWidth, strokeDasharray } = getComputedStyle(path);
      const ends = document.querySelectorAll(`scene-view .end[data-of="${path.className.baseVal}"]`).length;
      return [path.className.baseVal, `${strokeWidth} ${strokeDasharray} ${ends}`];
    })""")
    assert len(looks) == 10
    assert len({look for _, look in looks}) == 10
    assert page.locator("scene-view text.edge").text_content() == said("lie.label.squared_edge")
    assert page.locator("scene-view text.side").text_content() == "20 in"


def test_an_arrow_points_where_the_blade_ends(at_step):
    page = at_step("piece")
    tip, cut = page.evaluate("""() => ['.end[data-of="cut"]', '.cut'].map((name) => {
      const { left, right, top, bottom } = document.querySelector(`scene-view ${name}`).getBoundingClientRect();
      return { x: (left + right) / 2, y: (top + bottom) / 2, right, top, bottom };
    })""")
    assert tip["y"] == pytest.approx(cut["top"], abs=20)  # px: half of the head
    assert tip["x"] == pytest.approx(cut["right"], abs=20)


def test_the_measure_of_a_sentence_is_not_broken_in_two(at_step):
    page = at_step("recheck")
    assert page.locator(".mat-sentence .whole").all_inner_texts() == ["4⅝ in"]
    assert page.locator(".mat-sentence .whole").evaluate("(whole) => whole.getClientRects().length") == 1


def fonts(page: Page, name: str) -> set[str]:
    """The fonts that the letters of an element are drawn with, as the browser tells them."""
    devtools = page.context.new_cdp_session(page)
    devtools.send("DOM.enable")
    devtools.send("CSS.enable")
    root = devtools.send("DOM.getDocument")["root"]["nodeId"]
    node = devtools.send("DOM.querySelector", {"nodeId": root, "selector": name})["nodeId"]
    told = devtools.send("CSS.getPlatformFontsForNode", {"nodeId": node})["fonts"]
    devtools.detach()
    return {font["familyName"] for font in told if font["glyphCount"]}


@pytest.mark.long
def test_fractions_are_drawn_in_figures_made_for_them_and_nothing_in_a_font_of_the_device(at_step, desk: Page):
    """The labels of a drawing too."""
    ours = {"Atkinson Hyperlegible Next", "Matside Fractions"}
    assert fonts(at_step("recheck"), ".mat-sentence .whole") == ours
    show(desk, "count")
    size = field(desk, "piece.text")
    before = size.input_value()
    size.fill("2 13/16")
    expect(desk.locator("piece-picker .on-piece")).to_have_text("2¹³⁄₁₆ in")
    assert fonts(desk, "piece-picker .on-piece") == ours
    size.fill(before)


def test_the_left_hands_buttons_are_read_from_left_to_right(at_step):
    page = at_step("recheck", {"hand": "left"}, hand="left")
    assert (
        page.evaluate(
            "[...document.querySelectorAll('mat-view button')].map((button) => getComputedStyle(button).direction)"
        )
        == ["ltr"] * 10
    )


@pytest.mark.long
def test_three_buttons_fit_beside_each_other_and_below(at_step):
    for size in ((390, 844), (844, 390)):
        for distance in (70, 80):
            page = at_step("recheck", {"distance": distance})
            page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
            spilt = page.evaluate(
                "[...document.querySelectorAll('.mat-bar button')].filter((button) => button.scrollWidth > button.clientWidth + 1).length"
            )
            boxes = [button.bounding_box() for button in page.locator(".mat-bar button:visible").all()]
            assert (len(boxes), spilt) == (3, 0)
            assert all(box["x"] >= 0 and box["x"] + box["width"] <= size[0] for box in boxes)


@pytest.mark.long
@pytest.mark.parametrize("name", DIALOGS)
def test_a_dialog_opens_at_its_beginning_and_no_button_lies_under_the_next_key(at_step, name: str):
    """A pedal that sends Enter must not choose what stands first."""
    page = at_step("recheck")
    page.set_viewport_size({"width": 320, "height": 640})
    open_dialog(page, name)
    assert page.evaluate("[document.querySelector('dialog[open]').scrollTop, document.activeElement.tabIndex]") == [
        0,
        -1,
    ]


def test_the_manifest_locks_no_orientation(dist):
    manifest = json.loads((dist / "manifest.webmanifest").read_text("utf-8"))
    assert manifest.get("orientation", "any") == "any"


# --- Keys, focus, motion --------------------------------------------------------------------------------------------


def test_the_first_screen_can_be_used_with_keys_alone(desk: Page):
    show(desk, "count")
    field(desk, "piece.text").focus()
    desk.keyboard.press("Control+A")
    desk.keyboard.type("6")
    answered(desk)
    assert desk.locator(".figure b").inner_text() == "6"
    for _ in range(60):
        desk.keyboard.press("Tab")
        if desk.evaluate("document.activeElement.dataset.key === 'start'"):
            break
    expect(desk.locator("[data-key=start]")).to_be_focused()
    assert desk.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    enter(desk, "piece.text", "4")


def test_the_guide_can_be_used_with_keys_alone_and_the_focus_comes_back(at_step):
    page = at_step("piece")
    before = mat(page)
    page.locator(".mat-zone").focus()
    page.evaluate("leap(600)")
    page.keyboard.press("Enter")
    expect(page.locator(".mat-total")).to_contain_text("1 of")
    expect(page.locator(".mat-zone")).to_be_focused()
    fix = page.get_by_role("button", name=said("mat.mend"), exact=True)
    fix.focus()
    page.keyboard.press("Enter")
    page.get_by_role("dialog").wait_for()
    page.keyboard.press("Escape")
    expect(fix).to_be_focused()
    page.get_by_role("button", name=said("mat.undo")).focus()
    page.keyboard.press("Enter")
    expect(page.locator(".mat-total")).to_contain_text("0 of")
    assert mat(page) == before


def test_nothing_moves_for_those_who_want_less_motion(at_step, new_context, site, dist):
    """The phone of these tests wants less motion; one that does not sees the strip slide."""
    moving = seat(
        new_context(reduced_motion="no-preference").new_page(),
        site.url,
        app_folder(dist),
        FAT_QUARTER,
        [{"event": "cut"}] * 11,
        settings={"shown": {"starter": 2}},  # what is shown of a step moves by itself
    )
    slide = "getComputedStyle(document.querySelector('scene-view .slides')).transitionDuration"
    assert at_step("piece").evaluate(slide) in ("0s", "0ms")
    assert moving.evaluate(slide) not in ("0s", "0ms")


def test_a_screen_reader_hears_the_count_and_the_next_step(at_step):
    page = at_step("piece")
    assert totals(page)[0] == 0
    for part in (".mat-count", ".mat-sentence"):
        assert page.locator(part).get_attribute("role") == "status"
    assert page.locator(".mat-zone").get_attribute("aria-label").startswith(page.locator(".mat-sentence").inner_text())
    assert page.get_by_role("img", name=said("mat.scene")).is_visible()
