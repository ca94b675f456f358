"""Other units become the usual ones: whatever was typed before stays what was meant, on every screen."""

import random
import re
from fractions import Fraction

import pytest
from playwright.sync_api import BrowserContext, Page, expect

import matside
import one_page
from amounts import examples
from kept_state import keep
from matside.errors import Refusal
from matside.units import parse_length
from one_page import ask_for, go, until_kept
from phone import Watched, until
from quilter import answered, asleep, choose, cloth_kind, enter, field, group_of, number, said


@pytest.fixture
def page(context: BrowserContext, watched: Watched, site) -> Page:
    """The first screen, with its answer."""
    page = context.new_page()
    page.goto(site.url)
    answered(page)
    return page


def to_centimetres(page: Page) -> None:
    one_page.choose(page, said("tools.units.name"), said("tools.units.cm"))


def texts(page: Page, *names: str) -> list[str]:
    return [field(page, name).input_value() for name in names]


@pytest.mark.long
def test_the_piece_and_the_cloth_stay_as_large_as_they_were(page: Page):
    """A scrap of 18 by 20 in gives 15 diamonds of 4 in, as a fat quarter does."""
    cloth_kind(page, "scrap")
    enter(page, "cloth.length", "18")
    enter(page, "cloth.width", "20")
    assert number(page) == 15
    to_centimetres(page)
    go(page, "count")
    answered(page)
    assert texts(page, "piece.text", "cloth.length", "cloth.width") == ["4 in", "18 in", "20 in"]
    assert number(page) == 15
    page.reload()
    answered(page)
    assert texts(page, "piece.text", "cloth.length", "cloth.width") == ["4 in", "18 in", "20 in"]


@pytest.mark.long
def test_yardage_is_typed_by_the_yard_in_any_units(page: Page):
    ask_for(page, 4, "Yards off the bolt")
    enter(page, "cloth.length", "1/2")
    enter(page, "cloth.width", "40")
    before = number(page)
    to_centimetres(page)
    go(page, "count")
    answered(page)
    assert (texts(page, "cloth.length", "cloth.width"), number(page)) == (["½", "40 in"], before)


@pytest.mark.long
def test_what_a_quilt_needs_from_the_basket_is_the_same_and_its_plan_stays_good(page: Page):
    go(page, "quilt")
    page.locator("[data-key=example]").click()
    until(
        page,
        "document.querySelector('.quilt-figure')?.innerText.includes('87 pieces') && !document.querySelector('.go.stale') || false",
    )
    go(page, "basket")
    page.locator("need-list summary").first.wait_for()
    page.locator("[data-key=plan]").click()
    page.locator("[data-key=cut]").wait_for()
    to_centimetres(page)
    go(page, "basket")
    go(page, "count")
    choose(
        page, said("page.size_quick", unit="cm"), "10"
    )  # Python answers in turn: what the basket asked is answered too
    go(page, "basket")
    expect(page.locator("[data-key=cut]")).to_be_visible()
    assert page.get_by_text(said("basket_screen.stale")).count() == 0


@pytest.mark.long
def test_what_was_measured_stays_what_it_was(page: Page):
    ask_for(page, 4)
    go(page, "drift")
    page.locator("drift-before .verdict").wait_for()
    edge = page.get_by_label(re.compile("^A – "))
    edge.fill("4 5/8")
    until_kept(page, "drift", lambda found: found["measured"]["edge"] == "4 5/8")
    to_centimetres(page)
    go(page, "drift")
    expect(edge).to_have_value("4⅝ in")


@pytest.mark.long
def test_a_ruler_that_is_being_described_stays_what_it_was(page: Page):
    go(page, "rulers")
    page.get_by_role("button", name="Add a ruler").click()
    page.get_by_label("Width", exact=True).fill("6 1/2")
    until_kept(page, "rulers", lambda found: found["editing"]["draft"]["width"] == "6 1/2")
    to_centimetres(page)
    go(page, "rulers")
    expect(page.get_by_label("Width", exact=True)).to_have_value("6½ in")


FACTS = matside.answer({"ask": "facts"})


def chips_of(page: Page, group: str) -> list[str]:
    """The choices of a group, as they stand there."""
    return page.get_by_role("group", name=group, exact=True).get_by_role("button").all_inner_texts()


def options_of(page: Page, name: str) -> list[str]:
    """The values that a field can be chosen to have."""
    return [option.get_attribute("value") for option in field(page, name).first.locator("option").all()]


