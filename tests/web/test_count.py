"""The screen "how many do I get?": three taps to an answer, every measure, and errors at the
field with nothing lost.
"""

import math
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Page, expect

from kept_state import keep, sitting
from one_page import until_kept
from phone import SCREEN, Watched, at_every_load, slowed, until
from quilter import (
    answered,
    asleep,
    choose,
    cloth_kind,
    count_screen,
    enter,
    error_at,
    facts,
    field,
    group_of,
    in_sight,
    number,
    said,
    start_cutting,
    totals,
)

ANGLE, SIZE = said("page.angle"), said("page.size_quick", unit="in")


@pytest.fixture(scope="module")
def opened(browser, site):
    """One page for all tests that leave nothing behind but what is entered, and its complaints."""
    context = slowed(browser.new_context(**SCREEN))
    watching = Watched(context)
    yield count_screen(context.new_page(), site.url), watching
    context.close()


@pytest.fixture
def count(opened) -> Iterator[Page]:
    """The first screen with 60° diamonds of 4 in from one fat quarter."""
    page, watching = opened
    chosen(page, ANGLE, "60°")
    measured_by(page, "size")
    if field(page, "piece.text").input_value() != "4":
        choose(page, SIZE, "4")
    cloth_kind(page, "fat_quarter")
    while field(page, "cloths").inner_text() != "1":
        field(page, "cloths−").tap()
    yield page
    assert watching.unexpected() == []


@pytest.fixture
def own_count(page: Page, site) -> Page:
    """The first screen in a page of the test's own."""
    return count_screen(page, site.url)


def chosen(page: Page, group: str, chip: str) -> None:
    """Taps a choice of a group unless it is the one that holds."""
    button = group_of(page, group).get_by_role("button", name=chip, exact=True)
    if button.get_attribute("aria-pressed") != "true":
        choose(page, group, chip)


def measured_by(page: Page, measure: str) -> None:
    """Taps one of the piece's measures, unless it is the one that is entered."""
    button = field(page, f"measure-{measure}")
    if button.get_attribute("aria-pressed") == "false":
        button.tap()
        answered(page)


def way(page: Page, words: str) -> None:
    """Taps one of the ways to cut by what is said of it."""
    page.get_by_role("group", name=said("page.ways")).get_by_role("button").filter(has_text=words).tap()


def rests(page: Page) -> str:
    """What is said beside the number of what it rests on."""
    return page.locator(".rests").inner_text()


# --- Answers --------------------------------------------------------------------------------------------------------


def test_three_taps_lead_from_the_first_visit_to_an_answer(page: Page, site):
    """A quarter yard gives one 8-inch strip, and that gives 4 diamonds. Common practice, no published source."""
    count_screen(page, site.url)
    choose(page, ANGLE, "60°")
    choose(page, SIZE, "8")
    cloth_kind(page, "yardage")
    assert number(page) == 4
    assert said("page.strips.one", per=4) in facts(page)


# Common practice, no published source: 60° diamonds from a full-width strip of 42 in, and from
# a fat quarter of 18 by 20.
PRACTICE = [
    ("full_width_strip", "4", 8, 1),
    ("full_width_strip", "8", 4, 1),
    ("fat_quarter", "8", 2, None),
    ("fat_quarter", "6", 6, 3),
    ("fat_quarter", "5", 8, 4),
]


def test_the_numbers_of_common_practice(count: Page):
    for kind, size, pieces, strips in PRACTICE:
        cloth_kind(count, kind)
        choose(count, SIZE, size)
        assert number(count) == pieces, (kind, size)
        assert strips is None or strips_drawn(count) == strips, (kind, size)


def strips_drawn(page: Page) -> int:
    return page.locator(".drawing .strip-in-cloth").count()


def test_the_way_of_cutting_matters_and_each_way_is_drawn(count: Page):
    """Common practice, no published source: at 4 in strips along the 20 give 12, five strips along the 18 give 15."""
    shown = {}
    for way in count.get_by_role("group", name=said("page.ways")).get_by_role("button").all():
        way.tap()
        shown[re.findall(r"\d+", way.inner_text())[0]] = strips_drawn(count)
        assert number(count) == pieces_drawn(count) == int(way.locator("b").inner_text())
    assert shown == {"15": 5, "12": 4, "13": 7}


def pieces_drawn(page: Page) -> int:
    return page.locator("count-stage .drawing .piece").get_attribute("d").count("Z")


