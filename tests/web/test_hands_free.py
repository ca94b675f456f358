"""Cutting without a finger on the glass: keys, pedals, knocks, the voice, and a screen that stays awake."""

import re

import pytest
from playwright.sync_api import expect

from clocks import LEAPING
from kept_state import keep
from phone import until
from quilter import OWN_SIGNS, app_folder, seat, tap

# Speech and wake locks are objects that record what is asked of them.
RECORDED = """
window.said = [];
window.hushed = 0;
const speech = {
  speak: ({ text, volume, voice }) => text && said.push({ text, volume, voice: voice?.name ?? null }),
  cancel: () => { hushed += 1; },
  getVoices: () => [{ name: "far", lang: "en-US", localService: false }, { name: "near", lang: "en-US", localService: true }],
};
Object.defineProperty(window, "speechSynthesis", { get: () => speech });
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
window.locks = [];
Object.defineProperty(navigator, "wakeLock", { configurable: true, get: () => ({ request: async (kind) => {
  const lock = { kind, released: false, release() { this.released = true; } };
  locks.push(lock);
  return lock;
} }) });
"""

LEARNT = {"cut": ["PageDown", "Enter"], "undo": ["PageUp"], "spoiled": ["F14"], "repeat": ["F15"], "closer": []}
STRIP = {
    "piece": {"shape": "diamond", "size": 8, "angle": 60},
    "cloth": {"kind": "full_width_strip", "width": 30},
    "way": "along_width",
    # One that measures these pieces: no step begins with taking another.
    "rulers": [{"name": "wide", "width": 8.5, "length": 24, "angles": [{"degrees": 60, "from": "long", "at": 6}]}],
}


@pytest.fixture
def mat(page, site, dist):
    """The guide for one strip, begun; pieces of 8 in, so that it is short. Python never gets ready here."""
    page.add_init_script(RECORDED)
    return lambda **settings: begun(page, site, dist, settings)


def begun(page, site, dist, settings):
    return seat(page, site.url, app_folder(dist), STRIP, settings=settings)


def seen(page) -> str:
    """All that stands at the mat."""
    return page.locator("mat-view").inner_text()


def press(page, key: str) -> None:
    """One press of a key, with the half second of a bump behind it; returns when the mat shows something else."""
    before = seen(page)
    page.evaluate("leap(600)")
    strike(page, key)
    until(page, "(before) => document.querySelector('mat-view').innerText !== before", before)


def strike(page, key: str) -> None:
    """A stroke of a key; pedals send keys beyond F12, which the browser's own driver does not know."""
    if key[:1] == "F" and int(key[1:]) > 12:
        page.evaluate(
            "(key) => document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }))",
            key,
        )
    else:
        page.keyboard.press(key)


def press_in_vain(page, key: str) -> None:
    """A press that nothing may come of; a later event would show it."""
    before = seen(page)
    page.evaluate("leap(600)")
    page.keyboard.press(key)
    page.wait_for_timeout(150)
    assert seen(page) == before


def total(page) -> str:
    return page.locator(".mat-total").inner_text()


def to_first_piece(page, key: str = "PageDown") -> None:
    while page.locator(".mat-hint").text_content() != "Tap when cut":
        press(page, key)


@pytest.mark.long
@pytest.mark.every(4)
@pytest.mark.parametrize("key", ["PageDown", "ArrowRight", "Enter", "F13"])
def test_a_whole_strip_is_cut_by_one_pedal_key(mat, key):
    page = mat()
    for _ in range(40):
        if "All cut" in seen(page):
            break
        press(page, key)
    assert total(page) == "2 of 2 in all"


@pytest.mark.long
def test_a_whole_fat_quarter_is_cut_by_the_pedal_alone(page, site):
    page.add_init_script(LEAPING + RECORDED)
    page.goto(site.url)
    page.locator("[data-key=start]").click()
    page.locator(".mat-sentence").wait_for()
    steps = 0
    while "All cut" not in seen(page):
        press(page, "PageDown")
        steps += 1
    # Fifteen 4 in diamonds from a fat quarter: common practice, no published source.
    assert total(page) == "15 of 15 in all" and steps > 30


