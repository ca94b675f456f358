// How many pieces there are for every size, and what of the cloth they take: a picture to drag in,
// with the good sizes marked.
//
// All of it is in the core's steps: while one drags nothing is asked, only looked up.

import { emit, h, refill, svg } from "../lib/page/dom.js";
import { wasteHatch } from "../lib/page/hatch.js";
import { sayNumber } from "../lib/words/measure.js";
import { chips } from "./chips.js";

const [HIGH, STAIRS, BETWEEN] = [132, 56, 10]; // px: of what is used, of how many there are, and between them
const SNAP = 9; // px: a good size that is so near takes the handle
const MOST_CHIPS = 6;
const CM = 2.54;
const HAIR = 1e-9; // inches
const KEYS = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 };

/**
 * Shows the core's `found` of the ask `best_size`; `back` is the size to go back to, where one was used. Emits
 * `use-size` inches and `size-back`.
 */
export class SizeCurve extends HTMLElement {
  #shown = null;
  #at = 0;
  #wide = 320;
  #watching = new ResizeObserver(() => this.#fit());

  constructor() {
    super();
    this.addEventListener("good-size", ({ detail }) => {
      this.#go(detail, false);
      this.handle.focus({ preventScroll: true });
    });
  }

  connectedCallback() {
    this.#watching.observe(this);
  }

  disconnectedCallback() {
    this.#watching.disconnect();
  }

  show(shown) {
    const another = this.#shown?.found !== shown.found;
    this.#shown = shown;
    if (another) this.#at = within(shown.found.size, shown.found);
    this.#build();
  }

