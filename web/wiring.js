// Wires the page and knows no rule. It goes through stages (web/start/stages.js); web/start/watch.js says it
// when nothing comes of that.

import "./start/stand-ins.js";
import { Beginning } from "./start/begin.js";
import { loadFacts, loadGlossary, loadWords } from "./start/first.js";
import { askFor, loadInTime } from "./start/modules.js";
import { Screens } from "./start/screens.js";
import { Showing } from "./start/showing.js";
import { TABS } from "./start/tabs.js";
import { needed, shown, spared } from "./start/stages.js";
import { showNotices, tellFaults, tellInsecure, tellStanding } from "./start/telling.js";
import { frame } from "./components/page-frame.js";
import { tape } from "./components/length-tape.js";
import "./components/ask-trouble.js";
import "./components/notice-bar.js";
import "./components/repair-view.js";
import "./components/say-dialog.js";
import "./components/term-list.js";
import "./components/trouble-dialog.js";
import "./components/under-way-dialog.js";
import { Asking, insisting } from "./lib/asking/asking.js";
import { Blade } from "./lib/mat/blade.js";
import { inHand } from "./lib/mat/in-hand.js";
import { h } from "./lib/page/dom.js";
import { whenDropped } from "./lib/page/dropped.js";
import { idle } from "./lib/page/idle.js";
import { notices } from "./lib/page/notices.js";
import { Install } from "./lib/page/install.js";
import { Past } from "./lib/mat/past.js";
import { watchPresses } from "./lib/page/presses.js";
import { freshQuilt } from "./lib/quilt/quilt-state.js";
import { Shelf } from "./lib/kept/shelf.js";
import { Settings } from "./lib/kept/settings.js";
import { AT_HAND, Store } from "./store/store.js";
import { Voice } from "./lib/mat/voice.js";
import { Wake } from "./lib/mat/wake.js";
import { Glossary } from "./lib/words/glossary.js";
import { speaker } from "./start/speaking.js";
import { wantedLanguage } from "./lib/words/language.js";
import { localeOf, usualUnits } from "./lib/words/locale.js";
import { Words } from "./lib/words/words.js";
import { createPython } from "./worker/python.js";
import { offline } from "./offline.js";

watchPresses(globalThis.matsideHeld?.());

// What is needed, and what was kept.

const store = new Store();
store.addEventListener("notice", ({ detail: { code, values, whenRead } }) => notices.tell(code, values, whenRead));
store.addEventListener("unkept", ({ detail: { why } }) => notices.tell(why === "full" ? "unkept_full" : "unkept"));
const [{ catalogue, language }, facts] = await Promise.all([
  needed("words", () => loadWords(wantedLanguage())),
  needed("facts", loadFacts),
  spared("store", () => store.open()),
]);
const words = new Words(catalogue, { language, tongue: localeOf(language) });
document.documentElement.lang = language;
if (language !== wantedLanguage()) notices.tell("language_lacking");
tape.begin(words);
const settings = new Settings(store, words, facts.habits.choices, usualUnits());
const shelf = new Shelf({ store, settings, facts });
const blade = new Blade(store);
const glossary = new Glossary(words, () => loadGlossary(language));
await Promise.all(
  Object.entries({ settings, shelf, blade }).map(async ([name, part]) => {
    const whole = await spared(
      name,
      () => part.restore(),
      (error) => error,
    );
    if (whole !== true) mended(name, whole || null);
  }),
);

// The parts, each of which knows the others only by what it is given.

let painted;
let plansComing = null;
const PLANNED = ["count", "quilt", "basket"]; // the screens that hold the plan between them
const python = createPython({ when: new Promise((resolve) => (painted = resolve)) });
const [underWay, saying, trouble, bar] = ["under-way-dialog", "say-dialog", "trouble-dialog", "notice-bar"].map(
  (name) => document.body.appendChild(document.createElement(name)),
);
const insistent = insisting(new Asking(python), trouble, () => words);
const wake = new Wake();
const install = new Install();
const voice = new Voice(() => ({ volume: settings.values.volume, language: words.tongue }));
const takeBack = (what, act) => page.offerBack(what, act);
const common = () => ({ python: new Asking(python), settings, facts, shelf, takeBack });

