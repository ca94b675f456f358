"""What a quilter does on the built page, by the words and fields that stand there."""

import json
import math
import re
from functools import cache
from pathlib import Path

from playwright.sync_api import Locator, Page

import matside
from clocks import STANDING as LEAPS
from phone import at_every_load, until

WORDS = Path(matside.__file__).parent / "words" / "en"
LIE = json.loads((WORDS / "lie.json").read_text("utf-8"))["lie"]
OVER, UNDER = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹"), str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
OWN_SIGNS = {"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}
ANSWERED = """(unanswered) => {
  if (document.documentElement?.dataset.start !== "shown") return false;
  const [answer, none] = ['.go', '> p'].map((part) => document.querySelector(`answer-view ${part}`));
  return answer ? !answer.matches('.stale') : none?.innerText === unanswered;
}"""


def said(path: str, **values) -> str:
    """A sentence of the page's catalogue, such as "page.start", with its places filled as they stand, or
    in words of how a thing lies.
    """

    def shown(place: re.Match) -> str:
        name, kind = place.groups()
        return said(f"lie.{kind}.{values[name]}", **values) if kind in LIE else str(values[name])

    subject, *keys = path.split(".")
    found = _sentences(subject)
    for key in keys:
        found = found[key]
    return re.sub(r"\{(\w+)(?::(\w+))?\}", shown, found)


@cache
def _sentences(subject: str) -> dict:
    """What the catalogue has under a subject, from all its files."""
    texts = [json.loads(file.read_text("utf-8")) for file in WORDS.glob("*.json")]
    return {code: sentence for text in texts for code, sentence in text.get(subject, {}).items()}


def sentence_of(step: dict) -> str:
    """The short sentence of a step, in inches."""
    values = {
        name: said_length(value) if isinstance(value, float) and name != "degrees" else value
        for name, value in step["values"].items()
    }
    return said(f"guide.{step['say']}.short", **{**values, "degrees": f"{step['values'].get('degrees') or 0:g}"})


def said_length(inches: float) -> str:
    """To the nearest sixteenth of an inch, as people write it: 3½ in, 2³⁄₁₆ in."""
    whole, part = divmod(round(inches * 16), 16)
    shared = math.gcd(part, 16)
    top, bottom = str(part // shared), str(16 // shared)
    small = f"{top.translate(OVER)}⁄{bottom.translate(UNDER)}" if part else ""
    fraction = OWN_SIGNS.get(f"{top}/{bottom}", small)
    return f"{whole if whole or not part else ''}{fraction} in"


# --- How many do I get? ---------------------------------------------------------------------------------------------


def count_screen(page: Page, url: str) -> Page:
    """Opens the first screen and waits for its answer."""
    page.goto(url)
    answered(page)
    return page


def answered(page: Page) -> None:
    """Waits until what stands there is the answer to what was entered, or that there is none."""
    until(page, ANSWERED, said("page.unanswered"))


def choose(page: Page, group: str, chip: str) -> None:
    """Taps a choice of a group, both by the words that stand there, and waits for the answer."""
    group_of(page, group).get_by_role("button", name=chip, exact=True).tap()
    answered(page)


def group_of(page: Page, group: str) -> Locator:
    """The choices of a group by its name, in sight."""
    return in_sight(page.locator(f'[role=group][aria-label="{group}"]'))


def in_sight(place: Locator) -> Locator:
    """A place on the first screen, after opening the part that it is in where that is closed."""
    started(place.page)
    while (slot := place.first.evaluate(CLOSED)) == "gone":
        pass  # the screen was drawn anew just now
    if slot:
        place.page.locator(f'[data-key="{slot}"]').tap()
    return place


def started(page: Page) -> None:
    """Waits for the page's own screen: before, it is the one that was built, and in between there is none."""
    until(page, "document.documentElement.dataset.start === 'shown'")


# The slot that opens the part that a place is in; null where it is open, or in none.
CLOSED = """(place) => {
  if (!place.isConnected) return "gone";
  const part = place.closest(".page-part");
  return part && getComputedStyle(part).display === "none" ? part.id.replace("part-", "slot-") : null;
}"""


def cloth_kind(page: Page, code: str) -> None:
    """Taps a kind of cloth."""
    choose(page, said("page.cloth"), said(f"cloth.{code}.name"))


def field(page: Page, name: str) -> Locator:
    """A field by its place in the request, such as "cloth.length"; "piece.text" is the piece's measure. The part that it
    is in is opened.
    """
    started(page)
    place = page.locator(f'[data-key="{name}"]')
    return in_sight(place) if place.count() else place


def enter(page: Page, name: str, text: str) -> None:
    """Types a text into a field in place of what was there, and waits for the answer."""
    field(page, name).fill(text)
    answered(page)


def number(page: Page) -> int:
    """How many pieces the answer says."""
    return int(page.locator(".figure b").inner_text())


def facts(page: Page) -> list[str]:
    """What is said about the answer."""
    return page.locator(".facts li").all_inner_texts()


def error_at(page: Page, name: str) -> str | None:
    """The error that belongs to a field, as a screen reader finds it; None when there is none."""
    return page.evaluate(
        """(name) => {
      const input = document.querySelector(`[data-key="${name}"]`);
      const notes = (input.getAttribute("aria-describedby") ?? "").split(" ").map((id) => document.getElementById(id));
      const alert = notes.find((note) => note?.getAttribute("role") === "alert");
      return input.getAttribute("aria-invalid") === "true" && alert ? alert.innerText : null;
    }""",
        name,
    )


# What stands at the mat, but for what is only said once: cautions and problems.
MAT = "[...document.querySelectorAll('.mat-total, .mat-count, .mat-where, .mat-sentence, .mat-more')].map((part) => part.innerText).join('\\n')"
CHANGED = f"(before) => {MAT} !== before"
SAME = f"(before) => {MAT} === before"


def app_folder(dist: Path) -> str:
    """The folder that the page's modules lie in."""
    (found,) = dist.glob("app-*")
    return found.name


# --- At the mat -----------------------------------------------------------------------------------------------------


def start_cutting(page: Page) -> None:
    """Starts the guide from the answer."""
    page.get_by_role("button", name=said("page.start")).tap()
    page.locator(".mat-sentence").wait_for()


# Stopping the worker's script on its way instead would make the browser ask for every file anew.
ASLEEP = """
class Sleeper extends EventTarget { postMessage() {} terminate() {} }
if (!sessionStorage.getItem("awake")) window.Worker = new Proxy(Worker, {
  construct: (Real, [url, how]) => (String(url).includes("python-worker") ? new Sleeper() : new Real(url, how)),
});
"""


def asleep(page: Page) -> Page:
    """From the next load on, Python never starts in the page."""
    return at_every_load(page, ASLEEP)


def awake(page: Page) -> None:
    """From the next load on, it does."""
    page.evaluate("sessionStorage.setItem('awake', 'yes')")


def in_hand(page: Page) -> Page:
    """From the next load on, time stands but for leaps, and Python sleeps until it is to be `awake`."""
    return asleep(at_every_load(page, LEAPS))


def guide(request: dict) -> dict:
    """The script of the core's guide for a request; worked out once for each, as many tests begin at the same one."""
    return json.loads(_guide(json.dumps(request)))


@cache
def _guide(request: str) -> str:
    return json.dumps(matside.answer({"ask": "guide", **json.loads(request)})["script"])


def seat(page: Page, url: str, app: str, request: dict, events: list[dict] = (), settings: dict | None = None, script: dict | None = None,
         python: bool = False) -> Page:  # fmt: skip
    """Sits down at a guide that was begun before, with a log, in a page that never gets as far as starting Python
    unless it is wanted. The guide is the core's for the request, or the one given."""
    text = json.dumps(script) if script else _guide(json.dumps(request))  # it is slow to hand over as values
    log = [{"event": event["event"], "at": i, "mark": str(i), **event} for i, event in enumerate(events)]
    if in_hand(page).url != (quiet := url + "licences.txt"):  # a page that was just lent is there already
        page.goto(quiet)
    if python:
        awake(page)
    page.evaluate(
        """async ([module, text, request, log, settings]) => {
      const { Store } = await import(module);
      const script = { ...JSON.parse(text), request };
      const [store, id] = [new Store(), crypto.randomUUID()];
      await store.newSitting({ id, title: {}, started: 0, scripts: [script] });
      for (const [i, event] of log.entries()) await store.addEvent(id, i, event);
      await store.put("sitting", id);
      if (settings) await store.put("settings", settings);
    }""",
        [f"{url}{app}/store/store.js", text, {"ask": "guide", **request}, log, settings],
    )
    page.goto(url + "#cut")
    page.locator(".mat-sentence").wait_for()
    return page


# Taps so many times, or until the guide says a sentence that begins so, each time half a second later, and waits for
# what a tap does; gives how often it has tapped.
TAPS = """async ([times, text]) => {
  const mat = () => document.querySelector("mat-view").textContent;  // quicker than what is to be seen of it
  const said = () => text !== null && document.querySelector(".mat-sentence").innerText.startsWith(text);
  for (let done = 0; done < times; done += 1) {
    if (said()) return done;
    const before = mat();
    window.leap?.(600);
    document.querySelector(".mat-zone").click();
    for (let waited = 0; mat() === before; waited += 1) {
      if (waited > 2000) throw new Error(`a tap did nothing at: ${before}`);
      await new Promise((later) => setTimeout(later, 5));
    }
  }
  return said() ? times : -1;
}"""


def tap(page: Page, times: int = 1) -> None:
    """Taps the big zone, each time with the half second of a bump behind it, and waits until
    the mat shows something else. Of several taps only the last is a finger's.
    """
    if times > 1:
        page.evaluate(TAPS, [times - 1, None])
    before = mat(page)
    page.evaluate("window.leap?.(600)")
    page.locator(".mat-zone").tap()
    until(page, CHANGED, before)


def painted(page: Page) -> None:
    """Waits until what has changed by now is shown: the mat is laid out with the next frame."""
    page.evaluate("new Promise((shown) => requestAnimationFrame(() => requestAnimationFrame(shown)))")


def mat(page: Page) -> str:
    """Counts and sentences at the mat."""
    return page.evaluate(MAT)


def sentence(page: Page) -> str:
    """What the guide says now."""
    return page.locator(".mat-sentence").inner_text()


def totals(page: Page) -> tuple[int, int]:
    """Made and expected in all."""
    made, expected = re.findall(r"\d+", page.locator(".mat-total").inner_text())
    return int(made), int(expected)


def of_strip(page: Page) -> tuple[int, int]:
    """Made and expected of the strip at hand."""
    made, expected = re.findall(r"\d+", page.locator(".mat-count").inner_text())
    return int(made), int(expected)


def mending(page: Page) -> Locator:
    """Opens "what happened?"."""
    page.get_by_role("button", name=said("mat.mend"), exact=True).tap()
    return page.get_by_role("dialog")


def mend(page: Page, name: str) -> None:
    """Opens "what happened?" and taps a choice by the beginning of its words; returns when
    the mat shows something else.
    """
    before = mat(page)
    mending(page).get_by_role("button", name=re.compile(f"^{re.escape(name)}")).first.tap()
    until(page, CHANGED, before)


def until_says(page: Page, text: str) -> None:
    """Taps on until the guide says a sentence that begins so."""
    if page.evaluate(TAPS, [200, text]) < 0:
        raise AssertionError(f"the guide never says {text}")
