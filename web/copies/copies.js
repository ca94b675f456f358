// Copies of everything counted, with rulers and settings: written to a file, and taken back from one.

import { newId } from "../lib/kept/ids.js";
import { ownName } from "../offline/own-name.js";
import { Overtaken } from "../store/errors.js";
import { why } from "../store/failing.js";
import { compared } from "./comparing.js";
import { means } from "./means.js";
import { forCopy, hasOwn, KEPT, known } from "./kept.js";
import { FORMAT, MOST_BYTES, readCopy } from "./reading.js";
import { Refused } from "./refused.js";

const TRIES = 3; // another window may count on while a copy is compared

export class Copies {
  /**
   * @param {{store, table, plans: () => Promise<object>, took: (ids: string[]) => void}} parts `plans` gives the plans
   * that are kept, `took` is told the ids of the sittings that have changed
   */
  constructor({ store, table, plans, took = () => {} }) {
    Object.assign(this, { store, table, plans, took });
  }

  /** A copy of everything, as text. */
  async text(now = Date.now()) {
    const [sittings, values, plans] = await Promise.all([this.store.exported(), this.#values(), this.plans()]);
    const plan = await plans.now({ names: true });
    const told = { matside: FORMAT, version: version(), made: now, sittings, kept: forCopy(values) };
    return JSON.stringify({ ...told, plan, plans: plans.beside });
  }

  /** Whether there are rulers or settings of one's own here. */
  async hasOwn() {
    return hasOwn(await this.#values());
  }

  /**
   * Takes a file back: {new, longer, same, beside, kept, plan, plans}, counts of sittings, whether rulers and settings
   * were taken, whether there is another plan in it, which waits to be looked at, and how many were kept beside. Throws `Refused`, and has then changed nothing.
   * @param {File} file
   * @param {{kept: boolean}} wanted whether its rulers and settings are to take the place of those here
   */
  async takeBack(file, wanted) {
    if (file.size > MOST_BYTES) throw new Refused("large");
    const [text, { validate, schema }] = await Promise.all([read(file), means()]);
    const copy = readCopy(text, { table: this.table, validate });
    const told = await this.#takeIn(copy.sittings);
    const kept = wanted.kept && (await this.#takeKept(copy.kept, schema));
    return { ...told, kept, ...(await this.#takePlans(copy)) };
  }

  async #takePlans({ plan, plans: others }) {
    const plans = await this.plans();
    const taken = await plans.takeIn(others);
    const isOther = Boolean(plan) && !(await plans.isHere(plan));
    if (isOther) await plans.give(plan);
    return { plan: isOther, plans: taken };
  }

  async #takeIn(sittings, tries = TRIES) {
    try {
      const { changes, told } = compared(sittings, await this.store.exported(), newId);
      if (changes.length) await this.store.takeIn(changes);
      this.took(changes.map(({ sitting }) => sitting.id));
      return told;
    } catch (error) {
      if (error instanceof Overtaken && tries > 1) return this.#takeIn(sittings, tries - 1);
      throw new Refused("unkept", { why: why(error) }, String(error));
    }
  }

  /** Whether anything of the kind was there, and is kept now; null where it was and could not be kept. */
  async #takeKept({ settings, shelf }, schema) {
    const keeping = [
      settings && this.store.merge("settings", known(settings, schema)),
      shelf && this.store.put("shelf", shelf),
    ].filter(Boolean);
    const kept = await Promise.all(keeping);
    return kept.includes(false) ? null : kept.length > 0;
  }

  async #values() {
    const values = await Promise.all(KEPT.map((name) => this.store.get(name)));
    return Object.fromEntries(KEPT.map((name, i) => [name, values[i]]));
  }
}

/** A plan alone, as a file has it: a copy in which nothing was counted. */
export function planText(plan, now = Date.now()) {
  return JSON.stringify({ matside: FORMAT, version: version(), made: now, sittings: [], plan });
}

/** The name of a copy's file, by the day on which it is made here. */
export function fileName(date = new Date()) {
  const [month, day] = [date.getMonth() + 1, date.getDate()].map((number) => String(number).padStart(2, "0"));
  return `matside-${date.getFullYear()}-${month}-${day}.json`;
}

/** Which build of the page writes. */
function version() {
  return ownName()?.replace(/\W*(sw|js)\W*/g, "") ?? "";
}

async function read(file) {
  try {
    return await file.text();
  } catch (error) {
    throw new Refused("unread", {}, String(error));
  }
}
