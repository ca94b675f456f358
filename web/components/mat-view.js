// The guide as it stands at the mat: count, sentence, drawing, one big zone to tap, and two buttons.

import { emit, h, refill } from "../lib/dom.js";
import "./scene-view.js";

/**
 * Shows a sitting as plain values (see screens/mat.js). Emits `cut`, `undo`, `mend`, `leave`.
 * Its parts are made once, so that the drawing can slide and the focus stays.
 */
export class MatView extends HTMLElement {
  #made = false;

  show(view) {
    if (!this.#made) this.#make(view.words);
    const { words } = view;
    this.dataset.hand = view.hand;
    refill(this.total, view.total);
    refill(this.count, ...view.count);
    refill(this.where, view.where);
    refill(this.caution, view.caution);
    this.caution.hidden = !view.caution;
    refill(this.sentence, view.sentence);
    refill(this.more, view.more);
    this.more.hidden = !view.more;
    this.zone.setAttribute("aria-label", `${view.sentence} ${view.tap}`);
    refill(this.hint, view.tap);
    this.drawing.hidden = !view.scene;
    if (view.scene) this.drawing.show({ ...view.scene, words });
    this.undo.disabled = !view.canUndo;
  }

  #make(words) {
    this.#made = true;
    const tell = (type) => () => emit(this, type);
    this.total = h("p", { class: "mat-total" });
    this.count = h("p", { class: "mat-count", "aria-live": "polite" });
    this.where = h("p", { class: "mat-where" });
    this.caution = h("p", { class: "mat-caution" });
    this.sentence = h("p", { class: "mat-sentence", "aria-live": "polite" });
    this.more = h("p", { class: "mat-more" });
    this.hint = h("span", { class: "mat-hint" });
    this.drawing = document.createElement("scene-view");
    this.zone = h("button", { type: "button", class: "mat-zone", "data-key": "zone", onclick: tell("cut") }, this.hint);
    this.undo = h("button", { type: "button", class: "mat-button", "data-key": "undo", onclick: tell("undo") }, words.say("mat.undo"));
    this.mend = h("button", { type: "button", class: "mat-button", "data-key": "mend", onclick: tell("mend") }, words.say("mat.mend"));
    this.leave = h("button", { type: "button", class: "mat-leave", "aria-label": words.say("mat.leave"), onclick: tell("leave") }, "×");
    this.append(
      h("header", { class: "mat-top" }, this.leave, this.total),
      h("div", { class: "mat-body" },
        h("div", { class: "mat-words" }, this.count, this.where, this.caution, this.sentence, this.more),
        this.drawing,
        this.zone),
      h("footer", { class: "mat-bar" }, this.undo, this.mend),
    );
  }
}

customElements.define("mat-view", MatView);
