// The screen "how many do I get?": keeps what was typed, asks the core at every keystroke, shows the newest answer.

import { isBroken, troubleOf } from "../lib/asking/asking.js";
import { Known } from "../lib/asking/known.js";
import { atDesk, whenDeskChanges } from "../lib/page/desk.js";
import { h } from "../lib/page/dom.js";
import { idle } from "../lib/page/idle.js";
import { offeredSizes, today, withSize } from "../lib/kept/sizes.js";
import { inUnits, meantIn } from "../lib/words/in-units.js";
import { whenAskedToClose } from "../lib/page/closing.js";
import { fitted, maybe } from "../lib/kept/kinds.js";
import { usualAs } from "../lib/kept/usual-as.js";
import { sideUnit, typedLength, typedNumber, withUnit } from "../lib/words/measure.js";
import { sidesMeant } from "../lib/asking/plan-request.js";
import { BestSize } from "./best-size.js";
import "../components/answer-view.js";
import "../components/ask-trouble.js";
import "../components/cloth-picker.js";
import "../components/count-slots.js";
import "../components/count-stage.js";
import "../components/install-offer.js";
import "../components/piece-picker.js";
import "../components/welcome-ways.js";

const KEPT = "count";
const PARTS = ["piece", "cloth"];
const SOON = 60; // ms within which an answer mostly is there: until then nothing is drawn but that it is waited for

/** What is on the screen before anything is typed: what the core says is usual. */
function fresh({ units, piece, cloth }) {
  return { units, piece, cloth: { kind: cloth, length: "", width: "", one_way: false }, cloths: 1, way: "best" };
}

export class CountScreen {
  #unwatch = null;

  /**
   * @param {{python, store, settings, facts, install, begin}} parts what the page wires it to;
   * `begin(request, title)` starts a guide
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.known = new Known();
    this.state = fresh(this.#usual);
    this.answers = null;
    this.errors = {};
    this.waiting = true;
    this.starting = false;
    this.pieces = document.createElement("piece-picker");
    this.cloths = document.createElement("cloth-picker");
    this.stage = document.createElement("count-stage");
    this.slots = document.createElement("count-slots");
    this.welcome = document.createElement("welcome-ways");
    this.installing = document.createElement("install-offer");
    this.answer = document.createElement("answer-view");
    this.open = null; // the part that is being changed
    this.trouble = troubleOf(this.python, this.settings);
    this.size = new BestSize({ ...parts, asked: () => this.#sizes(), use: (size) => this.#use(size) });
    this.#listen();
    whenDeskChanges(() => this.#arrange());
  }

  /** Takes back what was on this screen, so that it is there before Python is. */
  async restore() {
    const kept = await this.store.get(KEPT);
    const state = fresh(usualAs(kept?.state, this.facts.usual, this.#usual, this.facts.usual.in));
    const { value, whole } = fitted(
      kept,
      { state, answers: maybe({ count: maybe({}), piece: maybe({}) }) },
      { state, answers: null },
    );
    this.state = value.state;
    this.answers = isWhole(value.answers) ? value.answers : null;
    if (!kept) this.#takeFirst();
    return whole;
  }

  /** What was passed on takes the place of what is asked here. */
  async takeOver(state) {
    await this.store.put(KEPT, { state, answers: null });
    this.errors = {};
    this.waiting = true;
    return this.restore();
  }

  /** What the build has asked: the answer to what a first visit begins with. */
  #takeFirst() {
    this.answers = this.facts.first?.[this.settings.words.units] ?? null;
    this.waiting = !this.answers;
  }

  element() {
    const say = (code) => this.settings.words.say(code);
    this.parts = Object.fromEntries(
      PARTS.map((name) => [
        name,
        this.#part(name, say(`page.${name}_title`), name === "piece" ? this.pieces : this.cloths),
      ]),
    );
    this.side = h("div", { class: "side" }, this.slots, Object.values(this.parts));
    this.root = h(
      "main",
      { class: "screen desk-screen count-screen" },
      h("h1", { class: "unseen" }, say("page.count_title")),
      this.welcome,
      this.installing,
      h("h2", { class: "unseen" }, say("page.answer_title")),
      this.answer,
      this.size.root,
    );
    this.#arrange();
    return this.root;
  }

  /** What is seen first comes first for the keyboard and a reader too: on a phone the picture, on a desk the form. */
  #arrange() {
    const order = atDesk() ? [this.side, this.stage] : [this.stage, this.side];
    this.root?.querySelector("h1").after(...order);
  }

