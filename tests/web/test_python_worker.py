"""The messenger between the page and Python: turns, stale questions, searches, breakdowns.
Python is a stand-in here.
"""

import pytest
from playwright.sync_api import Page

from host import Host
from phone import until


@pytest.fixture
def ready(page: Page, plain_site: Host) -> Page:
    """A page whose Python is ready."""
    page.goto(plain_site.url)
    page.evaluate("void (window.python = createPython())")
    until(page, "python.stage === 'ready'")
    return page


def test_stages_come_in_order_and_end_with_ready(page: Page, plain_site: Host):
    page.goto(plain_site.url)
    stages = page.evaluate("""() => new Promise((resolve) => {
      const python = createPython();
      const seen = [python.stage];
      python.addEventListener('stage', ({ detail }) => {
        seen.push(detail.stage);
        if (detail.stage === 'ready') resolve(seen);
      });
    })""")
    assert stages == ["loading", "loading", "starting", "ready"]


def test_python_starts_when_it_may_and_what_was_asked_before_waits(page: Page, plain_site: Host):
    page.goto(plain_site.url)
    found = page.evaluate("""async () => {
      let may;
      const python = createPython({ when: new Promise((resolve) => { may = resolve; }) });
      const stages = [];
      python.addEventListener('stage', ({ detail }) => stages.push(detail.stage));
      const answer = python.ask({ ask: 'this', n: 5 });
      await new Promise((resolve) => { setTimeout(resolve, 100); });
      const before = [...stages];
      may();
      return { before, n: (await answer).n, after: stages.at(-1) };
    }""")
    assert found == {"before": [], "n": 5, "after": "ready"}


def test_questions_asked_before_python_is_ready_wait_their_turn(page: Page, plain_site: Host):
    page.goto(plain_site.url)
    found = page.evaluate("""() => {
      const python = createPython();
      return Promise.all([1, 2, 3].map((n) => python.ask({ ask: 'this', n })));
    }""")
    assert [answer["n"] for answer in found] == [1, 2, 3]


def test_a_newer_question_with_the_same_key_makes_the_older_stale(ready: Page):
    found = ready.evaluate("Promise.all([1, 2, 3].map((n) => python.askLatest('yield', { ask: 'this', n })))")
    assert [answer and answer["n"] for answer in found] == [None, None, 3]


def test_questions_with_other_keys_are_not_disturbed(ready: Page):
    found = ready.evaluate("Promise.all(['a', 'b'].map((key) => python.askLatest(key, { ask: 'this', key })))")
    assert [answer["key"] for answer in found] == ["a", "b"]


def test_an_answered_question_can_be_asked_again_under_its_key(ready: Page):
    for n in (1, 2):
        assert ready.evaluate("(n) => python.askLatest('yield', { ask: 'this', n })", n)["n"] == n


def test_a_breakdown_of_python_comes_as_an_error_with_code_and_message(ready: Page):
    found = ready.evaluate("python.ask({ ask: 'break' }).catch(({ code, message }) => ({ code, message }))")
    assert found == {"code": "python_broke", "message": "ZeroDivisionError"}
    assert ready.evaluate("python.ask({ ask: 'this' })")["ok"]


def test_a_crash_of_the_interpreter_is_mended_by_a_new_start(ready: Page):
    """What crashed rejects; whatever is asked afterwards waits for the new start."""
    ready.evaluate(
        "void (window.stages = [], python.addEventListener('stage', ({ detail }) => stages.push(detail.stage)))"
    )
    assert ready.evaluate("python.ask({ ask: 'crash' }).catch(({ code, message }) => [code, message])") == [
        "python_broke",
        "out of memory",
    ]
    assert ready.evaluate("python.ask({ ask: 'this' })")["ok"]
    assert ready.evaluate("stages") == ["again", "ready"]