const screens = new Screens({
  store,
  mended,
  makers: {
    count: async (kept) =>
      new (await import("./screens/count.js")).CountScreen({ ...common(), store: kept, install, begin }),
    quilt: async (kept) =>
      new (await import("./screens/quilt.js")).QuiltScreen({
        ...common(),
        store: kept,
        takeBasket,
        answered: () => screens.get("basket")?.quiltAnswered(),
      }),
    basket: async (kept) => {
      const [{ BasketScreen }] = await Promise.all([import("./screens/basket.js"), screens.ready("quilt")]);
      return new BasketScreen({
        ...common(),
        store: kept,
        begin,
        quilt: () => screens.get("quilt")?.asked ?? noQuilt(),
        settleQuilt: () => screens.get("quilt")?.settle(),
        plan: planAtHand,
        takeSize: (size) => screens.get("quilt")?.takeSize(size),
        paintQuilt: (...shown) => screens.get("quilt")?.paint(...shown),
      });
    },
    cut: async (kept) =>
      new (await import("./screens/mat.js")).MatScreen({
        ...common(),
        store: kept,
        python: insistent,
        wake,
        voice,
        blade,
        glossary,
        leave: () => showing.goTo("count"),
        check: () => showing.goTo("drift/cut"),
        again: begin,
      }),
    tools: async (kept) => {
      const [{ ToolsScreen }, { Copies }, reminder] = await Promise.all([
        import("./screens/tools.js"),
        import("./copies/copies.js"),
        reminderReady(),
      ]);
      const copies = new Copies({
        store,
        table: facts.table,
        plans: plansReady,
        took: (ids) => screens.get("cut")?.changedElsewhere(ids),
      });
      return new ToolsScreen({
        ...common(),
        store: kept,
        install,
        voice,
        blade,
        past,
        copies,
        reminder,
        practise,
        speak: speaker(settings),
      });
    },
    terms: async () => new (await import("./screens/terms.js")).TermsScreen({ settings, glossary }),
    pass: async () => {
      const [{ PassScreen }, plans] = await Promise.all([import("./screens/pass.js"), plansReady()]);
      return new PassScreen({ ...common(), plans, wake: new Wake(), drawn: drawnPlan });
    },
    plan: async () => {
      const [{ PlanScreen }, plans] = await Promise.all([import("./screens/plan.js"), plansReady()]);
      return new PlanScreen({
        ...common(),
        plans,
        drawn: drawnPlan,
        goTo: (name) => showing.goTo(name),
        other: takeCount,
      });
    },
    paper: async () => {
      const [{ PaperScreen }, plans] = await Promise.all([import("./screens/paper.js"), plansReady()]);
      return new PaperScreen({ ...common(), plans, states, guide: guideToPrint });
    },
    group: async (kept) =>
      new (await import("./screens/group.js")).GroupScreen({
        ...common(),
        store: kept,
        begin,
        plan: planAtHand,
        share: async (shares) => (await plansReady()).say({ shares }),
      }),
    rulers: async (kept) => new (await import("./screens/rulers.js")).RulersScreen({ ...common(), store: kept }),
    drift: async (kept) => {
      const [{ DriftScreen }] = await Promise.all([import("./screens/drift.js"), screens.ready("cut")]);
      return new DriftScreen({
        ...common(),
        store: kept,
        atMat: () => screens.get("cut")?.sitting && inHand(screens.get("cut").sitting),
        trimmed,
      });
    },
  },
});
const past = new Past({
  store,
  table: facts.table,
  mat: {
    takeUp,
    drop,
    get sitting() {
      return screens.get("cut")?.sitting;
    },
  },
  begin,
  atMat: () => showing.goTo("cut"),
});

const page = frame(document.querySelector("#page"), { words, tabs: TABS });
const wordsHere = document.createElement("words-here");
const foot = (screen) => wordsHere.under(screen, { glossary, words });
page.addEventListener("explain", () =>
  saying.tell(
    words.say("updates.ready_told.title"),
    words,
    ["kept", "sent", "newer"].map((part) => h("p", {}, words.say(`updates.ready_told.${part}`))),
  ),
);
const showing = new Showing({ page, screens, tabs: TABS, words, offline, mended, foot });
const beginning = new Beginning({
  python: insistent,
  words,
  settings,
  shelf,
  screens,
  asking: underWay,
  say,
  goTo: (name) => showing.goTo(name),
  tidy: () => past.tidy().catch(() => {}),
});

// The first screen: what is under way is seen first.

showNotices(bar, words);
tellFaults();
tellInsecure(settings);
if (!location.hash.slice(1) && (await spared("at hand", () => store.get(AT_HAND)))) {
  const mat = await spared("mat", () => screens.ready("cut"));
  if (mat?.underWay) startAt("#cut");
}
if (Showing.named(screens.names) !== screens.names[0]) askFor("rest");
await spared("screen", () => screens.ready(Showing.named(screens.names)));
showing.start();
tellStanding(page, { python, offline, words, underWay: () => Boolean(screens.get("cut")?.underWay) });
shown();
tapAgain(globalThis.matsideEarly?.() ?? []);
whenDropped(async (file) => {
  showing.goTo("plan");
  (await screens.ready("plan"))?.takeFile(file);
});
// Another window may have changed what is kept.
document.addEventListener(
  "visibilitychange",
  () => document.hidden || [settings, shelf].forEach((part) => part.restore().catch(() => {})),
);
// Until it is painted Python would only compete with it; a page that is hidden is never painted.
requestAnimationFrame(() => setTimeout(painted));
setTimeout(painted, 1000);
makeRest();

