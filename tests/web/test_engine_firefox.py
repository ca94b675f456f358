"""The journeys in Firefox, screens of every width, and locales."""

import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from engines.acts import BUMP, PIECES, at_a_strip, cut_until_made, mat, totals
from engines.driver import wait
from engines.firefox import Firefox
from engines.journeys import Journeys, running
from engines.locales import Locales, by_language
from engines.probing import Probed
from engines.widths import Widths
from host import Host
from quilter import CHANGED
from steps.testing import ENGINES, skipped

# A page whose script comes from its service worker in drops, so that it is certainly left in the middle of it.
DRIPPING = {
    "index.html": """<!doctype html><meta charset="utf-8"><title>A page</title><script type="module" src="page.js"></script>""",
    "page.js": """const policy = globalThis.trustedTypes?.createPolicy("matside", { createScriptURL: (url) => url });
        await navigator.serviceWorker.register(policy?.createScriptURL("sw.js") ?? "sw.js");
        await navigator.serviceWorker.ready;
        document.title = "ready";
        if (location.search) await import("./" + location.search.slice(1) + ".js").catch(() => {});
        document.title += " and over";""",
    "sw.js": """self.addEventListener("activate", (event) => event.waitUntil(clients.claim()));
        const drop = new Uint8Array(1024).fill(32);
        const later = (work) => new Promise((resolve) => setTimeout(() => resolve(work()), 5));
        const dripping = () => new ReadableStream({ pull: (stream) => later(() => { self.dropped = true; stream.enqueue(drop); }) });
        const broken = () => new ReadableStream({ pull: (stream) => later(() => stream.error(new Error("broken"))) });
        const answer = (body) => new Response(body, { headers: { "Content-Type": "text/javascript" } });
        self.addEventListener("fetch", (event) => {
          if (event.request.url.endsWith("/dripping.js")) event.respondWith(answer(dripping()));
          if (event.request.url.endsWith("/broken.js")) event.respondWith(answer(broken()));
        });""",
}


@pytest.fixture(scope="module")
def started(outside, tmp_path_factory) -> Iterator[Firefox]:
    """Firefox, once for all journeys."""
    yield from running(Firefox(tmp_path_factory.mktemp("firefox"), outside))


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
class TestFirefox(Journeys):
    """The journeys, in Firefox."""

    # In Chromium test_cutting.py goes without what plain HTTP lacks, and test_torture.py kills the browser.
    long = (
        *Journeys.long,
        "test_plain_http_from_another_machine_does_without_and_says_so",
        "test_a_browser_that_ended_at_once_comes_back_to_the_same_cut",
    )

    @pytest.mark.long
    def test_a_finger_that_rests_on_the_zone_counts_one_cut(self, engine: Firefox, host: Host):
        at_a_strip(engine, host.url)
        cut_until_made(engine, 1)
        before = mat(engine)
        time.sleep(BUMP)
        wait(lambda: engine.tapped(".mat-zone", None, resting=0.4), "no zone")
        engine.until(CHANGED, before)
        assert totals(engine) == (1, PIECES)  # the check, and no second act by a late click
        time.sleep(BUMP)
        assert totals(engine) == (1, PIECES)

    def test_what_a_left_page_was_reading_is_no_complaint_and_a_broken_answer_is_one(
        self, engine: Firefox, tmp_path: Path
    ):
        for name, text in DRIPPING.items():
            (tmp_path / name).write_text(text, "utf-8")
        host = Host(tmp_path)
        engine.open(host.url)
        engine.until("document.title === 'ready and over'")
        for _ in range(3):
            engine.open(f"{host.url}?dripping")
            engine.until("document.title === 'ready'")
            time.sleep(0.3)
            engine.open("about:blank")
        assert engine.unexpected() == []
        engine.open(f"{host.url}?broken")
        engine.until("document.title === 'ready and over'")
        assert ["unexpected error" in text for text in engine.unexpected()] == [True]
        engine.expect("unexpected error")
        host.close()


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
class TestWidthsInFirefox(Widths):
    """The widths, in Firefox."""


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
class TestProbedFirefox(Probed):
    """What README says of Firefox."""


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
@by_language((), ("C", "en-US", "de-DE", "ar", "", "en-US@posix"))
class TestLocalesInFirefox(Locales):
    """Locales, in Firefox."""

    called = {name: name for name in ("C", "en-US", "de-DE", "ar", "en-US@posix")}