@pytest.mark.long
def test_another_cloth_or_piece_goes_back_to_the_most(count: Page):
    """A full-width strip of 4 in gives 8: common practice, no published source. Cut in strips
    4 in long it gives none.
    """
    for change, most in (
        (lambda: cloth_kind(count, "full_width_strip"), 8),
        (lambda: choose(count, SIZE, "8"), 4),
        (lambda: enter(count, "cloth.width", "41"), 3),
    ):
        way(count, said("page.way_one", side=f"{'18' if most == 8 else '4' if most == 4 else '8'} in"))
        change()
        assert number(count) == most
        assert count.get_by_role("button", name=said("page.start")).is_visible()


def test_another_measure_of_the_same_piece_keeps_the_way(count: Page):
    way(count, said("page.way_one", side="20 in"))
    measured_by(count, "edge")
    assert number(count) == 12


def test_a_number_says_what_it_rests_on(count: Page):
    """Five strips of 4 in take all of 20 in; four leave 2 of the 18 in. Four diamonds of 8 in take 41 9/16 of 42 in."""
    assert rests(count) == said("page.rests.all", side="20 in", sure=13, by="½ in")
    way(count, said("page.way_one", side="18 in"))
    assert rests(count) == said("page.rests.all", side="20 in", sure=12, by="½ in")
    way(count, said("page.way_one", side="20 in"))
    assert rests(count) == said("page.rests.nothing", by="½ in")
    cloth_kind(count, "full_width_strip")
    assert rests(count) == said("page.rests.nothing", by="½ in")
    choose(count, SIZE, "8")
    assert rests(count) == said("page.rests.spare", spare="⁷⁄₁₆ in", side="42 in", sure=3, by="½ in")


def test_both_sides_of_a_mix_are_said_to_be_needed(count: Page):
    choose(count, SIZE, "2½")
    assert number(count) == 44
    assert rests(count) == said("page.rests.both", sure=42, by="½ in")


def test_what_is_sure_can_be_looked_at_and_cut(own_count: Page):
    """Seven strips of 2 1/2 in take 17 1/2 of the 18 in and six diamonds 18.76 of the 20; three quarters of an
    inch less of either would do.
    """
    choose(own_count, SIZE, "2½")
    way(own_count, said("page.way_sure"))
    assert number(own_count) == pieces_drawn(own_count) == 42
    assert rests(own_count) == said("page.rests.sure", keeps="½ in")
    assert said("page.strips.other", n=7, per=6) in facts(own_count)
    start_cutting(own_count)
    assert totals(own_count) == (0, 42)
    assert sitting(own_count)["scripts"][0]["request"]["way"] == "along_width"


def test_a_sure_mix_is_cut_as_it_is_drawn(own_count: Page):
    way(own_count, said("page.way_sure"))
    assert number(own_count) == pieces_drawn(own_count) == 13
    assert said("page.mix", side="20 in", at="12 in", first=3, second=4) in facts(own_count)
    start_cutting(own_count)
    assert totals(own_count) == (0, 13)
    assert sitting(own_count)["scripts"][0]["request"]["way"] == "sure"


def test_where_nothing_is_lost_on_a_smaller_cloth_there_is_no_other_sure_way(count: Page):
    choose(count, SIZE, "8")
    assert count.get_by_role("group", name=said("page.ways")).get_by_role("button").count() == 3


@pytest.mark.long
def test_several_cloths_are_counted_and_cut_one_after_another(own_count: Page):
    for _ in range(2):
        field(own_count, "cloths+").tap()
    assert number(own_count) == 45
    assert own_count.locator(".figure span").inner_text() == said(
        "page.pieces_from_all.other", cloths=said("cloth.fat_quarter.several", n=3)
    )
    assert said("page.each.other", n=15) in facts(own_count)
    assert rests(own_count) == said("page.rests.all", side="20 in", sure=39, by="½ in")
    assert pieces_drawn(own_count) == 15
    until_kept(own_count, "count", lambda found: found["state"]["cloths"] == 3)
    own_count.reload()
    answered(own_count)
    assert (field(own_count, "cloths").inner_text(), number(own_count)) == ("3", 45)
    start_cutting(own_count)
    assert totals(own_count) == (0, 45)
    script = sitting(own_count)["scripts"][0]
    assert script["request"]["cloth"]["count"] == len(script["cloths"]) == 3
    assert [(step["cloth"], step["values"]["name"]) for step in script["steps"] if step["do"] == "swap"] == [
        (1, "Fat quarter"),
        (2, "Fat quarter"),
    ]


