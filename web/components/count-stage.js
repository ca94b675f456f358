// The cloth with its pieces, and beside it how many each way of cutting gives: what is seen first of an answer.

import { atDesk } from "../lib/page/desk.js";
import { h, keepFocus, refill } from "../lib/page/dom.js";
import { clothDrawing, isBand } from "../lib/page/drawing.js";
import { clothTold, wayLabel, waysOf } from "../lib/words/cloth-ways.js";
import { chips } from "./chips.js";

/**
 * Shows an `answer` of the ask `cloth` for so many `cloths`, with the `way` that is looked at; one that is `waiting` for
 * a newer one pales. Emits `way`.
 */
export class CountStage extends HTMLElement {
  show(shown) {
    keepFocus(this, () => this.#fill(shown));
  }

  #fill({ answer, way, cloths, waiting, words }) {
    this.className = ["stage", answer && isBand(answer.cloth) && "band", waiting && "stale"].filter(Boolean).join(" ");
    if (!answer) return refill(this);
    const choices = waysOf(answer).map((name) => [name, wayContent(answer, name, cloths, words)]);
    refill(
      this,
      h("div", { class: "stage-picture" }, picture(answer, way, words)),
      chips(words.say("page.ways"), choices, way, "way", "ways"),
    );
  }
}

function picture(answer, way, words) {
  const { layout } = answer[way];
  if (!layout.drawn) return h("p", { class: "soft" }, words.say("page.not_drawn"));
  return clothDrawing(answer.cloth, layout, words, clothTold(answer, way, words), atDesk());
}

function wayContent(answer, name, cloths, words) {
  return [h("b", {}, String(answer[name].pieces * cloths)), h("span", {}, wayLabel(answer, name, words))];
}

customElements.define("count-stage", CountStage);
