"""The basket: from an example's target size to a plan, a guide that cuts all of it, and the rest planned anew.

That the plan is the best is tested in tests/core; here, that the page asks for it, shows it and cuts it.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from axe import complaints
from clocks import LEAPING
from host import Host
from kept_state import kept, sitting
from one_page import at_the_mat_anew, go, one_page
from phone import Phone, until
from quilter import app_folder, said
from test_quilt import SEEN, quilt_anew

# Taps on and on, as a quilter does, until `stop` says so or the guide is at its end; gives how many taps that took.
CUT_ON = """async (stop) => {
  const over = () => {
    const said = document.querySelector('mat-view').innerText;
    return /All cut/.test(said) || document.querySelector('dialog[open]') || (stop && /Fix/.test(said) && said.includes(stop));
  };
  let taps = 0;
  while (!over()) {
    const text = () => document.querySelector('mat-view').textContent; // quicker than what is to be seen of it
    const before = text();
    leap(600);
    document.querySelector('mat-view [data-key=zone]').click();
    const moved = () => text() !== before || document.querySelector('dialog[open]');
    for (let waited = 0; !moved() && waited < 2000; waited += 1) await new Promise((next) => setTimeout(next, 4));
    taps += 1;
  }
  return taps;
}"""


@pytest.fixture(scope="module")
def shared(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for most tests of this file."""
    with one_page(browser, f"{site.url}#quilt") as page:
        yield page


@pytest.fixture
def basket(shared: Page) -> Page:
    """An empty basket beside a fresh quilt."""
    shared.set_viewport_size({"width": 390, "height": 844})
    quilt_anew(shared)
    return shared


@pytest.fixture
def example(basket: Page) -> Page:
    """The example's basket with its plan."""
    basket.get_by_role("button", name="Show me an example").click()
    until(
        basket,
        "document.querySelector('.quilt-figure')?.innerText.includes('87 pieces') && !document.querySelector('.go.stale') || false",
    )
    plan(basket)
    return basket


def plan(page: Page) -> None:
    """Goes to the basket and has the best plan found."""
    go(page, "basket")
    page.locator("[data-key=plan]").click()
    page.locator("plan-view .layout").first.wait_for()


def begin(page: Page) -> None:
    """Begins to cut the plan."""
    page.locator("[data-key=cut]").click()
    at_the_mat_anew(page)


def by_hand(page: Page, **values: str) -> None:
    """Wants pieces that are typed by hand instead of a quilt."""
    go(page, "basket")
    page.get_by_role("button", name="List pieces myself").click()
    for label, text in values.items():
        page.get_by_label(
            {"need": "How many", "size": "Strip width, as cut", "angle": "Sharp angle"}[label], exact=True
        ).last.fill(text)


def add_cloth(page: Page, kind: str, count: str = "1") -> None:
    """Puts cloths into the basket."""
    page.get_by_label("Add a cloth").select_option(label=kind)
    page.locator("basket-list").get_by_label("How many", exact=True).last.fill(count)


def facts(page: Page) -> str:
    """What is said of the plan."""
    return page.locator("plan-view .facts").first.inner_text()


@pytest.mark.long  # cut on another phone by its code, the example is in every run (test_passing_on.py)
def test_the_example_goes_from_a_size_to_every_piece_cut_without_a_network(phone: Phone, own_site: Host):
    page = phone.open(f"{own_site.url}#quilt")
    until(page, "document.querySelector('.standing')?.textContent === 'Ready without a network'")
    own_site.stop()
    page.add_init_script(LEAPING)
    page.reload()
    until(page, SEEN)
    page.get_by_role("button", name="Show me an example").click()
    until(
        page,
        "document.querySelector('.quilt-figure')?.innerText.includes('87 pieces') && !document.querySelector('.go.stale') || false",
    )
    assert page.locator("buying-list .buying-line").count() == 6  # four fabrics, the backing and the batting
    assert "–" not in page.locator("buying-list .amount").all_inner_texts()
    plan(page)
    assert "All 87 pieces" in facts(page) and "No plan does better" in facts(page)
    begin(page)
    page.evaluate(CUT_ON, "")
    assert page.locator(".mat-total").inner_text() == "87 of 87 in all"
    until(page, "!document.querySelector('dialog[open]')")