def test_the_pedals_other_key_undoes(mat):
    page = mat()
    to_first_piece(page)
    press(page, "PageDown")
    assert total(page) == "1 of 2 in all"
    press(page, "PageUp")
    assert total(page) == "0 of 2 in all"


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("touched", ["undo", "mend", "why", "total"])
def test_a_finger_on_a_button_leaves_the_pedal_what_it_was(mat, touched):
    """Whatever was tapped before, the pedal's key is a cut, and its Enter never presses that button."""
    page = mat(keys=LEARNT)
    to_first_piece(page)
    press(page, "PageDown")
    page.locator(f"mat-view [data-key={touched}]").tap()
    if touched == "undo":
        until(page, "document.querySelector('.mat-total').innerText.startsWith('0 of')")
    else:
        page.locator("dialog[open] .mend > button").last.tap()
        until(page, "!document.querySelector('dialog[open]')")
    expect(page.locator(".mat-zone")).to_be_focused()
    before = int(total(page).split()[0])
    while "All cut" not in seen(page):
        press(page, "Enter")
        assert not page.locator("dialog[open]").count()
    assert total(page) == "2 of 2 in all" and before < 2


def test_a_key_that_was_learnt_acts_while_a_button_has_the_focus(mat):
    page = mat(keys={"cut": ["F9"], "undo": ["F8"], "spoiled": [], "repeat": [], "closer": []})
    to_first_piece(page, "F9")
    page.locator("mat-view [data-key=undo]").focus()
    press(page, "F9")
    assert total(page) == "1 of 2 in all"


@pytest.mark.long
def test_a_pedals_enter_on_a_button_that_a_finger_left_is_a_cut(mat):
    """Even where the focus stays on the button that was tapped."""
    page = mat()
    to_first_piece(page)
    press(page, "PageDown")
    page.evaluate("""() => {
      const undo = document.querySelector('[data-key=undo]');
      undo.addEventListener('click', (event) => event.stopImmediatePropagation(), { capture: true, once: true });
    }""")
    page.locator("mat-view [data-key=undo]").tap()
    page.locator("mat-view [data-key=undo]").evaluate("(undo) => undo.focus({ focusVisible: false })")
    for _ in range(6):
        if total(page).startswith("2 "):
            break
        press(page, "Enter")
    assert total(page) == "2 of 2 in all"


@pytest.mark.long
def test_who_comes_to_a_button_by_keyboard_presses_it_with_enter(mat):
    page = mat()
    to_first_piece(page)
    press(page, "PageDown")
    page.locator(".mat-zone").focus()
    for _ in range(8):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.dataset.key === 'undo'"):
            break
    press(page, "Enter")
    assert total(page) == "0 of 2 in all"


@pytest.mark.long
def test_the_key_for_spoiled_works_where_a_bad_piece_is_found(mat):
    """At the check after the first piece it is that piece."""
    page = mat()
    to_first_piece(page)
    press(page, "PageDown")
    assert "Check" in page.locator(".mat-sentence").inner_text()
    press(page, "F14")
    assert total(page) == "0 of 1 in all"


def test_letters_act_only_where_they_are_switched_on_and_learnt(mat):
    keys = {"cut": ["k"], "undo": ["u"], "spoiled": [], "repeat": [], "closer": []}
    press_in_vain(mat(keys=keys), "k")
    page = mat(keys=keys, letters=True)
    before = seen(page)
    press(page, "k")
    assert seen(page) != before


def test_a_key_is_learnt_by_pressing_it(page, site):
    page.goto(site.url + "#tools")
    page.locator("[data-key=learn-spoiled]").click()
    page.keyboard.press("F9")
    row = page.locator("key-teacher .row", has=page.locator("[data-key=learn-spoiled]"))
    until(page, "document.querySelector('key-teacher').innerText.includes('F9')")
    assert "F9" in row.inner_text()


def test_a_held_key_and_a_key_with_control_count_nothing_more(mat):
    page = mat()
    press(page, "PageDown")
    press_in_vain(page, "Control+ArrowRight")
    page.evaluate("leap(600)")
    before = seen(page)
    page.evaluate(
        "document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'PageDown', repeat: true, bubbles: true }))"
    )
    page.wait_for_timeout(150)
    assert seen(page) == before


def test_a_bump_on_the_pedal_counts_once(mat):
    page = mat()
    to_first_piece(page)
    page.evaluate("leap(600)")
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    until(page, "document.querySelector('.mat-total').innerText.startsWith('1 of')")
    page.wait_for_timeout(150)
    assert total(page) == "1 of 2 in all"


