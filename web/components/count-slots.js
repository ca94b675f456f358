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
  #made = ""; // what of it stands, whatever is chosen

  /** What only says something else now is changed where it stands: a tap is answered the sooner. */
  show(shown) {
    const { parts, open, cloths, most, kinds, words } = shown;
    const names = [parts.map(({ name }) => name), kinds.map(({ code }) => code)];
    const made = JSON.stringify([...names, Boolean(open), cloths, most, words.units, words.locale]);
    if (made === this.#made) return this.#say(shown);
    this.#made = made;
    this.#fill(shown);
  }

  #say({ parts, open, kind }) {
    for (const part of parts) fillSlot(this.querySelector(`[data-key="slot-${part.name}"]`), part, part.name === open);
    const chosen = this.querySelector(`.usual-kinds [data-key$=":${kind}"]`);
    for (const chip of this.querySelectorAll(".usual-kinds .chip"))
      chip.setAttribute("aria-pressed", String(chip === chosen));
  }

  #fill({ parts, open, cloths, most, kinds, kind, words }) {
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

  #slot(part, open) {
    const { name } = part;
    const slot = h(
      "button",
      {
        type: "button",
        "data-key": `slot-${name}`,
        "aria-controls": `part-${name}`,
        onclick: () => emit(this, "part", name),
      },
      h("b"),
      h("span"),
    );
    fillSlot(slot, part, open);
    return slot;
  }
}

function fillSlot(slot, { title, told, wrong }, open) {
  slot.className = wrong ? "slot wrong" : "slot";
  slot.setAttribute("aria-expanded", String(open));
  slot.querySelector("b").textContent = title;
  slot.querySelector("span").textContent = told;
}

customElements.define("count-slots", CountSlots);
