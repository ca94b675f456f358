"""Another cloth lies on the mat than the one that was told: what that changes is said first,
then cut, and can be undone.

Pieces by hand, from the formulas of the trade: a strip of 20 in gives ⌊(20 − 4·cot 60°) / (4 / sin 60°)⌋ = 3
diamonds of 4 in, one of 18 in gives 3 as well; so 18 × 20 in gives 5 strips of 18 in, 15 in all, and 9 × 20 in 2
strips of 20 in, 6 in all."""

from collections import Counter

import pytest
from playwright.sync_api import Page, expect

import matside
from folding import fold_log
from kept_state import sitting
from phone import LONGEST_WAIT, until
from quilter import SAME, app_folder, awake, guide, mat, mending, painted, said, seat, sentence, tap, totals
from test_basket import CUT_ON

DIAMOND = {"shape": "diamond", "size": 4, "angle": 60}
HONEY = {"id": "Fat quarter, honey", "length": 18, "width": 20, "count": 1, "selvage": "length", "fabric": "honey"}
PLUM = {**HONEY, "id": "Fat quarter, plum", "fabric": "plum"}
EIGHTH = {**HONEY, "id": "Fat eighth, honey", "length": 9}
LINEN = {**HONEY, "id": "Fat quarter, linen", "fabric": "linen"}
TWO_COLOURS = [
    {"id": "h", **DIAMOND, "fabric": "honey", "need": 15},
    {"id": "p", **DIAMOND, "fabric": "plum", "need": 15},
]
ONE_COLOUR = TWO_COLOURS[:1]
CUT = {"event": "cut"}


@pytest.fixture
def at_the_mat(page: Page, site, dist):
    """Sits down at the guide for a plan, after so many taps, with Python at hand."""

    def sit(cloths: list[dict], pieces: list[dict], taps: int = 0) -> Page:
        return seat(page, site.url, app_folder(dist), planned(cloths, pieces), [CUT] * taps, python=True)

    return sit


def planned(cloths: list[dict], pieces: list[dict]) -> dict:
    """The guide's request for the best plan, as the basket makes it."""
    layouts = matside.answer({"ask": "plan", "cloths": cloths, "pieces": pieces})["layouts"]
    made = Counter()
    for layout in layouts:
        for strip in layout["strips"]:
            made[strip["piece"]] += layout["times"] * strip["count"]
            del strip["outlines"]
    return {
        "pieces": pieces,
        "cloths": cloths,
        "layouts": layouts,
        "target": {piece["id"]: piece["need"] for piece in pieces},
        "promised": made,
    }


def taps_to_piece(nth: int, cloths: list[dict], pieces: list[dict]) -> int:
    """Cuts that lead to the nth piece of the plan's guide."""
    steps = guide(planned(cloths, pieces))["steps"]
    return [i for i, step in enumerate(steps) if step["do"] == "piece"][nth]


def this_is(page: Page, name: str):
    """Says that this cloth lies there; gives the dialog once it tells what that changes."""
    mending(page).get_by_role("button", name=said("mat.another_cloth.is", name=name)).tap()
    dialog = page.locator("replan-dialog")
    expect(dialog.get_by_text(said("basket_screen.replan.waiting"))).to_be_hidden(timeout=LONGEST_WAIT * 1000)
    return dialog


def go_on(page: Page) -> None:
    """Agrees, and waits until the mat shows what that has changed."""
    page.locator("[data-key=replan-yes]").tap()
    until(page, "!document.querySelector('dialog[open]')")
    painted(page)


def offered(page: Page) -> list[str]:
    """The names of the cloths that are offered in place of the one that was told."""
    dialog = mending(page)
    dialog.locator(".mend-later:not([aria-busy])").wait_for(state="attached", timeout=LONGEST_WAIT * 1000)
    names = dialog.locator("[data-key^=another-cloth]").evaluate_all("(all) => all.map(({ dataset }) => dataset.key)")
    page.get_by_role("button", name=said("mat.mend_close")).tap()
    return [name.removeprefix("another-cloth ") for name in names]