def test_one_that_crashes_again_and_again_is_a_failure_that_a_retry_mends(ready: Page):
    for _ in range(3):
        assert ready.evaluate("python.ask({ ask: 'crash' }).catch(({ message }) => message)") == "out of memory"
    assert until(ready, "python.stage === 'failed' && python.message") == "out of memory"
    ready.evaluate("python.retry()")
    assert ready.evaluate("python.ask({ ask: 'this' })")["ok"]


def test_a_search_tells_how_far_it_is_and_then_answers(ready: Page):
    found = ready.evaluate("""async () => {
      const seen = [];
      const answer = await python.search({ slices: 4 }, { onProgress: ({ at }) => seen.push(at) });
      return { seen, answer };
    }""")
    assert found == {"seen": [1, 2, 3], "answer": {"ok": True, "slices": 4}}


def test_a_question_is_answered_between_the_slices_of_a_search(ready: Page):
    order = ready.evaluate("""async () => {
      const order = [];
      const search = python.search({ slices: 200 }).then(() => order.push('search'));
      await python.ask({ ask: 'this' });
      order.push('question');
      await search;
      return order;
    }""")
    assert order == ["question", "search"]


def test_a_stopped_search_gives_null_and_is_not_heard_of_again(ready: Page):
    found = ready.evaluate("""async () => {
      const stop = new AbortController();
      let last = 0;
      const search = python.search({ slices: 1e9 }, {
        signal: stop.signal,
        onProgress: ({ at }) => { last = at; if (at === 3) stop.abort(); },
      });
      const answer = await search;
      await python.ask({ ask: 'this' });
      return { answer, last };
    }""")
    assert found == {"answer": None, "last": 3}


def test_a_search_whose_signal_was_given_before_does_not_start(ready: Page):
    assert ready.evaluate("python.search({ slices: 5 }, { signal: AbortSignal.abort() })") is None


def test_a_paused_search_shows_its_best_and_waits_until_it_may_go_on(ready: Page):
    found = ready.evaluate("""async () => {
      const seen = [];
      let control;
      let search;
      await new Promise((shown) => {
        search = python.search({ slices: 100 }, {
          onStart: (given) => { control = given; },
          onProgress: (progress) => {
            seen.push(progress);
            if (progress.plan) shown();
            else if (progress.at === 2) control.pause();
          },
        });
      });
      for (const n of [1, 2, 3]) await python.ask({ ask: 'this', n }); // a search that did not wait would go on between these
      const paused = seen.length;
      control.goOn();
      return { paused, seen, answer: await search };
    }""")
    shown = [progress["at"] for progress in found["seen"] if progress.get("plan") == "whole"]
    assert len(shown) == 1
    assert found["seen"][found["paused"] - 1].get("plan") == "whole"
    assert [progress["at"] for progress in found["seen"] if "plan" not in progress] == list(range(1, 100))
    assert found["answer"]["slices"] == 100


def test_a_search_that_is_paused_before_it_has_anything_to_show_goes_on_to_where_it_has(ready: Page):
    found = ready.evaluate("""async () => {
      let control;
      const shown = await new Promise((resolve) => {
        python.search({ slices: 100, from: 7 }, {
          onStart: (given) => { control = given; control.pause(); },
          onProgress: (progress) => progress.plan && resolve(progress.at),
        }).then(resolve);
      });
      for (const n of [1, 2, 3]) await python.ask({ ask: 'this', n });
      return shown;
    }""")
    assert found in (7, 8)  # it works on in slices, and shows what it has between two


@pytest.mark.parametrize("telling", [0, 1, 2, 3])
def test_a_plan_that_takes_several_slices_to_be_told_is_told_once(ready: Page, telling: int):
    found = ready.evaluate(
        """async (telling) => {
      let control;
      let plans = 0;
      await new Promise((shown) => {
        python.search({ slices: 100, telling }, {
          onStart: (given) => { control = given; control.pause(); },
          onProgress: (progress) => { if (progress.plan) { plans += 1; shown(); } },
        });
      });
      for (const n of [1, 2, 3]) await python.ask({ ask: 'this', n }); // what would come after the plan comes between these
      return plans;
    }""",
        telling,
    )
    assert found == 1


