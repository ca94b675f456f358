// The lists on paper: what to buy and who brings what, and the labels of kits and piles.

import "../components/buying-list.js";
import { h } from "../lib/page/dom.js";
import { ClassTold } from "../lib/quilt/class-told.js";
import { fabricColour } from "../lib/quilt/fabric-colour.js";
import { fabricName, kindName } from "../lib/words/cut-words.js";

const SETTLED = Object.freeze({ errors: {}, settled: true });

/** What to buy of each fabric, and for a class what everybody brings. */
export function buyingSheet({ buying, class: lesson }, { state, offered, words }) {
  const list = document.createElement("buying-list");
  list.show({ answer: buying, state, offered, colourOf: (id) => fabricColour(id, state.fabrics), words, ...SETTLED });
  if (!lesson || !state.buying.kits) return [list];
  const told = new ClassTold({ state, words });
  return [
    list,
    h("section", {}, h("h3", {}, words.say("leading.supplies")), told.supplies(lesson)),
    h("section", {}, h("h3", {}, words.say("leading.tools")), told.tools(lesson)),
  ];
}

/** A label for each pile of pieces, and for a class one for each kit. */
export function labelsSheet({ quilt, class: lesson }, { state, words }) {
  const piles = h(
    "div",
    { class: "sheet-labels" },
    quilt.cut.map((entry) => pileLabel(entry, state, words)),
  );
  const kits = lesson && state.buying.kits ? new ClassTold({ state, words }).labels(lesson, state.class) : null;
  return [
    h("section", {}, h("h3", {}, words.say("paper.piles")), piles),
    kits && h("section", {}, h("h3", {}, words.say("paper.kits")), kits),
  ];
}

function pileLabel({ kind, fabric, size, need }, state, words) {
  return h(
    "div",
    { class: "sheet-label" },
    h("h4", {}, kindName(kind, words)),
    h("p", {}, words.say("paper.pile", { n: need, size })),
    h("p", {}, fabricName(fabric, state.fabrics, words)),
  );
}
