// What an answer is about, in one row under it: the piece, the cloth, and how many of them. Each of the first two opens
// its part of the page; the number is changed where it stands.

import { emit, h, refill } from "../lib/page/dom.js";
import { kindContent } from "../lib/page/kind-mark.js";
import { chips } from "./chips.js";
import { stepper } from "./stepper.js";

/**
 * Shows `parts` [{name, title, told, wrong}], of which one is `open` or none, and so many `cloths`, `most` at the most;
 * below them, as long as no part is open, the `kinds` of cloth that are met most, of which `kind` is the one at hand.
 * Emits `part` with a name, `usual-kind` with a code, and `stepped` as a stepper does.
 */
export class CountSlots extends HTMLElement {
  show({ parts, open, cloths, most, kinds, kind, words }) {
    const choices = kinds.map((each) => [each.code, kindContent(each, words)]);
    refill(
      this,
      this.#row({ parts, open, cloths, most, words }),
      !open && chips(words.say("page.usual_cloth"), choices, kind, "usual-kind", "kinds usual-kinds"),
    );
  }

  #row({ parts, open, cloths, most, words }) {
    return h(
      "div",
      { class: "slots", role: "group", "aria-label": words.say("page.slot.names") },
      parts.map((part) => this.#slot(part, part.name === open)),
      stepper({
        name: "cloths",
        label: words.say("page.cloths"),
        number: cloths,
        least: 1,
        most,
        fewer: words.say("page.cloths_fewer"),
        more: words.say("page.cloths_more"),
      }),
    );
  }

  #slot({ name, title, told, wrong }, open) {
    return h(
      "button",
      {
        type: "button",
        class: wrong ? "slot wrong" : "slot",
        "data-key": `slot-${name}`,
        "aria-expanded": String(open),
        "aria-controls": `part-${name}`,
        onclick: () => emit(this, "part", name),
      },
      h("b", {}, title),
      h("span", {}, told),
    );
  }
}

customElements.define("count-slots", CountSlots);
