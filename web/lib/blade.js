// How far the blade has cut since it was changed: a dull blade slips, so the user is told in time.

const KEPT = "blade";
const METRES_PER_INCH = 0.0254;

export class Blade {
  #inches = 0;
  #before = 0;

  constructor(store) {
    this.store = store;
  }

  async restore() {
    this.#inches = (await this.store.get(KEPT)) ?? 0;
  }

  get metres() {
    return this.#inches * METRES_PER_INCH;
  }

  /** What the blade before had cut, as long as this page is open and it may have been a slip to say that there is a new one. */
  get metresBefore() {
    return this.#before * METRES_PER_INCH;
  }

  /** Adds the length of a cut, in inches (below 0 when a cut is undone). */
  add(inches) {
    this.#inches = Math.max(0, this.#inches + inches);
    return this.store.put(KEPT, this.#inches);
  }

  /** A new blade is in. Said twice without a cut between, it is the same one. */
  changed() {
    this.#before = this.#inches || this.#before;
    return this.add(-this.#inches);
  }

  /** It is the old blade after all: what it had cut counts again, with what was cut since. */
  notChanged() {
    const before = this.#before;
    this.#before = 0;
    return this.add(before);
  }
}
