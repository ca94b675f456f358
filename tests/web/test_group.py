"""A plan that several people cut: what each counts on a device of their own, and the screen on which it is joined."""

import json
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

import matside
from axe import complaints
from folding import fold_log
from host import Host
from kept_state import kept, sitting
from measured import sideways, small_targets
from phone import until
from quilter import app_folder, awake, guide, in_hand, said, sentence, tap
from test_copy_keeper import payload

CUT = {"event": "cut"}
REQUEST = {"piece": {"shape": "diamond", "size": 4, "angle": 60}, "cloth": {"kind": "fat_quarter"}}
NEED = 40
BEGUN = 14  # events, of which some free a piece


@cache
def planned() -> str:
    """A plan as the basket keeps it, for pieces of the kind that the guide of `REQUEST` cuts, and of another."""
    one = {**REQUEST["piece"], "id": "piece", "need": NEED}
    pieces = [one, {**one, "id": "piece 2", "size": 3, "need": 12, "fabric": "Honey"}]
    cloths = [
        {"id": "Fat quarter", "length": 18, "width": 20, "count": 4},
        {"id": "Fat quarter, Honey", "length": 18, "width": 20, "count": 1, "fabric": "Honey"},
    ]
    plan = matside.answer({"ask": "plan", "pieces": pieces, "cloths": cloths})
    return json.dumps({"request": {"pieces": pieces, "cloths": cloths, "grain": "any"}, "plan": plan, "counts": None})


def prepared(page: Page, site: Host, dist: Path, events: list[dict] | None = None) -> Page:
    """A page with a plan in its store, called “plan”, and with a sitting of it where there are events."""
    in_hand(page).goto(f"{site.url}licences.txt")
    page.evaluate(
        """async ([app, planned, script, events]) => {
      const load = (name) => import(`${app}/${name}`);
      const [{ Store }, { likenessOfCut, packedLayouts }] = await Promise.all(["store/store.js", "passing/layouts.js"].map(load));
      const [store, plan] = [new Store(), JSON.parse(planned)];
      const said = { of: likenessOfCut(packedLayouts(plan.plan, plan.request)), title: "", date: "", by: "", shares: null };
      await store.put("basket-plan", plan);
      await store.put("plan-in-hand", { id: "plan", ...said });
      if (!events) return;
      const device = await store.device();
      await store.newSitting({ id: "one", title: { plan: { id: "plan" } }, started: 0, scripts: [JSON.parse(script)] });
      for (const [i, event] of events.entries())
        await store.addEvent("one", i, { at: i, mark: `mark-${i}`, ...(i === 0 && { device }), ...event });
      await store.put("sitting", "one");
    }""",
        [site.url + app_folder(dist), planned(), json.dumps(guide(REQUEST)), events],
    )
    return page


def made(events: int) -> int:
    """Pieces after so many cuts."""
    return fold_log([guide(REQUEST)], [CUT] * events).total("made")


def at_mat(page: Page, site: Host) -> Page:
    """The guide at hand."""
    page.goto(f"{site.url}#cut")
    page.locator(".mat-sentence").wait_for()
    return page


def group(page: Page) -> Page:
    """The screen of who cuts what, as it stands by what is stored."""
    page.evaluate("location.hash = 'group'")
    page.locator("group-list .group-figure").wait_for()
    return page


def passed_on(page: Page) -> dict:
    """What the page saves for others."""
    with page.expect_download() as download:
        page.locator("[data-key=save-report]").tap()
    return json.loads(Path(download.value.path()).read_text("utf-8"))


def take(page: Page, report: object) -> str:
    """Takes a report in by its text; what is said."""
    said_before = "document.querySelector('group-passing [role=alert], [data-key=group-said]').innerText"
    page.locator("#group-paste").fill(report if isinstance(report, str) else json.dumps(report))
    page.locator("[data-key=take-text]").tap()
    until(page, f"{said_before} !== ''")
    return page.locator("group-passing [role=alert], [data-key=group-said]").first.inner_text()


def shown(name: str, device: str, **counts: int) -> dict:
    """A report as somebody shows it, by their name."""
    numbers = {kind.replace("_", " "): {"made": n} for kind, n in counts.items()}
    sequence = {"id": f"{device}-1", "device": device, "length": 30, "at": 1_700_000_000_000, "counts": numbers}
    return {"matside_report": 1, "plan": "plan", "who": name, "device": device, "sequences": [sequence]}


def person(page: Page, name: str):
    """What stands of somebody."""
    return page.locator("group-list li.card").filter(has=page.get_by_role("heading", name=name, exact=True))


