"""My rulers: ticked, described, drawn to scale, laid for the piece that was asked for last, and
changed in the middle of a strip.
"""

import re

import pytest
from playwright.sync_api import Page, expect

import matside
from axe import complaints
from folding import fold_log
from kept_state import keep, kept, sitting
from one_page import ask_for, begin, choose, go, one_page, tap, tap_until, until_kept
from phone import LONGEST_WAIT, until
from quilter import said

DIAMOND = {"shape": "diamond", "size": 4, "angle": 60}
GENERIC = matside.answer({"ask": "facts"})["rulers"]


def _lines(at: int | str, *degrees: int) -> list[dict]:
    return [{"degrees": angle, "from": "long", "at": at} for angle in degrees]


def _square(name: str, side: float) -> dict:
    return {
        "name": name,
        "width": side,
        "length": side,
        "angles": [{"degrees": 45, "from": "long", "at": 0, "lean": "right"}],
    }


#: What lies in many sewing rooms. Common practice, no published source.
RULERS = matside.answer(
    {
        "ask": "my_rulers",
        "rulers": [
            {"name": "6 × 24", "width": 6, "length": 24, "angles": _lines(6, 30, 45, 60)},
            {"name": "6 × 12", "width": 6, "length": 12, "angles": _lines(2, 30, 45, 60)},
            {"name": "8½ × 24", "width": 8.5, "length": 24, "angles": _lines(6, 30, 45, 60)},
            _square("12½ square", 12.5),
            _square("15 square", 15),
            {"name": "3½ × 12", "width": 3.5, "length": 12, "angles": []},
        ],
    }
)["rulers"]
STEPS = ("strip", "starter", "following")


@pytest.fixture(scope="module")
def shared(browser, site):
    """One page for all tests here."""
    with one_page(browser, site.url + "#rulers") as page:
        forget(page)
        yield page


@pytest.fixture
def opened(shared: Page):
    """Opens the screen for a size of 60° diamonds and the rulers that the user has; `anew`
    forgets before what was said of them.
    """

    def opening(size: float = 4, have: tuple[str, ...] = ("6 × 24",), anew: bool = False) -> Page:
        if anew:
            forget(shared)
        if ((kept(shared, "count") or {}).get("answers") or {}).get("piece", {}).get("size") != size:
            ask_for(shared, size)
        go(shared, "rulers")
        for ruler in RULERS:
            shared.get_by_role("checkbox", name=ruler["name"], exact=True).set_checked(ruler["name"] in have)
        until_kept(
            shared,
            "rulers",
            lambda found: (
                found["ways"]
                and [one["name"] for one in found["ways"]["rulers"]] == list(have)
                and found["piece"]["size"] == size
            ),
        )
        return shared

    return opening


def forget(page: Page, rulers: list[dict] | None = RULERS) -> None:
    """Forgets what was said of rulers: these are known, the first of them is at hand. With None, as on a phone on which
    the page was never used.
    """
    keep(page, "rulers", None)
    keep(page, "shelf", rulers and [asked(ruler) for ruler in rulers])
    keep(page, "settings", {"rulers": [asked(rulers[0])]} if rulers else {})
    go(page, "rulers")
    page.reload()
    page.locator("ways-list section").first.wait_for()


def asked(ruler: dict) -> dict:
    """A ruler of an answer as a request takes it."""
    return {name: ruler[name] for name in ("name", "width", "length", "tick", "reads_through", "angles")}


def step(page: Page, name: str):
    return page.locator(f"[data-step={name}]")


def used(page: Page, name: str) -> str:
    """What is said of the way in use at a step."""
    return step(page, name).locator(".way.used").inner_text()


def ticked(page: Page) -> list[str]:
    return page.locator(".rulers li", has=page.locator("input:checked")).locator("b").all_inner_texts()


def laid(page: Page, *names: str) -> None:
    """Waits until the ways are those for these rulers."""
    until_kept(page, "rulers", lambda found: [one["name"] for one in found["ways"]["rulers"]] == list(names))


# --- The list -----------------------------------------------------------------------------------------------------