@pytest.mark.long
def test_the_number_of_cloths_goes_from_1_to_99(count: Page):
    count.evaluate("document.querySelector('[data-key=\"cloths−\"]').click()")
    assert field(count, "cloths").inner_text() == "1"
    count.evaluate(
        "() => { for (let n = 0; n < 120; n += 1) document.querySelector('[data-key=\"cloths+\"]').click(); }"
    )
    assert (field(count, "cloths").inner_text(), number(count)) == ("99", 99 * 15)
    assert field(count, "cloths+").get_attribute("aria-disabled") == "true"
    count.evaluate(
        "() => { for (let n = 0; n < 98; n += 1) document.querySelector('[data-key=\"cloths−\"]').click(); }"
    )
    assert number(count) == 15


def test_what_the_sides_mean_is_said_once_where_they_are_entered(count: Page):
    for kind in ("fat_quarter", "scrap", "yardage"):
        cloth_kind(count, kind)
        assert count.get_by_text(said("page.sides")).count() == 1


def test_an_answer_kept_by_an_earlier_version_is_not_shown_half(own_count: Page):
    found = until_kept(own_count, "count", lambda found: "sure" in found["answers"]["count"])
    del found["answers"]["count"]["sure"], found["state"]["cloths"]
    asleep(own_count)
    keep(own_count, "count", found)
    own_count.reload()
    own_count.get_by_text(said("page.waiting")).wait_for()
    assert field(own_count, "cloths").inner_text() == "1"


def test_the_drawing_is_to_scale_and_inside_the_cloth(count: Page):
    boxes = count.evaluate("""() => {
      const box = (name) => document.querySelector(`count-stage .drawing ${name}`).getBBox();
      const [cloth, pieces] = [box('.whole'), box('.piece')];
      return [cloth.width, cloth.height, pieces.x, pieces.y, pieces.x + pieces.width, pieces.y + pieces.height];
    }""")
    assert boxes[:2] == [18, 20]
    left, low, right, high = boxes[2:]
    advance = 4 / math.sin(math.radians(60))
    assert (left, low) == (pytest.approx(0, abs=1e-3), pytest.approx(0, abs=1e-3))
    assert right == pytest.approx(3 * advance + 4 / math.tan(math.radians(60)), abs=1e-3)
    assert high == pytest.approx(20, abs=1e-3)


def test_a_narrow_cloth_is_told_how_little_is_lacking(count: Page):
    """Four of 8 in need a little over 41½ in. Common practice, no published source. Exactly:
    4·8/sin 60° + 8·cot 60°.
    """
    assert 4 * 8 / math.sin(math.radians(60)) + 8 / math.tan(math.radians(60)) == pytest.approx(41.569, abs=5e-4)
    cloth_kind(count, "full_width_strip")
    choose(count, SIZE, "8")
    assert any("⁷⁄₁₆ in" in fact and "Measure first" in fact for fact in facts(count))
    enter(count, "cloth.width", "41")
    assert number(count) == 3
    assert said("page.short_of", short="⁹⁄₁₆ in") in facts(count)


def test_folding_is_told_with_what_it_loses(count: Page):
    cloth_kind(count, "full_width_strip")
    choose(count, SIZE, "8")
    assert any("Folded in two you get 2, 2 fewer than flat" in fact for fact in facts(count))


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("measure", ["finished_size", "edge", "short_diagonal", "long_diagonal"])
def test_any_measure_may_be_entered_instead(count: Page, measure: str):
    """Euclid's and the half-angle formulas: of a 4-in diamond of 60°, as its own field takes it."""
    exact = {"finished_size": 3.5, "edge": 8 / math.sqrt(3), "short_diagonal": 8 / math.sqrt(3), "long_diagonal": 8.0}[
        measure
    ]
    field(count, f"measure-{measure}").tap()
    answered(count)
    assert count.get_by_label(said(f"page.measure.{measure}.label"), exact=True).is_visible()
    enter(count, "piece.text", f"{exact:.6f}")
    assert count.locator('[data-key="measure-size"] strong').inner_text() == "4 in"
    assert number(count) == 15


