// One sitting at the mat: a guide's scripts and the log of what happened, stored before it is shown.

import { extendTrail, foldTrail, Illegal, stepOf, tally, total } from "./fold.js";
import { Overtaken } from "./store.js";

/** Cuts nearer to each other than this, in ms, are one cut and a bump. */
const BUMP = 500;
/** After these a cut may be a bump: the second touch of a double tap lands on the zone. */
const STARTS_BUMP = new Set(["cut", "ends_early"]);

/**
 * Events: `change` whenever the state may have changed, `added` when this page has added to the log, and `overtaken` when
 * something that happened here was not taken as another page had counted on. The state is never ahead of what is stored.
 */
export class Sitting extends EventTarget {
  #busy = Promise.resolve();
  #lastCut = -Infinity;

  constructor(record, { store, table, now = Date.now }) {
    super();
    this.store = store;
    this.table = table;
    this.now = now;
    this.#take(record);
  }

  /** A new sitting for a script, stored. */
  static async begin(script, title, { store, table, now = Date.now }) {
    const record = await store.newSitting({ id: crypto.randomUUID(), title, started: now(), scripts: [script] });
    return new Sitting(record, { store, table, now });
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
   * Takes an event ("cut", "undo", …; with `n` where the table wants a number; with a new script for "switch").
   * Gives true once it is stored and counted, false when it was a bump or has no place now.
   */
  add(name, more = {}, script) {
    const at = this.now();
    if (name === "cut" && this.bumped) return Promise.resolve(false);
    if (STARTS_BUMP.has(name)) this.#lastCut = at;
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
    return this.#stored({ ...event, mark: crypto.randomUUID() }, script);
  }

  /** Whether a cut now would be a bump. */
  get bumped() {
    return this.now() - this.#lastCut < BUMP;
  }

  /** Takes in what another page has added to the log. */
  refresh() {
    const result = this.#busy.then(() => this.#takeStored());
    this.#busy = result.catch(() => {});
    return result;
  }

  async #stored(event, script) {
    try {
      const stored = await this.store.addEvent(this.id, this.events.length, event, script);
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
    this.#stands(event);
    this.dispatchEvent(new Event("added"));
    this.dispatchEvent(new Event("change"));
  }

  /** Keeps `standing`, the events that are not undone, beside the trail of states that they led to. */
  #stands(event) {
    if (event.event === "undo") this.standing.splice(-(event.n ?? 1));
    else this.standing.push(event);
  }

  #take({ id, title, started, scripts, events }) {
    Object.assign(this, { id, title, started, scripts, events });
    this.trail = foldTrail(this.table, scripts, events);
    this.standing = [];
    events.forEach((event) => this.#stands(event));
  }

  /** The numbers that are shown: of this strip, of the strips, and in all; or what they would be in another state. */
  counts(state = this.state) {
    const script = this.scripts[state.script];
    const step = stepOf(this.scripts, state);
    const made = Math.max(0, tally(state, step.strip).made); // a count put right may take back more than this strip gave
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

  /** What the numbers would be after an event, folded on a copy of the trail; null where it has no place now. */
  effects(name, more = {}) {
    const trail = [...this.trail];
    try {
      extendTrail(this.table, this.scripts, trail, { event: name, ...more });
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
      return { ...event, step: stepOf(this.scripts, before), script: before.script, made: total(after, "made") - total(before, "made") };
    });
  }

  /** Pieces made and expected, by kind of piece: what lies, or will lie, in each pile, whichever script it was cut by. */
  piles() {
    const made = this.madeById();
    const piles = new Map(this.scripts.flatMap(({ pieces }) => pieces).map((piece) => [piece.id, { piece, made: made[piece.id] ?? 0, of: made[piece.id] ?? 0 }]));
    this.script.strips.forEach(({ piece }, strip) => (piles.get(piece).of += this.ahead(strip)));
    return [...piles.values()];
  }

  /** Pieces made, by the id of their kind, over all scripts; or of the strips that fit, each given with its script's number. */
  madeById(fits = () => true) {
    const found = {};
    for (const [key, { made }] of Object.entries(this.state.tallies)) {
      const [script, strip] = key.split(":");
      const held = this.scripts[script].strips[strip];
      // What was put right at a step before any strip belongs to no kind.
      if (held && fits(strip, Number(script))) found[held.piece] = (found[held.piece] ?? 0) + made;
    }
    return found;
  }

  /** How many pieces there will be in the end if all that is still to come goes well. */
  expected(state = this.state) {
    return total(state, "made") + this.ahead(undefined, state);
  }

  /** Pieces that the cuts still to come will free, as planned: of one strip, or of all. */
  ahead(strip, state = this.state) {
    const still = freeing(this.scripts[state.script], state).filter((step) => [step.strip, undefined].includes(strip));
    return still.reduce((sum, { gives }) => sum + gives, 0);
  }

  /** The same by the id of their kind, of all steps or of those that fit. */
  comingById(fits = () => true) {
    const found = {};
    for (const { strip, gives } of freeing(this.script, this.state).filter(fits)) {
      const { piece } = this.script.strips[strip];
      found[piece] = (found[piece] ?? 0) + gives;
    }
    return found;
  }
}

/** The steps from here on that free pieces. */
function freeing({ steps }, state) {
  return steps.slice(state.step).filter((step) => step.do === "piece");
}
