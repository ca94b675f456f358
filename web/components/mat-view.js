// The guide as it stands at the mat: count, caution, sentence, drawing, explanation, hint, one big
// zone to tap, and the buttons.

import { emit, h, refill, svg, whenLettersCome } from "../lib/page/dom.js";
import { closedPath } from "../lib/page/drawing.js";
import { spills, unbroken, warning } from "../lib/page/mat-parts.js";
import "./scene-view.js";

const PINCH = 40; // px that two fingers must part or close to mean it
// px: a screen narrower than this is one that was zoomed; the letters at the mat are as large as need be without that.
const LEAST = 320;
const LEVELS = 6; // how much can make room, see #fit
const MARK = [12, 9, 20]; // px of a tally's mark: its width, how far it leans, its height

/**
 * Shows what `told` of lib/mat/telling.js gives, and a `problem`, which may have a long and a short form. Emits `act` with
 * "cut" or "undo", and `mend`, `where`, `why`, `show-me`, `room`, `check`, `leave`, `take-over` where another window counts, and `again`
 * once all is cut. Its parts are made once, so that the drawing can slide and the focus stays.
 */
export class MatView extends HTMLElement {
  #made = false;
  #fingers = new Map();
  #shown = null;
  close = false;

  show(view) {
    if (!this.#made) this.#make(view.words);
    const { words } = view;
    this.#shown = view;
    this.dataset.hand = view.hand;
    this.body.dataset.known = view.known;
    refill(this.total, together(view.total), view.tally && tallyMarks(view.tally));
    refill(this.count, view.count && [view.count.made, h("small", {}, view.count.of)]);
    refill(this.where, view.where);
    const problem = view.following ? words.say("mat.following") : view.problem;
    fill(this.problem, problem && [].concat(problem).map((text) => h("span", { class: "mat-note" }, text)));
    fill(this.caution, view.caution && [warning(), view.caution]);
    refill(this.sentence, unbroken(view.sentence));
    refill(this.more, view.more && unbroken(view.more));
    this.zone.setAttribute("aria-label", `${view.sentence} ${view.tap}`);
    refill(this.hint, view.following ? null : view.tap);
    refill(this.then, view.then && unbroken(view.then));
    this.showMe.hidden = !view.canShow || view.following;
    this.check.hidden = !view.canCheck || view.following;
    this.undo.hidden = this.mend.hidden = view.following;
    this.takeOver.hidden = !view.following;
    this.undo.disabled = !view.canUndo;
    refill(
      this.undo,
      h("span", { class: "mat-brief" }, words.say("mat.undo")),
      h(
        "span",
        { class: "mat-full" },
        unbroken(view.past ? words.say("mat.undo_what", { what: view.past }) : words.say("mat.undo")),
      ),
    );
    this.#showEnd(view.end, words);
    this.#draw();
    this.#fit();
  }

  /** Once all is cut: what lies there, and what can come next. */
  #showEnd(end, words) {
    this.body.classList.toggle("at-end", Boolean(end));
    this.end.hidden = !end;
    if (!end) return refill(this.end);
    const button = (type, text) =>
      h(
        "button",
        { type: "button", class: "mat-button", "data-key": `end-${type}`, onclick: () => emit(this, type) },
        text,
      );
    refill(
      this.end,
      h(
        "ul",
        { "aria-label": words.say("mat.ended.piles") },
        end.piles.map(({ text, outline, high }) =>
          h("li", { class: "pile" }, pieceMark(outline, high), h("span", {}, unbroken(text))),
        ),
      ),
      h("p", {}, words.say("mat.ended.keep")),
      h(
        "div",
        { class: "mat-next" },
        end.again && button("again", words.say("mat.ended.again")),
        end.check && button("check", words.say("mat.ended.check")),
        button("leave", words.say("mat.ended.leave")),
      ),
    );
  }

  /**
   * What is less needed makes room where not all can be seen at once: first the explanation, which waits behind the
   * "?", then the act after this one, which strip it is, the hint once it is known with the name of what "Undo" takes
   * back, the count of the strip with the longer of two forms of a note, and at last the drawing's size. The caution,
   * the sentence and the drawing stay.
   */
  #fit() {
    if (!this.#shown) return;
    const { body } = this;
    const zoom = Math.min(1, Math.min(innerWidth, innerHeight) / LEAST);
    if (this.zoom !== zoom) this.style.setProperty("--zoom", (this.zoom = zoom));
    this.bar.classList.remove("brief"); // it takes its room from the body, so it comes first
    this.bar.classList.toggle("brief", spills(this.bar) || spills(this.undo));
    let level = this.#shown.end ? 2 : this.#shown.more ? 0 : 1;
    const set = () => (this.dataset.level = level);
    for (set(); !this.#shown.end && level < LEVELS && spills(body); set()) level += 1;
  }

  /** Whatever is being shown is over at once. */
  rest() {
    this.drawing?.rest();
  }

  /** Looks at the alignment from near, or at the whole again. */
  closeUp(close = !this.close) {
    this.close = close;
    this.#draw();
  }

  #draw() {
    const { scene, words, end } = this.#shown;
    this.drawing.hidden = !scene || Boolean(end);
    if (scene && !end) this.drawing.show({ ...scene, words, close: this.close, description: words.say("mat.scene") });
  }