@pytest.mark.long
def test_a_usual_size_fills_the_measure_that_is_entered(count: Page):
    """Finished at 2 1/2 in is cut at 3 in: six strips along the 20 in give five each, ⌊(20 −
    3·cot 60°) / (3 / sin 60°)⌋.
    """
    measured_by(count, "finished_size")
    choose(count, SIZE, "2½")
    assert field(count, "piece.text").input_value() == "2½"
    assert count.locator('[data-key="measure-finished_size"]').get_attribute("aria-pressed") == "true"
    assert count.locator('[data-key="measure-size"] strong').inner_text() == "3 in"
    assert number(count) == 6 * int((20 - 3 / math.tan(math.radians(60))) / (3 / math.sin(math.radians(60)))) == 30


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("measure", ["finished_size", "edge", "short_diagonal", "long_diagonal"])
def test_looking_at_another_measure_changes_no_answer(count: Page, measure: str):
    field(count, f"measure-{measure}").tap()
    answered(count)
    assert number(count) == 15
    assert count.locator('[data-key="measure-size"] strong').inner_text() == "4 in"
    field(count, "measure-size").tap()
    answered(count)
    assert (field(count, "piece.text").input_value(), number(count)) == ("4", 15)


@pytest.mark.long
def test_the_seam_allowance_can_be_typed_and_changes_the_finished_size(own_count: Page):
    in_sight(own_count.locator("piece-picker summary")).tap()
    field(own_count, "piece.seam").press_sequentially("x")
    assert field(own_count, "piece.seam").is_visible()
    enter(own_count, "piece.seam", "1/2")
    assert field(own_count, "piece.seam").is_visible()
    assert own_count.locator('[data-key="measure-finished_size"] strong').inner_text() == "3 in"


def test_typing_keeps_the_caret_where_it_is(count: Page):
    box = field(count, "piece.text")
    box.fill("4")
    answered(count)
    box.press("Home")
    for key in "1", "2", " ":
        box.press(key)
    answered(count)
    assert count.evaluate(
        "(({ dataset, value, selectionStart }) => [dataset.key, value, selectionStart])(document.activeElement)"
    ) == ["piece.text", "12 4", 3]


def test_the_newest_answer_wins_however_fast_one_types(count: Page):
    cloth_kind(count, "full_width_strip")
    field(count, "cloth.width").press_sequentially("36 1/2 in", delay=1)
    answered(count)
    assert number(count) == 7
    assert "36½" in count.locator("count-stage .drawing").inner_html()


def test_coming_back_to_the_screen_asks_no_more_often(own_count: Page):
    for screen in ("tools", "count") * 5:
        own_count.goto(own_count.url.split("#")[0] + f"#{screen}")
    field(own_count, "piece.text").wait_for()
    answered(own_count)
    asked = own_count.evaluate("""() => new Promise((done) => {
      const post = Worker.prototype.postMessage;
      let asked = 0;
      Worker.prototype.postMessage = function (message, ...more) { asked += message.ask?.ask === 'cloth' ? 1 : 0; return post.call(this, message, ...more); };
      const input = document.querySelector('[data-key="piece.text"]');
      input.value = '5';
      input.dispatchEvent(new Event('input', { bubbles: true }));
      setTimeout(() => done(asked), 300);
    })""")
    assert asked == 1


def test_what_was_there_is_there_again_before_python_is(own_count: Page, site):
    choose(own_count, SIZE, "5")
    cloth_kind(own_count, "scrap")
    enter(own_count, "cloth.length", "30")
    enter(own_count, "cloth.width", "22 1/2")
    before = (number(own_count), facts(own_count))
    asleep(own_count)
    own_count.reload()
    own_count.locator(".figure b").wait_for()
    assert (number(own_count), facts(own_count)) == before
    assert [field(own_count, f"cloth.{side}").input_value() for side in ("length", "width")] == ["30", "22½"]


def test_what_is_typed_before_python_can_answer_is_kept(own_count: Page):
    asleep(own_count)
    for text in ("5 1/2", "5 1/4"):
        own_count.reload()
        field(own_count, "piece.text").fill(text)
        until_kept(own_count, "count", lambda found, text=text: found["state"]["piece"]["text"] == text)
    own_count.reload()
    assert field(own_count, "piece.text").input_value() == "5¼"


def test_what_is_cut_is_what_was_asked_for_last_even_when_that_is_not_answered_yet(own_count: Page):
    """A fat quarter gives 4-inch diamonds best from strips along its 18 in, 3-inch ones from six along its 20 in: 6
    × ⌊(20 − 1.73) / 3.46⌋ = 30.
    """
    choose(own_count, SIZE, "4")
    own_count.evaluate("""() => {
      [...document.querySelectorAll('.chip')].find(({ innerText }) => innerText === '3').click();
      document.querySelector('[data-key=start]').click();
    }""")
    own_count.locator(".mat-sentence").wait_for()
    assert totals(own_count) == (0, 30)
    assert sitting(own_count)["scripts"][0]["request"]["way"] == "along_width"


