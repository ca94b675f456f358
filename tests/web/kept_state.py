"""What the page keeps, read and written from outside as it stands in the browser's store."""

import json

from playwright.sync_api import Page

from phone import until

_ASKED = """([store, work, value, name]) => new Promise((done, failed) => {
  const opening = indexedDB.open("matside");
  opening.onerror = failed;
  opening.onsuccess = () => {
    const doing = opening.result.transaction(store, "readwrite");
    const asked = work === "put" ? doing.objectStore(store).put(value, name) : doing.objectStore(store)[work](name);
    doing.oncomplete = () => { opening.result.close(); done(JSON.stringify(asked.result)); };
    doing.onerror = failed;
  };
})"""


def _ask(page: Page, store: str, work: str, value=None, name=None):
    text = page.evaluate(
        _ASKED, [store, work, value, name]
    )  # as a text: a guide of a thousand steps is slow to hand over as values
    return text and json.loads(text)


def keep(page: Page, name: str, value) -> None:
    """Puts a value under a name; the page reads it when it is loaded next."""
    until(page, "document.querySelector('.frame:not(.built)')")
    _ask(page, "kept", "put", value, name)


def kept(page: Page, name: str):
    """The value under a name, or None."""
    return _ask(page, "kept", "get", name=name)


def sitting(page: Page) -> dict:
    """The sitting at hand, with its scripts and its log."""
    name = kept(page, "sitting")
    events = [event for event in _ask(page, "log", "getAll") if event["sitting"] == name]
    return {**_ask(page, "sittings", "get", name=name), "events": events}
