// A sitting that is only looked at: its steps one after another, as they would be if all went well. Nothing of it is
// stored, and the sitting itself stays where it is.

import { extendTrail, Illegal } from "./fold.js";
import { Sitting } from "./sitting.js";

export class Looking extends Sitting {
  /** Begins where a sitting stands; at its first step where all is cut. */
  constructor({ id, title, started, scripts, events, table }) {
    super({ id, title, started, scripts, events: [...events] }, { store: null, table });
    if (this.done) this.trail.length = 1;
  }

  /** Nothing is counted. */
  add() {
    return Promise.resolve(false);
  }

  /** Nothing can be taken back either. */
  last() {
    return null;
  }

  /** To the next step; whether there is one. */
  next() {
    try {
      extendTrail(this.table, this.scripts, this.trail, { event: "cut" });
      return true;
    } catch (error) {
      if (error instanceof Illegal) return false;
      throw error;
    }
  }

  /** To the step before; whether there is one. */
  back() {
    const { step } = this;
    if (this.isFirst) return false;
    while (this.step === step) this.trail.pop();
    return true;
  }

  get isFirst() {
    const { script, step } = this.state;
    return this.trail.every((state) => state.script === script && state.step === step);
  }
}
