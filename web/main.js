// Wires the page: settings, store, words, Python, offline, and the screens. Nothing here knows a rule.

import { CountScreen } from "./screens/count.js";
import { MatScreen } from "./screens/mat.js";
import { ToolsScreen } from "./screens/tools.js";
import { frame } from "./components/page-frame.js";
import { Blade } from "./lib/blade.js";
import { go, route } from "./lib/router.js";
import { Settings } from "./lib/settings.js";
import { Store } from "./lib/store.js";
import { Voice } from "./lib/voice.js";
import { Wake } from "./lib/wake.js";
import { loadCatalogue, Words } from "./lib/words.js";
import { createPython } from "./worker/python.js";
import { offline } from "./offline.js";

const [catalogue, facts] = await Promise.all([loadCatalogue(), loadFacts()]);
const words = new Words(catalogue);
const store = new Store();
const settings = new Settings(store, words);
const python = createPython();

const wake = new Wake();
const blade = new Blade(store);
const voice = new Voice(() => ({ volume: settings.values.volume, language: words.locale }));

const mat = new MatScreen({ store, settings, facts, wake, voice, blade, leave: () => go("count") });
const count = new CountScreen({ python, store, settings, facts, begin });
const tools = new ToolsScreen({ python, store, settings, facts, voice, blade, practise: () => begin(count.practiceRequest()) });
const screens = { count, cut: mat, tools };

await Promise.all([settings.restore(), mat.restore(), count.restore(), blade.restore()]);
let release = null;
const page = frame(document.querySelector("#page"), { words, tabs: Object.keys(screens) });
route(Object.keys(screens), enter);
watch();

async function loadFacts() {
  return (await fetch(new URL("./facts.json", import.meta.url))).json();
}

function enter(name) {
  const screen = name === "cut" && !mat.sitting ? count : screens[name];
  if (screen !== mat) mat.exit();
  page.show(screen === count ? "count" : name, screen.element(), screen === mat);
  screen.enter();
  hold(screen === mat);
}

/** No new version takes over while cutting. */
function hold(cutting) {
  release?.();
  release = cutting ? offline.hold() : null;
}

async function begin(request) {
  const { hand, lay, layers, mat: side, rulers, chosen } = settings.values;
  const answer = await python.ask({ ...request, hand, lay, layers, mat: side, ...(rulers && { rulers }), ...(chosen && { chosen }) });
  if (!answer.ok) return page.say(words.refusal(answer.error));
  await mat.begin(answer.script, request);
  navigator.storage?.persist?.();
  go("cut");
}

function watch() {
  const tell = () => page.standing({ python: python.stage, offline: offline.state, message: offline.message || python.message, underWay: mat.underWay });
  python.addEventListener("stage", () => {
    tell();
    if (["ready", "failed"].includes(python.stage)) offline.start();
  });
  offline.addEventListener("state", tell);
  page.addEventListener("update", () => offline.applyUpdate());
  page.addEventListener("retry", () => (python.stage === "failed" ? python.retry() : offline.start()));
  tell();
}
