// One step of the guide for a whole room: what to do, the counts, the drawing, the caution that is due, what comes next.

import { emit, h, refill, whenLettersCome } from "../lib/page/dom.js";
import { spills, unbroken, warning } from "../lib/page/mat-parts.js";
import "./scene-view.js";

const LEVELS = 3; // what makes room where a step takes many words: the counts, then the size of its sentence
const THICK = 640; // px of a picture on which lines are as thick as at the mat

/**
 * Shows what `told` of lib/mat/telling.js gives, and whether there is a step before and after. Emits `next`, `back`,
 * `show-me` and `leave`.
 */
export class RoomView extends HTMLElement {
  #made = false;

  show(view) {
    if (!this.#made) this.#make(view.words);
    const { words, scene } = view;
    this.dataset.hand = view.hand;
    this.caution.hidden = !view.caution;
    refill(this.caution, view.caution && [warning(), view.caution]);
    refill(this.sentence, unbroken(view.sentence));
    refill(this.figure, view.count?.made);
    refill(
      this.of,
      [view.count?.of, view.where].filter(Boolean).map((text) => h("span", {}, text.trim())),
      h("span", { class: "room-total" }, view.total),
    );
    refill(this.then, view.then && unbroken(view.then));
    this.back.disabled = !view.canBack;
    this.next.disabled = !view.canNext;
    this.showMe.hidden = !view.canShow;
    this.drawing.hidden = !scene;
    if (scene) this.drawing.show({ ...scene, words, close: false, description: words.say("mat.scene") });
    this.#fit();
  }

  #make(words) {
    this.#made = true;
    const say = (code) => words.say(`room.${code}`);
    this.caution = h("p", { class: "room-caution" });
    this.sentence = h("p", { class: "room-sentence", role: "status", tabindex: "-1" });
    this.figure = h("b", {});
    this.of = h("span", { class: "room-of" });
    this.then = h("p", { class: "room-then" });
    this.drawing = document.createElement("scene-view");
    this.back = this.#button("back", say("back"));
    this.next = this.#button("next", say("next"));
    this.showMe = this.#button("show-me", words.say("show_me.open"));
    this.words = h(
      "div",
      { class: "room-words" },
      this.sentence,
      h("p", { class: "room-counts" }, this.figure, this.of),
    );
    this.append(
      this.caution,
      this.words,
      this.drawing,
      h("div", { class: "room-next" }, this.back, this.next, this.then),
      h("div", { class: "room-foot" }, h("p", {}, say("looking")), this.showMe, this.#button("leave", say("leave"))),
    );
    new ResizeObserver(() => this.#fit()).observe(this);
    whenLettersCome(() => this.#fit());
  }

  /** Where a finger or a mouse pressed it, the keys of a remote go on being the steps'. */
  #button(type, text) {
    const pressed = ({ detail: taps }) => {
      if (taps > 0) this.sentence.focus({ preventScroll: true });
      emit(this, type);
    };
    return h("button", { type: "button", class: `room-${type}`, "data-key": `room-${type}`, onclick: pressed }, text);
  }

  #fit() {
    this.style.setProperty("--bold", innerWidth / THICK);
    let level = 0;
    const set = () => (this.dataset.level = level);
    for (set(); level < LEVELS && (spills(this.words) || spills(this)); set()) level += 1;
  }
}

customElements.define("room-view", RoomView);
