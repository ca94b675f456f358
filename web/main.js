// Wires the page: settings, store, words, Python, offline, and the screens. Nothing here knows a rule.

import { BasketScreen } from "./screens/basket.js";
import { CountScreen } from "./screens/count.js";
import { DriftScreen } from "./screens/drift.js";
import { MatScreen } from "./screens/mat.js";
import { QuiltScreen } from "./screens/quilt.js";
import { RulersScreen } from "./screens/rulers.js";
import { ToolsScreen } from "./screens/tools.js";
import { frame } from "./components/page-frame.js";
import "./components/notice-bar.js";
import "./components/under-way-dialog.js";
import { Copies } from "./copies/copies.js";
import { Blade } from "./lib/blade.js";
import { inHand } from "./lib/in-hand.js";
import { notices } from "./lib/notices.js";
import { Past } from "./lib/past.js";
import { pickedFor } from "./lib/picked.js";
import { go, route } from "./lib/router.js";
import { Shelf } from "./lib/shelf.js";
import { Settings } from "./lib/settings.js";
import { why } from "./store/failing.js";
import { Store } from "./store/store.js";
import { Voice } from "./lib/voice.js";
import { Wake } from "./lib/wake.js";
import { loadCatalogue, Words } from "./lib/words.js";
import { createPython } from "./worker/python.js";
import { offline } from "./offline.js";

const store = new Store();
store.addEventListener("notice", ({ detail: { code, values, whenRead } }) => notices.tell(code, values, whenRead));
store.addEventListener("unkept", ({ detail: { why } }) => notices.tell(why === "full" ? "unkept_full" : "unkept"));
const [catalogue, facts] = await Promise.all([loadCatalogue(), loadFacts(), store.open()]);
const words = new Words(catalogue);
const settings = new Settings(store, words);
let painted;
const python = createPython({ when: new Promise((resolve) => (painted = resolve)) });

const shelf = new Shelf({ store, settings, facts });
const wake = new Wake();
const blade = new Blade(store);
const voice = new Voice(() => ({ volume: settings.values.volume, language: words.locale }));

const mat = new MatScreen({ python, store, settings, facts, shelf, wake, voice, blade, leave: () => go("count"), check: () => go("drift/cut"), again: (request) => begin(request) });
const count = new CountScreen({ python, store, settings, facts, begin });
const past = new Past({ store, table: facts.table, mat, begin, atMat: () => go("cut") });
const copies = new Copies({ store, table: facts.table, took: (ids) => mat.changedElsewhere(ids) });
const tools = new ToolsScreen({ python, store, settings, shelf, facts, voice, blade, past, copies, practise: () => begin({ ...count.practiceRequest(), practice: true }) });
const rulers = new RulersScreen({ python, store, settings, shelf });
const drift = new DriftScreen({ python, store, settings, facts, shelf, atMat: () => mat.sitting && inHand(mat.sitting), trimmed });
const quilt = new QuiltScreen({ python, store, settings, takeBasket: (cloths) => basket.take(cloths), answered: () => basket.quiltAnswered() });
const basket = new BasketScreen({ python, store, settings, facts, quilt: () => quilt.asked, settleQuilt: () => quilt.settle(), begin });
const tabs = { count, quilt, basket, cut: mat, tools };
const screens = { ...tabs, rulers, drift };

await Promise.all([settings, shelf, mat, count, blade, rulers, drift, quilt, basket].map((part) => part.restore()));
let release = null;
let beginning = null;
const asking = document.body.appendChild(document.createElement("under-way-dialog"));
let trimming = false;
const bar = document.body.appendChild(document.createElement("notice-bar"));
const page = frame(document.querySelector("#page"), { words, tabs: Object.keys(tabs) });
if (!location.hash.slice(1) && mat.underWay) history.replaceState(null, "", "#cut"); // what is under way is seen first
route(Object.keys(screens), enter);
watch();
showNotices();
// Until then Python would only compete with it; a page that is hidden is never painted.
requestAnimationFrame(() => setTimeout(painted));
setTimeout(painted, 1000);

async function loadFacts() {
  return (await fetch(new URL("./facts.json", import.meta.url))).json();
}

function enter(name, rest) {
  const screen = screens[name];
  const atMat = screen === mat && Boolean(mat.sitting);
  if (screen !== mat) mat.exit();
  page.show(tabOf(screen, rest), screen.element(), atMat);
  screen.enter(rest);
  hold(atMat || (screen === drift && rest[0] === "cut"));
}

/** The tab that a screen belongs to. */
function tabOf(screen, [from]) {
  const own = Object.keys(tabs).find((name) => tabs[name] === screen);
  return own ?? (from === "cut" ? "cut" : "tools");
}

/** No new version takes over while cutting. */
function hold(cutting) {
  release?.();
  release = cutting ? offline.hold() : null;
}

/** Begins the guide for a request; a second tap while one is on its way begins nothing. */
async function begin(request) {
  beginning ??= beginNow(request).finally(() => (beginning = null));
  return beginning;
}

/** Where something is half done, what becomes of it is said before anything else is begun. */
async function mayBegin() {
  if (!mat.halfDone) return true;
  asking.open(mat.halfDone, words);
  const choice = await new Promise((chosen) => asking.addEventListener("chosen", ({ detail }) => chosen(detail), { once: true }));
  if (choice === "go_on") go("cut");
  return choice === "begin";
}

async function beginNow(request) {
  if (!(await mayBegin())) return;
  const full = await withHabits(request);
  const answer = await python.ask(full);
  if (!answer.ok) return page.say(words.refusal(answer.error));
  try {
    await mat.begin({ ...answer.script, request: full }, request);
  } catch (error) {
    return page.say(words.say(`mat.stored_failed.${why(error)}`));
  }
  past.tidy().catch(() => {});
  if (location.hash === "#cut") enter("cut", []);
  else go("cut");
}

/** A request for a guide with everything that the user has settled once for all. */
async function withHabits(request) {
  const { hand, lay, layers, mat: side, placing, tolerance, across, chosen } = settings.values;
  const owned = shelf.owned();
  const piece = chosen && request.piece && (await python.ask({ ask: "piece", piece: request.piece }));
  const picked = piece?.ok ? pickedFor(settings.values, piece, owned) : null;
  return { ...request, hand, lay, layers, mat: side, rulers: owned, placing, tolerance, across, chosen: picked ?? null };
}

/** A strip was trimmed at its slanted end, which takes so many cuts off it. */
async function trimmed(cuts) {
  if (trimming) return;
  trimming = true;
  const taken = cuts === 0 || (await mat.act("ends_early", { n: cuts }));
  trimming = false;
  if (taken) go("cut");
  else page.say(words.say("drift_screen.not_stored"));
}

function watch() {
  const tell = () => page.standing({ python, offline, underWay: mat.underWay });
  // Another window may have changed what is kept.
  document.addEventListener("visibilitychange", () => document.hidden || Promise.all([settings, shelf].map((part) => part.restore())));
  python.addEventListener("stage", () => {
    tell();
    if (["ready", "failed"].includes(python.stage)) offline.start();
  });
  python.addEventListener("late", tell);
  offline.addEventListener("state", tell);
  page.addEventListener("update", async () => (await offline.applyUpdate()) || offline.state !== "update" || page.say(words.say("updates.held")));
  page.addEventListener("retry", () => (python.stage === "failed" ? python.retry() : offline.start()));
  tell();
}

/** What has to be read stands above every screen until it is. */
function showNotices() {
  const show = () => bar.show(notices.first, words);
  notices.addEventListener("change", show);
  bar.addEventListener("notice-read", () => notices.read());
  show();
}