def begun_with(page: Page, screen: str, expected: dict[str, str]) -> None:
    """The fields of a screen are those and stand as they are expected."""
    go(page, screen)
    field(page, next(iter(expected))).wait_for(state="attached")
    assert dict(zip(expected, texts(page, *expected), strict=True)) == expected


@pytest.mark.long
@pytest.mark.parametrize("units", ["in", "cm"])
def test_a_first_visit_begins_with_what_the_core_says_is_usual(
    context: BrowserContext, watched: Watched, site, units: str
):
    """While Python is asleep, so that nothing of it can come from an answer."""
    usual, choices = FACTS["usual"][units], FACTS["choices"]
    quilt, typed = usual["quilt"], usual["typed"]
    page = asleep(context.new_page())
    page.goto(site.url)
    keep(page, "settings", {"units": units})
    page.reload()
    begun_with(page, "count", {"piece.text": usual["piece"]["text"], "piece.seam": usual["piece"]["seam"]})
    assert chips_of(page, said("page.size_quick", unit=units)) == usual["sizes"]
    assert chips_of(page, said("page.angle"))[:-1] == [f"{angle}°" for angle in choices["angles"]]
    taken = group_of(page, said("page.cloth")).locator("[aria-pressed=true]")
    assert taken.inner_text() == said(f"cloth.{usual['cloth']}.name")
    target, border = quilt["target"], quilt["border"]
    buying = {f"buying.{name}": quilt["buying"][name] for name in
              ("usable_width", "straighten", "quarter_length", "quarter_width", "square", "price_by")}  # fmt: skip
    begun_with(
        page,
        "quilt",
        {
            "target.width": target["width"],
            "target.height": target["height"],
            "piece.text": usual["piece"]["text"],
            "piece.seam": usual["piece"]["seam"],
            "borders.0.width": border["width"],
            "binding.width": quilt["binding"]["width"],
            "backing.overlap": quilt["overlap"],
            "batting.overlap": quilt["overlap"],
            **buying,
        },
    )
    field(page, "add-border").evaluate("(button) => button.click()")
    assert texts(page, "borders.1.width") == [quilt["next_border"]]
    go(page, "basket")
    page.get_by_role("button", name=said("basket_screen.from_typed")).click()
    begun_with(page, "basket", {f"typed.0.{name}": typed[name] for name in ("shape", "need", "size", "angle")})
    assert options_of(page, "typed.0.shape") == list(choices["shapes"])
    assert options_of(page, "grain") == choices["grains"]
    page.get_by_label(said("basket_screen.shape"), exact=True).select_option("half-diamond")
    assert options_of(page, "typed.0.cut") == choices["cuts"]


def test_what_an_older_page_kept_less_of_is_filled_up_in_the_units_that_it_was_typed_in(
    context: BrowserContext, watched: Watched, site
):
    """A count without its seam and its units, when all was in inches; a quilt in inches of which little was kept."""
    page = asleep(context.new_page())
    page.goto(site.url)
    keep(page, "settings", {"units": "cm"})
    keep(page, "count", {"state": {"piece": {"angle": "45", "measure": "size", "text": "5"}}})
    keep(page, "quilt", {"state": {"units": "in", "buying": {"usable_width": "40"}}})
    page.reload()
    begun_with(page, "count", {"piece.text": "5 in", "piece.seam": "¼ in"})
    begun_with(page, "quilt", {"buying.usable_width": "40 in", "buying.square": "½ in", "target.width": "50 in"})


# --- Back and forth -------------------------------------------------------------------------------------------------

LENGTHS = """() => [...document.querySelectorAll('main input.entry[data-tape]')]
  .map((field) => [field.dataset.key, field.value, field.dataset.tape])"""
FILL = """([name, text]) => {
  const field = document.querySelector(`main [data-key="${name}"]`);
  field.value = text;
  field.dispatchEvent(new Event('input', { bubbles: true }));
}"""
#: Fractions and decimals that no other unit has a round number for, with a unit of their own and without one.
WRITTEN = ("3 1/8", "4³⁄₁₆", "2.7", "5⅔", "7/16", "11.43 cm", "95 mm", "6½ in", "1.05", "8", "2-5/32", "9⅕", "0.3 yd")
SCREENS = ("count", "quilt", "basket", "drift", "rulers", "tools")


