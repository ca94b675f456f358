// How far the blade has cut since it was changed: a dull blade slips, so the user is told in time.

import { fitted } from "../kept/kinds.js";

const KEPT = "blade";

export class Blade {
  #inches = 0;
  #before = 0;

  constructor(store) {
    this.store = store;
  }

  async restore() {
    const { value, whole } = fitted(await this.store.get(KEPT), { inches: 0, before: 0 });
    this.#inches = value.inches;
    this.#before = value.before;
    return whole;
  }

  get inches() {
    return this.#inches;
  }

  /** What the blade before had cut: to say that there is a new one may have been a slip. */
  get inchesBefore() {
    return this.#before;
  }

  /** Adds the length of a cut, in inches (below 0 when a cut is undone). */
  add(inches) {
    return this.#keep(Math.max(0, this.#inches + inches), this.#before);
  }

  /** A new blade is in. Said twice without a cut between, it is the same one. */
  changed() {
    return this.#keep(0, this.#inches || this.#before);
  }

  /** It is the old blade after all: what it had cut counts again, with what was cut since. */
  notChanged() {
    return this.#keep(this.#inches + this.#before, 0);
  }

  #keep(inches, before) {
    this.#inches = inches;
    this.#before = before;
    return this.store.put(KEPT, { inches, before });
  }
}
