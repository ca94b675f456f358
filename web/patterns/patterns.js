// The pattern page: every component in its states, by the real components with the core's answers, for whoever changes
// the look. The address says how it is looked at: ?look=dark&size=200.

import { tape } from "../components/length-tape.js";
import { DEFAULTS } from "../lib/kept/settings.js";
import { h } from "../lib/page/dom.js";
import { Glossary } from "../lib/words/glossary.js";
import { Words } from "../lib/words/words.js";
import { loadCatalogue, loadFacts, loadGlossary } from "../start/first.js";
import { asking, besides } from "./asking.js";
import { basics, openTape } from "./basics.js";
import { counting } from "./counting.js";
import { cutting } from "./cutting.js";
import { states } from "./examples.js";
import { looks } from "./looks.js";
import { passing } from "./passing.js";
import { quilting } from "./quilting.js";
import { settling } from "./settling.js";
import { apart } from "./show.js";

const LOOKS = ["light", "dark"];
const SIZES = ["100", "150", "200"]; // percent of the letters that the browser is set to

const asked = new URLSearchParams(location.search);
const chosen = (name, choices) => (choices.includes(asked.get(name)) ? asked.get(name) : choices[0]);
const [look, size] = [chosen("look", LOOKS), chosen("size", SIZES)];
document.documentElement.dataset.theme = look;
document.documentElement.style.fontSize = `${size}%`;

const [catalogue, facts, answers] = await Promise.all([
  loadCatalogue(),
  loadFacts(),
  fetch(new URL("answers.json", import.meta.url)).then((found) => found.json()),
]);
const words = new Words(catalogue, { units: "in", locale: "en" });
tape.begin(words);
const glossary = new Glossary(words, () => loadGlossary());
const given = { words, facts, answers, glossary, values: DEFAULTS, states: states(facts, words) };
const parts = [
  ...looks(),
  ...basics(given),
  ...counting(given),
  ...quilting(given),
  ...cutting(given),
  ...passing(given),
  ...settling(given),
  asking(given),
];
document.body.append(head(parts), ...parts, h("div", { class: "pattern-part pattern-grid" }, besides(given)));
document.querySelectorAll(".pattern").forEach((pattern) => {
  pattern.stand?.();
  apart(pattern);
});
openTape(document.body);
scrollTo(0, 0);
document.body.dataset.shown = "";

/** The page's name, how it is looked at, and what is on it. */
function head(all) {
  return h(
    "header",
    { class: "pattern-head" },
    h("h1", {}, "Patterns of Matside"),
    h(
      "p",
      {},
      "Every component in its states, made by the page's own modules, with answers that the build asked the core. For whoever changes the look; no visitor's phone keeps it. Up to 900 px it shows what a phone shows, beyond that what a desk does.",
    ),
    h(
      "nav",
      { class: "pattern-looks", "aria-label": "Look" },
      LOOKS.flatMap((one) => SIZES.map((each) => link(one, each))),
    ),
    h(
      "nav",
      { class: "pattern-parts", "aria-label": "Parts" },
      all.map(({ id, firstChild }) => h("a", { href: `#${id}` }, firstChild.textContent)),
    ),
  );
}

function link(one, each) {
  const here = one === look && each === size;
  return h("a", { href: `?look=${one}&size=${each}`, "aria-current": here ? "page" : null }, `${one}, ${each} %`);
}
