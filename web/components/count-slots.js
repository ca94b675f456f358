// What an answer is about, in one row under it: the piece, the cloth, and how many of them. Each of the first two opens
// its part of the page; the number is changed where it stands.

import { emit, h, refill } from "../lib/page/dom.js";
import { stepper } from "./stepper.js";

/**
 * Shows `parts` [{name, title, told, wrong}], of which one is `open` or none, and so many `cloths`, `most` at the most.
 * Emits `part` with a name, and `stepped` as a stepper does.
 */
export class CountSlots extends HTMLElement {
  show({ parts, open, cloths, most, words }) {
    this.setAttribute("role", "group");
    this.setAttribute("aria-label", words.say("page.slot.names"));
    refill(
      this,
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