def test_two_searches_take_turns(ready: Page):
    order = ready.evaluate("""async () => {
      const order = [];
      const run = (name, slices) => python.search({ slices }).then(() => order.push(name));
      await Promise.all([run('long', 40), run('short', 3)]);
      return order;
    }""")
    assert order == ["short", "long"]


def test_small_modules_of_the_same_bytes_are_compiled_once(page: Page, plain_site: Host):
    """The bytes are WebAssembly's own empty module, and one with a custom section
    (WebAssembly Core Specification, 5.5).
    """
    page.goto(plain_site.url)
    found = page.evaluate("""async () => {
      const { shareSmallModules } = await import(new URL('worker/shared-modules.js', document.querySelector('script').src));
      const empty = [0, 97, 115, 109, 1, 0, 0, 0];
      const custom = (size) => [...empty, 0, size, 1, 65, ...Array(size - 2).fill(7)];
      shareSmallModules();
      const made = (bytes) => new WebAssembly.Module(Uint8Array.from(bytes));
      const large = [...empty, ...Array(3).fill(custom(100).slice(empty.length)).flat()];
      const first = made(empty);
      return {
        same: made(empty) === first,
        other: made(custom(5)) === made([...empty, 0, 5, 1, 66, 7, 7, 7]),
        large: made(large) === made(large),
        buffers: new WebAssembly.Module(Uint8Array.from(custom(9)).buffer) === new WebAssembly.Module(Uint8Array.from(empty).buffer),
        real: first instanceof WebAssembly.Module, section: WebAssembly.Module.customSections(made(custom(5)), 'A').length,
        broken: (() => { try { made([1, 2]); } catch (error) { return error.name; } })(),
      };
    }""")
    assert found == {
        "same": True,
        "other": False,
        "large": False,
        "buffers": False,
        "real": True,
        "section": 1,
        "broken": "CompileError",
    }


def test_what_was_asked_while_python_could_not_start_is_answered_after_a_retry(page: Page, plain_site: Host, watched):
    watched.expect("404")
    plain_site.faults["pyodide.mjs"] = "missing"
    page.goto(plain_site.url)
    page.evaluate("void (window.python = createPython())")
    until(page, "python.stage === 'failed'")
    page.evaluate("void python.ask({ ask: 'this', n: 7 }).then((answer) => { window.answer = answer; })")
    plain_site.faults.clear()
    page.evaluate("python.retry()")
    assert until(page, "window.answer")["n"] == 7


# ---- a worker that goes silent: nothing tells of it. A tick is a second; here it is 50 ms.


@pytest.fixture
def watching(page: Page, plain_site: Host) -> Page:
    """A page whose Python is ready and is watched closely; `stages` are those that come after."""
    page.goto(plain_site.url)
    page.evaluate("""() => {
      window.python = createPython({ tick: 50 });
      window.stages = [];
      window.late = [];
      window.why = ({ code, message }) => [code, message];
      python.addEventListener('late', () => late.push(python.late));
    }""")
    until(page, "python.stage === 'ready'")
    page.evaluate("void python.addEventListener('stage', ({ detail }) => stages.push(detail.stage))")
    return page


def kill(page: Page) -> None:
    """The worker ends itself: no event tells the page."""
    page.workers[-1].evaluate("self.close()")


def test_a_worker_that_died_while_idle_is_started_again_for_the_next_question(watching: Page):
    kill(watching)
    assert watching.evaluate("Promise.all([1, 2].map((n) => python.ask({ ask: 'this', n })))") == [
        {"ok": True, "ask": "this", "n": n} for n in (1, 2)
    ]
    assert watching.evaluate("stages") == ["again", "ready"]
    assert watching.evaluate("late") == [True, False]