  #make(words) {
    this.#made = true;
    this.total = this.#button("where", "mat-total", { "data-key": "total", title: words.say("mat.where_open") });
    this.count = h("p", { class: "mat-count", role: "status" });
    this.where = h("p", { class: "mat-where" });
    this.problem = h("p", { class: "mat-problem", role: "alert" });
    this.caution = h("p", { class: "mat-caution" });
    this.sentence = h("p", { class: "mat-sentence", role: "status" });
    this.more = h("p", { class: "mat-more" });
    this.hint = h("p", { class: "mat-hint" });
    this.then = h("p", { class: "mat-then" });
    this.end = h("div", { class: "mat-end", hidden: true });
    this.drawing = document.createElement("scene-view");
    this.why = this.#button("why", "mat-leave", { "data-key": "why", "aria-label": words.say("mat.why") }, "?");
    this.leave = this.#button("leave", "mat-leave", { "aria-label": words.say("mat.leave") }, "×");
    this.check = this.#button(
      "check",
      "mat-button mat-check",
      { "data-key": "check" },
      words.say("drift_screen.measure_open"),
    );
    this.showMe = this.#button(
      "show-me",
      "mat-button mat-show-me",
      { "data-key": "show-me" },
      words.say("show_me.open"),
    );
    this.room = this.#button("room", "mat-button mat-room", { "data-key": "room" }, words.say("room.open"));
    this.zone = h("button", {
      type: "button",
      class: "mat-zone",
      "data-key": "zone",
      onclick: () => emit(this, "act", "cut"),
    });
    this.undo = this.#button("act", "mat-button mat-undo", { "data-key": "undo" }, [], "undo");
    this.mend = this.#button("mend", "mat-button", { "data-key": "mend" }, words.say("mat.mend"));
    this.takeOver = this.#button(
      "take-over",
      "mat-button mat-take-over",
      { "data-key": "take-over" },
      words.say("mat.take_over"),
    );
    const notes = h("div", { class: "mat-notes" }, this.problem, this.caution);
    const counts = h("div", { class: "mat-counts" }, this.count, this.where);
    const texts = h("div", { class: "mat-words" }, counts, this.sentence);
    const foot = h("div", { class: "mat-foot" }, this.hint, this.then);
    this.body = h("div", { class: "mat-body" }, notes, texts, this.drawing, this.more, foot, this.zone, this.end);
    new ResizeObserver(() => requestAnimationFrame(() => this.#fit())).observe(this.body);
    whenLettersCome(() => this.#fit());
    this.#listenToPinch();
    this.bar = h(
      "footer",
      { class: "mat-bar" },
      this.takeOver,
      this.undo,
      this.check,
      this.showMe,
      this.room,
      this.mend,
    );
    this.append(h("header", { class: "mat-top" }, this.leave, this.total, this.why), this.body, this.bar);
  }

  /**
   * A button beside the zone. Where a finger tapped it the focus goes back to the zone: what a
   * pedal sends next is a cut.
   */
  #button(type, name, attributes, content = [], detail = undefined) {
    const pressed = ({ detail: taps }) => {
      if (taps > 0) this.zone.focus({ preventScroll: true });
      emit(this, type, detail);
    };
    return h("button", { type: "button", class: name, ...attributes, onclick: pressed }, content);
  }

  #listenToPinch() {
    const place = (event) => this.#fingers.set(event.pointerId, [event.clientX, event.clientY]);
    this.zone.addEventListener("pointerdown", (event) => {
      this.rest();
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

function fill(element, content) {
  refill(element, content);
  element.hidden = !content;
}

// So many of so many, such as "12 of 15".
const SHARE = /(\d+ \S+ \d+)/u;

function together(text) {
  const parts = text
    .split(SHARE)
    .map((part) => part.trim())
    .filter(Boolean);
  return h("span", { class: "mat-all" }, parts.flatMap((part) => [" ", h("span", { class: "whole" }, part)]).slice(1));
}

/** A mark for every piece, in groups by strip: filled when it is made. */
function tallyMarks(strips) {
  const [wide, lean, high] = MARK;
  const marks = [];
  let x = 1;
  for (const { made, of } of strips) {
    for (let k = 0; k < of; k += 1, x += wide) {
      marks.push(
        svg("path", {
          class: k < made ? "made" : "to-come",
          d: `M${x} ${high - 1}L${x + lean} 1H${x + lean + wide - 3}L${x + wide - 3} ${high - 1}Z`,
        }),
      );
    }
    x += wide / 2;
  }
  return svg("svg", { class: "mat-tally", viewBox: `0 0 ${x + lean} ${high}`, "aria-hidden": "true" }, marks);
}

function pieceMark(outline, high) {
  const xs = outline.map(([x]) => x);
  const left = Math.min(...xs);
  return svg(
    "svg",
    { class: "drawing", viewBox: `${left} 0 ${Math.max(...xs) - left} ${high}`, "aria-hidden": "true" },
    svg("path", { class: "piece", transform: `matrix(1 0 0 -1 0 ${high})`, d: closedPath(outline) }),
  );
}

customElements.define("mat-view", MatView);