def meant(page: Page, units: str) -> dict[str, Fraction | str]:
    """What stands in the fields for lengths of a screen, as exact lengths; a text that is none as it is."""
    found = {}
    for name, text, unit in page.evaluate(LENGTHS):
        bare = re.search(r"[\d.₀-₉¼-¾⅐-⅞]\s*$", text)
        try:
            found[name] = parse_length(f"{text} {unit or units}" if bare else text, name)
        except Refusal:
            found[name] = text
    return found


def shown(page: Page, screen: str) -> None:
    """Goes to a screen with all fields for lengths that it begins with."""
    go(page, screen)
    page.locator("main h1").first.wait_for()
    if screen == "basket" and page.locator("[data-key='cloths.0.width']").count() == 0:
        page.get_by_role("button", name=said("basket_screen.from_typed")).click()
        field(page, "add").select_option("scrap")
    if screen == "rulers" and page.locator("ruler-editor input").count() == 0:
        page.get_by_role("button", name="Add a ruler").click()
    until(page, "document.querySelectorAll('main input.entry[data-tape]').length > 0")


@pytest.mark.long
@pytest.mark.every(4)
@pytest.mark.parametrize("units", ["in", "cm"])
@pytest.mark.parametrize("seed", range(examples(1, 10)))
def test_no_length_changes_however_often_the_units_are_switched(page: Page, units: str, seed: int):
    draw = random.Random(f"{units} {seed}")
    other = {"in": "cm", "cm": "in"}
    one_page.choose(page, said("tools.units.name"), said(f"tools.units.{units}"))
    for screen in SCREENS:
        shown(page, screen)
        for name, _, _ in page.evaluate(LENGTHS):
            page.evaluate(FILL, [name, draw.choice(WRITTEN)])
    before = {}
    for screen in SCREENS:
        shown(page, screen)
        before[screen] = meant(page, units)
        assert sum(isinstance(length, Fraction) for length in before[screen].values()) >= 1, screen
    for _ in range(3):
        units = other[units]
        one_page.choose(page, said("tools.units.name"), said(f"tools.units.{units}"))
        for screen in draw.sample(SCREENS, len(SCREENS)):
            shown(page, screen)
            assert meant(page, units) == before[screen], (screen, units)


@pytest.mark.long
def test_a_measure_that_is_taken_stays_exact_in_any_units(page: Page):
    """4 in at 60° has edges of 4.6188 in: in the field they are rounded, in what is asked they are not."""
    go(page, "count")
    field(page, "measure-edge").click()
    answered(page)
    go(page, "quilt")
    until(page, "document.querySelector('.quilt-figure') && !document.querySelector('.go.stale')")
    page.locator("[data-key='piece.measure']").select_option("edge")
    expect(field(page, "piece.text")).to_have_value("4⅝")
    for units in ("cm", "in", "cm"):
        one_page.choose(page, said("tools.units.name"), said(f"tools.units.{units}"))
        go(page, "count")
        answered(page)
        until_kept(page, "count", lambda found: found["answers"]["piece"]["size"] == pytest.approx(4, abs=1e-9))
        go(page, "quilt")
        until(page, "document.querySelector('.quilt-figure') && !document.querySelector('.go.stale')")
        until_kept(page, "quilt-answers", lambda found: found["piece"]["size"] == pytest.approx(4, abs=1e-9))
    page.evaluate(FILL, ["piece.text", "4.6 in"])
    until_kept(page, "quilt", lambda found: found["state"]["piece"]["inches"] is None)


def test_a_bolts_length_stays_in_yards_in_any_units(page: Page):
    go(page, "quilt")
    page.locator("buying-form").wait_for()
    page.get_by_label(said("quilt_screen.buy.kits")).first.evaluate("(box) => box.click()")
    field(page, "buying.bolt_length").wait_for(state="attached")
    page.evaluate(FILL, ["buying.bolt_length", "10"])
    to_centimetres(page)
    go(page, "quilt")
    field(page, "buying.bolt_length").wait_for(state="attached")
    assert texts(page, "buying.bolt_length") == ["10"]
    page.locator("[data-key='buying.price_by']").evaluate(
        "(list) => { list.value = 'm'; list.dispatchEvent(new Event('change', { bubbles: true })); }"
    )
    until_kept(page, "quilt", lambda found: found["state"]["buying"]["price_by"] == "m")
    assert texts(page, "buying.bolt_length") == ["10 yd"]