@pytest.mark.long
def test_the_list_starts_with_three_plain_rulers_and_the_long_one_is_mine(shared):
    forget(shared, None)
    assert shared.locator(".rulers b").all_inner_texts() == [ruler["name"] for ruler in GENERIC]
    assert ticked(shared) == ["long"] and len(GENERIC) == 3
    assert kept(shared, "settings").get("rulers") is None
    expect(shared.get_by_text(said("rulers_screen.intro"))).to_be_visible()
    forget(shared)
    # Rulers that were kept when there were others to start from are there as they were.
    assert shared.locator(".rulers b").all_inner_texts() == [ruler["name"] for ruler in RULERS]
    assert ticked(shared) == ["6 × 24"]


def test_all_rulers_are_drawn_to_one_scale_with_every_line(opened):
    page = opened()
    drawn = page.evaluate("""[...document.querySelectorAll('.rulers svg')].map((svg) => {
      const { width, height } = svg.querySelector('.ruler').getBoundingClientRect();
      return { width, height, lines: svg.querySelectorAll('.stroke').length };
    })""")
    inch = drawn[0]["width"] / 24
    assert inch > 4
    for ruler, seen in zip(RULERS, drawn, strict=True):
        # Half a pixel is what a screen may round; a border of 2.5 px is drawn half outside.
        assert seen["width"] == pytest.approx(ruler["length"] * inch, abs=3.5)
        assert seen["height"] == pytest.approx(ruler["width"] * inch, abs=3.5)
        assert seen["lines"] == len(ruler["strokes"])


def test_what_is_ticked_is_kept_and_used_and_keeps_place_and_focus(opened):
    page = opened()
    box = page.get_by_role("checkbox", name="15 square")
    expect(page.locator(".standing")).to_have_text(
        "Ready without a network", timeout=LONGEST_WAIT * 1000
    )  # a longer line there would move all below it
    page.evaluate("scrollTo(0, 120)")
    before = page.evaluate("scrollY")
    box.focus()
    page.keyboard.press("Space")
    laid(page, "6 × 24", "15 square")
    assert page.evaluate("document.activeElement.dataset.key") == "have-4"
    assert page.evaluate("scrollY") == before == 120
    page.get_by_role("checkbox", name="6 × 24").uncheck()
    laid(page, "15 square")
    assert "With “15 square”" in used(page, "following")
    page.reload()
    page.locator("ways-list section").first.wait_for()
    assert ticked(page) == ["15 square"]


# --- Describing a ruler -------------------------------------------------------------------------------------------


def describe(page: Page, **texts: str) -> None:
    for label, text in texts.items():
        page.get_by_label(label.replace("_", " "), exact=True).fill(text)


def error_at(page: Page, label: str, part: str) -> None:
    """A field's error comes to contain a text."""
    field = page.get_by_label(label, exact=True)
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator(f"[id='{field.get_attribute('id')}-error']")).to_contain_text(part)


def test_what_is_wrong_is_said_at_its_field_and_what_was_typed_stays(opened):
    page = opened(anew=True)
    page.get_by_role("button", name="Add a ruler").click()
    expect(page.locator("ruler-editor h2")).to_be_focused()
    page.wait_for_timeout(300)
    assert page.locator(".error").count() == 0
    page.get_by_role("button", name="Keep this ruler").click()
    error_at(page, "Width", "length is missing")
    expect(page.get_by_label("Width", exact=True)).to_be_focused()
    describe(page, Width="six", Length="24")
    error_at(page, "Width", "“six")
    assert page.get_by_label("Width", exact=True).input_value() == "six"
    describe(page, Width="1/16", What_you_call_it="narrow")
    error_at(page, "Smallest marks", "less than its smallest marks")
    describe(page, Width="6")
    page.get_by_role("button", name="Add an angle line").click()
    describe(page, Degrees="180")
    error_at(page, "Degrees", "no angle line")
    describe(page, Degrees="60", Where_it_starts="25")
    error_at(page, "Where it starts", "only 24")
    describe(page, Where_it_starts="", What_you_call_it="15 square")
    error_at(page, "What you call it", "Two rulers are called")
    name = page.get_by_label("What you call it")
    name.evaluate("(field) => field.setSelectionRange(2, 2)")
    page.keyboard.type(" inch", delay=30)
    assert name.input_value() == "15 inch square"
    page.reload()
    assert page.get_by_label("What you call it").input_value() == "15 inch square"
    assert page.get_by_label("Degrees", exact=True).input_value() == "60"
    page.get_by_role("button", name="Leave it as it was").click()
    expect(page.locator("[data-key=add]")).to_be_focused()
    assert len(page.locator(".rulers li").all()) == len(RULERS)
    assert len(kept(page, "settings")["rulers"]) == 1


