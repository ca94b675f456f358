// Choosing the cloth: a kind, and its two sides where they are not settled by the kind.

import { emit, h, refill } from "../lib/page/dom.js";
import { kindContent } from "../lib/page/kind-mark.js";
import { ownSide, sideUnit, written } from "../lib/words/measure.js";
import { chips } from "./chips.js";
import { tickField } from "./choice-field.js";
import { lengthField } from "./length-field.js";

/**
 * Shows `cloth` {kind, length, width, one_way}: the sides as typed, empty where the kind's own is meant; `amounts` to tap by the
 * unit that a kind is sold in. Emits `cloth` with the changed part.
 */
export class ClothPicker extends HTMLElement {
  constructor() {
    super();
    this.addEventListener("kind", ({ detail }) => emit(this, "cloth", { kind: detail, length: "", width: "" }));
    this.addEventListener("amount", ({ detail }) => emit(this, "cloth", { length: detail }));
    this.addEventListener("ticked", ({ detail }) => emit(this, "cloth", { one_way: detail.on }));
    this.addEventListener("typed", ({ detail }) => emit(this, "cloth", { [detail.name.split(".")[1]]: detail.text }));
  }

  show({ cloth, kinds, amounts, errors, words }) {
    const kind = kinds.find(({ code }) => code === cloth.kind);
    const choices = kinds.map((each) => [each.code, kindContent(each, words)]);
    refill(
      this,
      h(
        "div",
        { class: "card" },
        chips(words.say("page.cloth"), choices, cloth.kind, "kind", "kinds"),
        h("p", { class: "soft small" }, words.say(`cloth.${cloth.kind}.hint`)),
        amounts[kind.unit] && this.#amounts(amounts[kind.unit], kind, cloth, words),
        h(
          "div",
          { class: "beside" },
          ["length", "width"].map((side) => this.#side(side, kind, cloth, errors, words)),
        ),
        h("p", { class: "soft small" }, words.say("page.sides")),
        tickField({ name: "cloth.one_way", label: words.say("page.one_way"), on: Boolean(cloth.one_way) }),
      ),
    );
  }

  #amounts({ usual, offered }, kind, cloth, words) {
    const choices = offered.map((amount) => [
      `${amount} ${kind.unit}`,
      words.say(`unit.${kind.unit}`, { number: localAmount(amount, words) }),
    ]);
    return chips(words.say("page.amount"), choices, written(cloth.length) || `${usual} ${kind.unit}`, "amount");
  }

  #side(side, kind, cloth, errors, words) {
    return lengthField({
      name: `cloth.${side}`,
      unit: sideUnit(side, kind, words.units),
      label: words.say(`cloth.${kind.code}.${side}`),
      text: cloth[side],
      placeholder: ownSide(side, kind, words) || words.say(`page.placeholder_${words.units}`),
      error: errors[`cloth.${side}`],
    });
  }
}

function localAmount(amount, words) {
  return Number.isNaN(Number(amount)) ? amount : Number(amount).toLocaleString(words.locale);
}

customElements.define("cloth-picker", ClothPicker);
