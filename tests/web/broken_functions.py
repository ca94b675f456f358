"""Functions of the browser, found by what the start touches, and broken one at a time."""

import json
import re
from pathlib import Path

from playwright.sync_api import Browser, Page

import matside
from phone import SCREEN
from quilter import ASLEEP

TOUCHED = (Path(__file__).parent / "touched.js").read_text("utf-8")
PIECE = {"shape": "diamond", "angle": "60", "size": "2 in", "seam": "1/4 in"}
REQUEST = {
    "piece": {"shape": "diamond", "size": "2 in", "angle": 60},
    "cloth": {"kind": "fat_quarter"},
    "way": "along_length",
}

# Answers later without a promise. (A browser in which no frame ever comes shows nothing, whatever the page does.)
LATER = {"IDBFactory.prototype.open"}
# Touched only once Python has started or failed, which it never does here.
AFTER_PYTHON = {"Navigator.prototype.serviceWorker": "read", "ServiceWorkerContainer.prototype.register": "later"}
# Without a document, its elements and their events there is no page, and without the files nothing to show:
# there the first line stands.
ESSENTIAL = re.compile(
    r"(Document|Node|Element|HTML\w*Element|SVG\w*|ShadowRoot|EventTarget|Event|CustomEvent|CSSStyleDeclaration|CustomElementRegistry|DOM\w+|CharacterData|"
    r"URL|URLSearchParams|Response|Location|PointerEvent|UIEvent|MouseEvent|NodeList|HTMLCollection)\.(prototype\.)?\w+"
    r"|window\.(customElements|fetch|navigator|setTimeout|clearTimeout|URL|Event|CustomEvent|EventTarget|getComputedStyle|addEventListener|location|DOMException|MessageChannel)"
)
# What the page can do without although it belongs to one of these.
YET = {"Document.prototype.fonts", "Document.prototype.currentScript"}
# Without the database what was kept is not there to be counted on.
DATABASE = re.compile(r"IDB\w+\.(prototype\.)?\w+|window\.(indexedDB|IDB\w+)")

_BREAK = """(([name, mode]) => {
  const parts = name.split(".");
  const key = parts.pop();
  const owner = parts.reduce((at, part) => at[part], window);
  const how = Object.getOwnPropertyDescriptor(owner, key);
  const refuse = () => { throw new Error(`${name} is broken`); };
  const broken = {
    missing: { value: undefined, writable: true },
    throwing: how.get ? { get: refuse } : { value: function () { refuse(); }, writable: true },
    silent: { value: name.includes("IDBFactory") ? () => new EventTarget() : () => new Promise(() => {}), writable: true },
  }[mode];
  Object.defineProperty(owner, key, { configurable: true, ...broken });
})"""


def breaking(name: str, mode: str) -> str:
    """A script that breaks a function before the page sees it: "missing", "throwing", or
    "silent", which never answers.
    """
    return f"{_BREAK}({json.dumps([name, mode])});"


def modes(name: str, how: str) -> list[str]:
    """The ways in which a function can be broken."""
    return ["missing", "throwing", *(["silent"] if how == "later" or name in LATER else [])]


def seated(page: Page, address: str, app: str) -> None:
    """Fills a browser: a guide at its first piece, and the answer on the first screen."""
    script = matside.answer({"ask": "guide", **REQUEST})["script"]
    cuts = [step["do"] for step in script["steps"]].index("piece")
    count = {
        "state": {},
        "answers": {
            "count": matside.answer({"ask": "cloth", **REQUEST}),
            "piece": matside.answer({"ask": "piece", "piece": PIECE}),
        },
    }
    page.goto(address + "licences.txt")
    page.evaluate(
        """async ([module, script, cuts, count]) => {
      const { Store } = await import(module);
      const [store, id] = [new Store(), "seated"];
      await store.newSitting({ id, title: {}, started: 0, scripts: [script] });
      for (let i = 0; i < cuts; i += 1) await store.addEvent(id, i, { event: "cut", at: i, mark: String(i) });
      await store.put("sitting", id);
      await store.put("count", count);
    }""",
        [f"{address}{app}/store/store.js", {**script, "request": {"ask": "guide", **REQUEST}}, cuts, count],
    )


def touched(browser: Browser, address: str, seat) -> dict[str, str]:
    """What the page touches from its start to a cut that counts, on every screen that it has
    made by then: name → how.
    """
    context = browser.new_context(**SCREEN)
    page = context.new_page()
    seat(page)
    page.add_init_script(ASLEEP)
    page.add_init_script(TOUCHED)
    page.goto(address + "#cut")
    page.locator(".mat-sentence").wait_for()
    page.locator(".mat-zone").tap()
    page.goto(address + "#count")
    page.locator(".figure").wait_for()
    page.wait_for_timeout(500)
    found = page.evaluate("touched")
    context.close()
    return {**found, **AFTER_PYTHON}