def test_knocks_count_when_they_were_tuned(mat):
    page = mat(knock=2.0)
    before = seen(page)
    feel(page, [0.05, 0.04, 5, 0.05, 0.03] + [0.03] * 30)
    until(page, "(before) => document.querySelector('mat-view').innerText !== before", before)


def test_knocks_do_nothing_before_they_are_tuned(mat):
    page = mat()
    before = seen(page)
    feel(page, [0.05, 0.04, 5, 0.05, 0.03] + [0.03] * 30)
    page.wait_for_timeout(150)
    assert seen(page) == before


def feel(page, strengths) -> None:
    """Motion events with these strengths, sixty a second."""
    page.evaluate(
        """async (strengths) => {
          for (const strength of strengths) {
            dispatchEvent(new DeviceMotionEvent("devicemotion", { acceleration: { x: strength, y: 0, z: 0 }, interval: 16 }));
            await new Promise((done) => setTimeout(done, 1000 / 60));
          }
        }""",
        strengths,
    )


def as_spoken(text: str) -> str:
    """A sentence of the mat as a voice is given it: lengths in plain digits, and inches by their name."""
    words = re.sub(r"(\d+)(?=[½¼¾⅛⅜⅝⅞])", r"\1 ", text.replace("\n", " "))
    words = re.sub(r"(?<=\d) in\b|(?<=[½¼¾⅛⅜⅝⅞]) in\b", " inches", words)
    return words.translate({ord(sign): plain for plain, sign in OWN_SIGNS.items()})


def said(page) -> list[str]:
    return [each["text"] for each in page.evaluate("said")]


def test_each_step_is_spoken_by_an_offline_voice_and_again_on_demand(mat):
    page = mat(voice="short", volume=0.6)
    press(page, "PageDown")
    until(page, "said.length > 0")
    first = page.evaluate("said.at(-1)")
    assert first["voice"] == "near" and first["volume"] == 0.6
    assert as_spoken(page.locator(".mat-sentence").inner_text()) in first["text"]
    count = len(said(page))
    strike(page, "F15")
    until(page, "(count) => said.length > count", count)
    assert said(page)[-1] == first["text"]


def test_everything_spoken_begins_with_the_instruction_itself(mat):
    page = mat(voice="long")
    to_first_piece(page)
    until(page, "said.length > 0")
    short, long = (
        as_spoken(page.locator(".mat-sentence").inner_text()),
        as_spoken(page.locator(".mat-more").text_content()),
    )
    assert "inches" in short
    until(page, "(short) => said.at(-1).text.includes(short)", short)
    spoken = said(page)[-1]
    assert spoken.index(short) < spoken.index(long)


@pytest.mark.long
def test_the_count_alone_is_spoken_where_that_is_wished(mat):
    page = mat(voice="count")
    to_first_piece(page)
    press(page, "PageDown")
    until(page, "said.length > 0")
    assert said(page)[-1] == "1 of 2."


def test_all_works_without_any_voice_or_sound(page, site, dist):
    page.add_init_script(RECORDED.replace("get: () => speech", "get: () => undefined") + "delete window.AudioContext;")
    begun(page, site, dist, {"voice": "long"})
    press(page, "PageDown")
    press(page, "PageDown")
    assert said(page) == []


def test_nothing_is_spoken_unless_it_is_wished(mat):
    page = mat()
    press(page, "PageDown")
    press(page, "PageDown")
    assert said(page) == []


def test_the_screen_is_kept_awake_at_the_mat_asked_for_again_and_let_go(mat):
    page = mat()
    until(page, "locks.length === 1")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    until(page, "locks.length === 2")
    page.locator(".mat-leave").first.click()
    until(page, "locks.at(-1).released")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.wait_for_timeout(100)
    assert page.evaluate("locks.length") == 2


def test_a_device_that_cannot_stay_awake_says_so(page, site, dist):
    page.add_init_script(
        RECORDED
        + "Object.defineProperty(Navigator.prototype, 'wakeLock', { get: () => undefined }); delete navigator.wakeLock;"
    )
    begun(page, site, dist, {})
    page.reload()
    until(page, "location.hash === '#cut' && document.querySelector('.mat-sentence')")
    until(page, "document.querySelector('mat-view').innerText.includes('cannot keep its screen on')")