@pytest.mark.long
def test_a_ruler_is_described_by_measure_and_lines_laid_at_once_changed_and_removed(opened):
    page = opened(anew=True)
    page.get_by_role("button", name="Add a ruler").click()
    describe(page, What_you_call_it="short and wide", Width="9 in", Length="14", Smallest_marks="1/16")
    page.get_by_role("button", name="Add an angle line").click()
    describe(page, Degrees="30", Where_it_starts="2")
    page.get_by_role("button", name="from the short edge").click()
    page.get_by_role("button", name="to the right").click()
    expect(page.locator("ruler-editor .stroke")).to_have_count(1)
    page.get_by_role("button", name="Keep this ruler").click()
    expect(page.locator("[data-key=add]")).to_be_focused()
    assert ticked(page) == ["6 × 24", "short and wide"]
    assert kept(page, "settings")["rulers"][1] == {
        "name": "short and wide",
        "reads_through": True,
        "width": "9 in",
        "length": "14 in",
        "tick": "1/16 in",
        "angles": [{"degrees": "30", "from": "short", "lean": "right", "hard_to_see": False, "at": "2 in"}],
    }
    page.get_by_role("checkbox", name="6 × 24").uncheck()
    laid(page, "short and wide")
    # 30° from the short edge is 60° to the long one: the complement (arithmetic).
    assert "30° line of “short and wide”, from the short edge" in used(page, "following")
    page.get_by_role("button", name="Change short and wide").click()
    assert page.get_by_label("Where it starts").input_value() == "2 in"
    describe(page, Width="6 1/2")
    page.get_by_role("button", name="Keep this ruler").click()
    expect(page.locator(".rulers li").last).to_contain_text("6½ in × 14 in")
    page.get_by_role("button", name="Change 6 × 24").click()
    assert page.get_by_label("Width", exact=True).input_value() == "6 in"
    page.get_by_role("button", name="Remove this ruler").click()
    expect(page.locator(".rulers li")).to_have_count(len(RULERS))
    until_kept(page, "rulers", lambda found: found["editing"] is None)
    page.reload()
    page.locator("ways-list section").first.wait_for()
    assert page.locator(".rulers b").all_inner_texts() == [*(ruler["name"] for ruler in RULERS[1:]), "short and wide"]
    forget(page)


# --- How they are laid --------------------------------------------------------------------------------------------

# Common practice, no published source: what a quilter does with these rulers.
BEGINNERS = [
    (
        4,
        ("6 × 24",),
        {
            "strip": "Lay the 4 in line on the cloth’s straight edge.",
            "starter": "Lay the 60° line",
            "following": "and the 4 in line on the last cut",
        },
    ),
    (8, ("6 × 24",), {"starter": "Lay the 60° line", "following": "Mark 9¼ in along"}),
    (
        4,
        ("15 square",),
        {
            "strip": "Lay the 4 in line",
            "starter": "Mark both edges of the strip",
            "following": "Lay the 4 in line on the last cut",
        },
    ),
    (
        8,
        ("15 square",),
        {
            "strip": "Lay the 8 in line",
            "starter": "Mark both edges of the strip",
            "following": "Lay the 8 in line on the last cut",
        },
    ),
    (
        8,
        ("6 × 24", "15 square"),
        {"strip": "“15 square”", "starter": "“6 × 24”", "following": "check the angle with “6 × 24”"},
    ),
    (4, ("3½ × 12",), {"strip": "Mark 4 in from", "starter": "Mark both edges", "following": "Mark both edges"}),
]


