"""A model of all that can happen to a sitting, driven by chance: what is stored, what is shown and what
the core counts agree always.

Cut, undo, spoiled, short, another ruler, re-plan, kill, reload, a second window, a new version, a copy out and in.
"""

import json
import shutil
import tempfile
from contextlib import suppress
from pathlib import Path

from hypothesis import HealthCheck, Phase, settings
from hypothesis import seed as seeded
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule, run_state_machine_as_test
from hypothesis.strategies import booleans, integers, sampled_from
from playwright.sync_api import Error, Page, Playwright

import matside
from clocks import LEAPING
from folding import fold_log
from kept_state import sitting
from near import NearHost, near_dist
from phone import Phone, until
from quilter import app_folder, said
from test_another_cloth import planned

# Enough for a long sitting, from two pieces of cloth, so that there is something to plan anew.
CLOTHS = [{"id": "navy fat quarter", "length": 18, "width": 22, "count": 2, "selvage": "length"}]
PIECES = [{"id": "diamonds", "shape": "diamond", "size": 2.5, "angle": 60, "need": 80}]
RULERS = [
    {name: ruler[name] for name in ("name", "width", "length", "tick", "angles") if name in ruler}
    for ruler in matside.answer({"ask": "facts"})["rulers"]
]
VERSIONS = ("one", "two")
LONGEST_STEP = 20_000  # ms; only a broken page ever waits as long

STANDING = """[...document.querySelectorAll('.mat-total, .mat-count, .mat-where, .mat-sentence, .mat-undo, mat-view [role=alert]')]
  .map((part) => part.textContent).join('|')"""
TOTALS = "(document.querySelector('.mat-total')?.innerText.match(/\\d+/g) ?? []).slice(0, 2).map(Number)"
ACT = "(name) => document.querySelector('mat-view').dispatchEvent(new CustomEvent('act', { detail: name }))"
MENDED = "(detail) => document.querySelector('mend-dialog').dispatchEvent(new CustomEvent('mended', { detail }))"
FILED = """(async (id) => {
  const place = await (await navigator.storage.getDirectory()).getDirectoryHandle("matside");
  const text = await (await (await place.getFileHandle(`${id}.sitting`)).getFile()).text();
  return text.trim().split("\\n").slice(1).map((line) => JSON.parse(line).event.mark);
})"""
BEGUN = """async ([module, script]) => {
  const { Store } = await import(module);
  const [store, id] = [new Store(), crypto.randomUUID()];
  await store.newSitting({ id, title: {}, started: Date.now(), scripts: [script] });
  await store.atHand(id);
}"""


