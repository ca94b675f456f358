"""The tools' section about copies: saving one, taking one back, and what is said of it. Python does not
run here: copies do without.
"""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from playwright.sync_api import BrowserContext, FilePayload, Page, expect

from axe import complaints
from folding import fold_log
from host import Host
from kept_state import keep, kept
from measured import sideways, small_targets
from phone import until
from quilter import app_folder, asleep, said, totals
from test_copies import RULER, SCHEMA, copied, example, sitting, told
from test_fold import halved_and_joined, scripts

CUT = {"event": "cut"}
MARKUP = '<img src=x onerror="window.hit=1"><b>bold</b>'


@pytest.fixture
def tools(page: Page, site: Host) -> Page:
    """The tools of a page with nothing in its store."""
    return opened(page, site)


def opened(page: Page, site: Host) -> Page:
    """The tools' screen."""
    asleep(page).goto(f"{site.url}#tools")
    page.locator("copy-keeper [data-key=copy-save]").wait_for()
    return page


def payload(content: dict | str | bytes, name: str = "matside-2024-01-01.json") -> FilePayload:
    """A file as the phone's own chooser gives it."""
    text = content if isinstance(content, str | bytes) else json.dumps(content)
    return {"name": name, "mimeType": "application/json", "buffer": text if isinstance(text, bytes) else text.encode()}


def take(page: Page, content: dict | str | bytes) -> list[str]:
    """Takes a file back; the lines that are said, or what is said at the field."""
    page.locator("#import").set_input_files([payload(content)])
    page.locator("copy-keeper [role=status] > p, copy-keeper [role=alert]").first.wait_for()
    until(page, "!document.querySelector('#import').disabled")
    return page.locator("copy-keeper [role=status] > p, copy-keeper [role=alert] > p").all_inner_texts()


def stored(page: Page, dist: Path, site: Host) -> list[dict]:
    """Everything in the store, as a copy would have it."""
    return page.evaluate(
        "async (module) => { const { Store } = await import(module); return new Store().exported(); }",
        f"{site.url}{app_folder(dist)}/store/store.js",
    )


def saved(page: Page) -> tuple[str, dict]:
    """Saves a copy: the file's name and what is in it."""
    with page.expect_download() as download:
        page.locator("[data-key=copy-save]").tap()
    return download.value.suggested_filename, json.loads(Path(download.value.path()).read_text("utf-8"))


def logs(sittings: list[dict]) -> dict[str, list[dict]]:
    """Each log by its sitting."""
    return {each["id"]: each["events"] for each in sittings}