@pytest.mark.every(2)
@pytest.mark.parametrize(("size", "have", "told"), BEGINNERS)
def test_everyone_gets_a_way_drawn_and_told(opened, size, have, told):
    page = opened(size, have)
    for name in STEPS:
        way = step(page, name).locator(".way.used")
        assert told.get(name, "") in way.inner_text()
        expect(way.locator("scene-view .ruler")).not_to_have_count(0)
        assert way.locator("ol li").last.inner_text().startswith("Cut along the")


@pytest.mark.long
def test_the_ways_for_one_piece_are_never_shown_under_the_name_of_another(page: Page, site):
    page.goto(site.url)
    ask_for(page, 4)
    go(page, "rulers")
    page.locator("ways-list section").first.wait_for()
    ask_for(page, 8)
    page.evaluate("Worker.prototype.postMessage = () => {}")  # from here on Python is not heard of again
    go(page, "rulers")
    page.locator(".rulers li").first.wait_for()
    expect(page.locator(".ways-part")).to_contain_text(said("page.waiting"))
    expect(page.locator("ways-list")).to_be_hidden()


@pytest.mark.long
def test_a_way_of_a_list_that_is_about_to_change_is_not_taken_from_the_next(page: Page, site):
    page.goto(site.url)
    ask_for(page, 4)
    go(page, "rulers")
    page.locator("ways-list section").first.wait_for()
    step(page, "following").locator("[data-key=others-following]").click()
    page.evaluate("Worker.prototype.postMessage = () => {}")
    page.get_by_role("checkbox", name="square", exact=True).check()
    until_kept(page, "settings", lambda found: len(found.get("rulers") or []) == 2)
    step(page, "following").get_by_role("button", name=said("rulers_screen.use")).first.click()
    page.wait_for_timeout(300)
    assert (kept(page, "settings") or {}).get("chosen") is None


FACTS_OF = """Promise.all(['./words.js', '../../start/first.js'].map((module) => import(new URL(module, url)))).then(async ([{ Words }, { loadCatalogue }]) =>
  it.wayFacts(argument, new Words(await loadCatalogue(), { locale: 'en' })).map(([text]) => text))"""


@pytest.mark.long
def test_how_the_distance_is_read_from_the_ruler_is_said(opened):
    page = opened(6, ("6 × 24",))
    expect(step(page, "following").locator(".way.used")).to_contain_text(said("rulers.far_edge_measures"))
    ruler = next(asked(ruler) for ruler in RULERS if ruler["name"] == "6 × 24")
    for size, part in ((3.6875, "judge it by eye, between the lines 3⅝ in and 3¾ in"), (3.75, None)):
        way = matside.answer({"ask": "rulers", "piece": {**DIAMOND, "size": size}, "rulers": [ruler]})["following"][0]
        told = module(page, "lib/words/way-words.js", FACTS_OF, way)
        assert said("rulers.far_edge_measures") not in told
        assert [text for text in told if "by eye" in text] == (
            [next(text for text in told if part in text)] if part else []
        )


def test_a_ruler_left_out_says_why_and_what_is_lacking_is_said(opened):
    page = opened(8, ("6 × 24",))
    assert "a ruler at least 8½ in wide, or two used together" in step(page, "strip").inner_text()
    open_part(step(page, "strip"), "left out")
    expect(step(page, "strip")).to_contain_text("6 × 24: too narrow: the distance is 8 in, it reaches 6 in.")


def test_without_rulers_there_is_no_way_and_that_is_said(opened):
    page = opened(4, ())
    for name in STEPS:
        assert "None of your rulers can do this." in step(page, name).inner_text()


