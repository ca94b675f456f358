"""The drift check: how often to check before cutting, what a measured piece says, and the mend
taken into the count at the mat.
"""

import math
import re

import pytest
from playwright.sync_api import Page, expect

import matside
from axe import complaints
from kept_state import kept, sitting
from one_page import ask_for, begin, choose, go, one_page, tap_until, until_kept
from phone import until

DIAMOND = {"shape": "diamond", "size": 4, "angle": 60}
LETTERS = {"edge": "A", "short_diagonal": "B", "long_diagonal": "C", "across_1": "D", "across_2": "E"}


@pytest.fixture(scope="module")
def shared(browser, site):
    """One page for all tests here."""
    with one_page(browser, site.url) as page:
        yield page


@pytest.fixture
def opened(shared: Page):
    """Opens the screen away from the mat, with nothing measured."""
    ask_for(shared, 4)
    go(shared, "drift")
    shared.locator("drift-before .verdict").wait_for()
    measure(shared, **dict.fromkeys(LETTERS, ""))
    fill(shared, "Rows", "")
    return shared


def fill(page: Page, label: str, text: str) -> None:
    page.get_by_label(label, exact=True).fill(text)


def field(page: Page, measure: str):
    return page.get_by_label(re.compile(f"^{LETTERS[measure]} – "))


def measure(page: Page, **texts: str) -> None:
    for name, text in texts.items():
        field(page, name).fill(text)


def told(page: Page, part: str) -> None:
    """The result comes to say something."""
    expect(page.locator("drift-result")).to_contain_text(part)


def error_of(page: Page, name: str, part: str) -> None:
    """The error at the field of a measure comes to contain a text."""
    expect(field(page, name)).to_have_attribute("aria-invalid", "true")
    expect(page.locator(f"[id='{field(page, name).get_attribute('id')}-error']")).to_contain_text(part)


# --- Before it happens ----------------------------------------------------------------------------------------------


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize(
    ("chip", "placing", "tolerance", "across"), [("rough", "¹⁄₁₆ in", "½", "8"), ("fine", "¹⁄₆₄ in", "¼ in", "10")]
)
def test_the_interval_is_the_cores_and_the_guide_stops_by_it(opened, chip, placing, tolerance, across):
    page = opened
    page.locator(f"[data-key$=':{chip}']").click()
    fill(page, "How far off may a sewn row be?", tolerance)
    fill(page, "Pieces in a row", across)
    expected = matside.answer(
        {
            "ask": "check",
            "piece": DIAMOND,
            "placing": placing,
            "tolerance": f"{tolerance} in" if "in" not in tolerance else tolerance,
            "across": across,
        }
    )
    cuts = expected["expected"]["cuts"]
    expect(page.locator("drift-before .verdict")).to_have_text(f"Check the angle after every {cuts} cuts.")
    until_kept(page, "settings", lambda found: found["placing"] == placing and found["across"] == across)
    ask_for(page, 4, "Yards off the bolt")
    begin(page)
    script = sitting(page)["scripts"][0]
    steps = [step["do"] for step in script["steps"] if step["strip"] == 1 and step["do"] in ("piece", "recheck")]
    checked = [steps[:place].count("piece") for place, do in enumerate(steps) if do == "recheck"]
    planned = script["strips"][1]["planned"] // script["strips"][1]["layers"]
    assert checked == list(range(cuts, planned, cuts)) and checked


@pytest.mark.long
def test_a_row_that_cannot_be_kept_says_so_and_nonsense_is_refused_at_its_field(opened):
    page = opened
    page.locator("[data-key$=':rough']").click()
    fill(page, "How far off may a sewn row be?", "1/64")
    until_kept(
        page, "settings", lambda found: found["tolerance"] == "1/64 in"
    )  # the words are the same for any tolerance as small
    expect(page.locator("drift-before .verdict")).to_contain_text("Even checked at every cut")
    fill(page, "How far off may a sewn row be?", "none")
    tolerance = page.get_by_label("How far off may a sewn row be?", exact=True)
    expect(tolerance).to_have_attribute("aria-invalid", "true")
    assert tolerance.input_value() == "none"
    assert kept(page, "settings")["tolerance"] == "1/64 in"
    fill(page, "How far off may a sewn row be?", "1/4 in")
    fill(page, "Pieces in a row", "0")
    expect(page.get_by_label("Pieces in a row", exact=True)).to_have_attribute("aria-invalid", "true")
    fill(page, "Pieces in a row", "10")
    page.locator("[data-key$=':fine']").click()
    expect(page.locator("drift-before .verdict")).to_contain_text("Check the angle after")