def test_a_long_answer_is_late_and_not_taken_for_a_death(watching: Page):
    """Forty-eight ticks, and three more questions wait behind it."""
    found = watching.evaluate("Promise.all([2400, 1, 1, 1].map((ms) => python.ask({ ask: 'busy', ms })))")
    assert [answer["ms"] for answer in found] == [2400, 1, 1, 1]
    assert watching.evaluate("[stages, late]") == [[], [True, False]]


@pytest.mark.long
def test_a_question_that_hangs_twice_rejects_and_the_others_are_answered(watching: Page):
    found = watching.evaluate("""() => {
      const first = python.ask({ ask: 'this', n: 1 });
      const hung = python.ask({ ask: 'hang' }).catch(why);
      return Promise.all([first, hung, python.ask({ ask: 'this', n: 2 })]);
    }""")
    assert (found[0]["n"], found[1], found[2]["n"]) == (1, ["python_broke", "the worker does not answer"], 2)
    assert watching.evaluate("stages") == ["again", "ready", "again", "ready"]


@pytest.mark.long
def test_a_search_goes_on_in_a_new_worker(watching: Page):
    watching.evaluate("""() => {
      window.seen = [];
      window.search = python.search({ slices: 200 }, { onProgress: ({ at }) => seen.push(at) });
    }""")
    until(watching, "seen.length > 3")
    kill(watching)
    assert watching.evaluate("search") == {"ok": True, "slices": 200}
    assert watching.evaluate("stages") == ["again", "ready"]
    assert watching.evaluate("seen.lastIndexOf(1)") > 3  # from its beginning


@pytest.mark.long
def test_a_search_that_shows_its_best_waits_for_the_user_and_then_goes_on_in_a_new_worker(watching: Page):
    watching.evaluate("""() => {
      window.seen = [];
      window.search = python.search({ slices: 30 }, { onStart: (control) => { window.control = control; }, onProgress: (progress) => seen.push(progress) });
      control.pause();
    }""")
    until(watching, "seen.some(({ plan }) => plan)")
    kill(watching)
    watching.wait_for_timeout(2000)  # far more ticks than a worker may be silent
    assert watching.evaluate("stages") == []
    assert watching.evaluate("python.ask({ ask: 'this', n: 1 })")["n"] == 1
    assert watching.evaluate("[stages, seen.filter(({ plan }) => plan).length]") == [["again", "ready"], 1]
    watching.evaluate("control.goOn()")
    assert watching.evaluate("search") == {"ok": True, "slices": 30}


@pytest.mark.long
def test_a_worker_that_never_starts_is_given_up_after_a_few_tries_and_a_retry_mends_it(page: Page, plain_site: Host):
    page.goto(plain_site.url)
    page.route("**/python-worker.js", lambda route: route.fulfill(body="", content_type="text/javascript"))
    page.evaluate("""() => {
      window.python = createPython({ tick: 20 });
      window.stages = [];
      python.addEventListener('stage', ({ detail }) => stages.push(detail.stage));
      window.answer = python.ask({ ask: 'this', n: 3 });
    }""")
    until(page, "python.stage === 'failed'")
    assert page.evaluate("[stages, python.message]") == [["again", "again", "failed"], "the worker does not answer"]
    page.unroute("**/python-worker.js")
    page.evaluate("python.retry()")
    assert page.evaluate("answer")["n"] == 3


def test_a_page_that_is_out_of_sight_finds_nobody_dead(watching: Page):
    watching.evaluate("void Object.defineProperty(document, 'hidden', { configurable: true, get: () => true })")
    kill(watching)
    watching.evaluate("void (window.answer = python.ask({ ask: 'this', n: 4 }))")
    watching.wait_for_timeout(2000)
    assert watching.evaluate("stages") == []
    watching.evaluate("delete document.hidden")
    assert watching.evaluate("answer")["n"] == 4
