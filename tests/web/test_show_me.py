"""Show me: which moves a step has, how the scene looks in the middle of them, and how they are played at the mat."""

import json
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from axe import complaints
from kept_state import sitting
from phone import SCREEN, until
from quilter import CHANGED, app_folder, guide, mat, painted, said, seat, sentence, tap
from steps.places import tool

HERE = Path(__file__).parent
FAT_QUARTER = {
    "piece": {"shape": "diamond", "size": 4, "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}
FOLDED = {**FAT_QUARTER, "cloth": {"length": 36, "width": 42}, "way": "along_width"}
DIVIDED = {"piece": {"shape": "diamond", "size": 5, "angle": 60}, "cloth": {"length": 24, "width": 27}, "way": "mixed"}
NARROW = [{"name": "narrow", "width": 2.5, "length": 18, "angles": [{"degrees": 60, "from": "long"}]}]
REQUESTS = {
    "fat quarter": FAT_QUARTER,
    "folded": FOLDED,
    "divided": DIVIDED,
    "no ruler": {**FAT_QUARTER, "rulers": []},
    "narrow ruler": {**FAT_QUARTER, "rulers": NARROW},
    "triangles": {**FAT_QUARTER, "piece": {"shape": "half-diamond", "size": 4, "angle": 60}},
    "rectangles": {**FAT_QUARTER, "piece": {"shape": "rectangle", "size": 4, "length": 5}},
    "away": {**FAT_QUARTER, "lay": "away"},
}
TIMES = [0.2, 0.35, 0.5, 0.65, 0.8, 0.9]
PLAYED = "(document.querySelector('.mat-body scene-view').dataset.move ?? null)"
KINDS = ("press", "place", "fold", "open", "turn", "check", "trim", "strip", "end", "starter", "piece", "slide_strip", "slide_ruler")  # fmt: skip


@pytest.fixture(scope="module")
def shown(dist):
    """What is shown of each request's steps: {name: [step]}, for a hand."""
    (app,) = dist.glob("app-*")
    words = json.loads((app / "words" / "en.json").read_text("utf-8"))

    def show(hand: str) -> dict[str, list[dict]]:
        scripts = [guide({**request, "hand": hand}) for request in REQUESTS.values()]
        asked = {"app": app.as_uri(), "words": words, "scripts": scripts, "times": TIMES}
        done = subprocess.run(
            [tool("node"), "--no-warnings", HERE / "showing.mjs"],
            input=json.dumps(asked),
            capture_output=True,
            text=True,
        )
        assert done.returncode == 0, done.stderr
        told = json.loads(done.stdout)
        return {
            name: [{**one, "step": step, "scene": scene_of(script, step)} for one, step in zip(steps, script["steps"])]
            for name, script, steps in zip(REQUESTS, scripts, told)
        }

    return {hand: show(hand) for hand in ("right", "left")}


def scene_of(script: dict, step: dict) -> dict | None:
    return None if step["scene"] is None else script["scenes"][step["scene"]]


def every_step(shown, hand: str = "right"):
    return [one for steps in shown[hand].values() for one in steps]


# --- Which moves, and how it looks in the middle of them ------------------------------------------------------------


@pytest.mark.long
def test_a_ruler_comes_first_then_each_of_its_lines_then_the_cut_and_what_it_frees(shown):
    (step,) = [one for one in shown["right"]["fat quarter"] if one["step"]["do"] == "starter"][:1]
    assert [move["kind"] for move in step["moves"]] == ["ruler", "light", "cut", "off"]
    (piece,) = [one for one in shown["right"]["fat quarter"] if one["step"]["do"] == "piece"][:1]
    assert [move.get("role", move["kind"]) for move in piece["moves"]] == [
        "ruler", "measure-line", "angle-line", "cut", "off",
    ]  # fmt: skip
    assert [move["ms"] for move in piece["moves"][:4]] == [600, 300, 300, 600]


@pytest.mark.long
def test_what_is_measured_is_marked_before_a_ruler_is_laid_by_it(shown):
    pieces = [one for one in shown["right"]["narrow ruler"] if one["step"]["do"] == "piece"]
    kinds = [move.get("role", move["kind"]) for move in pieces[0]["moves"]]
    assert kinds.index("measure-line") < kinds.index("mark") < kinds.index("ruler") < kinds.index("angle-line")


def test_every_cut_of_every_guide_is_shown_and_every_line_before_it(shown):
    for one in every_step(shown):
        over = (one["scene"] or {"over": {}})["over"].get(one["step"]["over"], [])
        roles = {shape["role"] for shape in over}
        lit = {move["role"] for move in one["moves"] if move["kind"] == "light"}
        kinds = [move["kind"] for move in one["moves"]]
        assert ("cut" in kinds) == ("cut" in roles)
        assert roles & {"measure-line", "angle-line", "last-cut"} <= lit
        assert "cut" not in kinds or kinds[kinds.index("cut") :] == ["cut", "off"]


def test_each_kind_is_met_in_the_guides(shown):
    """Press, fold, straighten, lay a ruler line, cut, turn, slide, check: the moves that there are to show."""
    assert {kind for one in every_step(shown) for kind in one["kinds"]} == {*KINDS, "piece_back"}


def test_before_anything_moves_no_ruler_lies_there_and_after_it_all_is_as_the_core_has_it(shown):
    for one in every_step(shown):
        kinds = {move["kind"] for move in one["moves"]}
        if not kinds:
            continue
        over = one["scene"]["over"].get(one["step"]["over"], [])
        if "ruler" in kinds:
            hidden = [state["opacity"] for shape, state in zip(over, one["before"]["over"]) if shape["role"] == "ruler"]
            assert hidden and not any(hidden)
        if "off" not in kinds:
            drawn = [*one["after"]["still"], *one["after"]["over"], *one["after"]["pieces"]]
            points = [shape["points"] for shape in (*one["scene"]["still"], *over)] + one["scene"]["pieces"]
            assert rounded([state["points"] for state in drawn]) == rounded(points)
            assert all(state["opacity"] == 1 for state in drawn)


def test_what_comes_off_keeps_its_shape_and_leaves_the_rest(shown):
    for one in every_step(shown):
        if "off" not in [move["kind"] for move in one["moves"]]:
            continue
        before, after, following = one["before"], one["after"], one["step"]["next"]
        if following is not None:
            assert area(after["pieces"][following]["points"]) == pytest.approx(area(one["scene"]["pieces"][following]))
            assert after["pieces"][following]["points"] != before["pieces"][following]["points"]
        else:
            moved = [k for k, state in enumerate(after["still"]) if state["points"] != before["still"][k]["points"]]
            assert moved or after["loose"]


def area(points: list) -> float:
    return abs(sum(x * Y - X * y for (x, y), (X, Y) in zip(points, [*points[1:], points[0]]))) / 2


def test_the_left_hand_sees_the_mirror_image_at_every_moment(shown):
    for right, left in zip(every_step(shown), every_step(shown, "left")):
        assert right["kinds"] == left["kinds"]
        for one, other in zip(right["poses"], left["poses"]):
            assert areas(mirrored(one), right) == areas(other, left)


def mirrored(pose: dict) -> dict:
    def turned(state: dict) -> dict:
        return {**state, "points": [[-x, y] for x, y in state["points"]]}

    return {key: [turned(state) for state in pose[key]] for key in ("still", "over", "pieces", "loose")}


def rounded(value):
    """To a millionth of an inch."""
    return [rounded(each) for each in value] if isinstance(value, list) else round(value, 6) + 0.0


def areas(pose: dict, of: dict) -> list:
    """What is drawn, whichever corner an area begins at; but for a ruler's own lines, which are printed one way."""
    over = of["scene"]["over"].get(of["step"]["over"], [])
    seen = [state for shape, state in zip(over, pose["over"]) if shape["role"] != "ruler-line"]
    return [sorted(rounded(state["points"])) for state in (*pose["still"], *seen, *pose["pieces"], *pose["loose"])]


def test_every_still_says_what_it_shows(shown):
    texts = [still["text"] for one in every_step(shown) for still in one["stills"]]
    assert "4 in line on the last cut" in texts and "60° line on the bottom edge" in texts
    assert all(text and "{" not in text for text in texts)
    slid = {
        one["scene"]["moves"]: one["stills"][0]["text"]
        for one in every_step(shown)
        if "slide" in [move["kind"] for move in one["moves"]]
    }
    assert slid == {moves: said(f"show_me.still.slide.{moves}") for moves in ("strip", "ruler")}
    away = [still["text"] for one in shown["right"]["away"] if one["step"]["do"] == "piece" for still in one["stills"]]
    assert said("show_me.still.aside.any") in away and said("show_me.still.cut.any") not in away


# --- At the mat -----------------------------------------------------------------------------------------------------


@pytest.fixture
def moving(new_context, site, dist):
    """Sits down at a step of the guide with a device on which things may move."""
    page = new_context(reduced_motion="no-preference").new_page()

    def sit(do: str, nth: int = 0, settings: dict | None = None, **request) -> Page:
        request = {**FAT_QUARTER, **request}
        return seat(page, site.url, app_folder(dist), request, cuts_to(do, nth, request), settings)

    return sit


@pytest.fixture
def at_rest(page, site, dist):
    """The same on a device that wants less movement."""

    def sit(do: str, nth: int = 0, settings: dict | None = None, **request) -> Page:
        request = {**FAT_QUARTER, **request}
        return seat(page, site.url, app_folder(dist), request, cuts_to(do, nth, request), settings)

    return sit


def cuts_to(do: str, nth: int, request: dict) -> list[dict]:
    steps = guide(request)["steps"]
    return [{"event": "cut"}] * [i for i, step in enumerate(steps) if step["do"] == do][nth]


def seen(*kinds: str) -> dict:
    return {"shown": dict.fromkeys(kinds or KINDS, 2)}


def kept(page: Page) -> dict:
    """The settings as they are kept."""
    return page.evaluate(
        """async (module) => { const { Store } = await import(module); const store = new Store();
          await store.open(); return store.get("settings"); }""",
        page.evaluate(
            "performance.getEntriesByType('resource').find(({ name }) => name.endsWith('/store/store.js')).name"
        ),
    )


@pytest.mark.long
def test_a_kind_of_move_is_shown_the_first_two_times_only(moving):
    page = moving("strip", settings=seen("slide_ruler"))
    until(page, f"{PLAYED} === 'cut'")
    until(page, f"{PLAYED} === null")
    tap(page)
    until(page, f"{PLAYED} !== null")
    tap(page)
    page.wait_for_timeout(200)
    assert page.evaluate(PLAYED) is None
    assert kept(page)["shown"] == {"slide_ruler": 2, "strip": 2}


@pytest.mark.long
def test_it_plays_to_its_end_and_the_step_stands_there_as_it_was(moving):
    page = moving("piece", settings=seen())
    before = drawn(page)
    ask(page)
    until(page, f"{PLAYED} === 'ruler'")
    until(page, f"{PLAYED} === 'off'")
    until(page, f"{PLAYED} === null")
    assert drawn(page) == before


def drawn(page: Page) -> list[str]:
    return page.evaluate(
        "[...document.querySelectorAll('.mat-body scene-view path')].map((path) => `${path.getAttribute('d')} ${getComputedStyle(path).opacity} ${path.style.transform}`)"
    )


def ask(page: Page) -> None:
    page.locator("[data-key=why]").tap()
    page.locator("dialog[open] [data-key=open]").tap()


@pytest.mark.every(2)
@pytest.mark.parametrize("how", ["tap", "key", "undo"])
def test_a_hand_that_counts_ends_it_at_once_and_counts_as_ever(moving, how: str):
    page = moving("piece", 1)
    until(page, f"{PLAYED} === 'ruler'")
    before, shown = len(sitting(page)["events"]), mat(page)
    acts = {
        "tap": "document.querySelector('.mat-zone').click()",
        "key": "document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'PageDown', bubbles: true }))",
        "undo": "document.querySelector('.mat-undo').click()",
    }
    # In the same task: nothing was waited for.
    assert page.evaluate(f"(leap(600), {acts[how]}, {PLAYED})") is None
    until(page, CHANGED, shown)
    assert len(sitting(page)["events"]) == before + 1


def test_a_finger_that_comes_down_ends_it_before_it_is_lifted(moving):
    page = moving("piece")
    until(page, f"{PLAYED} === 'ruler'")
    page.locator(".mat-zone").dispatch_event("pointerdown")
    assert page.evaluate(PLAYED) is None


@pytest.mark.long
def test_words_stand_still_and_nothing_begins_before_them(moving):
    page = moving("piece")
    until(page, f"{PLAYED} !== null")
    places = "[...document.querySelectorAll('.mat-sentence, .mat-more, .mat-hint, .mat-then, .mat-bar button, .mat-count')].map((part) => JSON.stringify(part.getBoundingClientRect()))"
    first = page.evaluate(places)
    until(page, f"{PLAYED} === 'cut'")
    assert page.evaluate(places) == first
    until(page, f"{PLAYED} === null")
    assert page.evaluate(places) == first


@pytest.mark.long
def test_what_an_older_page_kept_stays(moving):
    page = moving("piece", settings={"units": "cm", "tapped": 4, "hand": "right"})
    until(page, f"{PLAYED} !== null")
    until(page, f"{PLAYED} === null")
    assert kept(page) == {"units": "cm", "tapped": 4, "hand": "right", "shown": {"piece": 1}}


def test_practice_begins_with_it_however_often_it_was_seen(moving):
    practice = {
        "piece": FAT_QUARTER["piece"],
        "cloth": {"kind": "full_width_strip", "width": 16, "selvage": "none"},
        "way": "along_width",
    }
    page = moving("press", settings=seen(), **practice, practice=True)
    until(page, f"{PLAYED} === 'place'")
    tap(page)
    until(page, f"{PLAYED} !== null")


def test_where_less_movement_is_wanted_nothing_moves_and_the_stills_come_by_a_tap(at_rest):
    page = at_rest("piece")
    for _ in range(4):
        painted(page)
        assert page.evaluate(PLAYED) is None
    ask(page)
    still_lines(page)
    assert page.evaluate("document.getAnimations().length") == 0
    assert kept(page) is None or "shown" not in kept(page)


@pytest.mark.long
def test_the_pages_own_setting_for_no_movement_holds_too(moving):
    page = moving("piece", settings={"motion": "none"})
    for _ in range(4):
        painted(page)
        assert page.evaluate(PLAYED) is None
    ask(page)
    still_lines(page)


def still_lines(page: Page) -> None:
    """The stills, numbered, their lines a list to who only hears them."""
    dialog = page.get_by_role("dialog", name=said("show_me.title"))
    lines = dialog.get_by_role("list").get_by_role("listitem")
    assert [text.split("\n")[0] for text in lines.all_inner_texts()] == [
        "14 in line on the last cut",
        "260° line on the bottom edge",
        "3" + said("show_me.still.cut.any"),
        "4" + said("show_me.still.off.piece"),
    ]
    assert dialog.locator("scene-view[data-move=light] path.lit").count() > 0
    assert page.get_by_role("button", name=said("show_me.moving")).count() == 0
    before = page.locator("dialog[open] scene-view").first.inner_html()
    page.wait_for_timeout(300)
    assert page.locator("dialog[open] scene-view").first.inner_html() == before
    dialog.get_by_role("button", name=said("show_me.close")).tap()
    expect(dialog).to_be_hidden()


def test_who_may_see_movement_can_have_the_stills_and_go_back_to_it(moving):
    page = moving("starter", settings=seen())
    page.locator("[data-key=why]").tap()
    page.locator("dialog[open] [data-key=stills]").tap()
    page.get_by_role("button", name=said("show_me.moving")).tap()
    until(page, f"{PLAYED} !== null")
    assert sentence(page).startswith("60°")


@pytest.mark.long
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_wrong_with_the_stills(at_rest, theme: str):
    page = at_rest("piece", settings={"theme": theme})
    ask(page)
    page.get_by_role("dialog", name=said("show_me.title")).wait_for()
    assert complaints(page) == []


def test_the_stills_fit_the_smallest_phone(at_rest):
    page = at_rest("piece", 1)
    page.set_viewport_size({"width": 320, "height": 568})
    ask(page)
    assert page.evaluate(
        "[...document.querySelectorAll('dialog[open], .show-me-stills')].every((part) => part.scrollWidth <= part.clientWidth)"
    )
    page.set_viewport_size(SCREEN["viewport"])