@pytest.mark.long
def test_centimetres_and_metric_cloths(own_count: Page):
    """The metric fat quarter is 50 by about 53 cm: strips of 10 cm either way, 10/sin 60° = 11.55 cm for each piece."""
    own_count.goto(own_count.url.split("#")[0] + "#tools")
    own_count.get_by_role("group", name=said("tools.units.name")).get_by_role(
        "button", name=said("tools.units.cm")
    ).tap()
    own_count.goto(own_count.url.split("#")[0] + "#count")
    choose(own_count, said("page.size_quick", unit="cm"), "10")
    cloth_kind(own_count, "metric_fat_quarter")
    assert own_count.locator('[data-key="measure-edge"] strong').inner_text() == "11.5 cm"
    along_50, along_53 = (
        5 * int((run - 10 / math.tan(math.radians(60))) / (10 / math.sin(math.radians(60)))) for run in (50, 53)
    )
    assert number(own_count) == max(along_50, along_53) == 20


def test_a_screen_reader_is_told_the_number(count: Page):
    expect(count.get_by_role("status").filter(has_text="diamonds from this cloth")).to_contain_text("15")


# --- Errors at the field --------------------------------------------------------------------------------------------

HUGE = "9" * 3000
BAD_SIZES = {
    "": "length_missing", "diamonds": "length_words", "-4": "length_not_positive", "0": "length_not_positive",
    "1e9": None, "1000000": "length_too_large", "NaN": None, "4 1/0": "length_over_zero", "4,5": "length_decimal_comma",
    "4 x": None, "1/8": "piece_too_small", HUGE: None,
}  # fmt: skip


def test_a_bad_size_is_told_at_its_field_and_stays_as_it_was_typed(count: Page):
    for text, code in BAD_SIZES.items():
        enter(count, "piece.text", text)
        shown = error_at(count, "piece.text")
        assert shown, text[:20]
        assert not re.search(r"NaN.*NaN|undefined|Traceback|\{\w+\}", shown)
        assert len(shown) < 300
        assert code is None or re.fullmatch(pattern(code), shown), (text, shown)
        assert field(count, "piece.text").input_value() == text
        assert count.locator("[data-key=start]").count() == 0
    enter(count, "piece.text", "4")
    assert (error_at(count, "piece.text"), number(count)) == (None, 15)


def pattern(code: str) -> str:
    """What a refusal says, whatever its values are."""
    return re.sub(
        r"\\\{\w+\\\}",
        ".*",
        re.escape(said(f"error.{code}", given="{given}", least="{least}", most="{most}", unit="{unit}")),
    )


@pytest.mark.every(2)
@pytest.mark.parametrize("side", ["length", "width"])
def test_a_bad_side_of_the_cloth_is_told_at_its_field(count: Page, side: str):
    cloth_kind(count, "scrap")
    other = {"length": "width", "width": "length"}[side]
    enter(count, f"cloth.{other}", "20")
    for text in ("words", "-3", "0", "1000000", "4 1/0", "4,5", HUGE):
        enter(count, f"cloth.{side}", text)
        assert error_at(count, f"cloth.{side}"), text[:20]
        assert error_at(count, f"cloth.{other}") is None
        assert field(count, f"cloth.{side}").input_value() == text
    enter(count, f"cloth.{side}", "")
    assert error_at(count, f"cloth.{side}"), "a scrap has no sides of its own"


def test_a_bad_angle_is_told_at_its_field(count: Page):
    choose(count, ANGLE, said("page.angle_other"))
    for text in ("", "sharp", "14.9", "90.1", "-60", "0", "NaN", "1000", "22,5", HUGE):
        enter(count, "piece.angle", text)
        assert error_at(count, "piece.angle"), text[:20]
        assert field(count, "piece.angle").input_value() == text
    for text in ("15", "22.5", "90"):
        enter(count, "piece.angle", text)
        assert error_at(count, "piece.angle") is None


def test_a_bad_seam_is_told_where_it_can_be_seen(own_count: Page):
    in_sight(own_count.locator("piece-picker summary")).tap()
    enter(own_count, "piece.seam", "wide")
    assert error_at(own_count, "piece.seam")
    assert field(own_count, "piece.seam").is_visible()


def test_two_errors_are_told_at_once_each_at_its_field(count: Page):
    cloth_kind(count, "scrap")
    enter(count, "piece.text", "x")
    enter(count, "cloth.length", "y")
    assert error_at(count, "piece.text")