# --- When it happens ------------------------------------------------------------------------------------------------


def test_two_measures_give_the_angle_and_the_size_by_the_law_of_the_isosceles_triangle(opened):
    # Two edges e and the short diagonal p make an isosceles triangle: sin(θ/2) = p / 2e (Euclid,
    # Elements I.9–10: it is halved).
    edge, short = 4.625, 4.375
    angle = math.degrees(2 * math.asin(short / (2 * edge)))
    size = edge * math.sin(math.radians(angle))
    page = opened
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    assert (round(angle, 1), round(size * 16) / 16) == (56.5, 3.875)
    told(page, "The angle is 56.5°, 3.5° off. The size is 3⅞ in.")
    told(page, "Angle and size are off.")


def test_a_good_piece_is_called_good_and_asks_for_no_mend(opened):
    page = opened
    # A 60° diamond of 4 in: edge and short diagonal 8/√3 = 4.6188 in, long diagonal 8 in.
    measure(page, edge="4.6188", short_diagonal="4.6188", long_diagonal="8")
    told(page, "Good. Go on cutting.")
    assert "Trim" not in page.locator("drift-result").inner_text()
    assert page.locator("drift-result scene-view").count() == 0


def test_what_it_does_in_the_quilt_follows_the_two_formulas(opened):
    page = opened
    fill(page, "Pieces in a row", "5")
    fill(page, "Rows", "5")
    # Size held at 4 in (both ways across), edge 4.7 in: sin θ = 4 / 4.7; finished 3.5 in; DESIGN's formulas by hand.
    measure(page, edge="4.7", across_1="4", across_2="4")
    sine = 4 / 4.7
    growth = 5 * 3.5 * (1 / sine - 2 / math.sqrt(3))
    shift = 5 * 3.5 * (math.sqrt(1 - sine**2) / sine - 1 / math.sqrt(3))
    assert (round(growth * 16), round(shift * 16)) == (6, 11)
    told(page, "A row would come out ⅜ in too long.")
    told(page, "The rows would end up shifted ¹¹⁄₁₆ in sideways.")
    fill(page, "Pieces in a row", "10")


def test_what_no_diamond_has_is_refused_at_its_field_and_stays_typed(opened):
    page = opened
    measure(page, edge="4", short_diagonal="8")
    error_of(page, "short_diagonal", "not shorter than two edges")
    assert field(page, "short_diagonal").input_value() == "8"
    assert page.locator("drift-result").inner_text() == ""
    measure(page, short_diagonal="", across_1="3.9", across_2="4", edge="")
    expect(page.locator("drift-measures .error")).to_contain_text("This does not settle the angle.")
    measure(page, edge="four")
    error_of(page, "edge", "“four")
    measure(page, edge="")
    measure(page, across_1="", across_2="")
    expect(page.locator("drift-measures .error")).to_have_count(0)


def test_the_strip_that_is_left_is_judged_where_it_is_known(opened):
    page = opened
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    told(page, "It costs")
    fill(page, "Pieces still wanted from it", "3")
    # Three pieces of 4.6188 in and the 2.3094 in of slant take 16.17 in; the sliver takes more.
    fill(page, "Strip left over", "16.2")
    told(page, "The strip gives 2 pieces now, not 3.")
    fill(page, "Strip left over", "17")
    told(page, "The strip still gives the 3 pieces planned.")
    fill(page, "Strip left over", "")
    fill(page, "Pieces still wanted from it", "")