  /** A part of what is asked. On a desk all parts stand beside the picture. */
  #part(name, title, inside) {
    const done = h(
      "button",
      { type: "button", class: "part-done", "data-key": `done-${name}`, onclick: () => this.#turn(name) },
      this.settings.words.say("page.slot.done"),
    );
    return h(
      "section",
      { class: "page-part section", id: `part-${name}` },
      h("header", { class: "row" }, h("h2", {}, title), done),
      inside,
    );
  }

  #opened(name) {
    this.open = name;
    this.#unwatch?.();
    this.#unwatch = name && whenAskedToClose(() => this.open && this.#turn(this.open));
  }

  /** The screen is left: what is open there is not what is to be closed any more. */
  exit() {
    this.#opened(null);
  }

  /** Opens a part in place of the other, or closes it again. */
  #turn(name) {
    this.#opened(this.open === name ? null : name);
    this.#show();
    if (!this.open) this.slots.querySelector(`[data-key="slot-${name}"]`).focus({ preventScroll: true });
  }

  /** Shows the state as it is, and asks for the answer anew. */
  enter() {
    this.#keepMeaning();
    this.#show();
    this.#ask();
  }

  /** A guide for the piece at hand over a strip of paper: long enough for a few pieces. */
  practiceRequest() {
    this.#keepMeaning();
    const { piece } = this.#request();
    return {
      ask: "guide",
      piece,
      cloth: { kind: "full_width_strip", width: this.#usual.practice, selvage: "none" },
      way: "along_width",
    };
  }

  /** Lengths that were typed when other units were the usual ones stay what they were. */
  #keepMeaning() {
    const { units } = this.settings.words;
    this.state = inUnits(this.state, units, ({ piece, cloth, ...state }, meant) => ({
      ...state,
      piece: { ...piece, text: meant(piece.text), seam: meant(piece.seam) },
      cloth: {
        ...cloth,
        ...sidesMeant(cloth, this.#kind(), units, meant),
      },
    }));
  }

  #listen() {
    this.pieces.addEventListener("piece", ({ detail }) => this.#changed("piece", detail));
    this.cloths.addEventListener("cloth", ({ detail }) => this.#changed("cloth", detail));
    this.slots.addEventListener("stepped", ({ detail }) => this.#chose({ cloths: detail.number }));
    this.slots.addEventListener("usual-kind", ({ detail }) =>
      this.#changed("cloth", { kind: detail, length: "", width: "" }),
    );
    this.slots.addEventListener("part", ({ detail }) => this.#turn(detail));
    this.stage.addEventListener("way", ({ detail }) => this.#chose({ way: detail }));
    this.answer.addEventListener("start", () => this.#start());
    this.welcome.addEventListener("welcomed", () => this.#told({ welcomed: true }));
    this.installing.addEventListener("install", () =>
      this.install.ask().then(() => this.#told({ installLater: true })),
    );
    this.installing.addEventListener("install-later", () => this.#told({ installLater: true }));
    this.install?.addEventListener("change", () => this.#showBesides());
    this.python.addEventListener("again", () => this.#ask());
    this.python.addEventListener("change", () => this.#show());
  }

  /** What was said besides is said no more; the focus goes to what stands above it. */
  async #told(change) {
    const held = [this.welcome, this.installing].some((part) => part.contains(document.activeElement));
    await this.settings.set(change).catch(() => {});
    this.#showBesides();
    if (held) this.slots.querySelector("button").focus({ preventScroll: true });
  }

  /** The ways in for whoever is new; later, once something was cut, the offer of the home screen. */
  #showBesides() {
    const { words, values } = this.settings;
    this.welcome.hidden = values.welcomed;
    if (!values.welcomed) this.welcome.show({ words });
    const offered = values.welcomed && values.tapped > 0 && !values.installLater && this.install?.how !== "done";
    this.installing.show({ how: offered ? (this.install?.how ?? null) : null, canWait: true, words });
  }

  #changed(part, change) {
    const exact = "text" in change ? { inches: change.inches ?? null } : {};
    const way = isAnother(change) ? "best" : this.state.way;
    this.state = { ...this.state, way, [part]: { ...this.state[part], ...change, ...exact } };
    this.waiting = true;
    this.#ask(); // first: Python works while the page shows that it waits
    if (this.answer.wait()) this.showing ??= setTimeout(() => this.#show(), SOON);
    else this.#show();
    this.#keep();
  }

  /** What changes nothing that the core is asked: how many cloths there are, and which way is looked at. */
  #chose(change) {
    this.state = { ...this.state, ...change };
    this.#show();
    this.#keep();
  }

  #request() {
    const { piece, cloth } = this.state;
    const { units, locale } = this.settings.words;
    const length = (text, unit = units) => typedLength(text, unit, locale);
    const sides = Object.entries({ length: cloth.length, width: cloth.width }).filter(([, text]) => text.trim());
    return {
      piece: {
        shape: "diamond",
        angle: typedNumber(piece.angle, locale),
        [piece.measure]: piece.inches ?? length(piece.text),
        seam: length(piece.seam),
      },
      cloth: {
        kind: cloth.kind,
        ...(cloth.one_way && { one_way: true }),
        ...Object.fromEntries(sides.map(([side, text]) => [side, length(text, sideUnit(side, this.#kind(), units))])),
      },
    };
  }

  /** The same for every size: for all the cloths, in the way that is looked at where it is one for every size. */
  #sizes() {
    const { cloth, piece } = this.#request();
    const { way, cloths } = this.state;
    return { piece, cloth: { ...cloth, count: cloths }, way: way.startsWith("along_") ? way : "best" };
  }

  /** Takes a size over; gives what takes it back. */
  #use(size) {
    const { measure, text, inches } = this.state.piece;
    const { units } = this.settings.words;
    this.#changed("piece", { measure: "size", text: this.settings.words.bare(size) });
    return () => {
      const meant = meantIn(text, units, this.settings.words.units);
      this.#changed("piece", { measure, text: meant, ...(inches && { inches }) });
    };
  }

  /** The guide for all cloths, one after another; where there are several, the mat names the next one. */
  #guide(way) {
    const { cloth, ...request } = this.#request();
    const { cloths } = this.state;
    const several = cloths > 1 ? { id: this.settings.words.say(`cloth.${cloth.kind}.name`), count: cloths } : {};
    return { ask: "guide", ...request, cloth: { ...cloth, ...several }, way };
  }

  /** What is usual in the units of now. */
  get #usual() {
    return this.facts.usual[this.settings.words.units];
  }

  #kind() {
    return this.facts.kinds.find(({ code }) => code === this.state.cloth.kind);
  }

  #ask() {
    this.asking = this.#answered();
  }

  async #answered() {
    const turn = (this.turn = Symbol("the newest question"));
    const request = this.#request();
    const [count, piece] = await Promise.all([
      this.#known("count", { ask: "cloth", ...request }),
      this.#known("piece", { ask: "piece", piece: request.piece }),
    ]);
    if (!count || !piece || turn !== this.turn) return;
    this.#askAhead(turn);
    if (this.#isSeen(count, piece)) return this.#keep();
    this.waiting = isBroken(count);
    this.errors = { ...this.#refused(piece), ...this.#refused(count) };
    if (!this.open) this.#opened(this.#wrong()[0] ?? null);
    this.answers = {
      count: count.ok ? count : this.waiting ? (this.answers?.count ?? null) : null,
      piece: piece.ok ? piece : (this.answers?.piece ?? null),
    };
    this.#showAnswered();
    this.#keep();
  }

  /** The number and what it is of are seen at once; all the rest is drawn as soon as that is painted. */
  #showAnswered() {
    const { way, cloths, cloth } = this.state;
    const { words } = this.settings;
    const answer = !this.waiting && this.answers.count;
    if (!this.answer.tell({ answer, way, cloths, kind: cloth.kind, words })) return this.#show();
    this.#showParts(this.facts.limits.cloths);
    clearTimeout(this.showing);
    this.showing = setTimeout(() => this.#show(), SOON); // where nothing is painted
    requestAnimationFrame(() => setTimeout(() => this.showing && this.#show()));
  }

  /** An answer that is known already, or Python's. */
  async #known(key, request) {
    const known = this.known.get(request);
    if (known) {
      this.python.settled(request.ask);
      return known;
    }
    const answer = await this.python.askLatest(key, request);
    this.known.take(request, answer);
    return answer;
  }

  /** What is likely to be tapped next is asked as long as nothing else is to be done: then the tap is answered at once. */
  async #askAhead(turn) {
    for (const kind of this.#usual.cloths) {
      await idle();
      if (turn !== this.turn) return;
      const request = { ask: "cloth", piece: this.#request().piece, cloth: { kind } };
      if (!this.known.get(request)) this.known.take(request, await this.python.askQuietly(request));
    }
  }

  /** Whether these are the answers that are on the screen, as at a start: then nothing of it has to be drawn anew. */
  #isSeen(...asked) {
    if (this.waiting || Object.keys(this.errors).length) return false;
    return JSON.stringify([this.answers?.count, this.answers?.piece]) === JSON.stringify(asked);
  }

  #refused(answer) {
    return answer.ok ? {} : { [answer.error.field]: this.settings.words.refusal(answer.error) };
  }

  #show() {
    clearTimeout(this.showing);
    this.showing = null;
    const { limits } = this.facts;
    clearTimeout(this.drawing);
    if (this.open || atDesk()) this.#showPickers();
    else this.drawing = setTimeout(() => this.#showPickers()); // nobody sees them: what is seen is drawn first
    const { way, cloths, cloth } = this.state;
    const { words } = this.settings;
    const shown = { answer: this.answers?.count ?? null, way, cloths, waiting: this.waiting, words };
    this.size.changed();
    this.stage.show(shown);
    this.#showBesides();
    this.answer.show({
      ...shown,
      kind: cloth.kind,
      starting: this.starting,
      trouble: this.python.trouble && this.trouble,
    });
    this.#showParts(limits.cloths); // last: to give the focus back, all has to be laid out
  }

  /** What the two parts hold, open or not. */
  #showPickers() {
    const { words } = this.settings;
    const { kinds, quilt, choices } = this.facts;
    const { piece } = this.state;
    const how = { units: words.units, measure: piece.measure };
    const sizes = offeredSizes(this.settings.values.sizes, this.#usual.sizes, how, today());
    this.pieces.show({
      piece,
      angles: choices.angles,
      sizes,
      measures: quilt.measures,
      measured: this.answers?.piece ?? null,
      errors: this.errors,
      words,
    });
    this.cloths.show({
      cloth: this.state.cloth,
      kinds,
      amounts: choices.amounts,
      errors: this.errors,
      words,
    });
  }

  /** The parts in which something is wrong. */
  #wrong() {
    return PARTS.filter((name) => Object.keys(this.errors).some((field) => field.split(".")[0] === name));
  }

  /** What is asked, in short, and the part that is open. */
  #showParts(most) {
    const { words } = this.settings;
    const wrong = this.#wrong();
    for (const name of PARTS) this.parts?.[name].classList.toggle("open", name === this.open);
    if (this.root) this.root.dataset.open = this.open ?? "";
    const parts = [
      { name: "piece", title: words.say("page.slot.piece"), told: this.#pieceTold() },
      { name: "cloth", title: words.say(`cloth.${this.state.cloth.kind}.name`), told: this.#clothTold() },
    ].map((part) => ({ ...part, wrong: wrong.includes(part.name) }));
    const kinds = this.#usual.cloths.map((code) => this.facts.kinds.find((kind) => kind.code === code));
    const { cloths, cloth } = this.state;
    this.slots.show({ parts, open: this.open, cloths, most, kinds, kind: cloth.kind, words });
  }

  #pieceTold() {
    const { text, measure, angle } = this.state.piece;
    const { words } = this.settings;
    const measured = !this.waiting && this.answers?.piece;
    const size = measured ? words.length(measured.size) : withUnit(text, words.units);
    if (measured || measure === "size") return words.say("page.slot.piece_told", { size, angle });
    return words.say("page.slot.piece_told", { size: `${words.say(`page.measure.${measure}.short`)} ${size}`, angle });
  }

  #clothTold() {
    const { words } = this.settings;
    const { cloth } = this.state;
    const kind = this.#kind();
    const answer = !this.waiting && this.answers?.count;
    const side = (name) => {
      const own = kind[name] ?? (answer ? answer.cloth[name] : null);
      const typed = cloth[name].trim();
      return typed ? withUnit(typed, sideUnit(name, kind, words.units)) : own === null ? "…" : words.length(own);
    };
    return words.say("page.slot.cloth_told", { length: side("length"), width: side("width") });
  }

  /**
   * What is on the screen stays there when the store is full; that is told where a count depends on it. It is kept as soon
   * as it can be seen.
   */
  #keep() {
    this.keeping ??= setTimeout(() => {
      this.keeping = null;
      this.store.put(KEPT, { state: this.state, answers: this.answers }).catch(() => {});
    });
  }

  /** Resolves when what was asked for last is answered, so that just that is cut. */
  async #newestAnswer() {
    let heard;
    do await (heard = this.asking);
    while (heard !== this.asking);
  }

  /** What is cut now is offered from tomorrow on. */
  #remember({ text, measure }) {
    const { values, words } = this.settings;
    const size = { text: text.trim(), units: words.units, measure };
    this.settings.set({ sizes: withSize(values.sizes, size, today()) }).catch(() => {}); // it is cut all the same
  }

  /** The request of the guide for what is asked now, as it is looked at; null where there is nothing to cut. */
  async guide() {
    this.#keepMeaning();
    if (this.waiting && !this.asking) this.#ask();
    await this.#newestAnswer();
    const chosen = !this.waiting && this.answers?.count?.[this.state.way];
    return chosen?.pieces ? this.#guide(chosen.way) : null;
  }

  async #start() {
    this.starting = true;
    this.#show();
    try {
      await this.#newestAnswer();
      const chosen = !this.waiting && this.answers.count?.[this.state.way];
      if (!chosen) return;
      this.#remember(this.state.piece);
      this.#told({ welcomed: true });
      await this.begin(this.#guide(chosen.way));
    } finally {
      this.starting = false;
      this.#show();
    }
  }
}

/** Whether a change makes it another piece or cloth; the same one by another of its measures is none. */
function isAnother(change) {
  return Object.keys(change).length > 0 && !("inches" in change);
}

/** Whether a kept answer has all that is shown of one; an earlier version may have kept it. */
function isWhole(answers) {
  return !answers?.count || "sure" in answers.count;
}