def test_the_two_mark_way_tells_its_numbers_and_its_error(opened):
    # By arithmetic: 4·cot 60° = 2.309 in; to an eighth 2¼ in, which is atan(4/2.25) = 60.64°, 0.64° off;
    # halfway between two ticks 2 5/16 in, atan(4/2.3125) = 59.97°, 0.03° off. 4/sin 60° = 4.619 in, to an eighth 4⅝ in.
    page = opened(4, ("3½ × 12",))
    sentence = used(page, "starter")
    for part in (
        "2¼ in further along",
        "every 4⅝ in",
        "0.64° off. That is not good enough",
        "at 2⁵⁄₁₆ in: then it is 0.03° off",
    ):
        assert part in sentence


def test_every_other_way_can_be_opened_with_what_is_to_be_known_of_it(opened):
    page = opened(8, ("6 × 24", "15 square"))
    following = step(page, "following")
    open_part(following, "other ways")
    others = following.locator("details .way")
    answer = matside.answer(
        {
            "ask": "rulers",
            "piece": {**DIAMOND, "size": 8},
            "rulers": [asked(r) for r in RULERS if r["name"] in ("6 × 24", "15 square")],
        }
    )
    assert len(answer["following"]) > 1
    expect(others).to_have_count(len(answer["following"]) - 1)
    assert "More exact in the angle: it is set again at every cut and cannot drift." in others.first.inner_text()
    expect(others.first.locator("scene-view svg[viewBox]")).to_be_visible()


def values_of(page: Page, do: str) -> dict:
    return next(step["values"] for step in sitting(page)["scripts"][-1]["steps"] if step["do"] == do)


def use_square(page: Page) -> None:
    """Picks the 12½-inch square for the cuts after the starter."""
    open_part(step(page, "following"), "other ways")
    other = step(page, "following").locator("details .way", has_text="With “12½ square”").first
    other.get_by_role("button", name="Use this one").click()
    expect(step(page, "following").locator(".way.used")).to_contain_text("In use, because you chose it")


def open_part(place, title: str) -> None:
    """Opens a folded part, which may be open already."""
    part = place.locator("details", has_text=title)
    if part.get_attribute("open") is None:
        part.locator("summary").click()


def test_the_guide_uses_the_rulers_and_the_way_that_was_picked(opened):
    page = opened(4, ("6 × 24", "12½ square"))
    use_square(page)
    assert "With “12½ square”" in used(page, "following")
    begin(page)
    assert values_of(page, "piece")["way"]["rulers"] == ["12½ square"]
    assert values_of(page, "starter")["way"]["rulers"] == ["6 × 24"]


def test_a_way_that_was_picked_holds_for_its_own_piece_only(opened):
    page = opened(4, ("6 × 24", "12½ square"))
    if "you chose it" not in used(page, "following"):
        use_square(page)
    ask_for(page, 3)
    begin(page)
    assert values_of(page, "piece")["way"]["rulers"] == ["6 × 24"]
    opened(4, ("6 × 24", "12½ square"))
    assert "you chose it" in used(page, "following")


def test_the_best_can_be_used_again(opened):
    page = opened(4, ("6 × 24", "12½ square"))
    open_part(step(page, "strip"), "other way")
    step(page, "strip").get_by_role("button", name="Use this one").first.click()
    step(page, "strip").get_by_role("button", name="Use the best again").click()
    expect(step(page, "strip").locator(".in-use")).to_have_text("In use")
    assert "strip" not in kept(page, "settings")["chosen"]


def points(page: Page, name: str) -> set[tuple]:
    """The corners of the ruler in use at a step, as drawn."""
    paths = (
        step(page, name)
        .locator(".way.used .ruler")
        .evaluate_all("(paths) => paths.map((path) => path.getAttribute('d'))")
    )
    return {tuple(float(v) for v in pair.split()) for path in paths for pair in re.findall(r"[-\d.e]+ [-\d.e]+", path)}


def test_the_left_hand_sees_the_mirror_image(opened):
    right = {name: points(opened(), name) for name in STEPS}
    choose(opened(), "The hand that cuts", "Left")
    page = opened()
    expect(page.locator(".ways-part")).to_contain_text("cut with the left hand")
    until_kept(page, "rulers", lambda found: found["pictures"]["strip"][0]["scene"]["advance"][0] < 0)
    left = {name: points(page, name) for name in STEPS}
    choose(page, "The hand that cuts", "Right")
    for name in STEPS:
        assert right[name] and left[name] == {(-x + 0.0, y) for x, y in right[name]}