def test_every_measure_is_drawn_where_it_is_taken(opened):
    drawn = opened.locator(".measured")
    assert drawn.locator(".measure-taken").count() == 5
    assert drawn.locator("text").all_text_contents() == list("ABCDE")
    assert drawn.get_attribute("aria-label").startswith("Where to measure")


def test_the_left_hand_trims_the_mirror_image(opened):
    page = opened

    def corners() -> set:
        told(page, "Trim a sliver")
        until(page, "document.querySelector('drift-result .waste')")
        path = page.locator("drift-result .waste").get_attribute("d")
        return {tuple(float(v) for v in pair.split()) for pair in re.findall(r"[-\d.e]+ [-\d.e]+", path)}

    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    right = corners()
    choose(page, "The hand that cuts", "Left")
    go(page, "drift")
    until(
        page,
        "(corner) => !document.querySelector('drift-result .waste')?.getAttribute('d').includes(corner)",
        f"{min(right)[0]:.4f}".rstrip("0"),
    )
    left = corners()
    choose(page, "The hand that cuts", "Right")
    assert left == {(-x + 0.0, y) for x, y in right}


# --- At the mat -----------------------------------------------------------------------------------------------------


@pytest.fixture
def checking(shared: Page):
    """A guide for a strip that is only just long enough for three pieces, at the check after the first one."""
    ask_for(shared, 4, "Full-width strip")
    fill(shared, "Usable length", "16 1/4")
    until_kept(shared, "count", lambda found: found["answers"]["count"]["best"]["pieces"] == 3)
    begin(shared)
    tap_until(shared, "mat-view", "Check:")
    assert shared.locator(".mat-total").inner_text() == "1 of 3 in all"
    return shared


def test_at_the_check_the_piece_is_measured_and_a_trim_is_taken_into_the_count(checking):
    page = checking
    page.get_by_role("button", name="Measure", exact=True).click()
    expect(page.get_by_label("Strip left over", exact=True)).to_have_value("11⅝ in")
    assert page.get_by_label("Pieces still wanted from it", exact=True).input_value() == "2"
    assert [field(page, name).input_value() for name in LETTERS] == [""] * 5
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    told(page, "The strip gives one piece now, not 2.")
    told(page, "This strip then gives one cut fewer.")
    page.get_by_role("button", name="I have trimmed it").click()
    expect(page.locator(".mat-total")).to_have_text("1 of 2 in all")
    last = sitting(page)["events"][-1]
    assert (last["event"], last["n"]) == ("ends_early", 1)


@pytest.mark.long
def test_a_trim_that_costs_no_piece_leaves_the_count_alone(checking):
    page = checking
    page.get_by_role("button", name="Measure", exact=True).click()
    # Blunter than 60°: the sliver is widest at the far edge and takes nothing off the near one.
    measure(page, edge="4 5/8", short_diagonal="4 7/8")
    told(page, "The strip still gives the 2 pieces planned.")
    told(page, "The count stays as it is.")
    before = len(sitting(page)["events"])
    page.get_by_role("button", name="I have trimmed it").click()
    expect(page.locator(".mat-total")).to_have_text("1 of 3 in all")
    assert len(sitting(page)["events"]) == before


@pytest.mark.long
def test_a_trim_that_is_told_with_a_double_tap_is_taken_once_and_counts_no_cut(checking):
    page = checking
    page.get_by_role("button", name="Measure", exact=True).click()
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    told(page, "This strip then gives one cut fewer.")
    before = len(sitting(page)["events"])
    page.evaluate("""async () => {
      const button = document.querySelector('[data-key=trimmed]');
      button.click();
      button.click();
      while (!document.querySelector('.mat-zone')?.isConnected) await new Promise((next) => setTimeout(next, 5));
      document.querySelector('.mat-zone').click();
    }""")
    expect(page.locator(".mat-total")).to_have_text("1 of 2 in all")
    page.wait_for_timeout(100)
    assert [event["event"] for event in sitting(page)["events"][before:]] == ["ends_early"]


