// The guide as it stands at the mat: count, sentence, drawing, one big zone to tap, and two buttons.

import { emit, h, refill } from "../lib/dom.js";
import "./scene-view.js";

const PINCH = 40; // px that two fingers must part or close to mean it

/**
 * Shows what `told` of lib/telling.js gives. Emits `act` with "cut" or "undo", and `mend`, `where`, `why`, `check`, `leave`.
 * Its parts are made once, so that the drawing can slide and the focus stays.
 */
export class MatView extends HTMLElement {
  #made = false;
  #fingers = new Map();
  #shown = null;
  close = false;

  show(view) {
    if (!this.#made) this.#make(view.words);
    this.#shown = view;
    this.dataset.hand = view.hand;
    refill(this.total, view.total);
    refill(this.count, view.count && [view.count.made, h("small", {}, view.count.of)]);
    refill(this.where, view.where);
    fill(this.problem, view.problem);
    fill(this.caution, view.caution);
    refill(this.sentence, unbroken(view.sentence));
    refill(this.more, view.more && unbroken(view.more));
    this.zone.setAttribute("aria-label", `${view.sentence} ${view.tap}`);
    refill(this.hint, view.tap);
    this.check.hidden = !view.canCheck;
    this.undo.disabled = !view.canUndo;
    this.#fit();
    this.#draw();
  }

  /** What is less needed makes room where not all can be seen at once: first the long sentence, then the hint. */
  #fit() {
    const { body } = this;
    const overflows = () => body.scrollHeight > body.clientHeight + 1;
    body.classList.remove("tight");
    this.more.hidden = !this.#shown.more;
    if (overflows()) this.more.hidden = true;
    body.classList.toggle("tight", overflows());
  }

  /** Looks at the alignment from near, or at the whole again. */
  closeUp(close = !this.close) {
    this.close = close;
    this.#draw();
  }

  #draw() {
    const { scene, words } = this.#shown;
    this.drawing.hidden = !scene;
    if (scene) this.drawing.show({ ...scene, words, close: this.close, description: words.say("mat.scene") });
  }

  #make(words) {
    this.#made = true;
    const tell = (type, detail) => () => emit(this, type, detail);
    this.total = h("button", { type: "button", class: "mat-total", "data-key": "total", onclick: tell("where"), title: words.say("mat.where_open") });
    this.count = h("p", { class: "mat-count", role: "status" });
    this.where = h("p", { class: "mat-where" });
    this.problem = h("p", { class: "mat-caution", role: "alert" });
    this.caution = h("p", { class: "mat-caution" });
    this.sentence = h("p", { class: "mat-sentence", role: "status" });
    this.more = h("p", { class: "mat-more" });
    this.why = h("button", { type: "button", class: "mat-leave", "data-key": "why", "aria-label": words.say("mat.why"), onclick: tell("why") }, "?");
    this.check = h("button", { type: "button", class: "mat-button mat-check", "data-key": "check", onclick: tell("check") }, words.say("drift_screen.measure_open"));
    this.hint = h("span", { class: "mat-hint" });
    this.drawing = document.createElement("scene-view");
    this.zone = h("button", { type: "button", class: "mat-zone", "data-key": "zone", onclick: tell("act", "cut") }, this.hint);
    this.undo = h("button", { type: "button", class: "mat-button", "data-key": "undo", onclick: tell("act", "undo") }, words.say("mat.undo"));
    this.mend = h("button", { type: "button", class: "mat-button", "data-key": "mend", onclick: tell("mend") }, words.say("mat.mend"));
    this.leave = h("button", { type: "button", class: "mat-leave", "aria-label": words.say("mat.leave"), onclick: tell("leave") }, "×");
    const texts = h("div", { class: "mat-words" }, this.count, this.where, this.problem, this.caution, this.sentence, this.more);
    this.body = h("div", { class: "mat-body" }, texts, this.drawing, this.zone);
    new ResizeObserver(() => this.#fit()).observe(this.body);
    this.#listenToPinch();
    this.append(
      h("header", { class: "mat-top" }, this.leave, this.total, this.why),
      this.body,
      h("footer", { class: "mat-bar" }, this.undo, this.check, this.mend),
    );
  }

  #listenToPinch() {
    const place = (event) => this.#fingers.set(event.pointerId, [event.clientX, event.clientY]);
    this.zone.addEventListener("pointerdown", (event) => {
      place(event);
      this.apart = this.#apart();
    });
    this.zone.addEventListener("pointermove", (event) => {
      if (!this.#fingers.has(event.pointerId)) return;
      place(event);
      this.#pinched();
    });
    for (const end of ["pointerup", "pointercancel", "pointerleave"]) {
      this.zone.addEventListener(end, (event) => this.#fingers.delete(event.pointerId));
    }
  }

  #apart() {
    const [one, other] = [...this.#fingers.values()];
    return other ? Math.hypot(one[0] - other[0], one[1] - other[1]) : null;
  }

  #pinched() {
    const apart = this.#apart();
    if (apart === null || this.apart === null || Math.abs(apart - this.apart) < PINCH) return;
    this.closeUp(apart > this.apart);
    this.apart = apart;
  }
}

function fill(element, text) {
  refill(element, text);
  element.hidden = !text;
}

// A number and its unit, such as "4 5/8 in".
const MEASURE = /(\d+(?: \d+\/\d+|\/\d+|[.,]\d+)? \p{L}{1,2}(?!\p{L}))/u;

/** A text whose measures are not broken at the end of a line. */
function unbroken(text) {
  return text.split(MEASURE).map((part, i) => (i % 2 ? h("span", { class: "whole" }, part) : part));
}

customElements.define("mat-view", MatView);
