// A part of a form that is folded away until it is wanted, or until something in it is wrong.

import { h } from "../lib/page/dom.js";

/**
 * Makes parts that stay open, or folded, while what is around them is filled anew. That is read from the part itself as
 * it stands: the browser tells that one was opened only a little later, and a new filling may come between.
 */
export class Folds {
  #made = new Map();

  /**
   * A part by name. `open` says how it stands at first; what is `wrong` opens it; other
   * attributes are those of the element.
   */
  part(name, { open = false, wrong = false, ...attributes }, summary, ...content) {
    const made = h("details", { ...attributes, open: (this.#made.get(name)?.open ?? open) || wrong }, summary, content);
    this.#made.set(name, made);
    return made;
  }

  /** A part that looks as a fold of a form does. */
  fold(name, summary, wrong, ...content) {
    return this.part(
      name,
      { class: "card fold no-print", wrong },
      h("summary", { "data-key": `fold-${name}` }, summary),
      h("div", { class: "section" }, content),
    );
  }
}
