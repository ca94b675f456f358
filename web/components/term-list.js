// Trade words, each to be opened: one line of meaning and a picture. All of them, or those that a text uses.

import { h, svg } from "../lib/page/dom.js";
import { areaOf, isLine, shapeOf } from "../lib/page/drawing.js";
import { wasteHatch } from "../lib/page/hatch.js";

const WIDE = 160; // px that a picture takes about
import { termsIn } from "../lib/words/terms.js";

/** The words of `text`, as soon as the glossary is there; where it cannot come, there is nothing in their place. */
export function termList(text, glossary) {
  const list = h("div", { class: "terms" });
  glossary.ready().then(
    ({ terms, pictures, language }) =>
      list.replaceChildren(...termsIn(text, terms, language).map((code) => term(terms[code], pictures[code]))),
    () => {},
  );
  return list;
}

/** All words by their names: [{element, text}], with the text by which one is looked for. */
export function allTerms({ terms, pictures }, locale) {
  return Object.entries(terms)
    .sort(([, one], [, other]) => one.name.localeCompare(other.name, locale))
    .map(([code, one]) => ({ element: term(one, pictures[code]), text: `${one.name} ${one.meaning}`.toLowerCase() }));
}

/** The picture is made when it is first looked at: there are many. */
function term({ name, meaning }, picture) {
  const made = h("details", { class: "term" }, h("summary", {}, name), h("p", {}, meaning));
  made.addEventListener("toggle", () => made.append(drawn(picture)), { once: true });
  return made;
}

function drawn({ view: [x, y, wide, high], shapes }) {
  const hatch = wasteHatch(wide / WIDE);
  const parts = (shape) => (isLine(shape.role) ? [shapeOf(shape)] : areaOf(shape, hatch));
  return svg(
    "svg",
    { class: "drawing term-picture", viewBox: `${x} ${-y - high} ${wide} ${high}`, "aria-hidden": "true" },
    hatch.defs,
    svg("g", { transform: "scale(1 -1)" }, shapes.flatMap(parts)),
  );
}

/** Folded at the foot of a screen: the trade words that stand on it, looked for when it is opened. */
export class WordsHere extends HTMLElement {
  /** The fold for what stands in `screen`. */
  under(screen, { glossary, words }) {
    const list = h("div");
    const fold = h("details", { class: "card fold" }, h("summary", {}, words.say("glossary.here")), list);
    fold.addEventListener("toggle", () => fold.open && list.replaceChildren(termList(textOf(screen), glossary)));
    this.replaceChildren(h("aside", { class: "words-here no-print", "aria-label": words.say("glossary.here") }, fold));
    return this;
  }
}

/** All text of an element, that of its parts kept apart. */
function textOf(element) {
  const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
  const texts = [];
  while (walker.nextNode()) texts.push(walker.currentNode.data);
  return texts.join(" | ");
}

customElements.define("words-here", WordsHere);