@pytest.mark.long
def test_a_spoiled_piece_is_made_up_for_from_the_rest_of_the_basket(example: Page):
    begin(example)
    example.evaluate(CUT_ON, "Take the next cloth: Fat quarter, Honey")
    spoil_next(example)
    expect(example.locator(".mat-total")).to_contain_text("of 86 in all")
    example.evaluate(CUT_ON, "")  # until the next cloth is to be taken: there the rest is planned anew
    dialog = example.locator("replan-dialog")
    example.locator("[data-key=replan-yes]").wait_for()
    # The last fat quarter gave four of the six that it can give: it gives five now.
    expect(dialog).to_contain_text("The same cloths are cut as before.")
    expect(dialog).to_contain_text("Nothing stays missing.")
    example.locator("[data-key=replan-yes]").click()
    until(example, "!document.querySelector('dialog[open]')")
    expect(example.locator(".mat-total")).to_contain_text("of 87 in all")
    example.evaluate(CUT_ON, "")
    assert example.locator(".mat-total").inner_text() == "87 of 87 in all"


def spoil_next(page: Page) -> None:
    """Goes on to the next piece and spoils it."""
    for _ in range(40):
        page.locator("[data-key=mend]").click()
        spoil = page.get_by_role("button", name=re.compile("^The one I just cut"))
        if spoil.count():
            return spoil.click()
        page.get_by_role("button", name="Nothing, go back").click()
        before = page.locator("mat-view").inner_text()
        page.evaluate("leap(600)")
        page.locator("mat-view [data-key=zone]").click()
        until(page, "(before) => document.querySelector('mat-view').innerText !== before", before)
    raise AssertionError("no piece came")


@pytest.mark.long
def test_the_guide_knows_how_many_selvages_each_cloth_has(example: Page):
    """Two of a length off the bolt, one of a fat quarter, none of a ready-cut square: common
    practice, no published source.
    """
    begin(example)
    cloths = sitting(example)["scripts"][0]["request"]["cloths"]
    found = {cloth["id"].split(",")[0]: cloth["selvages"] for cloth in cloths}
    assert (found["Yards off the bolt"], found["Fat quarter"], found["10-inch square"]) == (2, 1, 0)


@pytest.mark.long
def test_a_cloth_that_is_smaller_than_planned_changes_the_plan(example: Page):
    begin(example)
    example.evaluate(CUT_ON, "Take the next cloth: Fat quarter, Honey")
    example.locator("[data-key=mend]").click()
    example.get_by_role("button", name="This cloth is smaller than planned").click()
    dialog = example.locator("replan-dialog")
    dialog.get_by_label("Length").fill("18")
    dialog.get_by_label("Width").fill("11")
    dialog.locator("[data-key=smaller-go]").click()
    example.locator("[data-key=replan-yes]").wait_for()
    # The sixth fat quarter of its fabric is whole still and takes its place.
    expect(dialog).to_contain_text("One more cloth is cut into: Fat quarter, Honey.")
    expect(dialog).to_contain_text("One cloth stays whole: Fat quarter, Honey, smaller.")
    expect(dialog).to_contain_text("Nothing stays missing.")
    example.locator("[data-key=replan-yes]").click()
    until(example, "!document.querySelector('dialog[open]')")
    expect(example.locator(".mat-total")).to_contain_text("of 87 in all")
    example.evaluate(CUT_ON, "")
    assert example.locator(".mat-total").inner_text() == "87 of 87 in all"
    assert [event["event"] for event in sitting(example)["events"]].count("switch") == 1


@pytest.mark.every(4)
@pytest.mark.parametrize("reloaded", [False, True])
def test_a_basket_that_is_looked_at_before_the_quilt_is_worked_out_takes_it_when_it_is(basket: Page, reloaded: bool):
    basket.evaluate("""() => {
      document.querySelector('[data-key=example]').click();
      location.hash = 'basket';
    }""")
    if reloaded:
        basket.locator("basket-list").get_by_text("Honey").first.wait_for(state="attached")
        basket.reload()
    expect(basket.locator("need-list summary").first).to_contain_text("87 pieces")
    basket.locator("[data-key=plan]").click()
    basket.locator("plan-view .layout").first.wait_for()
    assert "All 87 pieces" in facts(basket)