def test_an_undo_names_what_it_takes_back_and_the_first_event_the_device(page: Page, site: Host, dist: Path):
    at_mat(prepared(page, site, dist, []), site)
    tap(page, 2)
    second = sentence(page)
    page.locator("[data-key=undo]").tap()
    until(page, f"document.querySelector('.mat-sentence').innerText !== {json.dumps(second)}")
    tap(page)
    log = sitting(page)["events"]
    assert [event["event"] for event in log] == ["cut", "cut", "undo", "cut"]
    assert [event.get("undoes") for event in log] == [None, None, [log[1]["mark"]], None]
    assert [event.get("device") for event in log] == [kept(page, "device"), None, None, None]


@pytest.mark.long
def test_two_who_go_on_from_one_copy_come_to_one_total(
    page: Page, new_context: Callable[..., BrowserContext], site: Host, dist: Path
):
    at_mat(prepared(page, site, dist, [CUT] * BEGUN), site)
    app = site.url + app_folder(dist)
    copy = page.evaluate(
        """async (app) => {
      const [{ Copies }, { Store }] = await Promise.all([import(`${app}/copies/copies.js`), import(`${app}/store/store.js`)]);
      return new Copies({ store: new Store(), plans: async () => ({ now: async () => undefined, beside: [] }) }).text();
    }""",
        app,
    )
    other = prepared(new_context().new_page(), site, dist)
    other.goto(f"{site.url}#tools")
    other.locator("#import").set_input_files([payload(copy)])
    until(other, "document.querySelector('copy-keeper [role=status] > p')")
    other.get_by_text(said("tools.earlier.title")).click()
    other.locator("past-list [data-key='go-on one']").tap()
    other.locator(".mat-sentence").wait_for()
    tap(other, 4)
    tap(page, 2)
    devices = [event["device"] for event in sitting(other)["events"] if "device" in event]
    assert devices == [kept(page, "device"), kept(other, "device")]
    total = made(BEGUN + 2) + made(BEGUN + 4) - made(BEGUN)
    assert made(BEGUN + 4) > made(BEGUN) > 0 and made(BEGUN + 2) > made(BEGUN)
    mine, theirs = passed_on(group(page)), passed_on(group(other))
    for to, reports in ((page, [theirs, mine, theirs]), (other, [mine])):
        for report in reports:
            assert not take(to, report).startswith(said("group.refused.damaged"))
        expect(to.locator(".group-figure b")).to_have_text(said("group.figure.other", n=total))


def test_a_plan_is_shared_out_and_what_people_show_is_joined(page: Page, site: Host, dist: Path):
    prepared(page, site, dist, [CUT] * BEGUN).goto(f"{site.url}#tools")
    page.locator("a[data-key=group]").tap()
    page.locator("[data-key='group.me']").fill("Maud")
    for name in ("Ann", "Berta", "ann "):
        page.locator("[data-key='group.name']").fill(name)
        page.keyboard.press("Enter")
    expect(page.locator("group-list li.card")).to_have_count(3)  # a name that is there already is no other person
    page.locator("[data-key=share-out]").tap()
    expect(person(page, "Berta")).to_contain_text(said("group.not_shown"))
    shares = kept(page, "plan-in-hand")["shares"]["people"]
    assert [share["name"] for share in shares] == ["Maud", "Ann", "Berta"]
    layouts = json.loads(planned())["plan"]["layouts"]
    assert sum(len(share["items"]) for share in shares) == sum(layout["times"] for layout in layouts)
    expect(person(page, said("group.me", name="Maud"))).to_contain_text(f"{made(BEGUN)} of ")

    assert take(page, shown("Berta", "phone-b", piece=NEED)).startswith("The count of Berta is taken in")
    page.locator("#group-file").set_input_files([payload(shown("Zoe", "phone-z", piece_2=5), "zoe.json")])
    expect(page.locator("[data-key=group-said]")).to_contain_text("Zoe")
    expect(page.locator("group-list .warn")).to_contain_text(f"{made(BEGUN)} too many")
    expect(page.locator("group-list .warn")).to_contain_text("Berta")
    expect(page.locator("group-list")).to_contain_text("7 of 12 still missing")
    page.evaluate("location.hash = 'group/taken'")
    until(page, "document.activeElement.dataset.key === 'group-said'")

    for wrong, code in (("{", "foreign"), ({**shown("Eve", "e"), "plan": "else"}, "other_plan")):
        assert take(page, wrong) == said(f"group.refused.{code}")
        assert page.locator("#group-paste").get_attribute("aria-invalid") == "true"
    assert len(kept(page, "group")["reports"]) == 2
    assert (complaints(page), sideways(page), small_targets(page)) == ([], [], [])

    page.reload()  # all of it is kept
    expect(person(page, "Zoe")).to_contain_text("5 pieces cut")
    person(page, "Zoe").get_by_role("button", name=said("group.remove_report")).tap()
    expect(person(page, "Zoe")).to_have_count(0)
    page.locator("take-back button").first.tap()
    expect(person(page, "Zoe")).to_have_count(1)


