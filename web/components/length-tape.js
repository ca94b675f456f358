// The tape below a field for a length: drawn as a tape measure, drawn along under a fixed mark with the thumb, with a
// step back and forth at its ends and the size of that step to choose.
//
// There is one for the page. It goes to the field that has the focus, or whose ruler was pressed, and stays there until it
// is pressed away: were it to go with the focus, what is tapped next would move from under the finger. Screens are drawn
// anew at every change of a length, with other fields in them: the tape then goes to the field of the same name, and what
// drags it is the document's, so that a thumb never loses it.

import { whenAskedToClose } from "../lib/page/closing.js";
import { emit, h, refill, svg } from "../lib/page/dom.js";
import { icon } from "../lib/page/icons.js";
import { signed } from "../lib/words/measure.js";
import { firstStep, nearest, stepped, stepText, tapeOf, textAt } from "../lib/words/tape.js";

const HIGH = 64; // px of the drawn tape
const TICK = 7; // px between the finest ticks, where these are sixteenths; of decimal tapes 6
const SIDES = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 };

class LengthTape {
  #name = null;
  #focused = null;
  #steps = {};
  #grip = null;
  #words = null;
  #unwatch = null; // what ends that Escape and back close it
  #within = false; // whether the last press began on it or its field, wherever it ended

