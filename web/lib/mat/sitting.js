// One sitting at the mat: a guide's scripts and the log of what happened, stored before it is shown.

import { extendTrail, foldTrail, frees, Illegal, isCounted, stepOf, tally, total } from "./fold.js";
import { newId } from "../kept/ids.js";
import { cutByKind, JOINED } from "./kinds-cut.js";
import { segmentsOf } from "./segments.js";
import { marksUndone, stand } from "./standing.js";
import { Overtaken } from "../../store/store.js";

/** Cuts nearer to each other than this, in ms, are one cut and a bump. */
const BUMP = 500;
/** After these a cut may be a bump: the second touch of a double tap lands on the zone. */
const STARTS_BUMP = new Set(["cut", "ends_early", "wrong_width", "recount_strip"]);

/**
 * Events: `change` whenever the state may have changed, `added` when this page has added to the log, and
 * `overtaken` when something that happened here was not taken as another page had counted on. The state is
 * never ahead of what is stored.
 */
export class Sitting extends EventTarget {
  #busy = Promise.resolve();
  #lastCut = -Infinity;
  #countedLast; // the id of the device that has added to the log last; null where an older page has

  constructor(record, { store, table }) {
    super();
    this.store = store;
    this.table = table;
    this.#take(record);
  }

  /** A new sitting for a script, stored. */
  static async begin(script, title, { store, table }) {
    const record = await store.newSitting({ id: newId(), title, started: Date.now(), scripts: [script] });
    return new Sitting(record, { store, table });
  }

  get state() {
    return this.trail.at(-1);
  }

  get script() {
    return this.scripts[this.state.script];
  }

  get step() {
    return stepOf(this.scripts, this.state);
  }

  get done() {
    return this.step.do === "done";
  }

  /**
   * Takes an event ("cut", "undo", …; with `n` where the table wants a number; with a new script for "switch"). An undo
   * is stored with the marks of what it `undoes`.
   * Gives true once it is stored and counted, false when it was a bump or has no place now.
   */
  add(name, more = {}, script) {
    if (name === "cut" && this.bumped) return Promise.resolve(false);
    if (STARTS_BUMP.has(name)) this.#lastCut = performance.now();
    const at = Date.now();
    const result = this.#busy.then(() => this.#addNow({ event: name, at, ...more }, script));
    this.#busy = result.catch(() => {});
    return result;
  }