/** The other screens one after another, so that none of them is in the way of a tap. */
async function makeRest() {
  await loadInTime("rest", idle);
  for (const name of screens.names) {
    await idle();
    await screens.ready(name);
  }
  await idle();
  await spared("reminder", remind);
}

async function reminderReady() {
  const { Reminder } = await import("./copies/reminder.js");
  return new Reminder({ store });
}

/** After real work it is said that a copy is to be kept elsewhere; never at the mat. */
async function remind() {
  const reminder = await reminderReady();
  const due = screens.get("cut")?.underWay ? 0 : await reminder.due(await past.list());
  if (due) notices.tell("keep_copy", { n: due }, () => reminder.read().catch(() => {}));
}

/** What was tapped on the first screen as it is built, before it could hear of it. */
function tapAgain(keys) {
  for (const key of keys) document.querySelector(`#page [data-key="${CSS.escape(key)}"]`)?.click();
}

function mended(name, error = null) {
  if (error) notices.tell("not_restored");
  else notices.tell("mended", { what: words.say(`start.part.${name}`) });
}

/** The address that the page starts with; nothing is shown yet that would hear of it. */
function startAt(hash) {
  try {
    history.replaceState(null, "", hash);
  } catch {
    location.hash = hash;
  }
}

/** At the mat there is no top of the page to say it at. */
function say(text) {
  if (location.hash === "#cut") saying.open(text, words);
  else page.say(text);
}

function begin(request) {
  return beginning.begin(request);
}

async function practise() {
  const count = await screens.ready("count");
  if (count) await begin({ ...count.practiceRequest(), practice: true });
  else showing.goTo("count");
}

async function takeUp(id) {
  const mat = await screens.ready("cut");
  return mat ? mat.takeUp(id) : true; // the mat's own place says why it is not there
}

async function drop(id) {
  await (await screens.ready("cut"))?.drop(id);
}

// The plan, as the screens hold it.

/** What is passed on and what came: wanted on few screens, and later than the start. */
function plansReady() {
  plansComing ??= import("./passing/plans.js").then(async ({ Plans }) => {
    const plans = new Plans({ store, settings, shelf, screens: { states, take: takePlan, wasChanged } });
    if (!(await plans.restore())) mended("plans");
    return plans;
  });
  return plansComing;
}

/** What came and is no plan may be somebody's count. */
async function takeCount({ report }) {
  const group = report && (await screens.ready("group"));
  if (!group) return false;
  await group.take(report);
  showing.goTo("group/taken");
  return true;
}

/** What is kept of the plan at hand: its id, and who has which share of it. */
async function planAtHand() {
  const plans = await plansReady();
  await plans.now(); // another plan has another id from here on
  return plans.hand;
}

function planScreens() {
  return Promise.all(PLANNED.map((name) => screens.ready(name)));
}

async function states() {
  const [count, quilt, basket] = await planScreens();
  return {
    count: count.state,
    quilt: quilt.asked.state,
    basket: basket.state,
    layouts: basket.layouts,
  };
}

/** What a printed guide is of: the basket's plan, else the cloth of "How many"; null where neither gives anything. */
async function guideToPrint() {
  const [count, , basket] = await planScreens();
  const request = basket.guide() ?? (await count.guide());
  return request && beginning.withHabits(request);
}

/** Whether anything of the plan was ever said here. */
async function wasChanged() {
  return (await Promise.all(PLANNED.map((name) => store.get(name)))).some((kept) => kept !== undefined);
}

async function takePlan(plan) {
  const [count, quilt, basket] = await planScreens();
  await count.takeOver(plan.count);
  await quilt.takeOver(plan.quilt);
  await basket.takeOver(plan.basket, plan.layouts ?? null);
}

async function drawnPlan({ quilt, units }) {
  const { drawnQuilt } = await import("./lib/quilt/drawn-quilt.js");
  return drawnQuilt(quilt, { units, python, words });
}

/** At once where the basket is there: what the quilt asks next goes by it. */
function takeBasket(cloths) {
  const basket = screens.get("basket");
  if (basket) basket.take(cloths);
  else screens.ready("basket").then((late) => late?.take(cloths));
}

/** What a basket without a quilt's screen goes by. */
function noQuilt() {
  return {
    state: { ...freshQuilt(facts.usual[settings.values.units], () => ""), fabrics: [] },
    answer: null,
    waiting: false,
  };
}

/** A strip was trimmed at its slanted end, which takes so many cuts off it. */
let trimming = false;
async function trimmed(cuts) {
  if (trimming) return;
  trimming = true;
  const taken = cuts === 0 || (await screens.get("cut")?.act("ends_early", { n: cuts }));
  trimming = false;
  if (taken) showing.goTo("cut");
  else page.say(words.say("drift_screen.not_stored"));
}