PAUSED_AS_PROVEN = """async (app) => {
  const { TimedSearch } = await import(`${app}/lib/asking/timed-search.js`);
  const proven = { layouts: [], proven: true, strips_proven: false }; // the core tells a bound only of what is not proven
  const search = new TimedSearch({ search: (_, { onProgress }) => { onProgress({ plan: proven }); return new Promise(() => {}); } });
  search.begin({});
  return [search.stage, search.plan.proven];
}"""


def test_a_plan_that_is_shown_while_its_strips_are_searched_is_proven_where_it_is(basket: Page, site: Host, dist: Path):
    assert basket.evaluate(PAUSED_AS_PROVEN, site.url + app_folder(dist)) == ["paused", True]


def test_the_basket_says_as_many_pieces_as_the_quilt_and_what_is_joined_or_halved(example: Page):
    go(example, "quilt")
    until(example, SEEN)
    quilted = example.locator(".quilt-figure b").inner_text()
    go(example, "basket")
    summary = example.locator("need-list summary").first
    expect(summary).to_contain_text(quilted)
    # Counted by hand: borders 3½ in wide of 48 × 60 in from 42 in across, sides 2 × 54¼ in and ends 2 × 48.7 in take 3
    # strips each; a binding of 10 in more than the way round takes 6.
    expect(summary).to_contain_text("12 strips to be joined, for: Border, sides; Border, top and bottom; Binding")
    summary.click()
    expect(example.locator("need-list")).to_contain_text("2 rectangles for 4 × Corner quarters, Oat")
    expect(example.locator("need-list")).to_contain_text("Not cut from here: Backing.")
    assert f"All {quilted} come out of this basket." in facts(
        example
    ) and "With them come 12 strips to be joined." in facts(example)
    expect(example.locator(".basket-bar b")).to_have_text(quilted)
    expect(example.locator("plan-view")).to_contain_text(re.compile("rectangles? for [24] × Corner quarters"))
    # Without the binding there are as many pieces, and fewer strips.
    example.get_by_role("checkbox", name=re.compile("Binding")).uncheck()
    expect(summary).to_contain_text(f"{quilted} of 8 kinds; 6 strips")


@pytest.mark.long
def test_leans_and_what_is_finished_later_go_on_to_the_plan(basket: Page):
    basket.get_by_role("button", name="Zigzag rows").click()
    until(basket, SEEN)
    go(basket, "basket")
    expect(basket.locator("need-list summary").first).to_contain_text("pieces")
    add_cloth(basket, "Yards off the bolt")
    basket.locator("[data-key=plan]").click()
    until(basket, "document.querySelector('plan-view .layout') ? true : false")
    request = kept(basket, "basket-plan")["request"]
    diamonds = [piece for piece in request["pieces"] if piece["shape"] == "diamond"]
    assert {bool(piece.get("mirrored")) for piece in diamonds} == {False, True}
    assert any(piece.get("halved") for piece in request["pieces"]) and any(
        piece.get("joined") for piece in request["pieces"]
    )


@pytest.mark.long
def test_two_phones_at_one_table_cut_a_plan_between_them(example: Page):
    first, *others = example.locator("plan-view .tick input").all()
    first.uncheck()
    pieces = example.locator("plan-view .layout").first.locator(".facts li").all_inner_texts()
    assert others and pieces
    begin(example)
    total = int(example.locator(".mat-total").inner_text().split(" of ")[1].split()[0])
    assert 0 < total < 87
    go(example, "basket")
    first = example.locator("plan-view .tick input").first
    first.check()
    for other in example.locator("plan-view .tick input").all()[1:]:
        other.uncheck()
    begin(example)
    assert int(example.locator(".mat-total").inner_text().split(" of ")[1].split()[0]) == 87 - total