@pytest.mark.long
def test_a_copy_sets_up_another_phone(tools: Page, new_context: Callable[..., BrowserContext], site: Host, dist):
    assert take(tools, example()) == [said("copies.taken.new.other", n=3), said("copies.taken.kept")]
    assert logs(stored(tools, dist, site)) == logs(example()["sittings"])
    assert [kept(tools, "settings")["units"], kept(tools, "shelf")] == ["cm", [RULER]]
    expect(tools.get_by_role("button", name=said("tools.units.cm"), exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    name, copy = saved(tools)
    assert name == tools.evaluate("(new Date()).toLocaleDateString('sv')").join(["matside-", ".json"])
    assert [error.message for error in Draft202012Validator(SCHEMA).iter_errors(copy)] == []
    assert (copy["matside"], len(copy["version"]), logs(copy["sittings"])) == (2, 16, logs(example()["sittings"]))
    other = opened(new_context().new_page(), site)
    assert take(other, copy) == [said("copies.taken.new.other", n=3), said("copies.taken.kept")]
    assert take(other, copy) == [said("copies.taken.same.other", n=3)]  # there are rulers and settings of its own now
    assert stored(other, dist, site) == stored(tools, dist, site)
    other.reload()
    other.get_by_text(said("tools.earlier.title")).click()
    expect(other.locator("past-list li")).to_have_count(3)


def test_what_goes_further_is_taken_what_does_not_stays_and_what_forks_is_kept_beside(tools: Page, site: Host, dist):
    script = told(halved_and_joined())
    here = [sitting(name, script, [CUT] * 5) for name in ("longer", "shorter", "forked", "same")]
    take(tools, copied(*here))
    fork = sitting("forked", script, [CUT] * 6)
    fork["events"][3]["mark"] = "another"
    there = [
        sitting("longer", script, [CUT] * 8),
        sitting("shorter", script, [CUT] * 2),
        fork,
        here[3],
        sitting("new", script, []),
    ]
    told_after = take(tools, copied(*there))
    assert told_after == [
        said("copies.taken.new.one"),
        said("copies.taken.longer.one"),
        said("copies.taken.beside.one"),
        said("copies.taken.same.other", n=2),
    ]
    now = logs(stored(tools, dist, site))
    assert {name: len(now.pop(name)) for name in ("longer", "shorter", "forked", "same", "new")} == {
        "longer": 8,
        "shorter": 5,
        "forked": 5,
        "same": 5,
        "new": 0,
    }
    ((name, beside),) = now.items()
    assert [event["mark"] for event in beside] == [event["mark"] for event in fork["events"]]
    assert {event["sitting"] for event in beside} == {name}
    assert take(tools, copied(*there)) == [said("copies.taken.same.other", n=5)]


def test_the_count_at_hand_goes_on_from_the_copy(tools: Page, site: Host):
    script = scripts()[0]
    take(tools, copied(sitting("mine", script, [CUT] * 2)))
    keep(tools, "sitting", "mine")
    tools.reload()
    tools.locator("copy-keeper [data-key=copy-save]").wait_for()
    take(tools, copied(sitting("mine", script, [CUT] * 15)))
    tools.evaluate("location.hash = 'cut'")
    made = fold_log((script,), [CUT] * 15).total("made")
    assert made > 0
    until(tools, "Boolean(document.querySelector('.mat-total'))")
    assert totals(tools)[0] == made


@pytest.mark.every(6)
@pytest.mark.parametrize(
    ("content", "code"),
    [
        ("", "foreign"),
        ("{", "foreign"),
        ("[1]", "foreign"),
        (b"\xff\xfe\x00", "foreign"),
        ({"sittings": []}, "foreign"),
        ({"matside": 3, "sittings": []}, "newer"),
        ({"matside": 2}, "damaged"),
        ({"matside": 2, "sittings": [{"id": 1}]}, "damaged"),
        ('{"matside":2,"sittings":' + "[" * 100_000 + "]" * 100_000 + "}", "damaged"),
        (
            json.dumps(copied(sitting("deep", told(halved_and_joined()), []))).replace(
                '"guide"', "[" * 5000 + "]" * 5000
            ),
            "damaged",
        ),
    ],
)
def test_what_is_no_copy_is_refused_at_the_field_and_changes_nothing(tools: Page, site: Host, dist, content, code):
    take(tools, copied(sitting("mine", told(halved_and_joined()), [CUT] * 3)))
    before = stored(tools, dist, site)
    assert take(tools, content) == [said(f"copies.refused.{code}")]
    assert tools.locator("#import").get_attribute("aria-invalid") == "true"
    assert tools.locator(f"#{tools.locator('#import').get_attribute('aria-describedby')}").is_visible()
    assert stored(tools, dist, site) == before


def broken(change: Callable[[dict], None]) -> dict:
    """A copy of two sittings, the second of which is no whole one."""
    script = told(halved_and_joined())
    copy = json.loads(json.dumps(copied(sitting("fine", script, [CUT]), sitting("bad", script, [CUT] * 4))))
    change(copy["sittings"][1])
    return copy


@pytest.mark.every(6)
@pytest.mark.parametrize(
    "change",
    [
        lambda bad: bad["events"].pop(1),
        lambda bad: bad["events"][1].update(sequence=0),
        lambda bad: bad["events"][1].update(mark="bad-0"),
        lambda bad: bad["events"][1].update(sitting="fine"),
        lambda bad: bad["events"][1].update(event="extra"),
        lambda bad: bad["events"][1].update(event="constructor"),
        lambda bad: bad["events"][3].update(event="undo", n=9),
        lambda bad: bad["events"][3].update(event="undo", undoes=["bad-1"]),
        lambda bad: bad["scripts"][0]["steps"].pop(),
        lambda bad: bad["scripts"][0]["steps"][2].update(strip=7),
        lambda bad: bad["scripts"][0]["steps"][2].update(do="constructor"),
    ],
    ids=["lost", "twice", "mark", "other", "place", "prototype", "undo", "name", "end", "strip", "act"],
)
def test_a_count_that_does_not_add_up_lets_nothing_of_the_copy_in(tools: Page, site: Host, dist, change):
    (line,) = take(tools, broken(change))
    beginning, end = said("copies.refused.count", at="|").split("|")
    assert line.startswith(beginning) and line.endswith(end)
    assert stored(tools, dist, site) == []


@pytest.mark.long
def test_a_file_that_is_too_large_is_not_opened(tools: Page):
    tools.evaluate("() => { Blob.prototype.text = () => { window.opened = true; return new Promise(() => {}); }; }")
    tools.evaluate("""() => {
      const [input, held] = [document.querySelector('#import'), new DataTransfer()];
      held.items.add(new File([new Uint8Array(20_000_001)], 'matside.json'));
      input.files = held.files;
      input.dispatchEvent(new Event('change'));
    }""")
    expect(tools.locator("#import-error > p")).to_have_text(said("copies.refused.large"))
    assert tools.evaluate("window.opened") is None


def test_an_older_copy_without_rulers_is_still_read(tools: Page, site: Host, dist):
    old = {"matside": 1, "sittings": example()["sittings"]}
    assert take(tools, old) == [said("copies.taken.new.other", n=3)]
    assert logs(stored(tools, dist, site)) == logs(old["sittings"])
    assert kept(tools, "shelf") is None


def test_rulers_and_settings_of_one_s_own_stay_unless_the_tick_is_set(tools: Page):
    tools.get_by_role("button", name=said("tools.hand.left"), exact=True).tap()
    until(tools, "document.querySelector('[data-key=copy-kept]')")
    tools.reload()
    expect(tools.locator("[data-key=copy-kept]")).not_to_be_checked()
    expect(tools.get_by_text(said("copies.kept_own"))).to_be_visible()
    take(tools, example())
    assert kept(tools, "settings")["units"] == "in"  # the copy's are cm
    tools.locator("[data-key=copy-kept]").check()
    assert take(tools, example()) == [said("copies.taken.same.other", n=3), said("copies.taken.kept")]
    assert {"units": "cm", "hand": "left"}.items() <= kept(tools, "settings").items()


def test_text_of_a_copy_is_never_markup(tools: Page):
    script = json.loads(
        json.dumps(scripts()[0]).replace('"fat_quarter"', json.dumps(MARKUP)).replace('"diamond"', json.dumps(MARKUP))
    )
    script["pieces"][0]["fabric"] = MARKUP
    for step in script["steps"]:
        step["values"] = {
            name: MARKUP if name in ("ruler", "inner", "outer") else value for name, value in step["values"].items()
        }
    copy = copied(
        sitting("mine", script, [CUT] * 9),
        kept={"shelf": [{**RULER, "name": MARKUP}], "settings": {"rulers": [{**RULER, "name": MARKUP}]}},
    )
    take(tools, copy)
    tools.get_by_text(said("tools.earlier.title")).click()
    expect(tools.locator("past-list li")).to_contain_text(MARKUP)
    tools.locator("past-list [data-key='go-on mine']").click()
    tools.locator(".mat-sentence").wait_for()
    tools.evaluate("location.hash = 'rulers'")
    tools.locator(".rulers-screen").wait_for()
    assert tools.evaluate("[window.hit, document.querySelectorAll('main b b, img').length]") == [None, 0]


@pytest.mark.long
def test_a_full_device_is_called_that_and_nothing_is_changed(tools: Page, site: Host, dist):
    large = copied(*(sitting(f"number {n}", scripts()[1], []) for n in range(40)))
    session = tools.context.new_cdp_session(tools)
    session.send("Storage.overrideQuotaForOrigin", {"origin": site.origin, "quotaSize": 1})
    assert take(tools, large) == [said("copies.refused.unkept.full")]
    session.send("Storage.overrideQuotaForOrigin", {"origin": site.origin})
    assert stored(tools, dist, site) == []
    assert take(tools, large) == [said("copies.taken.new.other", n=40)]


def test_a_log_that_goes_on_while_the_copy_is_compared_is_compared_again(tools: Page, site: Host, dist):
    """Another window counts once, just before the copy's events would be stored: both stay."""
    script = told(halved_and_joined())
    take(tools, copied(sitting("mine", script, [CUT] * 2)))
    found = tools.evaluate(
        """async ([app, content, table]) => {
      const [{ Copies }, { Store }] = await Promise.all([import(`${app}/copies/copies.js`), import(`${app}/store/store.js`)]);
      const [store, other] = [new Store(), new Store()];
      let counted = false;
      const takeIn = store.takeIn.bind(store);
      store.takeIn = async (changes) => {
        if (!counted) await other.addEvent('mine', 2, { event: 'cut', at: 5, mark: 'meanwhile' });
        counted = true;
        return takeIn(changes);
      };
      const facts = await (await fetch(`${app}/facts.json`)).json();
      const plans = async () => ({ takeIn: async () => 0 });
      return new Copies({ store, table: facts.table, plans }).takeBack(new File([content], 'matside.json'), { kept: false });
    }""",
        [site.url + app_folder(dist), json.dumps(copied(sitting("mine", script, [CUT] * 4))), None],
    )
    assert found == {"new": 0, "longer": 0, "same": 0, "beside": 1, "kept": False, "plan": False, "plans": 0}
    now = sorted(len(events) for events in logs(stored(tools, dist, site)).values())
    assert now == [3, 4]


def test_the_section_can_be_used_by_everyone(tools: Page):
    take(tools, "{")
    assert complaints(tools) == []
    assert sideways(tools) == []
    assert small_targets(tools) == []