def test_nothing_that_was_typed_is_lost_by_a_reload(own_count: Page):
    cloth_kind(own_count, "scrap")
    enter(own_count, "piece.text", "4 1/0")
    enter(own_count, "cloth.length", "wide")
    until_kept(own_count, "count", lambda found: found["state"]["cloth"]["length"] == "wide")
    own_count.reload()
    answered(own_count)
    assert field(own_count, "piece.text").input_value() == "4 1/0"
    assert field(own_count, "cloth.length").input_value() == "wide"
    assert error_at(own_count, "piece.text")


@pytest.mark.long
@pytest.mark.parametrize(
    ("sides", "reason"), [(("3", "40"), "too narrow"), (("4", "6"), "too short"), (("1/2", "1/2"), "too")]
)
def test_a_cloth_below_one_piece_gives_none_with_the_reason(count: Page, sides, reason):
    """An answer of 0, not an error; and nothing to start a guide with."""
    cloth_kind(count, "scrap")
    for side, text in zip(("length", "width"), sides, strict=True):
        enter(count, f"cloth.{side}", text)
    assert number(count) == 0
    assert [error_at(count, f"cloth.{side}") for side in ("length", "width")] == [None, None]
    assert any(fact.startswith("None with strips") and reason in fact for fact in facts(count))
    assert count.locator("[data-key=start]").count() == 0


@pytest.mark.long
def test_more_pieces_than_can_be_drawn_are_still_counted(count: Page):
    cloth_kind(count, "scrap")
    enter(count, "piece.text", "1/4")
    enter(count, "cloth.length", "1000 in")
    enter(count, "cloth.width", "1000 in")
    assert number(count) > 1_000_000
    assert count.get_by_text(said("page.not_drawn")).is_visible()


# --- When Python does not start --------------------------------------------------------------------------------------


@pytest.mark.long
def test_a_calculator_that_does_not_start_is_told_and_can_be_tried_again(page: Page, own_site, watched):
    for text in ("404", "Failed", "worker"):
        watched.expect(text)
    own_site.faults["python-worker.js"] = "missing"
    page.goto(own_site.url)
    page.get_by_text(said("updates.python.failed")).wait_for()
    expect(page.get_by_text(said("page.waiting"))).to_be_hidden()  # nothing is being worked out
    expect(page.locator("ask-trouble [role=alert]")).to_have_text(said("trouble.again_broken"))
    own_site.faults.clear()
    page.locator("ask-trouble").get_by_role("button", name=said("trouble.again")).tap()
    answered(page)
    assert number(page) == 15


@pytest.mark.long
def test_ready_without_a_network_is_said_once_it_is_true(new_context, own_site):
    page = new_context().new_page()
    page.goto(own_site.url)
    until(page, "navigator.serviceWorker.controller !== null || navigator.serviceWorker.ready")
    expect(page.locator(".standing")).to_have_text(said("page.standing.ready"), timeout=30_000)


# --- The sizes to tap ------------------------------------------------------------------------------------------------


def offered(page: Page) -> list[str]:
    """The sizes that can be tapped."""
    return page.get_by_role("group", name=SIZE).get_by_role("button").all_inner_texts()


@pytest.mark.long
def test_from_the_second_day_on_the_sizes_that_were_cut_last_are_offered_first(own_count: Page):
    page = own_count
    usual = offered(page)
    assert len(usual) == 6
    enter(page, "piece.text", "3 7/8")
    start_cutting(page)
    found = until_kept(page, "settings", lambda found: found.get("sizes"))
    assert found["sizes"]["last"] == [{"text": "3 7/8", "units": "in", "measure": "size"}]
    page.evaluate("() => { location.hash = 'count'; }")
    answered(page)
    assert offered(page) == usual  # still the first day
    others = [
        {"text": text, "units": units, "measure": "size"} for text, units in (("5", "in"), ("12", "cm"), ("7", "in"))
    ]
    keep(page, "settings", {**found, "sizes": {"since": "2001-01-01", "last": [*found["sizes"]["last"], *others]}})
    page.reload()
    answered(page)
    assert offered(page) == ["3⅞", "5", "7", "2½", "3", "4"]
    choose(page, SIZE, "7")
    assert field(page, "piece.text").input_value() == "7"
    measured_by(page, "edge")
    assert offered(page) == usual  # nothing was cut by that measure yet
    for wrong in ([], {"since": 4, "last": "none"}, {"since": "2001-01-01", "last": [{"text": 4}, None]}):
        keep(page, "settings", {"sizes": wrong})
        page.reload()
        answered(page)
        assert set(usual) >= set(offered(page)) - {""}


