// A part of a form that is folded away until it is wanted, or until something in it is wrong.

import { h } from "../lib/dom.js";

/** Keeps which folds are open while a form is filled anew. */
export class Folds {
  #open = new Set();

  /** A fold by name; `wrong` opens it. */
  fold(name, summary, wrong, ...content) {
    const toggled = (event) => (event.currentTarget.open ? this.#open.add(name) : this.#open.delete(name));
    return h("details", { class: "card fold no-print", open: this.#open.has(name) || wrong, ontoggle: toggled }, h("summary", { "data-key": `fold-${name}` }, summary), h("div", { class: "section" }, content));
  }
}