def with_ann(page: Page, site: Host, dist: Path) -> None:
    """Maud's page at her group, to which Ann belongs."""
    awake(prepared(page, site, dist))
    page.goto(f"{site.url}#group")
    page.locator("[data-key='group.me']").fill("Maud")
    page.locator("[data-key='group.name']").fill("Ann")
    page.locator("[data-key=add-person]").tap()


def test_one_s_own_share_is_cut_and_counts_for_the_plan(page: Page, site: Host, dist: Path):
    with_ann(page, site, dist)
    page.locator("[data-key=share-out]").tap()
    own = kept(page, "plan-in-hand")["shares"]["people"][0]["items"]
    page.locator("[data-key^='cut-share']").tap()
    page.locator(".mat-sentence").wait_for()
    begun = sitting(page)
    assert begun["title"]["plan"] == {"id": "plan"}
    assert sum(layout["times"] for layout in begun["title"]["layouts"]) == len(own) > 0
    assert len(begun["scripts"][0]["cloths"]) == len(own)
    all_ = sum(layout["times"] for layout in json.loads(planned())["plan"]["layouts"])
    assert sum(layout["times"] for layout in begun["title"]["elsewhere"]) == all_ - len(own) > 0


@pytest.mark.long
def test_a_plan_that_is_passed_on_keeps_its_name_and_its_shares_are_claimed(
    page: Page, new_context: Callable[..., BrowserContext], site: Host, dist: Path
):
    """In a code or a link people go without their names."""
    page.goto(f"{site.url}#basket")
    page.get_by_role("button", name="List pieces myself").click()
    page.get_by_label("How many", exact=True).last.fill("20")
    page.get_by_label("Add a cloth").select_option(label="Fat quarter")
    page.locator("basket-list").get_by_label("How many", exact=True).last.fill("2")
    page.locator("[data-key=plan]").click()
    page.locator("plan-view .layout").first.wait_for()
    page.locator("a[data-key=group]").tap()
    for key, name in (("me", "Maud"), ("name", "Ann")):
        page.locator(f"[data-key='group.{key}']").fill(name)
    page.locator("[data-key=add-person]").tap()
    page.locator("[data-key=share-out]").tap()
    expect(person(page, "Ann")).to_contain_text("Fat quarter")
    hand = kept(page, "plan-in-hand")
    page.evaluate("navigator.clipboard.writeText = async (text) => { window.copied = text; }; location.hash = 'pass'")
    page.locator("[data-key=pass-copy_text]").tap()
    other = new_context().new_page()
    other.goto(f"{site.url}#plan")
    other.locator("#pasted").fill(page.evaluate("window.copied"))
    other.locator("[data-key=take-pasted]").tap()
    other.locator("[data-key=take-over]").tap()
    other.locator(".quilt-screen").wait_for()
    other.evaluate("location.hash = 'basket'")
    other.locator("plan-view .layout").first.wait_for()  # laid out anew, from what came
    group(other).locator("[data-key='group.me']").fill("Ann")
    other.locator("[data-key^='claim-1']").tap()
    expect(person(other, said("group.me", name="Ann"))).to_contain_text("Fat quarter")
    now = kept(other, "plan-in-hand")
    assert now["id"] == hand["id"]
    assert [each["items"] for each in now["shares"]["people"]] == [each["items"] for each in hand["shares"]["people"]]
    assert [each["name"] for each in now["shares"]["people"]] == ["", "Ann"]
    assert take(group(page), passed_on(other)).startswith("The count of Ann is taken in")


def test_strips_are_shared_out_and_each_cuts_the_pieces_of_their_own(page: Page, site: Host, dist: Path):
    """Somebody has cut them off their cloths: the guide of a share takes each as a ready-cut strip."""
    with_ann(page, site, dist)
    page.get_by_role("button", name=said("group.ways.strip"), exact=True).tap()
    page.locator("[data-key=share-out]").tap()
    expect(person(page, "Ann")).to_contain_text(re.compile(r"strips? of \d in from Fat quarter"))
    own = kept(page, "plan-in-hand")["shares"]["people"][0]["items"]
    page.locator("[data-key^='cut-share']").tap()
    page.locator(".mat-sentence").wait_for()
    begun = sitting(page)["title"]
    layouts = json.loads(planned())["plan"]["layouts"]
    mine = sum(layouts[item["layout"]]["strips"][item["strip"]]["count"] for item in own)
    assert begun["plan"] == {"id": "plan"}
    assert sum(layout["times"] * layout["strips"][0]["count"] for layout in begun["layouts"]) == mine > 0
    for cloth, layout in zip(begun["cloths"], begun["layouts"], strict=True):
        (strip,) = layout["strips"]
        assert (cloth["length"], cloth["width"]) == (strip["size"], strip["run"])
    assert "strip" not in {step["do"] for step in sitting(page)["scripts"][0]["steps"]}  # they are cut off already