  async #addNow(event, script) {
    const scripts = script ? [...this.scripts, script] : this.scripts;
    const trail = [...this.trail];
    try {
      extendTrail(this.table, scripts, trail, event);
    } catch (error) {
      if (error instanceof Illegal) return false;
      throw error;
    }
    const undoes = event.event === "undo" && { undoes: marksUndone(this.standing, event.n) };
    return this.#stored({ ...event, ...undoes, mark: newId() }, script);
  }

  /**
   * Whether a cut now would be a bump. The clock on the wall may be set back or forward
   * meanwhile: this one only goes on.
   */
  get bumped() {
    return performance.now() - this.#lastCut < BUMP;
  }

  /** Takes in what another page has added to the log. */
  refresh() {
    const result = this.#busy.then(() => this.#takeStored());
    this.#busy = result.catch(() => {});
    return result;
  }

  /** The event with this device's id where it is not the one that has counted last in this log. */
  async #named(event) {
    const device = await this.store.device();
    return device === this.#countedLast ? event : { ...event, device };
  }

  async #stored(event, script) {
    try {
      const named = await this.#named(event);
      const stored = await this.store.addEvent(this.id, this.events.length, named, script);
      this.#accept(stored, script);
      return true;
    } catch (error) {
      if (!(error instanceof Overtaken)) throw error;
      await this.#takeStored();
      this.dispatchEvent(new Event("overtaken"));
      return false;
    }
  }

  async #takeStored() {
    const record = await this.store.sitting(this.id);
    if (!record || record.events.length <= this.events.length) return;
    this.#take(record);
    this.dispatchEvent(new Event("change"));
  }

  #accept(event, script) {
    if (script) this.scripts = [...this.scripts, script];
    this.events.push(event);
    extendTrail(this.table, this.scripts, this.trail, event);
    stand(this.standing, event);
    this.#countedLast = event.device ?? this.#countedLast;
    this.dispatchEvent(new Event("added"));
    this.dispatchEvent(new Event("change"));
  }

  #take({ id, title, started, scripts, events }) {
    Object.assign(this, { id, title, started, scripts, events });
    this.trail = foldTrail(this.table, scripts, events);
    this.standing = []; // the events that are not undone, beside the trail of states that they led to
    events.forEach((event) => stand(this.standing, event));
    this.#countedLast = segmentsOf(events).at(-1)?.device;
  }

  /**
   * The numbers that are shown: of this strip, of the strips, and in all; as it stands, or as it
   * would stand in another state.
   */
  counts(state = this.state) {
    const [script, step] = [this.scripts[state.script], stepOf(this.scripts, state)];
    // A count put right may take back more than this strip gave.
    const made = Math.max(0, tally(state, step.strip)[this.#counter(script, step)]);
    return {
      made,
      of: made + this.ahead(step.strip, state),
      strip: step.strip === null ? 0 : step.strip + 1,
      strips: script.strips.length,
      total: total(state, "made"),
      all: this.expected(state),
      spoiled: total(state, "spoiled"),
      lost: total(state, "lost"),
    };
  }

  /** What the counts would be after an event; null where it has no place. Nothing changes. */
  would(name, n) {
    const trail = [...this.trail];
    try {
      extendTrail(this.table, this.scripts, trail, { event: name, n });
    } catch (error) {
      if (error instanceof Illegal) return null;
      throw error;
    }
    return this.counts(trail.at(-1));
  }

  /** The standing events, each with the step that it happened at and the pieces that it added. */
  history() {
    return this.standing.map((event, i) => {
      const [before, after] = [this.trail[i], this.trail[i + 1]];
      return {
        ...event,
        step: stepOf(this.scripts, before),
        script: before.script,
        made: total(after, "made") - total(before, "made"),
      };
    });
  }

  /** The last event that stands, with the step that it happened at and that step's script; null when there is none. */
  last() {
    if (!this.standing.length) return null;
    const before = this.trail.at(-2);
    return { ...this.standing.at(-1), step: stepOf(this.scripts, before), script: this.scripts[before.script] };
  }

  /**
   * What lies, or will lie, in each pile, whichever script it was cut by: {piece, pile, made, of, counted}. A
   * kind of piece has one pile, or one for each grain where the script tells them apart; strips that are joined
   * later have piles of their own.
   */
  piles() {
    const piles = new Map();
    const at = (piece, pile, counted) => {
      const key = JSON.stringify([piece.id, pile, counted]);
      if (!piles.has(key)) piles.set(key, { piece, pile, counted, made: 0, of: 0 });
      return piles.get(key);
    };
    this.scripts.forEach((script, number) => this.#pilesOf(script, number, at));
    const seen = new Set([...piles.values()].map(({ piece }) => piece.id));
    for (const piece of this.scripts.flatMap(({ pieces }) => pieces))
      if (!seen.has(piece.id)) at(piece, null, piece.counted ?? true);
    return [...piles.values()];
  }

  #pilesOf(script, number, at) {
    const now = number === this.state.script;
    for (const [i, { piece: id, pile = null }] of script.strips.entries()) {
      const piece = script.pieces.find((each) => each.id === id);
      const { made, aside } = tally(this.state, i, number);
      const coming = now ? this.ahead(i) : 0;
      if (piece.counted === false) add(at(piece, null, false), aside, aside + coming);
      const whole =
        piece.counted === false
          ? (script.pieces.find((each) => each.id === wholeId(id)) ?? { ...piece, id: wholeId(id) })
          : piece;
      const still =
        piece.counted === false ? (now ? this.#coming((step) => step.strip === i && this.#isWhole(step)) : 0) : coming;
      if (piece.counted !== false || made || still) add(at(whole, pile, true), made, made + still);
    }
  }

  /** What each strip has given and will give in pieces that count, in the order of cutting: {made, of}. */
  byStrip() {
    return this.scripts
      .flatMap((script, number) => script.strips.map((_, i) => this.#ofStrip(script, number, i)))
      .filter(({ of }) => of > 0);
  }

  #ofStrip(script, number, i) {
    const made = Math.max(0, tally(this.state, i, number).made);
    const coming =
      number === this.state.script
        ? this.#coming((step) => step.strip === i && isCounted(this.table, script, step))
        : 0;
    return { made, of: made + coming };
  }

  /**
   * Pieces cut, by the id of their kind, over all scripts, or of the strips that fit; those that are joined
   * later as the strips they are.
   */
  cutById(fits = () => true) {
    const found = cutByKind(this.scripts, this.state, fits);
    return Object.fromEntries(Object.entries(found).map(([id, { made }]) => [id, made]));
  }

  /**
   * Pieces that the steps from here on free, by the id of their kind, or those of the steps that
   * fit; told as `cutById` does.
   */
  comingById(fits = () => true) {
    const { script, state, table } = this;
    const found = {};
    for (const step of script.steps.slice(state.step).filter(fits)) {
      const freed = frees(table, step);
      const id = script.strips[step.strip]?.piece;
      if (freed && !this.#isWhole(step)) found[id] = (found[id] ?? 0) + freed;
    }
    return found;
  }

  /** How many pieces there will be in the end if all that is still to come goes well. */
  expected(state = this.state) {
    return total(state, "made") + this.ahead(undefined, state);
  }

  /**
   * What the cuts still to come will free, as planned: of one strip, in pieces of its own; or of
   * all, in pieces that count.
   */
  ahead(strip, state = this.state) {
    const script = this.scripts[state.script];
    if (strip !== undefined) return this.#coming((step) => step.strip === strip && !this.#isWhole(step), state);
    return this.#coming((step) => isCounted(this.table, script, step), state);
  }

  #coming(fits, state = this.state) {
    const still = this.scripts[state.script].steps.slice(state.step).filter(fits);
    return still.reduce((sum, step) => sum + frees(this.table, step), 0);
  }

  /** Whether a step makes a whole piece of what was cut before. */
  #isWhole(step) {
    return Boolean(this.table.rules[step.do].cut?.whole);
  }

  #counter(script, step) {
    return isCounted(this.table, script, step) ? "made" : "aside";
  }
}

function wholeId(id) {
  return id.replace(JOINED, "");
}

function add(pile, made, of) {
  pile.made += made;
  pile.of += of;
}