  #say(code, values) {
    return this.#shown.words.say(`best_size.${code}`, values);
  }

  #build() {
    const { found, words, stale } = this.#shown;
    this.classList.toggle("stale", Boolean(stale));
    this.said = h("p", { class: "curve-said" });
    this.more = h("p", { class: "soft small" });
    this.acts = h("div", { class: "row" });
    this.handle = h("div", {
      class: "curve-handle",
      role: "slider",
      tabindex: "0",
      "data-key": "curve-handle",
      "aria-label": this.#say("handle"),
      "aria-valuemin": round(found.from),
      "aria-valuemax": round(found.to),
      onkeydown: (event) => this.#key(event),
    });
    this.plot = h(
      "div",
      { class: "curve", onpointerdown: (event) => this.#grab(event), onpointermove: (event) => this.#drag(event) },
      this.handle,
    );
    const good = goodSizes(found);
    refill(
      this,
      this.said,
      this.plot,
      h(
        "div",
        { class: "curve-ends small" },
        this.#end(found.from),
        h("span", { class: "soft" }, this.#say("across")),
        this.#end(found.to),
      ),
      this.more,
      good.length > 0 && h("p", { class: "label" }, this.#say("good")),
      good.length > 0 &&
        chips(
          this.#say("good"),
          good.map((step) => [
            step.laid,
            [h("b", {}, words.length(step.laid)), " ", this.#say("used_short", { used: step.laid_share })],
          ]),
          null,
          "good-size",
        ),
      this.acts,
    );
    this.#fit();
    this.#tell();
  }

  /** What stands at an end of the picture: the size, and how many there are. */
  #end(size) {
    const { found, words } = this.#shown;
    const [label, what] = [words.length(size), stepAt(found, size).pieces];
    return h("span", {}, words.say("join.labeled", { label, what }));
  }

  #fit() {
    if (!this.#shown || !this.plot) return;
    this.#wide = Math.max(120, this.plot.clientWidth || this.#wide);
    this.plot.querySelector("svg")?.remove();
    this.plot.prepend(picture(this.#shown.found, this.#wide));
    this.#place();
  }

  #x(size) {
    return place(size, this.#shown.found) * this.#wide;
  }

  #place() {
    this.handle.style.left = `${this.#x(this.#at)}px`;
  }

  // Moving.

  #grab(event) {
    if (event.button > 0) return;
    this.plot.setPointerCapture(event.pointerId);
    this.handle.focus({ preventScroll: true });
    this.#drag(event, true);
  }

  #drag(event, begins = false) {
    if (!begins && !this.plot.hasPointerCapture?.(event.pointerId)) return;
    const { found } = this.#shown;
    const x = event.clientX - this.plot.getBoundingClientRect().left;
    const near = found.steps.filter(({ good, laid }) => good && Math.abs(this.#x(laid) - x) <= SNAP);
    const nearest = near.sort((one, other) => Math.abs(this.#x(one.laid) - x) - Math.abs(this.#x(other.laid) - x))[0];
    this.#go(nearest ? nearest.laid : sizeAt(x / this.#wide, found), !nearest);
  }

  /** Goes to a size, or to the line of a ruler that is nearest to it. */
  #go(size, onLine = true) {
    const { found } = this.#shown;
    const line = this.#line();
    this.#at = within(onLine ? Math.round(size / line) * line : size, found);
    this.#place();
    this.#tell();
  }

  /** What is told apart while one drags: half a step of the ruler, where it can be written so. */
  #line() {
    const { found, words } = this.#shown;
    return words.units === "cm" ? found.step : found.step / 2;
  }

  #key(event) {
    const { found } = this.#shown;
    const good = found.steps.filter((step) => step.good).map(({ laid }) => laid);
    const ends = { Home: found.from, End: found.to };
    const next = {
      PageUp: good.find((size) => size > this.#at + HAIR),
      PageDown: good.findLast((size) => size < this.#at - HAIR),
    };
    if (KEYS[event.key]) this.#go(this.#at + KEYS[event.key] * this.#line());
    else if (event.key in ends) this.#go(ends[event.key], false);
    else if (next[event.key]) this.#go(next[event.key], false);
    else if (!(event.key in next)) return;
    event.preventDefault();
  }

  // Telling.

  #tell() {
    const { found, back, words, stale } = this.#shown;
    const at = stepAt(found, this.#at);
    const values = { size: this.#at, n: at.pieces, used: share(found, at.pieces, this.#at) };
    refill(
      this.said,
      h("b", {}, words.length(this.#at)),
      h("span", {}, this.#say("pieces", values)),
      h("span", { class: at.good && near(at.laid, this.#at) ? "curve-good" : "" }, this.#say("used", values)),
    );
    this.more.textContent = this.#upTo(at);
    this.handle.setAttribute("aria-valuenow", round(this.#at));
    this.handle.setAttribute(
      "aria-valuetext",
      this.#say(at.good && near(at.laid, this.#at) ? "spoken_good" : "spoken", values),
    );
    const same = near(found.size, this.#at);
    refill(
      this.acts,
      !same &&
        !stale &&
        h(
          "button",
          { type: "button", class: "button", "data-key": "use-size", onclick: () => emit(this, "use-size", this.#at) },
          this.#say("use", { size: this.#at }),
        ),
      back &&
        h(
          "button",
          { type: "button", class: "button plain", "data-key": "size-back", onclick: () => emit(this, "size-back") },
          this.#say("back", { size: back }),
        ),
    );
  }

  /** The exact end of the step, rounded down, and what there is beyond it. */
  #upTo(at) {
    const { found, words } = this.#shown;
    if (!at.cliff) return "";
    const above = found.steps[found.steps.indexOf(at) + 1];
    return this.#say("up_to", { size: exactly(at.size, words), fewer: above?.pieces ?? 0 });
  }
}

/** The good sizes that use most, in the order of their size. */
function goodSizes({ steps }) {
  const good = steps.filter((step) => step.good).sort((one, other) => other.laid_share - one.laid_share);
  return good.slice(0, MOST_CHIPS).sort((one, other) => one.laid - other.laid);
}

/** The step that a size lies on. */
function stepAt({ steps }, size) {
  return steps.find((step) => size <= step.size + HAIR) ?? steps.at(-1);
}

/** The part of the cloth that so many pieces of a size take. */
function share({ share_per_piece: [fixed, once, twice] }, pieces, size) {
  return pieces * (fixed + once * size + twice * size * size);
}

function within(size, { from, to }) {
  return Math.min(to, Math.max(from, size));
}

/**
 * Where a size lies in the picture, from 0 to 1: as many times larger is as far everywhere, so
 * that small sizes have room.
 */
function place(size, { from, to }) {
  return Math.log(size / from) / Math.log(to / from);
}

function sizeAt(part, { from, to }) {
  return from * (to / from) ** part;
}

function near(one, other) {
  return Math.abs(one - other) < 1e-6;
}

function round(number) {
  return Math.round(number * 1000) / 1000;
}

/**
 * A size as rulers have it where it lies on a sixteenth; else to a thousandth of an inch or a hundredth of a
 * centimetre, never more than it is.
 */
function exactly(inches, words) {
  const { units, locale } = words;
  if (units === "in" && near(inches * 16, Math.round(inches * 16))) return words.length(inches);
  const [number, digits] = units === "cm" ? [inches * CM, 2] : [inches, 3];
  const told = sayNumber(Math.floor(number * 10 ** digits + HAIR) / 10 ** digits, locale, digits);
  return words.say(`unit.${units}`, { number: told });
}

// The picture: above what is used of the cloth, below how many pieces there are.

function picture(found, wide) {
  const top = (size, pieces) => HIGH * (1 - share(found, pieces, size));
  const x = (size) => place(size, found) * wide;
  const most = Math.max(1, found.steps[0].pieces);
  const floor = HIGH + BETWEEN + STAIRS;
  const stair = (pieces) => floor - (STAIRS - 2) * (Math.log1p(pieces) / Math.log1p(most));
  const saw = [],
    stairs = [],
    cliffs = [];
  let from = found.from;
  for (const { size, pieces, cliff } of found.steps) {
    const parts = Math.max(1, Math.ceil((x(size) - x(from)) / 12));
    for (let part = 0; part <= parts; part += 1)
      saw.push([x(from + ((size - from) * part) / parts), top(from + ((size - from) * part) / parts, pieces)]);
    stairs.push([x(from), stair(pieces)], [x(size), stair(pieces)]);
    if (cliff) cliffs.push(`M${x(size).toFixed(2)} 0V${HIGH}`);
    from = size;
  }
  const line = (points) => `M${points.map(([a, b]) => `${a.toFixed(2)} ${b.toFixed(2)}`).join("L")}`;
  const hatch = wasteHatch(1, "down");
  return svg(
    "svg",
    { class: "curve-picture", viewBox: `0 0 ${wide} ${floor}`, width: wide, height: floor, "aria-hidden": "true" },
    hatch.defs,
    svg("rect", { class: "curve-cloth", width: wide, height: HIGH }),
    hatch.over(`M0 0H${wide}V${HIGH}H0Z`),
    svg("path", { class: "curve-cliffs", d: cliffs.length < wide / 6 ? cliffs.join("") : "" }),
    svg("path", { class: "curve-used", d: `${line(saw)}L${wide} ${HIGH}L0 ${HIGH}Z` }),
    svg("path", { class: "curve-edge", d: line(saw) }),
    svg("path", { class: "curve-floor", d: `M0 ${floor}H${wide}` }),
    svg("path", { class: "curve-stairs", d: line(stairs) }),
    found.steps.filter(({ good }) => good).map((step) => mark(x(step.laid), top(step.laid, step.pieces))),
  );
}

/** A slanted mark that stands on a good size. */
function mark(x, y) {
  const from = Math.max(13, y);
  return svg("path", { class: "curve-mark", d: `M${(x - 3).toFixed(2)} ${(from - 1).toFixed(2)}l-6 -11h6l6 11Z` });
}

customElements.define("size-curve", SizeCurve);