def made_by_id(page: Page) -> dict[str, int]:
    """Pieces made by kind, as the core reads the log that is stored."""
    stored = sitting(page)
    made = Counter()
    for (script, strip), tally in fold_log(stored["scripts"], stored["events"]).tallies.items():
        made[stored["scripts"][script]["strips"][strip]["piece"]] += tally["made"]
    return {name: n for name, n in made.items() if n}


# --- Nothing has been cut off it yet --------------------------------------------------------------------------------


@pytest.mark.long
def test_a_cloth_that_the_plan_cuts_later_is_cut_now_and_nothing_else_changes(at_the_mat):
    page = at_the_mat([HONEY, PLUM], TWO_COLOURS, taps=1)
    told, other = sitting(page)["scripts"][0]["cloths"]
    before = mat(page)
    dialog = this_is(page, other["id"])
    expect(dialog).to_contain_text(said("basket_screen.replan.same"))
    expect(dialog).to_contain_text(said("mat.another_cloth.makes", all=30, before=30))
    expect(dialog).to_contain_text(f"Take next: {other['id']}, 18 in × 20 in.")
    assert len(sitting(page)["events"]) == 1
    go_on(page)
    assert [cloth["id"] for cloth in sitting(page)["scripts"][1]["cloths"]] == [other["id"], told["id"]]
    page.get_by_role("button", name=said("mat.undo")).tap()
    until(page, SAME, before)


@pytest.mark.long
def test_a_cloth_that_the_plan_does_not_need_gives_what_it_can_and_the_told_one_the_rest(at_the_mat):
    page = at_the_mat([HONEY, EIGHTH], ONE_COLOUR)
    assert [cloth["id"] for cloth in sitting(page)["scripts"][0]["cloths"]] == [HONEY["id"]]
    dialog = this_is(page, EIGHTH["id"])
    expect(dialog).to_contain_text("One more cloth is cut into: Fat eighth, honey.")
    expect(dialog).to_contain_text(said("mat.another_cloth.makes", all=15, before=15))
    expect(dialog).to_contain_text(said("basket_screen.replan.nothing_missing"))
    go_on(page)
    page.evaluate(CUT_ON, "Take the next cloth: Fat quarter, honey")
    assert totals(page) == (6, 15)
    page.evaluate(CUT_ON, "")
    assert totals(page) == (15, 15)


@pytest.mark.long
def test_the_grain_that_was_asked_for_holds_for_the_rest(page: Page, site, dist):
    """Across, the fat eighth would give six pieces in two strips; along its selvage it gives one in each of five."""
    request = {**planned([HONEY, EIGHTH], ONE_COLOUR), "grain": "lengthwise"}
    seat(page, site.url, app_folder(dist), request, python=True)
    this_is(page, EIGHTH["id"])
    go_on(page)
    eighth = sitting(page)["scripts"][1]["request"]["layouts"][0]
    assert (eighth["cloth"], [strip["along"] for strip in eighth["strips"]]) == (EIGHTH["id"], ["length"] * 5)


def test_what_stays_missing_is_said_before(at_the_mat):
    """The fat eighth gives 6, and a strip of 4 in by 20 in gives 3: of twelve, three are missing either way."""
    strip = {**HONEY, "id": "Strip, honey", "length": 4}
    page = at_the_mat([EIGHTH, strip], [{**ONE_COLOUR[0], "need": 12}])
    told = sitting(page)["scripts"][0]["cloths"][0]["id"]
    dialog = this_is(page, ({EIGHTH["id"], strip["id"]} - {told}).pop())
    expect(dialog).to_contain_text(said("mat.another_cloth.makes", all=9, before=9))
    expect(dialog).to_contain_text("3 pieces stay missing.")
    page.locator("[data-key=replan-no]").tap()
    assert sitting(page)["events"] == []


def test_a_cloth_of_a_fabric_that_is_not_wanted_is_to_be_put_back(at_the_mat):
    page = at_the_mat([HONEY, LINEN], ONE_COLOUR)
    dialog = this_is(page, LINEN["id"])
    expect(dialog).to_contain_text(said("mat.another_cloth.useless"))
    assert page.locator("[data-key=replan-yes]").count() == 0
    page.locator("[data-key=replan-no]").tap()
    assert sitting(page)["events"] == []