# Some browsers refuse it to a page that nobody has tapped since it was loaded (WebKit's, as tests/web/engines/probe.js
# finds); a device that saves power refuses it always.
UNTAPPED = """
const { wakeLock } = navigator;
let tapped = false;
addEventListener("pointerdown", () => { tapped = true; }, true);
Object.defineProperty(navigator, "userActivation", { get: () => ({ hasBeenActive: tapped }) });
"""
REFUSED = """
Object.defineProperty(navigator, "wakeLock", { get: () => ({
  request: async (kind) => { if (%s) throw new DOMException("Permission was denied", "NotAllowedError"); return wakeLock.request(kind); },
}) });
"""


def test_a_screen_that_is_kept_awake_only_after_a_tap_is_asked_for_with_the_next_one_without_a_word(page, site, dist):
    page.add_init_script(RECORDED + UNTAPPED + REFUSED % "!tapped")
    begun(page, site, dist, {})
    assert "The screen may go dark" not in page.locator("mat-view").inner_text()
    page.locator(".mat-zone").tap()
    until(page, "locks.length === 1")
    assert "The screen may go dark" not in page.locator("mat-view").inner_text()
    page.locator(".mat-zone").tap()
    page.wait_for_timeout(100)
    assert page.evaluate("locks.length") == 1


def test_a_screen_that_is_refused_after_a_tap_too_is_told_of_until_a_later_cut(page, site, dist):
    page.add_init_script(RECORDED + UNTAPPED + REFUSED % "true")
    begun(page, site, dist, {})
    page.locator(".mat-zone").tap()
    until(page, "document.querySelector('mat-view').innerText.includes('The screen may go dark')")
    tap(page, 2)
    until(page, "!document.querySelector('mat-view').innerText.includes('The screen may go dark')")


@pytest.mark.long
def test_a_resumed_sitting_is_told_to_mind_the_blade_at_its_first_cut(mat):
    page = mat()
    to_first_piece(page)
    page.reload()
    until(page, "document.querySelector('mat-view')?.innerText.includes('Sharp? Glove on ruler hand?')")
    press(page, "PageDown")
    assert "Sharp? Glove on ruler hand?" not in seen(page)


@pytest.mark.every(2)
@pytest.mark.parametrize(
    ("settings", "inches", "said"),
    [
        ({}, 301 * 36, "301 yd"),
        ({"units": "cm"}, 301 / 0.0254, "301 m"),
        ({"bladeAfter": 100}, 101 * 36, "101 yd"),
        ({"bladeMetres": 200, "units": "cm"}, 201 / 0.0254, "201 m"),  # as it was kept before there were yards
    ],
    ids=["yards", "meters", "chosen", "kept of old"],
)
def test_a_dull_blade_is_told_by_how_far_it_has_cut(page, site, dist, settings, inches, said):
    page.add_init_script(RECORDED)
    begun(page, site, dist, settings)
    keep(page, "blade", {"inches": inches, "before": 0})
    page.reload()
    page.locator(".mat-sentence").wait_for()
    told = f"{said} cut with this blade"
    while "Blade" not in page.locator(".mat-caution").first.inner_text() and told not in seen(page):
        press(page, "PageDown")
    assert told in seen(page)
    page.goto(site.url + "#tools")
    chip = page.locator("[data-section=blade] .chip[aria-pressed=true]")
    expect(chip).to_have_text(f"{int(said.split()[0]) - 1} {said.split()[1]}")


@pytest.mark.long
def test_a_new_blade_begins_at_nothing_and_can_be_taken_back(page, site, dist):
    page.add_init_script(RECORDED)
    begun(page, site, dist, {})
    keep(page, "blade", {"inches": 301 * 36, "before": 0})
    page.reload()
    page.locator(".mat-sentence").wait_for()
    page.goto(site.url + "#tools")
    for _ in range(2):
        page.locator("[data-key=new-blade]").click()
        until(page, "document.querySelector('[data-section=blade]').innerText.includes('0 yd cut')")
    page.reload()
    page.locator("[data-key=old-blade]").click()
    until(page, "document.querySelector('[data-section=blade]').innerText.includes('301 yd cut')")
    expect(page.locator("[data-key=old-blade]")).to_have_count(0)
    expect(page.locator("[data-key=new-blade]")).to_be_focused()
    page.locator("[data-key=new-blade]").click()
    until(page, "document.querySelector('[data-section=blade]').innerText.includes('0 yd cut')")