  /** From now on fields have a tape, in these words. */
  begin(words) {
    this.#words = words;
    document.addEventListener("focusin", ({ target }) => this.#followed(target));
    document.addEventListener("pointerdown", (event) => (this.#within = this.#isOwn(event.composedPath())), true);
    document.addEventListener("click", (event) => this.#pressed(event.composedPath()));
    document.addEventListener("input", ({ target }) => target.dataset?.key === this.#name && this.#read());
    addEventListener("hashchange", () => this.close());
    const page = document.documentElement;
    page.addEventListener("pointermove", (event) => this.#drag(event));
    for (const end of ["pointerup", "pointercancel"]) page.addEventListener(end, (event) => this.#letGo(event));
  }

  /** A text as it stands in a field, with the decimal sign of these words. */
  written(text) {
    return this.#words && typeof text === "string" ? signed(text, this.#words.locale) : text;
  }

  /** The small ruler in the field of a name, which opens and closes the tape; none before it has words. */
  button(name) {
    return (
      this.#words &&
      h(
        "button",
        {
          type: "button",
          class: "tape-open",
          "data-key": `tape-${name}`,
          "aria-label": this.#words.say("tape.open"),
          "aria-expanded": String(this.#name === name),
          onclick: () => (this.#name === name ? this.close() : this.#open(name)),
        },
        icon("mark", "tape"),
      )
    );
  }

  close() {
    if (this.#name === null) return;
    const button = this.#opener();
    this.#name = this.#grip = null;
    this.#unwatch();
    this.watch.disconnect();
    this.root.remove();
    button?.setAttribute("aria-expanded", "false");
  }

  /** Its parts, which are made once, when they are needed first. */
  #make() {
    const say = (code) => this.#words.say(`tape.${code}`);
    this.watch = new MutationObserver(() => this.#settle());
    this.strip = h("div", {
      class: "tape-strip",
      role: "slider",
      tabindex: "0",
      "data-key": "tape",
      "aria-label": say("name"),
      onpointerdown: (event) => this.#grab(event),
      onkeydown: (event) => this.#key(event),
    });
    this.less = this.#end("−", -1);
    this.more = this.#end("+", 1);
    this.choice = h("div", { class: "tape-steps", role: "group", "aria-label": say("step") });
    this.root = h(
      "div",
      { class: "tape" },
      h("div", { class: "tape-row" }, this.less, this.strip, this.more),
      this.choice,
    );
    new ResizeObserver(() => this.#name && this.#draw()).observe(this.strip);
  }

  #end(sign, way) {
    return h(
      "button",
      { type: "button", class: "tape-end", "data-key": `tape${sign}`, onclick: () => this.#step(way) },
      sign,
    );
  }

  // Where it is.

  #field() {
    const found = document.querySelectorAll(`.entry[data-tape][data-key="${CSS.escape(this.#name ?? "")}"]`);
    return [...found].find((field) => field.checkVisibility?.() ?? true) ?? null;
  }

  #opener() {
    return this.#field()?.parentElement.querySelector(".tape-open");
  }

  /** A field that is given the focus opens it; one that only gets it back does not, and neither what is none. */
  #followed(target) {
    const name = target.dataset?.tape === undefined ? null : target.dataset.key;
    if (this.root?.contains(target)) return;
    if (name !== null && name !== this.#focused && name !== this.#name) this.#open(name);
    this.#focused = name;
  }

  /** A press elsewhere closes it, once what was pressed has heard of it. */
  #pressed(path) {
    if (this.#name !== null && !this.#within && !this.#isOwn(path)) setTimeout(() => this.close());
    this.#within = false;
  }

  #isOwn(path) {
    return path.some((part) => part === this.root || part.querySelector?.(":scope > .with-tape > [data-tape]"));
  }

  /** Escape, or the phone's back button. */
  #escaped() {
    const inside = this.root.contains(document.activeElement);
    const field = this.#field();
    this.#focused = this.#name; // which it gets back
    this.close();
    if (inside) field?.focus();
  }

  #open(name) {
    if (this.#name !== null) this.close();
    this.#name = name;
    if (!this.#field()) return (this.#name = null);
    if (!this.root) this.#make();
    this.#place();
    this.#read();
    if (!Number.isInteger(this.at / this.#by)) this.#choose(firstStep(this.tape));
    this.watch.observe(document.body, { childList: true, subtree: true });
    this.#opener()?.setAttribute("aria-expanded", "true");
    this.#unwatch = whenAskedToClose(() => this.#escaped());
  }

  /** Below the fields that stand beside each other in one row with its own: none of them is moved. */
  #place() {
    const own = this.#field().closest(".field");
    let last = own;
    for (let next = own.nextElementSibling; next && next.offsetTop === own.offsetTop; next = next.nextElementSibling)
      last = next;
    const held = this.root.contains(document.activeElement) ? document.activeElement : this.held;
    if (last.nextElementSibling !== this.root) last.after(this.root);
    if (held && held.isConnected && document.activeElement === document.body) held.focus({ preventScroll: true });
    this.strip.setAttribute("aria-describedby", own.querySelector("label").id);
  }

  /** The screen was drawn anew: the tape goes to the field that stands there now, or away with it. */
  #settle() {
    if (this.#name === null || this.root.isConnected) return;
    if (!this.#field()) return this.close();
    this.#place();
    if (!this.#grip) this.#read();
  }

  // What it shows.

  /** Takes the tape to what stands in the field; an empty one begins at what it offers. */
  #read() {
    const field = this.#field();
    if (!field) return;
    const { locale } = this.#words;
    const unit = field.dataset.tape || this.#words.units;
    const before = this.tape?.unit;
    this.tape = tapeOf(field.value.trim() || field.placeholder, unit, locale);
    if (!field.value.trim()) this.tape.told = false;
    this.at = this.tape.at ?? 0;
    if (this.tape.unit !== before || !this.#steps[this.#name]) this.#steps[this.#name] = firstStep(this.tape);
    this.#show();
  }

  get #by() {
    return this.#steps[this.#name];
  }

  #show() {
    const { locale } = this.#words;
    const { ticks, most, unit, steps } = this.tape;
    const said = textAt(this.at, { ...this.tape, told: true }, locale);
    const set = (name, value) => this.strip.setAttribute(name, String(value));
    Object.entries({ valuemin: 0, valuemax: most, valuenow: this.at / ticks, valuetext: said }).forEach(
      ([name, value]) => set(`aria-${name}`, value),
    );
    const step = stepText(this.#by, this.tape, locale);
    this.less.setAttribute("aria-label", this.#words.say("tape.less", { step }));
    this.more.setAttribute("aria-label", this.#words.say("tape.more", { step }));
    refill(
      this.choice,
      steps.map((each) =>
        h(
          "button",
          {
            type: "button",
            class: "tape-step",
            "data-key": `tape-step-${each}`,
            "aria-pressed": String(each === this.#by),
            onclick: () => this.#choose(each),
          },
          unit === "in" ? stepText(each, this.tape, locale).replace(" in", "") : stepText(each, this.tape, locale),
        ),
      ),
    );
    this.#draw();
  }

  /** Draws as much of the tape as can be seen, with the place under the mark in its middle. */
  #draw(place = this.at) {
    const wide = this.strip.clientWidth;
    if (!wide) return;
    const { ticks, most, unit } = this.tape;
    const px = this.#px();
    const shown = Math.ceil(wide / 2 / px);
    const [from, to] = [Math.max(0, Math.floor(place - shown)), Math.min(most * ticks, Math.ceil(place + shown))];
    const x = (at) => Math.round((wide / 2 + (at - place) * px) * 10) / 10;
    let path = "";
    const numbers = [];
    for (let at = from; at <= to; at += 1) {
      path += `M${x(at)} 0V${tickHigh(at, ticks)}`;
      if (at % numbered(unit, ticks) === 0)
        numbers.push(
          svg("text", { x: x(at) + 4, y: HIGH - 12 }, textAt(at, this.tape, this.#words.locale).split(" ")[0]),
        );
    }
    refill(
      this.strip,
      svg(
        "svg",
        { class: "tape-drawn", width: wide, height: HIGH, "aria-hidden": "true" },
        svg("rect", { x: x(0), width: x(most * ticks) - x(0), height: HIGH }),
        svg("rect", { class: "tape-on", x: x(0), width: x(most * ticks) - x(0), height: HIGH }),
        svg("path", { class: "tape-ticks", d: path }),
        numbers,
        svg("path", { class: "tape-mark", d: `M${wide / 2} 0V${HIGH}m-9 0l9 -14l9 14Z` }),
      ),
    );
  }

  /** Px from tick to tick. */
  #px() {
    const { ticks } = this.tape;
    return ticks === 16 ? TICK : ticks === 8 ? TICK * 2 : ticks === 10 ? TICK - 1 : 3;
  }

  // How it is set.

  #choose(step) {
    this.#steps[this.#name] = step;
    this.#show();
  }

  #step(way) {
    this.#set(stepped(this.at, this.#by, way, this.tape));
  }

  /** Puts a place into the field as if it were typed there. */
  #set(at) {
    if (at === this.at && this.#field().value.trim()) return;
    this.at = at;
    this.held = this.root.contains(document.activeElement) ? document.activeElement : null;
    const field = this.#field();
    field.value = textAt(at, this.tape, this.#words.locale);
    this.#show();
    emit(field, "typed", { name: this.#name, text: field.value });
  }

  #key(event) {
    const { ticks, most } = this.tape;
    const to = {
      PageUp: () => Math.min(most * ticks, this.at + ticks),
      PageDown: () => Math.max(0, this.at - ticks),
      Home: () => 0,
      End: () => most * ticks,
    }[event.key];
    if (!to && !SIDES[event.key]) return;
    event.preventDefault();
    if (to) this.#set(to());
    else this.#step(SIDES[event.key]);
  }

  #grab(event) {
    if (!event.isPrimary || event.button !== 0) return;
    document.documentElement.setPointerCapture(event.pointerId);
    this.#grip = { pointer: event.pointerId, from: event.clientX, at: this.at };
  }

  #drag(event) {
    if (event.pointerId !== this.#grip?.pointer) return;
    const at = this.#grip.at - (event.clientX - this.#grip.from) / this.#px();
    const to = nearest(at, this.#by, this.tape);
    if (to !== this.at) this.#set(to);
    this.#draw(Math.max(0, Math.min(this.tape.most * this.tape.ticks, at)));
  }

  #letGo(event) {
    if (event.pointerId !== this.#grip?.pointer) return;
    if (event.type === "pointerup") this.#drag(event); // it may be further on than the last move
    this.#grip = null;
    if (this.#field()) this.#read();
  }
}

/** How far a tick reaches in: the finer, the less. */
function tickHigh(at, ticks) {
  const parts = ticks === 100 ? [100, 50, 10] : ticks === 10 ? [10, 5] : [ticks, ticks / 2, ticks / 4, ticks / 8];
  const found = parts.findIndex((part) => at % part === 0);
  return [34, 26, 20, 15][found] ?? 10;
}

/** Which ticks have their number: every unit, and of meters every tenth. */
function numbered(unit, ticks) {
  return unit === "m" ? 50 : ticks;
}

export const tape = new LengthTape();