def test_cloths_alike_and_those_that_are_cut_are_not_offered(at_the_mat):
    page = at_the_mat(
        [{**HONEY, "count": 3}, {**HONEY, "id": "Fat quarter, honey 2"}, EIGHTH], [{**ONE_COLOUR[0], "need": 30}]
    )
    assert offered(page) == [EIGHTH["id"]]


# --- It has been cut into -------------------------------------------------------------------------------------------


@pytest.mark.long
def test_what_was_cut_from_the_wrong_fabric_counts_for_its_own_pieces_and_the_rest_is_planned_anew(at_the_mat):
    plums = {**PLUM, "count": 2}
    pieces = [TWO_COLOURS[0], {**TWO_COLOURS[1], "need": 30}]
    page = at_the_mat([HONEY, plums], pieces, taps_to_piece(2, [HONEY, plums], pieces))
    told = sitting(page)["scripts"][0]["cloths"][0]["id"]
    assert told == HONEY["id"]
    (before_count, said_before), before = totals(page), mat(page)
    dialog = this_is(page, PLUM["id"])
    expect(dialog).to_contain_text(said("mat.another_cloth.counts", name=PLUM["id"]))
    expect(dialog).to_contain_text(said("mat.another_cloth.makes", all=45, before=45))
    expect(dialog).to_contain_text(said("basket_screen.replan.nothing_missing"))
    go_on(page)
    assert (totals(page), sentence(page)) == ((before_count, said_before), before.split("\n")[3])
    assert made_by_id(page) == {"p": 2}
    page.evaluate(CUT_ON, "")
    assert made_by_id(page) == {"h": 15, "p": 30}


@pytest.mark.long
def test_what_counts_for_another_fabric_counts_for_the_told_one_again_when_it_is_undone(at_the_mat):
    page = at_the_mat([HONEY, PLUM], TWO_COLOURS, taps_to_piece(1, [HONEY, PLUM], TWO_COLOURS))
    told, other = (cloth["fabric"][0] for cloth in sitting(page)["scripts"][0]["cloths"])
    before = mat(page)
    this_is(page, PLUM["id"] if other == "p" else HONEY["id"])
    go_on(page)
    assert made_by_id(page) == {other: 1}
    page.get_by_role("button", name=said("mat.undo")).tap()
    until(page, SAME, before)
    assert made_by_id(page) == {told: 1}


@pytest.mark.long
def test_a_cloth_of_other_sides_or_unwanted_fabric_cannot_have_been_cut_so(at_the_mat):
    cloths = [HONEY, PLUM, EIGHTH, LINEN]
    page = at_the_mat(cloths, TWO_COLOURS, taps_to_piece(1, cloths, TWO_COLOURS))
    told = sitting(page)["scripts"][0]["cloths"][0]["id"]
    assert offered(page) == sorted({HONEY["id"], PLUM["id"]} - {told})


# --- One cloth, no plan ---------------------------------------------------------------------------------------------


@pytest.fixture
def one_cloth(page: Page, site, dist):
    request = {"piece": DIAMOND, "cloth": {"kind": "fat_quarter"}, "way": "along_length"}
    return lambda taps=0: seat(page, site.url, app_folder(dist), request, [CUT] * taps, python=True)


def sides(page: Page, length: str, width: str):
    dialog = page.locator("replan-dialog")
    dialog.get_by_label("Length").fill(length)
    dialog.get_by_label("Width").fill(width)
    page.locator("[data-key=smaller-go]").tap()
    expect(dialog.get_by_text(said("basket_screen.replan.waiting"))).to_be_hidden(timeout=LONGEST_WAIT * 1000)
    return dialog


def test_another_cloth_than_the_one_that_was_counted_is_entered_by_its_sides(one_cloth):
    page = one_cloth(taps=2)
    before = mat(page)
    mending(page).get_by_role("button", name=said("mat.another_cloth.any")).tap()
    dialog = sides(page, "9", "20")
    expect(dialog).to_contain_text(said("mat.another_cloth.makes", all=6, before=15))
    go_on(page)
    assert totals(page) == (0, 6)
    page.get_by_role("button", name=said("mat.undo")).tap()
    until(page, SAME, before)
    assert totals(page) == (0, 15)