# --- The first screen as it is built ----------------------------------------------------------------------------------


def test_a_page_arrives_with_an_answer_that_stays_where_it_is(new_context, site):
    """With the first paint, before any module or Python; what comes then is the very same."""
    page = new_context().new_page()
    with without_modules(page):
        page.goto(site.url, wait_until="commit")
        page.locator(".built .figure b").wait_for()
        page.evaluate("document.fonts.ready")  # until then its letters are those of the stand-in, see below
        built = page.evaluate(BOXES)
        assert page.locator(".figure b").inner_text() == "15"  # 4-inch diamonds from 18 by 20: five strips of three
    answered(page)
    assert page.locator(".built").count() == 0
    assert page.evaluate(BOXES) == built


def test_the_typeface_moves_nothing_when_it_comes(new_context, site):
    """What stands there until then is as high, line for line."""
    page = new_context().new_page()
    held = []
    page.route("**/*.woff2", lambda route: held.append(route))
    page.goto(site.url, wait_until="commit")
    answered(page)
    if page.evaluate("document.fonts.load('1em \"Matside stand-in\"').then(({ length }) => !length, () => true)"):
        pytest.skip("none of the faces that the stand-in goes by is on this machine")
    before = page.evaluate(BOXES)
    for route in held:
        route.continue_()
    page.evaluate("document.fonts.ready")
    moved = [
        abs(one - other)
        for was, now in zip(before, page.evaluate(BOXES), strict=True)
        for one, other in ((was[2], now[2]), (was[4], now[4]))
    ]
    assert max(moved) <= 2


@pytest.mark.every(2)
@pytest.mark.parametrize("height", [844, 664])
def test_what_is_tapped_next_stays_where_it_is_when_the_answer_comes(page: Page, site, height: int):
    """Four ways or three, a cloth or a strip: the row below the picture moves only when a part is opened or closed."""
    page.set_viewport_size({"width": 390, "height": height})
    page.goto(site.url)
    answered(page)

    def places(*acts: Callable[[], None]) -> Iterator[tuple[int, float]]:
        for act in acts:
            act()
            page.evaluate("scrollTo(0, 0)")
            yield page.locator(".stage .ways .chip").count(), page.locator(".slots").bounding_box()["y"]

    def usual(kind: str) -> None:
        page.locator(f".usual-kinds [data-key$=':{kind}']").tap()
        answered(page)

    closed = places(lambda: usual("fat_quarter"), lambda: usual("full_width_strip"))
    opened = places(
        lambda: choose(page, SIZE, "4"),
        lambda: choose(page, SIZE, "8"),
        lambda: cloth_kind(page, "fat_quarter"),
        lambda: cloth_kind(page, "ten_inch_square"),
    )
    for found in (closed, opened):
        ways, rows = zip(*found, strict=True)
        assert max(rows) - min(rows) < 1
    assert len(set(ways)) > 1


@pytest.mark.parametrize(("width", "letters"), [(320, 1), (360, 1), (378, 1), (390, 2)])
def test_the_word_for_the_piece_is_not_broken_in_its_slot(page: Page, site, width: int, letters: int):
    page.set_viewport_size({"width": width, "height": 844})
    page.goto(site.url)
    answered(page)
    page.evaluate("(letters) => { document.documentElement.style.fontSize = `${100 * letters}%`; }", letters)
    lines = """() => {
      const word = document.querySelector('[data-key=slot-piece] b');
      const range = document.createRange();
      range.selectNodeContents(word);
      const { right } = word.parentElement.getBoundingClientRect();
      return [range.getClientRects().length, range.getBoundingClientRect().right < right];
    }"""
    assert page.evaluate(lines) == [1, True]


@contextmanager
def without_modules(page: Page) -> Iterator[None]:
    """At its next load the page's modules do not come before this is over."""
    held = []
    page.route("**/main.js", lambda route: held.append(route) if len(held) < 2 else route.continue_())
    yield
    for route in held:
        route.continue_()


# Where everything stands on the first screen, and what is to be read there.
BOXES = """[...document.querySelectorAll('.stage, .stage .chip, .slot, .go, .figure, .facts li, .tabs a')].map((part) => {
  const { x, y, width, height } = part.getBoundingClientRect();
  return [part.innerText, ...[x, y, width, height].map(Math.round)];
})"""