class Sitting(RuleBasedStateMachine):
    """One sitting on one phone, from the first cut to wherever chance leads."""

    dist: Path
    playwright: Playwright

    def __init__(self) -> None:
        super().__init__()
        self._folder = Path(tempfile.mkdtemp())
        self._versions = {version: near_dist(self.dist, self._folder / version, version) for version in VERSIONS}
        self._host = NearHost(Path(shutil.copytree(self._versions["one"], self._folder / "served")))
        self._version = 0
        self._phone = Phone(self.playwright, self._folder / "phone")
        self._log: list[dict] = []
        self._copy: Path | None = None

    def teardown(self) -> None:
        """Closes the phone; what it complained of on the way fails the run."""
        complaints = self._phone.watched.unexpected()
        self._phone.close()
        self._host.close()
        shutil.rmtree(self._folder, ignore_errors=True)
        assert not complaints, complaints

    @initialize()
    def begin(self) -> None:
        """Sits down at the guide for a plan."""
        page = self._opened("licences.txt")
        request = {"ask": "guide", **planned(CLOTHS, PIECES), "rulers": RULERS[:1], "hand": "right"}
        script = {**matside.answer(request)["script"], "request": request}
        page.evaluate(BEGUN, [f"{self._host.url}{app_folder(self._host.folder)}/store/store.js", script])
        self._to_mat(page)
        self._agree(0)

    def _opened(self, place: str) -> Page:
        page = self._phone.open("about:blank")
        page.add_init_script(LEAPING)
        page.goto(self._host.url + place)
        self._page = page
        return page

    def _to_mat(self, page: Page) -> None:
        page.goto(self._host.url + "#cut")
        page.locator(".mat-sentence").wait_for()

    # ---- what agrees after everything

    def _agree(self, more: int | None) -> None:
        """What is stored follows what was stored before, by so many events (None: one or none); both places have it;
        what is shown is what the core makes of it."""
        found = sitting(self._page)
        events = found["events"]
        assert [event["sequence"] for event in events] == list(range(len(events)))
        assert len({event["mark"] for event in events}) == len(events)
        assert events[: len(self._log)] == self._log
        assert len(events) - len(self._log) in ((0, 1) if more is None else (more,))
        self._log = events
        assert self._page.evaluate(f"{FILED}('{found['id']}')") == [event["mark"] for event in events]
        folded = fold_log(found["scripts"], events)
        made = folded.total("made")
        until(self._page, f"(made) => {TOTALS}[0] === made", made)
        self._done = found["scripts"][folded.script]["steps"][folded.step]["do"] == "done"

    def _at_work(self) -> bool:
        return not self._done

    def _acting(self, act: str, detail) -> None:
        page = self._page
        before = page.evaluate(STANDING)
        page.evaluate("leap(600)")
        page.evaluate(act, detail)
        with suppress(AssertionError):  # it had no place here
            until(page, f"(before) => {STANDING} !== before", before, seconds=1)
        page.wait_for_timeout(30)
        if page.locator("replan-dialog dialog[open]").count():  # offered by itself where pieces were lost
            self._declined(page)
        self._agree(None)

    def _declined(self, page: Page) -> None:
        page.locator("[data-key=replan-no]").click()

    # ---- what happens at the mat

    @precondition(_at_work)
    @rule()
    def cut(self) -> None:
        """A tap."""
        self._acting(ACT, "cut")

    @precondition(_at_work)
    @rule()
    def cut_again(self) -> None:
        """What happens most happens more often."""
        for _ in range(3):
            if not self._done:
                self._acting(ACT, "cut")

    @rule()
    def undo(self) -> None:
        """The last one is taken back."""
        self._acting(ACT, "undo")

    @precondition(_at_work)
    @rule(event=sampled_from(("spoiled", "spoiled_before", "ends_early", "extra", "wrong_width")), n=integers(1, 2))
    def something_happened(self, event: str, n: int) -> None:
        """A piece is spoiled, a strip is short, gives one more or has the wrong width; where it
        has no place, nothing happens.
        """
        self._acting(MENDED, {"event": event, "n": n})

    @precondition(_at_work)
    @rule(by=sampled_from((-2, -1, 1, 2)))
    def recount(self, by: int) -> None:
        """The count was wrong."""
        self._acting(MENDED, {"event": "recount", "n": by})

    @precondition(_at_work)
    @rule()
    def another_ruler(self) -> None:
        """The same strips with every ruler that is known."""
        names = [ruler["name"] for ruler in RULERS]
        self._mending("another-ruler")
        page = self._page
        page.evaluate(
            "(names) => document.querySelector('ruler-swap').dispatchEvent(new CustomEvent('swap', { detail: names }))",
            names,
        )
        self._settled("ruler-swap", "swap-cancel")

    @precondition(_at_work)
    @rule(what=sampled_from(("replan", "no-more-strips")))
    def plan_anew(self, what: str) -> None:
        """The rest is planned anew, and the plan taken if there is one."""
        self._mending(what)
        page = self._page
        page.locator("replan-dialog [data-key=replan-no]").wait_for()
        until(page, "![...document.querySelectorAll('replan-dialog [role=status]')].length")
        if page.locator("[data-key=replan-yes]").count():
            page.locator("[data-key=replan-yes]").click()
        self._settled("replan-dialog", "replan-no")

    def _mending(self, what: str) -> None:
        self._page.evaluate("(what) => document.querySelector('mend-dialog').dispatchEvent(new Event(what))", what)

    def _settled(self, dialog: str, back: str) -> None:
        """Waits until a dialog is closed, or says why it cannot do it and is then left."""
        page = self._page
        until(
            page,
            f"!document.querySelector('{dialog} dialog[open]') || document.querySelector('{dialog} [role=alert]') || !document.querySelector('{dialog} [data-key=replan-yes], {dialog} [data-key=swap-go]:disabled')",
        )
        if page.locator(f"{dialog} dialog[open]").count():
            page.locator(f"{dialog} [data-key={back}]").click()
        page.wait_for_timeout(30)
        self._agree(None)

    # ---- what happens to the phone

    @rule()
    def reload(self) -> None:
        """The page is loaded anew."""
        self._page.reload()
        self._page.locator(".mat-sentence").wait_for()
        self._agree(0)

    @rule(mid_cut=booleans())
    def kill(self, mid_cut: bool) -> None:
        """The browser is killed, at rest or just after a tap."""
        if mid_cut and not self._done:
            self._page.evaluate(f"leap(600); ({ACT})('cut')")
        complaints = self._phone.watched.unexpected()
        self._phone.kill()
        assert complaints == []
        self._opened("#cut").locator(".mat-sentence").wait_for()
        self._agree(None if mid_cut else 0)

    @precondition(_at_work)
    @rule(leaves=booleans())
    def second_window(self, leaves: bool) -> None:
        """Another window takes over and counts; the first one follows, and is left or taken over again."""
        first, second = self._page, self._opened("#cut")
        second.locator("[data-key=take-over]").click()
        second.locator("[data-key=take-over]").wait_for(state="hidden")
        self._acting(ACT, "cut")
        until(first, f"(made) => {TOTALS}[0] === made", second.evaluate(TOTALS)[0])
        (first if leaves else second).close()
        self._page = second if leaves else first
        self._page.locator("[data-key=take-over]").wait_for(state="hidden")
        self._agree(0)

    @rule()
    def new_version(self) -> None:
        """A new version is published. It is offered away from the mat once all is cut; until then it waits for that, or
        for a start of the browser."""
        self._version = 1 - self._version
        version = VERSIONS[self._version]
        self._host.publish(self._versions[version])
        page = self._page
        page.goto(self._host.url + "#tools")
        page.reload()
        texts = [said("page.update"), said("page.update_later")]
        until(
            page,
            f"document.body.dataset.version === '{version}' || {json.dumps(texts)}.includes(document.querySelector('.standing').innerText)",
        )
        update = page.get_by_role("button", name=said("page.update"))
        if update.count():
            update.click()
            until_loaded(page, version)
        self._to_mat(page)
        self._agree(0)

    @rule()
    def copy_out(self) -> None:
        """A copy is saved."""
        page = self._page
        page.goto(self._host.url + "#tools")
        with page.expect_download() as saved:
            page.locator("[data-key=copy-save]").click()
        self._copy = self._folder / "copy.json"
        saved.value.save_as(self._copy)
        assert len(json.loads(self._copy.read_text("utf-8"))["sittings"]) == 1
        self._to_mat(page)
        self._agree(0)

    @precondition(lambda self: self._copy)
    @rule()
    def copy_in(self) -> None:
        """The copy, which is as long as the log or shorter, is taken back: nothing is lost by it."""
        page = self._page
        page.goto(self._host.url + "#tools")
        page.locator("input[type=file]").set_input_files(self._copy)
        page.locator("copy-keeper [role=status]").filter(has_text=said("copies.taken.same.one")).wait_for()
        self._to_mat(page)
        self._agree(0)


def until_loaded(page: Page, version: str) -> None:
    """Waits for the page of a version; asking it while it is being loaded may fail."""
    for _ in range(200):
        with suppress(Error):
            if page.evaluate("document.body?.dataset.version") == version:
                return
        page.wait_for_timeout(50)
    raise AssertionError(f"version {version} never came")


def run(playwright: Playwright, dist: Path, number: int, runs: int, steps: int) -> None:
    """So many runs of the model, of which the first is always the plainest; raises what it finds,
    with the steps that led there.
    """
    machine = type("Sitting", (Sitting,), {"dist": dist, "playwright": playwright})
    once = settings(
        max_examples=runs,
        stateful_step_count=steps,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
        print_blob=False,
    )
    run_state_machine_as_test(seeded(number)(machine), settings=once)
