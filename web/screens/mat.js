// The guide: shows the sitting at hand and takes what happens at the mat into its log.

import { h } from "../lib/dom.js";
import { allowed } from "../lib/fold.js";
import { Sitting } from "../lib/sitting.js";
import "../components/mat-view.js";
import "../components/mend-dialog.js";

const KEPT = "sitting";
const COUNTED = new Set(["piece", "strip"]);

export class MatScreen {
  /** @param {{store, settings, facts, leave}} parts what the page wires it to */
  constructor(parts) {
    Object.assign(this, parts);
    this.sitting = null;
    this.view = document.createElement("mat-view");
    this.mending = document.createElement("mend-dialog");
    this.#listen();
  }

  /** Takes back the sitting that was cut last, without Python. */
  async restore() {
    const id = await this.store.get(KEPT);
    const record = id && (await this.store.sitting(id));
    if (record) this.#take(new Sitting(record, this.#parts()));
  }

  /** Begins a guide and makes it the one at hand. */
  async begin(script, title) {
    this.#take(await Sitting.begin(script, title, this.#parts()));
    await this.store.put(KEPT, this.sitting.id);
  }

  /** Whether there is a guide that is not cut to its end. */
  get underWay() {
    return Boolean(this.sitting) && !this.sitting.done;
  }

  element() {
    return h("main", { class: "mat", "aria-label": this.settings.words.say("mat.resume_title") }, this.view, this.mending);
  }

  enter() {
    this.#show();
  }

  #parts() {
    return { store: this.store, table: this.facts.table };
  }

  #take(sitting) {
    this.sitting = sitting;
    sitting.addEventListener("change", () => this.view.isConnected && this.#show());
  }

  #listen() {
    this.view.addEventListener("cut", () => (this.sitting.done ? this.leave() : this.act("cut")));
    this.view.addEventListener("undo", () => this.act("undo"));
    this.view.addEventListener("leave", () => this.leave());
    this.view.addEventListener("mend", () => this.#mend());
    this.mending.addEventListener("mended", ({ detail }) => this.act(detail.event, { n: detail.n }));
  }

  /** Everything that happens at the mat comes through here. */
  async act(event, more = {}) {
    try {
      return await this.sitting.add(event, more);
    } catch (error) {
      this.#show(this.settings.words.say("mat.stored_failed", { reason: error.message }));
      return false;
    }
  }

  #mend() {
    const { sitting } = this;
    const limits = (event) => allowed(sitting.table, sitting.scripts, sitting.state, event);
    this.mending.open({ limits, counts: sitting.counts(), gives: sitting.step.gives, words: this.settings.words });
  }

  #show(problem) {
    if (this.sitting) this.view.show(this.#viewed(problem));
  }

  #viewed(problem) {
    const { sitting } = this;
    const { words, values } = this.settings;
    const { step, script } = sitting;
    const counts = sitting.counts();
    const told = { ...counts, ...step.values };
    return {
      words,
      hand: values.hand,
      total: words.say("mat.total", counts),
      count: this.#count(step, counts),
      where: this.#where(step, counts),
      caution: problem ?? (step.cautions?.length ? step.cautions.map((code) => words.say(`guide.caution.${code}`)).join(" ") : null),
      sentence: words.say(`guide.${step.say}.short`, told),
      more: values.depth === "long" ? words.say(`guide.${step.say}.long`, told) : null,
      tap: words.say(sitting.done ? "mat.tap_close" : COUNTED.has(step.do) ? "mat.tap_cut" : "mat.tap_done"),
      scene: step.scene === undefined ? null : { scene: script.scenes[step.scene], over: step.over, at: step.at, next: step.next, description: words.say("mat.scene") },
      canUndo: sitting.trail.length > 1,
    };
  }

  #count(step, counts) {
    const { words } = this.settings;
    if (step.do === "done") return [words.say("mat.count", { made: counts.total })];
    if (!step.gives) return [];
    return [words.say("mat.count", counts), h("small", {}, words.say("mat.count_of", counts))];
  }

  #where(step, counts) {
    const { words } = this.settings;
    if (step.do === "strip") return words.say("mat.cutting_of", step.values);
    return step.gives ? words.say("mat.strip_of", counts) : "";
  }
}