def test_what_is_tapped_on_the_built_screen_is_kept_and_answered(new_context, site):
    page = asleep(new_context().new_page())
    with without_modules(page):
        page.goto(site.url, wait_until="commit")
        more = page.locator('.built [data-key="cloths+"]')
        more.tap()
        more.tap()
    until(page, "document.documentElement.dataset.start === 'shown'")
    expect(page.locator(".figure")).to_have_text(re.compile("^45"))


def test_whoever_was_here_before_is_not_shown_what_is_built(own_count: Page):
    own_count.locator('[data-key="cloths+"]').tap()
    with without_modules(own_count):
        own_count.reload(wait_until="commit")
        own_count.locator(".built main").wait_for(state="attached")
        assert own_count.locator(".built main").is_hidden()
    expect(own_count.locator(".figure")).to_have_text(re.compile("^30"))


# --- For whoever is new ---------------------------------------------------------------------------------------------


def test_whoever_is_new_finds_three_ways_in_and_each_is_of_use_at_once(own_count: Page):
    welcome = own_count.locator("welcome-ways")
    for name, found in (
        ("quilt", "quilt-form"),
        ("given", "plan-finder"),
        ("example", ".example-bar"),
    ):
        welcome.locator(f"[data-key=welcome-{name}]").tap()
        own_count.locator(found).wait_for()
        own_count.go_back()
        welcome.wait_for()


def test_the_example_can_be_thrown_away(own_count: Page):
    own_count.locator("[data-key=welcome-example]").tap()
    own_count.locator(".example-bar").wait_for()
    assert own_count.locator('[data-key="target.width"]').input_value() == "48 in"
    own_count.locator(".example-bar button").tap()
    own_count.locator(".example-bar").wait_for(state="detached")
    assert own_count.locator('[data-key="target.width"]').input_value() == "50"


def test_the_ways_in_are_gone_once_they_were_closed_or_something_was_begun(own_count: Page):
    close = own_count.locator("[data-key=welcome-close]")
    close.focus()
    close.press("Enter")
    expect(own_count.locator("welcome-ways")).to_be_hidden()
    assert own_count.evaluate("document.activeElement.dataset.key") == "slot-piece"
    own_count.reload()
    answered(own_count)
    expect(own_count.locator("welcome-ways")).to_be_hidden()


def test_a_part_that_is_open_is_closed_before_the_page_is_left(own_count: Page):
    field(own_count, "measure-edge").focus()
    own_count.keyboard.press("Escape")
    expect(own_count.locator("#part-piece")).to_be_hidden()
    assert own_count.evaluate("document.activeElement.dataset.key") == "slot-piece"


# A browser that offers to install the page.
OFFER = """() => {
window.asked = 0;
dispatchEvent(Object.assign(new Event("beforeinstallprompt", { cancelable: true }), {
  prompt: async () => { window.asked += 1; },
  userChoice: Promise.resolve({ outcome: "accepted" }),
}));
}"""


def test_the_home_screen_is_offered_once_something_was_cut(own_count: Page):
    own_count.evaluate(OFFER)
    expect(own_count.locator("install-offer")).to_be_hidden()
    keep(own_count, "settings", {"welcomed": True, "tapped": 3})
    own_count.reload()
    answered(own_count)
    own_count.evaluate(OFFER)
    own_count.get_by_role("button", name=said("install.act")).tap()
    until(own_count, "window.asked === 1")
    expect(own_count.locator("install-offer")).to_be_hidden()


@pytest.mark.parametrize(
    ("engine", "way"),
    [
        ("Object.defineProperty(navigator, 'standalone', { value: false })", "ios"),
        ("Object.defineProperty(navigator, 'userAgent', { value: 'Android Firefox/140.0' })", "firefox"),
    ],
)
def test_where_a_browser_gives_no_button_it_is_shown_how(page: Page, site, engine: str, way: str):
    at_every_load(page, engine)
    page.goto(site.url + "#tools")
    steps = page.locator("install-offer li")
    expect(steps).to_have_text([said(f"install.{way}.first"), said(f"install.{way}.second")])
    assert steps.locator("svg").count() == 2


@pytest.mark.long
def test_what_ready_without_a_network_means_is_explained(new_context, own_site):
    page = new_context().new_page()
    count_screen(page, own_site.url)
    page.locator("[data-key=explain]").tap(timeout=30_000)
    expect(page.get_by_role("dialog")).to_contain_text(said("updates.ready_told.sent"))
    page.get_by_role("button", name=said("page.slot.done"), exact=True).last.tap()
    expect(page.get_by_role("dialog")).to_be_hidden()