# --- Another ruler in the middle of a strip -------------------------------------------------------------------------


@pytest.fixture
def cutting(opened):
    """A guide in which two pieces of the first strip are cut, one of them spoiled."""
    page = opened(4, ("6 × 24",))
    begin(page)
    tap_until(page, ".mat-total", "2 of 15 in all")
    page.locator("[data-key=mend]").click()
    page.get_by_role("button", name=re.compile("^The last one counted")).click()
    expect(page.locator(".mat-total")).to_have_text("1 of 14 in all")
    return page


def swap(page: Page, *turned: str) -> None:
    """Asks for other rulers at the mat: those named are taken or put away."""
    page.locator("[data-key=mend]").click()
    page.get_by_role("button", name="Another ruler").click()
    for name in turned:
        page.get_by_role("button", name=name, exact=True).click()
    page.get_by_role("button", name="Go on with these").click()


@pytest.mark.long
def test_another_ruler_goes_on_at_the_same_step_with_the_same_counts(cutting):
    page = cutting
    swap(page, "6 × 24", "15 square")
    expect(page.locator("ruler-swap dialog")).to_be_hidden()
    expect(page.locator(".mat-sentence")).to_have_text("4 in line on the last cut.")
    assert page.locator(".mat-total").inner_text() == "1 of 14 in all"
    assert page.locator(".mat-count").inner_text().split() == ["1", "of", "2"]
    held = sitting(page)
    state = fold_log(held["scripts"], held["events"])
    assert [event["event"] for event in held["events"]][-1] == "switch"
    assert (state.script, state.tallies) == (1, {(1, 0): {"made": 1, "spoiled": 1, "lost": 0, "aside": 0}})
    assert held["scripts"][1]["steps"][state.step]["values"]["way"]["rulers"] == ["15 square"]
    tap(page, "zone")
    assert page.locator(".mat-total").inner_text() == "2 of 14 in all"
    page.reload()
    expect(page.locator(".mat-total")).to_have_text("2 of 14 in all")


@pytest.mark.long
def test_another_ruler_is_undone_like_everything_else(cutting):
    page = cutting
    before = page.locator(".mat-sentence").inner_text()
    swap(page, "6 × 24", "15 square")
    expect(page.locator(".mat-sentence")).not_to_have_text(before)
    tap(page, "undo")
    assert page.locator(".mat-sentence").inner_text() == before
    assert page.locator(".mat-total").inner_text() == "1 of 14 in all"


@pytest.mark.long
def test_without_any_ruler_the_dialog_says_so_and_changes_nothing(cutting):
    page = cutting
    swap(page, "6 × 24")
    expect(page.locator("ruler-swap [role=alert]")).to_have_text("Choose one at least.")
    page.get_by_role("button", name="No change, go back").click()
    assert len(sitting(page)["scripts"]) == 1


def module(page: Page, name: str, expression: str, argument):
    """The value of an expression with a module of the page at hand as `it`."""
    folder = page.evaluate("new URL('./', document.querySelector('script[type=module]').src).href")
    return page.evaluate(
        f"async ([url, argument]) => {{ const it = await import(url); return ({expression}); }}",
        [folder + name, argument],
    )


