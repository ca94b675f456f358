// node first_screen.mjs ask FOLDER OUT | draw FOLDER OUT
// Runs the page's own first screen, in a document without a browser. `ask` writes what it asks the core in each unit,
// {in: {count, piece}, cm: …}; `draw` writes what it shows of the answers that FOLDER/facts.json has as `first`.
// FOLDER is the application folder as it ships, as the screen's modules and the words lie there.

import { readFile, writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parseHTML } from "linkedom";

const [act, folder, out] = process.argv.slice(2);
const { window, document } = parseHTML('<!doctype html><html lang="en"><body><div id="page"></div></body></html>');
class NoObserver {
  observe() {}
  disconnect() {}
}
const { HTMLElement, customElements, CustomEvent, Event, EventTarget } = window;
const location = { hash: "#count" };
const names = {
  window,
  document,
  HTMLElement,
  customElements,
  CustomEvent,
  Event,
  EventTarget,
  location,
  scrollTo() {},
};
Object.assign(globalThis, names, { ResizeObserver: NoObserver });

const from = (path) => import(pathToFileURL(resolve(folder, path)));
const json = async (path) => JSON.parse(await readFile(resolve(folder, path), "utf-8"));
const [{ Words }, { Settings }, { CountScreen }, { frame }, { TABS }] = await Promise.all(
  ["lib/words/words.js", "lib/kept/settings.js", "screens/count.js", "components/page-frame.js", "start/tabs.js"].map(
    from,
  ),
);
const [catalogue, facts] = await Promise.all([json("words/en.json"), json("facts.json")]);

/** What asks nobody, and remembers what was asked. */
class Nobody extends EventTarget {
  asked = {};
  stage = "loading";
  trouble = null;

  askLatest(key, request) {
    this.asked[key] = request;
    return new Promise(() => {});
  }
}

function screen(units) {
  const words = new Words(catalogue, { units, tongue: "en" });
  const store = { get: async () => undefined, put: async () => {} };
  const settings = new Settings(store, words, facts.habits.choices);
  const python = new Nobody();
  return { python, words, count: new CountScreen({ python, store, settings, facts, begin() {} }) };
}

async function asked(units) {
  const { python, count } = screen(units);
  await count.restore();
  count.element();
  count.enter();
  return python.asked;
}

async function drawn() {
  const { python, words, count } = screen("in");
  const root = document.querySelector("#page");
  const page = frame(root, { words, tabs: TABS });
  await count.restore();
  page.show("count", count.element(), false);
  count.enter();
  await new Promise((resolve) => setTimeout(resolve)); // the parts that are not in sight come after the others
  page.standing({ python, offline: { state: "waiting", trouble: {} }, underWay: false });
  root.firstElementChild.classList.add("built");
  return root.innerHTML;
}

await writeFile(out, act === "ask" ? JSON.stringify({ in: await asked("in"), cm: await asked("cm") }) : await drawn());
