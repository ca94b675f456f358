"""The guide at the mat: a whole fat quarter from the first visit to the last cut, and
everything that goes wrong on the way.
"""

import math
import re

import pytest
from playwright.sync_api import Page, expect

import matside
from folding import fold_log
from kept_state import sitting
from phone import until
from quilter import (
    CHANGED,
    LEAPS,
    SAME,
    app_folder,
    choose,
    cloth_kind,
    count_screen,
    guide,
    mat,
    mend,
    mending,
    of_strip,
    said,
    seat,
    sentence,
    sentence_of,
    start_cutting,
    tap,
    totals,
    until_says,
)  # fmt: skip

FAT_QUARTER = {
    "piece": {"shape": "diamond", "size": 4, "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}
CUT = {"event": "cut"}


@pytest.fixture
def at_the_mat(page: Page, site, dist):
    """Sits down at a guide, after some events; the fat quarter's unless told otherwise.
    Python never gets ready here.
    """
    return lambda events=(), settings=None, **request: seat(
        page, site.url, app_folder(dist), {**FAT_QUARTER, **request}, events, settings
    )


def script(**request) -> dict:
    return guide({**FAT_QUARTER, **request})


def cuts_to(do: str, nth: int = 0, **request) -> list[dict]:
    """Cuts that lead to the nth step that does this."""
    return [CUT] * [i for i, step in enumerate(script(**request)["steps"]) if step["do"] == do][nth]


# --- The whole journey ----------------------------------------------------------------------------------------------


@pytest.mark.long
def test_a_fat_quarter_from_the_first_visit_to_the_last_cut_with_the_server_gone_in_mid_strip(page: Page, own_site):
    """Three taps to the answer, one to the guide. 15 from five strips along the 18: common
    practice, no published source.
    """
    page.add_init_script(LEAPS)
    count_screen(page, own_site.url)
    choose(page, said("page.angle"), "60°")
    choose(page, said("page.size_quick", unit="in"), "4")
    cloth_kind(page, "fat_quarter")
    expect(page.locator(".standing")).to_have_text(said("page.standing.ready"), timeout=60_000)
    start_cutting(page)
    assert totals(page) == (0, 15)
    until_says(page, "4 in line on the cut")
    tap(page)
    assert of_strip(page) == (1, 3)
    own_site.stop()
    before = mat(page)
    page.reload()
    page.locator(".mat-sentence").wait_for()
    assert mat(page) == before
    seen = [of_strip(page)]
    while sentence(page) != said("guide.done.short"):
        tap(page)
        seen.append(totals(page))
    assert totals(page) == (15, 15)
    assert page.locator(".mat-count").inner_text() == "15"
    assert counted(page) == 15
    page.evaluate("leap(600)")
    page.locator(".mat-zone").tap()
    page.locator("answer-view").wait_for()


def counted(page: Page) -> int:
    """What the core makes of the log as it is stored."""
    stored = sitting(page)
    return fold_log(stored["scripts"], stored["events"]).total("made")


def test_every_tap_is_stored_and_shown_as_the_core_counts_it(at_the_mat):
    page = at_the_mat()
    steps = script()["steps"]
    for at in range(len(steps) - 1):
        state = fold_log([script()], [CUT] * at)
        assert totals(page)[0] == state.total("made")
        assert sentence(page) == sentence_of(steps[at])
        tap(page)
    assert len(sitting(page)["events"]) == len(steps) - 1


@pytest.mark.long
def test_a_cloth_that_is_divided_first_is_cut_to_the_end(at_the_mat):
    request = {
        "piece": {"shape": "diamond", "size": 5, "angle": 60},
        "cloth": {"length": 24, "width": 27},
        "way": "mixed",
    }
    steps = script(**request)["steps"]
    page = at_the_mat(cuts_to("divide", **request), **request)
    assert sentence(page) == sentence_of(next(step for step in steps if step["do"] == "divide"))
    tap(page, 2)
    page = at_the_mat([CUT] * (len(steps) - 2), **request)
    tap(page)
    assert totals(page)[0] == totals(page)[1] == sum(strip["planned"] for strip in script(**request)["strips"])


def test_stopping_keeps_the_place_and_the_tab_leads_back_to_it(at_the_mat):
    page = at_the_mat(cuts_to("piece", 2))
    before = mat(page)
    page.get_by_role("button", name=said("mat.leave")).tap()
    page.locator(".tabs").wait_for()
    page.get_by_role("link", name=said("page.tab.cut"), exact=True).tap()
    page.locator(".mat-sentence").wait_for()
    assert mat(page) == before


# --- Taps -----------------------------------------------------------------------------------------------------------


@pytest.mark.every(6)
@pytest.mark.parametrize(("apart", "counts"), [(0, 1), (120, 1), (499, 1), (500, 2), (900, 2)])
def test_a_bump_within_half_a_second_counts_once(at_the_mat, apart: int, counts: int):
    page = at_the_mat(cuts_to("piece", 1))
    page.evaluate(
        """(apart) => {
      const zone = document.querySelector('.mat-zone');
      leap(1000);
      zone.click();
      leap(apart);
      zone.click();
      leap(1000);
    }""",
        apart,
    )
    until(page, "(made) => document.querySelector('.mat-total').innerText.startsWith(`${made} `)", 1 + counts)
    page.wait_for_timeout(50)
    assert totals(page)[0] == 1 + counts
    assert len(sitting(page)["events"]) == len(cuts_to("piece", 1)) + counts


@pytest.mark.long
def test_a_bump_after_the_last_cut_does_not_close_the_guide(at_the_mat):
    page = at_the_mat(cuts_to("done")[:-1])
    tap(page)
    page.evaluate("leap(300)")
    page.locator(".mat-zone").tap()
    page.wait_for_timeout(100)
    assert sentence(page) == said("guide.done.short")
    page.evaluate("leap(300)")
    page.locator(".mat-zone").tap()
    page.locator("answer-view").wait_for()


def test_a_tap_anywhere_in_the_big_zone_counts(at_the_mat):
    """At least 20 mm, about 126 px (Colle & Hiszem, Ergonomics 2004, abstract); here it is
    all that lies between the bars.
    """
    page = at_the_mat(cuts_to("piece", 2))
    box = page.locator(".mat-zone").bounding_box()
    assert min(box["width"], box["height"]) >= 126
    for x, y in ((0.03, 0.02), (0.97, 0.02), (0.5, 0.5), (0.03, 0.97), (0.97, 0.97)):
        before = mat(page)
        page.evaluate("leap(600)")
        page.touchscreen.tap(box["x"] + x * box["width"], box["y"] + y * box["height"])
        until(page, CHANGED, before)


def test_several_layers_count_several_pieces(at_the_mat):
    page = at_the_mat(cuts_to("piece", layers=3), layers=3)
    assert (of_strip(page), totals(page)) == ((0, 9), (0, 15))
    tap(page)
    assert (of_strip(page), totals(page)) == ((3, 9), (3, 15))


# --- What happened? -------------------------------------------------------------------------------------------------


@pytest.mark.every(2)
@pytest.mark.parametrize("do", ["strip", "recheck", "strip_done", "done"])
def test_undo_leads_back_to_what_was_seen_before(at_the_mat, do: str):
    events = cuts_to(do)
    page = at_the_mat(events[:-1])
    before = mat(page)
    tap(page)
    page.get_by_role("button", name=said("mat.undo")).tap()
    until(page, SAME, before)


@pytest.mark.long
def test_undoing_to_a_point_says_first_what_it_leaves_and_takes_a_second_tap(at_the_mat):
    """WCAG 2.2, 3.3.4: what cannot be brought back is confirmed."""
    events = cuts_to("piece", 2)
    page = at_the_mat(cuts_to("piece", 1))
    before = mat(page)
    page = at_the_mat(events)
    taken_back = len(events) - len(cuts_to("piece", 1))
    page.locator(".mat-total").tap()
    button = page.get_by_role("dialog").get_by_role("listitem").get_by_role("button").nth(taken_back - 1)
    button.tap()
    expect(button).to_have_text(said("where.undo_sure", left=1))
    assert len(sitting(page)["events"]) == len(events)
    button.tap()
    until(page, SAME, before)
    assert (len(sitting(page)["events"]), totals(page)) == (len(events) + 1, (1, 15))


def test_nothing_can_be_undone_before_the_first_step(at_the_mat):
    page = at_the_mat()
    expect(page.get_by_role("button", name=said("mat.undo"))).to_be_disabled()


def test_the_piece_just_cut_is_spoiled(at_the_mat):
    page = at_the_mat(cuts_to("piece", 1))
    mend(page, said("mat.spoiled"))
    assert (of_strip(page), totals(page)) == ((1, 2), (1, 14))


def test_the_last_piece_counted_is_spoiled(at_the_mat):
    page = at_the_mat(cuts_to("piece", 2))
    mend(page, said("mat.spoiled_before"))
    assert (of_strip(page), totals(page)) == ((1, 2), (1, 14))


@pytest.mark.long
def test_a_strip_that_ends_early_goes_on_with_the_next(at_the_mat):
    page = at_the_mat(cuts_to("piece", 1))
    dialog = mending(page)
    expect(dialog.get_by_text(said("mat.ends_early"))).to_be_visible()
    dialog.get_by_title(said("mat.ends_early_effect", left=0, all=13)).tap()
    until(page, "() => document.querySelector('.mat-total').innerText.endsWith('13 in all')")
    assert sentence(page) == said("guide.strip_done.short")
    until_says(page, said("guide.done.short"))
    assert totals(page) == (13, 13)


def test_one_more_than_planned_and_a_count_put_right(at_the_mat):
    page = at_the_mat(cuts_to("strip_done"))
    mend(page, said("mat.extra"))
    assert totals(page) == (4, 16)
    mending(page).get_by_title(said("mat.recount_effect", n=6, all=18)).tap()
    until(page, "() => document.querySelector('.mat-total').innerText.startsWith('6 ')")
    assert totals(page) == (6, 18)


def recount(page: Page, n: int) -> str:
    """Says in "what happened?" how many pieces there really are; what that choice said of it before."""
    before = mat(page)
    choice = mending(page).get_by_title(re.compile(rf"^I really have {n}\b"))
    told = choice.get_attribute("title")
    choice.tap()
    until(page, CHANGED, before)
    return told


def test_a_missed_tap_moves_the_strip_on_and_a_surplus_one_back_and_all_stays_what_it_was(at_the_mat):
    """Three fit in the strip; one is counted and two are there."""
    page = at_the_mat(cuts_to("piece", 1))
    told = recount(page, 2)
    assert told == said("mat.recount_strip_effect.one", now=2, all=15)
    assert (of_strip(page), totals(page), sentence(page)) == ((2, 3), (2, 15), sentence_of(piece_step(3)))
    told = recount(page, 0)
    assert told == said("mat.recount_strip_back.other", now=0, n=2, all=15)
    assert (of_strip(page), totals(page), sentence(page)) == ((0, 3), (0, 15), sentence_of(piece_step(1)))
    recount(page, 3)
    assert (of_strip(page), totals(page)) == ((3, 3), (3, 15))
    assert sentence(page) == said("guide.strip_done.short")
    page.get_by_role("button", name=said("mat.undo")).tap()
    until(page, "() => document.querySelector('.mat-total').innerText.startsWith('0 ')")
    assert totals(page) == (0, 15)


def piece_step(k: int) -> dict:
    return [step for step in script()["steps"] if step["do"] == "piece"][k - 1]


def test_outside_the_strips_own_number_the_count_is_put_right_as_a_whole(at_the_mat):
    page = at_the_mat(cuts_to("piece", 1))
    assert recount(page, 4) == said("mat.recount_effect", n=4, all=18)
    assert totals(page) == (4, 18)


def test_a_strip_of_the_wrong_width_is_put_aside_with_what_was_counted_of_it(at_the_mat):
    page = at_the_mat(cuts_to("piece", 1))
    before = mat(page)
    mend(page, said("mat.wrong_width"))
    assert (totals(page), sentence(page)) == ((0, 12), said("guide.strip_done.short"))
    page.get_by_role("button", name=said("mat.undo")).tap()
    until(page, SAME, before)
    assert totals(page) == (1, 15)


CHOICES = "[...document.querySelectorAll('mend-dialog button')].map((button) => button.title || button.innerText)"


@pytest.mark.long
@pytest.mark.every(3)
@pytest.mark.parametrize(("do", "layers"), [("piece", 1), ("strip_done", 1), ("piece", 2)])
def test_every_choice_says_before_what_it_will_make_in_all(at_the_mat, do: str, layers: int):
    """Each is tapped, and undone again."""
    page = at_the_mat(
        [
            *cuts_to("piece", 1, layers=layers),
            {"event": "spoiled", "n": 1},
            *[CUT] * 3,
            *cuts_to(do, -1, layers=layers)[len(cuts_to("piece", 1, layers=layers)) + 4 :],
        ],
        layers=layers,
    )
    before = mat(page)
    mending(page)
    texts = page.evaluate(CHOICES)
    page.get_by_role("button", name=said("mat.mend_close")).tap()
    told = [(i, re.search(r"[Mm]akes (\d+) in all", text)) for i, text in enumerate(texts)]
    assert any(found for _, found in told)
    for i, found in told:
        if found:
            mending(page).get_by_role("button").nth(i).tap()
            until(page, CHANGED, before)
            assert totals(page)[1] == int(found[1]), texts[i]
            page.get_by_role("button", name=said("mat.undo")).tap()
            until(page, SAME, before)


def test_closing_the_question_changes_nothing(at_the_mat):
    page = at_the_mat(cuts_to("piece", 1))
    before = mat(page)
    mending(page).get_by_role("button", name=said("mat.mend_close")).tap()
    assert mat(page) == before
    mending(page)
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_be_hidden()
    assert mat(page) == before
    assert len(sitting(page)["events"]) == len(cuts_to("piece", 1))


# --- The last act and the next --------------------------------------------------------------------------------------


def test_one_glance_gives_the_last_act_and_the_next_each_with_its_value(at_the_mat):
    """Interruptions of three seconds double errors of sequence (Altmann, Trafton & Hambrick 2014): what
    is in sight needs no memory.
    """
    page = at_the_mat(cuts_to("strip", 2))
    undo, then = page.get_by_role("button", name=said("mat.undo")), page.locator(".mat-then")
    expect(undo).to_have_text(
        re.compile(re.escape(said("mat.undo_what", what=said("mat.past.strip", k=2, size="4 in"))))
    )
    tap(page, 3)
    page = at_the_mat(cuts_to("piece", 1))
    expect(undo).to_contain_text(said("mat.past.recheck", short_diagonal="4⅝ in"))
    page = at_the_mat(cuts_to("starter"))
    assert then.inner_text() == said("mat.then.turn")
    page = at_the_mat(cuts_to("lay"))
    assert then.inner_text() == said("mat.then.starter", degrees=60)
    mend(page, said("mat.wrong_width"))
    expect(undo).to_contain_text(said("mat.past_event.wrong_width"))


def test_what_lacks_a_value_is_told_without_it(page: Page, site, dist):
    """A script of another version may give other values."""
    bare = script()
    steps = [{**step, "values": {}} for step in bare["steps"]]
    seat(page, site.url, app_folder(dist), FAT_QUARTER, cuts_to("piece"), script={**bare, "steps": steps})
    for _ in range(4):
        tap(page)
        assert "undefined" not in page.locator("mat-view").inner_text()
    assert said("mat.past.piece_plain") in page.locator(".mat-undo").text_content()


def test_practice_says_first_which_strip_of_paper_to_take_and_to_spare_the_good_blade(at_the_mat):
    strip = {
        "cloth": {"kind": "full_width_strip", "width": 36, "selvage": "none"},
        "way": "along_width",
        "practice": True,
    }
    page = at_the_mat(**strip)
    assert sentence(page) == said("mat.practice_strip.short", size="4 in", run="36 in")
    assert "old blade" in page.locator(".mat-more").text_content()
    tap(page)
    assert "paper" not in sentence(page)


# --- All cut --------------------------------------------------------------------------------------------------------


def test_once_all_is_cut_the_piles_and_what_can_come_next_are_there(at_the_mat):
    page = at_the_mat(cuts_to("done")[:-1])
    tap(page)
    pile = page.locator(".mat-end li")
    expect(pile).to_have_count(1)
    assert pile.locator("path").count() == 1
    assert "15 of 15" in pile.inner_text() and "4 in" in pile.inner_text()
    page.get_by_role("button", name=said("mat.ended.check")).tap()
    page.locator("main h1").wait_for()
    assert page.url.endswith("#drift/cut")
    page.go_back()
    page.get_by_role("button", name=said("mat.ended.leave")).tap()
    page.locator("answer-view").wait_for()


@pytest.mark.long
def test_piles_of_either_grain_and_strips_to_be_joined_are_told_apart(page: Page, site, dist):
    made = script()
    for strip, pile in zip(made["strips"], ["lengthwise", "lengthwise", "crosswise", "crosswise", None], strict=True):
        strip["pile"] = pile
    made["pieces"].append({**made["pieces"][0], "id": "sash_long/joined", "counted": False})
    made["strips"][-1]["piece"] = "sash_long/joined"
    seat(page, site.url, app_folder(dist), FAT_QUARTER, [CUT] * (len(made["steps"]) - 1), script=made)
    assert totals(page) == (12, 12)
    piles = page.locator(".mat-end li").all_inner_texts()
    assert [pile.split(",")[-1].strip() for pile in piles[:2]] == [
        said("where.grain.lengthwise"),
        said("where.grain.crosswise"),
    ]
    assert all("6 of 6" in pile for pile in piles[:2])
    assert piles[2].startswith(
        said("where.pile_joined.other", name=said("quilt.kind.sash_long"), n=3, size="4 in", fabric="").strip()
    )
    page.locator(".mat-total").tap()
    assert page.get_by_role("dialog").locator(".pile").all_inner_texts() == piles


# --- The drawing ----------------------------------------------------------------------------------------------------

POLYGONS = """(role) => [...document.querySelectorAll(`scene-view .${role}`)].filter((path) => path.tagName === 'path').map((path) =>
  path.getAttribute('d').replace(/[MZ]/g, '').split('L').map((point) => point.split(' ').map(Number)))"""


def polygons(page: Page, role: str) -> list[list[list[float]]]:
    """Outlines of a role as they are drawn, in inches."""
    return page.evaluate(POLYGONS, role)


def test_the_ruler_is_drawn_to_the_scale_of_the_strip(at_the_mat):
    page = at_the_mat(cuts_to("piece"))
    (ruler,) = polygons(page, "ruler")
    sides = sorted({round(math.dist(a, b), 3) for a, b in zip(ruler, ruler[1:] + ruler[:1], strict=True)})
    known = [sorted((each["width"], each["length"])) for each in matside.answer({"ask": "facts"})["rulers"]]
    assert sides in known
    for piece in polygons(page, "piece"):
        lengths = [math.dist(a, b) for a, b in zip(piece, piece[1:] + piece[:1], strict=True)]
        assert lengths == [pytest.approx(4 / math.sin(math.radians(60)), abs=1e-3)] * 4


def test_the_lines_that_matter_are_drawn_and_named(at_the_mat):
    page = at_the_mat(cuts_to("piece"))
    assert [len(polygons(page, role)) for role in ("angle-line", "measure-line", "cut")] == [1, 1, 1]
    assert page.locator("scene-view text.angle-line").text_content() == "60°"
    assert page.locator("scene-view text.measure-line").text_content() == "4 in"


def test_the_pieces_go_one_by_one_and_the_next_one_is_picked_out(at_the_mat):
    page = at_the_mat(cuts_to("piece"))
    for gone in range(3):
        assert page.locator("scene-view .piece.gone").count() == gone
        assert page.locator("scene-view .piece.next").count() == 1
        (next_one,), cut = in_sight(page, "piece.next"), in_sight(page, "cut")[0]
        assert next_one["right"] == pytest.approx(cut["right"], abs=6)  # px: half of either stroke
        until_says_other(page)


def in_sight(page: Page, name: str) -> list[dict]:
    return page.evaluate(
        """(name) => [...document.querySelectorAll(`scene-view .${name}`)].map((path) => {
      const { left, right, top, bottom } = path.getBoundingClientRect();
      return { left, right, top, bottom };
    })""",
        name,
    )


def until_says_other(page: Page) -> None:
    """Taps until the next piece, past a check."""
    tap(page)
    if sentence(page).startswith("Check"):
        tap(page)


# The letters are there, and the drawing has the room that they leave.
SETTLED = """() => document.fonts.ready.then(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))))"""


@pytest.mark.long
@pytest.mark.every(3)
@pytest.mark.parametrize("do", ["strip", "starter", "piece"])
def test_the_left_hand_sees_the_right_hands_drawing_in_a_mirror(at_the_mat, new_context, site, dist, do: str):
    left = at_the_mat(cuts_to(do), {"hand": "left"}, hand="left")
    right = seat(new_context().new_page(), site.url, app_folder(dist), FAT_QUARTER, cuts_to(do))
    width = right.viewport_size["width"]
    for page in (left, right):
        page.evaluate(SETTLED)
    for role in ("piece", "strip", "waste", "cut", "ruler"):
        seen, other = in_sight(right, role), in_sight(left, role)
        assert len(seen) == len(other)
        for one, mirror in zip(seen, other, strict=True):
            assert mirror == pytest.approx({**one, "left": width - one["right"], "right": width - one["left"]}, abs=1)


@pytest.mark.long
def test_the_left_hand_has_the_buttons_on_its_own_side(at_the_mat, new_context, site, dist):
    left = at_the_mat(cuts_to("piece"), {"hand": "left"}, hand="left")
    right = seat(new_context().new_page(), site.url, app_folder(dist), FAT_QUARTER, cuts_to("piece"))
    for name in (said("mat.undo"), said("mat.mend")):
        boxes = [page.get_by_role("button", name=name).bounding_box() for page in (left, right)]
        assert boxes[0]["x"] == pytest.approx(390 - boxes[1]["x"] - boxes[1]["width"], abs=1)


def test_a_strip_that_lies_away_from_the_body_is_drawn_so(at_the_mat):
    page = at_the_mat(cuts_to("piece"), {"lay": "away"}, lay="away")
    pieces = [point for piece in polygons(page, "piece") for point in piece]
    wide, high = (max(axis) - min(axis) for axis in zip(*pieces, strict=True))
    assert wide == pytest.approx(4, abs=1e-3)
    assert high > 12
    (next_one,) = in_sight(page, "piece.next")
    assert next_one["top"] < next_one["bottom"] <= page.viewport_size["height"]


def test_the_next_piece_is_wholly_in_sight_and_not_below_the_words(at_the_mat):
    for lay in ("along",):
        page = at_the_mat(cuts_to("piece"), {"lay": lay}, lay=lay)
        (box,) = in_sight(page, "piece.next")
        frame = page.locator("scene-view").bounding_box()
        assert box["left"] >= -1 and box["right"] <= 391
        assert box["top"] >= frame["y"] - 1
        assert box["bottom"] <= frame["y"] + frame["height"] + 1