@pytest.mark.long
def test_steps_are_found_again_where_a_cloth_must_be_folded_for_the_shorter_ruler(opened):
    page = opened()
    scripts = [
        matside.answer(
            {
                "ask": "guide",
                "piece": DIAMOND,
                "cloth": {"length": 20, "width": 18},
                "way": "along_length",
                "rulers": [asked(ruler) for ruler in RULERS if ruler["name"] == name],
            }
        )["script"]
        for name in ("6 × 24", "6 × 12")
    ]
    long, short = (script["steps"] for script in scripts)
    assert [step["do"] for step in short if step not in long].count("fold") == 1
    found = module(
        page,
        "lib/mat/another-ruler.js",
        "argument[0].map((_, i) => it.sameStep(argument[0], i, argument[1]))",
        [long, short],
    )
    for i, place in enumerate(found):
        assert [long[i].get(name) for name in ("do", "strip", "at")] == [
            short[place].get(name) for name in ("do", "strip", "at")
        ]
    # The other way round, a step that is only there for the short ruler leads to the next one that is there for both.
    back = module(
        page,
        "lib/mat/another-ruler.js",
        "argument[0].map((_, i) => it.sameStep(argument[0], i, argument[1]))",
        [short, long],
    )
    assert [long[place]["do"] for place, step in zip(back, short) if step["do"] in ("fold", "unfold")] == [
        "measure",
        "lay",
    ]
    assert module(page, "lib/mat/another-ruler.js", "it.sameStrips(...argument)", scripts)
    fewer = {**scripts[1], "strips": scripts[1]["strips"][:-1]}
    assert not module(page, "lib/mat/another-ruler.js", "it.sameStrips(...argument)", [scripts[0], fewer])


# --- For everyone, everywhere ---------------------------------------------------------------------------------------


@pytest.mark.every(4)
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing(opened, theme):
    page = opened(8, ("6 × 24", "15 square", "3½ × 12"))
    page.evaluate("(theme) => { document.documentElement.dataset.theme = theme; }", theme)
    open_all(page)
    expect(page.locator("details[open] .way")).not_to_have_count(0)
    assert complaints(page) == []
    page.get_by_role("button", name="Change 6 × 24").click()
    describe(page, Width="x")
    error_at(page, "Width", "“x")
    assert complaints(page) == []
    page.get_by_role("button", name="Leave it as it was").click()


def open_all(page: Page) -> None:
    """Opens all that is folded."""
    page.evaluate("document.querySelectorAll('main details').forEach((part) => { part.open = true; })")
    until(page, "[...document.querySelectorAll('main details')].every((part) => part.childElementCount > 1)")


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_in_the_dialog_at_the_mat(cutting, theme):
    page = cutting
    page.evaluate("(theme) => { document.documentElement.dataset.theme = theme; }", theme)
    swap(page, "6 × 24")
    expect(page.locator("ruler-swap [role=alert]")).to_be_visible()
    assert complaints(page) == []
    page.get_by_role("button", name="No change, go back").click()


@pytest.mark.every(2)
@pytest.mark.parametrize("width", [320, 390])
def test_nothing_is_wider_than_the_phone_even_in_letters_twice_as_large(opened, width):
    page = opened(8, ("6 × 24", "15 square"))
    page.set_viewport_size({"width": width, "height": 640})
    open_all(page)
    assert [widest(page, size) for size in ("100%", "200%")] == [width, width]
    page.set_viewport_size({"width": 390, "height": 844})


def widest(page: Page, size: str) -> int:
    """How wide the page gets by this screen when its letters have a size; the frame around it is left aside."""
    return page.evaluate(
        """(size) => {
      const frame = document.querySelectorAll('.top, .tabs');
      document.documentElement.style.setProperty('font-size', size);
      frame.forEach((part) => part.style.setProperty('display', 'none'));
      const wide = document.documentElement.scrollWidth;
      frame.forEach((part) => part.style.removeProperty('display'));
      document.documentElement.style.removeProperty('font-size');
      return wide;
    }""",
        size,
    )


@pytest.mark.long
def test_lengths_on_a_tick_finer_than_a_sixteenth_are_shown_as_they_are(opened):
    page = opened()
    told = module(
        page,
        "lib/words/measure.js",
        "argument.map((inches) => it.sayLength(inches, 'in', 'en'))",
        [2.3125, 2 + 11 / 32, 1 / 64, 4.618802, 0.999, -0.5, 0],
    )
    assert told == ["2⁵⁄₁₆ in", "2¹¹⁄₃₂ in", "¹⁄₆₄ in", "4⅝ in", "1 in", "−½ in", "0 in"]