def test_sides_that_cannot_be_are_told_at_their_field_and_what_was_typed_stays(one_cloth):
    page = one_cloth()
    mending(page).get_by_role("button", name=said("mat.another_cloth.any")).tap()
    dialog = sides(page, "nine", "20")
    field = dialog.get_by_label("Length")
    expect(field).to_have_attribute("aria-invalid", "true")
    assert field.input_value() == "nine"
    expect(dialog.get_by_role("alert")).to_contain_text("nine")
    expect(sides(page, "9", "20")).to_contain_text(said("mat.another_cloth.makes", all=6, before=15))


def test_a_cloth_that_gives_no_piece_starts_no_guide(one_cloth):
    page = one_cloth()
    mending(page).get_by_role("button", name=said("mat.another_cloth.any")).tap()
    dialog = sides(page, "3", "3")
    expect(dialog.get_by_role("alert")).to_be_visible()
    page.locator("[data-key=replan-no]").tap()
    assert totals(page) == (0, 15)


def test_a_cloth_that_was_cut_into_is_not_entered_anew(one_cloth):
    page = one_cloth(taps_to_strip(0, piece=DIAMOND, cloth={"kind": "fat_quarter"}, way="along_length"))
    tap(page)
    assert mending(page).get_by_role("button", name=said("mat.another_cloth.any")).count() == 0


def test_each_side_says_how_it_lies_to_the_selvage_in_letters_for_the_mat(one_cloth):
    """A fat quarter's 18 in lie along its one selvage: common practice, no published source."""
    page = one_cloth()
    mending(page).get_by_role("button", name=said("mat.another_cloth.any")).tap()
    fields = page.locator("replan-dialog .field")
    assert fields.locator("label").all_inner_texts() == ["Length, along the selvage", "Width, away from the selvage"]
    assert fields.locator("input").evaluate_all("(all) => all.map(({ value }) => value)") == ["18", "20"]
    small = fields.locator("label, input").evaluate_all(
        "(all) => all.filter((one) => parseFloat(getComputedStyle(one).fontSize) < 34).length"
    )
    assert small == 0
    assert page.evaluate("document.querySelector('replan-dialog dialog').scrollWidth <= innerWidth")


# --- No more strips -------------------------------------------------------------------------------------------------


def no_more(page: Page):
    """Says that no more strips come of the cloth at hand; gives the dialog once it tells what that changes."""
    mending(page).get_by_role("button", name=said("basket_screen.replan.no_more")).tap()
    dialog = page.locator("replan-dialog")
    expect(dialog.get_by_text(said("basket_screen.replan.waiting"))).to_be_hidden(timeout=LONGEST_WAIT * 1000)
    return dialog


def taps_to_strip(nth: int, **request) -> int:
    """Cuts that lead to the step at which the nth strip is to be cut."""
    steps = guide(request)["steps"]
    return [i for i, step in enumerate(steps) if step["do"] == "strip"][nth]


@pytest.mark.long
def test_no_more_strips_of_one_cloth_and_it_goes_on_with_those_that_are_cut(one_cloth):
    """Two of five strips of 18 in: six pieces of fifteen."""
    page = one_cloth(taps_to_strip(2, piece=DIAMOND, cloth={"kind": "fat_quarter"}, way="along_length"))
    before = mat(page)
    dialog = no_more(page)
    expect(dialog).to_contain_text(said("mat.another_cloth.makes", all=6, before=15))
    events = len(sitting(page)["events"])
    page.locator("[data-key=replan-no]").tap()
    assert (mat(page), len(sitting(page)["events"])) == (before, events)
    no_more(page)
    go_on(page)
    assert totals(page) == (0, 6)
    assert sitting(page)["scripts"][1]["steps"][stored_step(page)]["do"] in ("unfold", "lay")
    page.get_by_role("button", name=said("mat.undo")).tap()
    until(page, SAME, before)
    no_more(page)
    go_on(page)
    page.evaluate(CUT_ON, "")
    assert totals(page) == (6, 6)
    assert made_by_id(page) == {"piece": 6}


def stored_step(page: Page) -> int:
    """The step that the core makes of the log as it is stored."""
    stored = sitting(page)
    return fold_log(stored["scripts"], stored["events"]).step


