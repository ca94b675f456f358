// Sittings that were begun before: what each was, how far it is, and going on with it. The last ones
// are kept, and all half cut.

import { Sitting } from "./sitting.js";

/**
 * So many of the last sittings are kept; beyond them only those that are cut to their end, or in
 * which nothing was done, go.
 */
export const LAST = 12;
const PLAN_AT_HAND = "plan-in-hand"; // what is kept of it: by its id a sitting is of this plan

export class Past {
  /**
   * @param {{store, table, mat, begin, atMat: () => void}} parts what the page wires it to;
   * `begin(request)` starts a guide
   */
  constructor(parts) {
    Object.assign(this, parts);
  }

  /**
   * All sittings, the one that was touched last first: {id, sitting, touched}; without `sitting`,
   * its log cannot be read here.
   */
  async list() {
    const records = await this.store.exported();
    return records.map((record) => this.#entry(record)).sort((a, b) => b.touched - a.touched);
  }

  #entry(record) {
    const touched = record.events.at(-1)?.at ?? record.started;
    try {
      return { id: record.id, touched, sitting: new Sitting(record, this) };
    } catch {
      return { id: record.id, touched, sitting: null };
    }
  }

  /** Makes a sitting the one at the mat, and goes there. */
  async goOn(id) {
    if (await this.mat.takeUp(id)) this.atMat();
  }

  /** Begins the same once more; the one that was there stays. */
  async anew(id) {
    const { title } = await this.store.sitting(id);
    await this.begin(title);
  }

  /** Removes a sitting with all that was counted in it; resolves to what brings it back. */
  async remove(id) {
    const { events, ...sitting } = await this.store.sitting(id);
    await this.store.removeSitting(id);
    await this.mat.drop(id);
    return () => this.store.takeIn([{ kind: "new", sitting, events }]);
  }

  /** Lets go of what is finished and old; what was cut of the plan in hand is still to be joined with others' counts. */
  async tidy() {
    const plan = (await this.store.get(PLAN_AT_HAND))?.id;
    const old = (await this.list())
      .slice(LAST)
      .filter(({ id, sitting }) => sitting && isNothingLost(sitting) && id !== this.mat.sitting?.id)
      .filter(({ sitting: { title } }) => !plan || title?.plan?.id !== plan);
    for (const { id } of old) await this.store.removeSitting(id);
  }
}

/** Whether nobody would miss it: it is cut to its end, or was never begun. */
function isNothingLost(sitting) {
  return sitting.done || sitting.events.length === 0;
}