@pytest.mark.long
def test_what_was_measured_stays_for_its_step_and_is_gone_at_the_next(checking):
    page = checking
    page.get_by_role("button", name="Measure", exact=True).click()
    measure(page, edge="4 5/8")
    until(page, "document.querySelector('drift-measures').contains(document.activeElement)")
    page.reload()
    expect(field(page, "edge")).to_have_value("4⅝")
    page.get_by_role("link", name="Back to cutting").click()
    tap_until(page, ".mat-total", "2 of 3 in all")
    page.locator("[data-key=mend]").click()
    page.get_by_role("button", name="The angle is off").click()
    expect(field(page, "edge")).to_have_value("")
    assert page.get_by_label("Pieces still wanted from it", exact=True).input_value() == "1"


@pytest.mark.long
def test_what_is_read_at_the_mat_is_large(checking):
    page = checking
    page.get_by_role("button", name="Measure", exact=True).click()
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    told(page, "I have trimmed it")
    sizes = page.evaluate("""[...document.querySelectorAll('main *')].filter((part) => !part.closest('svg')
      && [...part.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim()) && part.checkVisibility())
      .map((part) => [parseFloat(getComputedStyle(part).fontSize), part.className, part.tagName])""")
    assert min(size for size, _, _ in sizes) >= 20
    # What is acted upon is 34 px, as everything at the mat: the verdict, the moves, the buttons.
    acted = [size for size, name, tag in sizes if "verdict" in name or name in ("button main", "button back")]
    moves = page.locator(".moves li").evaluate_all(
        "(items) => items.map((item) => parseFloat(getComputedStyle(item).fontSize))"
    )
    assert len(acted) >= 3 and min([*acted, *moves]) >= 34


# --- For everyone, everywhere ---------------------------------------------------------------------------------------


@pytest.mark.every(2)
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing(opened, theme):
    page = opened
    page.evaluate("(theme) => { document.documentElement.dataset.theme = theme; }", theme)
    measure(page, edge="4 5/8", short_diagonal="4 3/8", across_1="nine")
    error_of(page, "across_1", "“nine")
    assert complaints(page) == []
    measure(page, across_1="")
    told(page, "Trim a sliver")
    assert complaints(page) == []


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_at_the_mat(checking, theme):
    page = checking
    page.evaluate("(theme) => { document.documentElement.dataset.theme = theme; }", theme)
    page.get_by_role("button", name="Measure", exact=True).click()
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    told(page, "I have trimmed it")
    assert complaints(page) == []


@pytest.mark.every(2)
@pytest.mark.parametrize("width", [320, 390])
def test_nothing_is_wider_than_the_phone_even_in_letters_twice_as_large(opened, width):
    page = opened
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    told(page, "Trim a sliver")
    page.set_viewport_size({"width": width, "height": 640})
    wide = page.evaluate("""() => {
      for (const part of document.querySelectorAll('.top, .tabs')) part.style.setProperty('display', 'none');
      return ['100%', '200%'].map((size) => {
        document.documentElement.style.setProperty('font-size', size);
        return document.documentElement.scrollWidth;
      });
    }""")
    page.reload()
    page.set_viewport_size({"width": 390, "height": 844})
    assert wide == [width, width]


@pytest.mark.long
def test_both_screens_are_reached_from_the_tools_and_work_without_a_network(own_site, page):
    page.goto(own_site.url)
    until(page, "document.querySelector('.standing')?.textContent.includes('Ready without a network')")
    own_site.stop()
    page.reload()
    go(page, "tools")
    page.get_by_role("link", name="My rulers").click()
    expect(page.locator("[data-step=following] .way.used")).to_contain_text("With “long”", timeout=60_000)
    go(page, "tools")
    page.get_by_role("link", name="Is the angle still right?").click()
    measure(page, edge="4 5/8", short_diagonal="4 3/8")
    expect(page.locator("drift-result")).to_contain_text("Angle and size are off.", timeout=60_000)