@pytest.mark.long
def test_no_more_strips_in_a_plan_and_the_rest_comes_from_the_next_cloth(at_the_mat):
    """Two of five strips of the quarter are six pieces, the eighth gives six more: 12 of 15."""
    request = planned([HONEY, EIGHTH], ONE_COLOUR)
    page = at_the_mat([HONEY, EIGHTH], ONE_COLOUR, taps_to_strip(2, **request))
    dialog = no_more(page)
    expect(dialog).to_contain_text("One more cloth is cut into: Fat eighth, honey.")
    expect(dialog).to_contain_text(said("mat.another_cloth.makes", all=12, before=15))
    expect(dialog).to_contain_text("3 pieces stay missing.")
    go_on(page)
    page.evaluate(CUT_ON, "Take the next cloth: Fat eighth, honey")
    assert totals(page) == (6, 12)
    page.evaluate(CUT_ON, "")
    assert totals(page) == (12, 12)


@pytest.mark.every(2)
@pytest.mark.parametrize("nth", [0, 1])
def test_no_more_strips_is_offered_from_the_second_strip_on_until_all_are_cut(one_cloth, nth: int):
    request = {"piece": DIAMOND, "cloth": {"kind": "fat_quarter"}, "way": "along_length"}
    page = one_cloth(taps_to_strip(nth, **request))
    offer = mending(page).get_by_role("button", name=said("basket_screen.replan.no_more"))
    assert offer.count() == nth
    page.get_by_role("button", name=said("mat.mend_close")).tap()
    for _ in range(5 - nth):
        tap(page)
    assert mending(page).get_by_role("button", name=said("basket_screen.replan.no_more")).count() == 0


@pytest.mark.long
def test_a_piece_lost_in_mid_cloth_is_planned_for_at_once(at_the_mat):
    cloths, pieces = [HONEY, EIGHTH], ONE_COLOUR
    page = at_the_mat(cloths, pieces, taps_to_piece(1, cloths, pieces))
    mending(page).get_by_role("button", name=said("mat.spoiled")).tap()
    until(page, "document.querySelector('.mat-total').innerText.includes('14')")
    before, told = totals(page), sentence(page)
    mending(page).get_by_role("button", name=said("basket_screen.replan.open")).tap()
    expect(page.locator("replan-dialog")).to_contain_text(
        said("mat.another_cloth.makes", all=15, before=14), timeout=LONGEST_WAIT * 1000
    )
    go_on(page)
    assert (before, totals(page), sentence(page)) == ((1, 14), (1, 15), told)
    page.evaluate(CUT_ON, "")
    assert totals(page) == (15, 15)


# --- A guide of the version before ------------------------------------------------------------------------------------


@pytest.mark.long
def test_a_guide_kept_from_before_steps_told_what_they_are_can_still_be_planned_anew(page: Page, site, dist):
    """Its steps have neither `cuts_into` nor `pause`, its script promises nothing; its
    request says what was promised.
    """
    cloths, pieces = [HONEY, EIGHTH], ONE_COLOUR
    taps = taps_to_strip(2, **planned(cloths, pieces))
    seat(page, site.url, app_folder(dist), planned(cloths, pieces), [CUT] * taps)
    page.evaluate(OLDER)
    awake(page)
    page.reload()
    page.locator(".mat-sentence").wait_for()
    assert "cuts_into" not in sitting(page)["scripts"][0]["steps"][0]
    expect(no_more(page)).to_contain_text(said("mat.another_cloth.makes", all=12, before=15))
    go_on(page)
    page.evaluate(CUT_ON, "")
    page.evaluate(CUT_ON, "")
    assert totals(page) == (12, 12)


OLDER = """() => new Promise((done, failed) => {
  const opening = indexedDB.open("matside");
  opening.onerror = failed;
  opening.onsuccess = () => {
    const doing = opening.result.transaction("sittings", "readwrite");
    const kept = doing.objectStore("sittings");
    kept.getAll().onsuccess = ({ target }) => target.result.forEach((record) => {
      record.scripts.forEach((script) => {
        delete script.promised;
        script.cloths.forEach((cloth) => delete cloth.selvage);
        script.steps.forEach((step) => { delete step.cuts_into; delete step.pause; });
      });
      kept.put(record);
    });
    doing.oncomplete = () => { opening.result.close(); done(); };
    doing.onerror = failed;
  };
})"""