@pytest.mark.long
def test_a_cloth_with_nothing_to_spare_is_said_to_be_measured_first(basket: Page):
    """Fifteen diamonds of 4 in take all of 20 in in five strips, twelve leave room in four: common
    practice, no published source.
    """
    by_hand(basket, need="15", size="4")
    add_cloth(basket, "Fat quarter")
    told = basket.locator("plan-view .layout .warn")
    for need, warnings in (("15", [said("basket_screen.tight")]), ("12", [])):
        basket.get_by_label("How many", exact=True).last.fill(need)
        plan(basket)
        until(basket, "document.querySelector('plan-view:not(.stale)')")
        assert told.all_inner_texts() == warnings
    basket.locator("basket-list").get_by_label("Across", exact=True).fill("16 1/8")
    plan(basket)
    expect(told).to_have_text(said("basket_screen.tight_spare", spare="⅛ in"))


def test_what_is_missing_is_a_line_to_buy(basket: Page):
    by_hand(basket, need="24", size="4")
    add_cloth(basket, "Fat eighth")
    basket.locator("[data-key=plan]").click()
    basket.locator("buying-list .buying-line").wait_for()
    # A fat eighth gives two strips of 4 in by 20 in, three diamonds from each: 4 · cot 60° + 3 · 4.62 =
    # 16.2, and 20.8 for a fourth.
    assert "6 of 24 pieces" in facts(basket) and "Missing: 18 ×" in facts(basket)
    # 18 diamonds take three strips of eight, 12 in, and an inch for straightening: 13½ in is the next eighth of a yard.
    assert basket.locator("buying-list .amount").inner_text() == "⅜ yd"


@pytest.mark.long
def test_a_search_that_takes_long_shows_what_it_has_and_goes_on(basket: Page):
    go(basket, "basket")
    by_hand(basket, need="61", size="4")
    for number, (need, size, angle) in enumerate(
        [
            ("47", "3 1/8", "60"),
            ("83", "2 3/4", "45"),
            ("39", "5 1/4", "60"),
            ("57", "3 5/8", "30"),
            ("71", "2 1/4", "60"),
        ],
        start=2,
    ):
        basket.get_by_role("button", name="Add another piece").click()
        basket.locator("fieldset").nth(number - 1).wait_for()
        by_hand(basket, need=need, size=size, angle=angle)
    for kind, count in (
        ("Fat quarter", "4"),
        ("Fat eighth", "3"),
        ("10-inch square", "3"),
        ("Yards off the bolt", "2"),
    ):
        add_cloth(basket, kind, count)
    basket.locator('[data-key="cloths.3.length"]').fill("1 yd")
    basket.locator("[data-key=plan]").click()
    basket.locator("[data-key=stop]").wait_for()
    until(basket, "/save up to/.test(document.querySelector('.go').textContent) || false")
    basket.locator("[data-key=stop]").click()
    basket.locator("plan-view .layout").first.wait_for()
    assert "best so far" in facts(basket)
    before = basket.locator("plan-view .layout").count()
    basket.locator("[data-key=go-on]").click()
    basket.locator("[data-key=stop]").click()
    basket.locator("[data-key=go-on]").wait_for()
    assert before > 0 and basket.locator("[data-key=cut]").count() == 1


def test_what_is_wrong_with_a_cloth_is_said_at_its_field(basket: Page):
    by_hand(basket, need="10", size="4")
    add_cloth(basket, "Fat quarter")
    basket.locator("basket-list").get_by_label("Along the selvage", exact=True).fill("0")
    basket.locator("[data-key=plan]").click()
    expect(basket.locator("#field-cloths-0-length-error")).to_contain_text("is not above 0")
    assert basket.locator("#field-cloths-0-length").input_value() == "0"


def test_the_basket_and_its_plan_are_there_again_after_a_reload(example: Page):
    told = facts(example)
    example.reload()
    example.locator("plan-view .layout").first.wait_for()
    assert facts(example) == told
    go(example, "quilt")
    example.get_by_role("button", name=said("quilt_screen.example_back")).click()
    go(example, "basket")
    expect(example.locator("basket-list")).to_contain_text("Nothing yet")


@pytest.mark.every(4)
@pytest.mark.parametrize(("width", "theme"), [(390, "light"), (320, "dark")])
def test_the_screen_is_accessible_and_fits(example: Page, width: int, theme: str):
    example.set_viewport_size({"width": width, "height": 640})
    example.emulate_media(color_scheme=theme)
    for summary in example.locator("summary:visible").all():
        summary.click()
    assert complaints(example) == []
    assert example.evaluate("document.documentElement.scrollWidth") <= width
