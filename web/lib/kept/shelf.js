// The rulers that are known here, and which of them the user has: the generic ones to start from, and the user's own.

import { fitted, listOf } from "./kinds.js";
import { RULER } from "./settings.js";

const KEPT = "shelf";

/** Rulers are kept as the ask `rulers` takes them; those the user has are also the setting `rulers`. */
export class Shelf {
  #known = null; // until anything was said of them

  /** @param {{store, settings, facts}} parts */
  constructor({ store, settings, facts }) {
    Object.assign(this, { store, settings, facts });
  }

  /** The rulers to start from in the units of now; others become them as long as nobody has said what is there. */
  get generic() {
    const { rulers } = this.facts.usual[this.settings.values.units];
    return rulers.map((ruler) => inWords(ruler, this.settings.words));
  }

  get #rulers() {
    return this.#known ?? this.generic;
  }

  /** Takes back what is kept; gives whether nothing of it had to be replaced. */
  async restore() {
    const kept = await this.store.get(KEPT);
    const { value, whole } = fitted(kept, listOf(RULER), this.generic);
    this.#known = kept === undefined ? null : value;
    return whole;
  }

  /** The rulers that the user has; the first generic one until something else was said. */
  owned() {
    return this.settings.values.rulers ?? this.generic.slice(0, 1);
  }

  /** All of them in their order: {ruler, have}. */
  entries() {
    const owned = new Map(this.owned().map((ruler) => [ruler.name, ruler]));
    const strangers = this.owned().filter(({ name }) => !this.#rulers.some((ruler) => ruler.name === name));
    return [...this.#rulers, ...strangers].map((ruler) => ({
      ruler: owned.get(ruler.name) ?? ruler,
      have: owned.has(ruler.name),
    }));
  }

  /** Says whether the user has the ruler at a place. */
  have(place, have) {
    return this.#keep(this.entries().map((entry, i) => (i === place ? { ...entry, have } : entry)));
  }

  /** Puts a ruler in its place, or at the end; whoever describes a ruler has it. */
  put(place, ruler) {
    const entries = this.entries();
    entries[place ?? entries.length] = { ruler, have: true };
    return this.#keep(entries);
  }

  /** Puts a ruler that somebody else has on the shelf; whether it is here, its owner says. */
  add(ruler) {
    return this.#keep([...this.entries(), { ruler, have: false }]);
  }

  /** Takes a ruler away. */
  remove(place) {
    return this.#keep(this.entries().filter((_, i) => i !== place));
  }

  async #keep(entries) {
    this.#known = entries.map(({ ruler }) => ruler);
    const have = entries.filter((entry) => entry.have).map(({ ruler }) => ruler);
    // Both at once: what is shown before they are stored already goes by the new shelf.
    await Promise.all([this.store.put(KEPT, this.#known), this.settings.set({ rulers: have })]);
  }
}

/** A ruler to start from by a name in the user's language, as its own rulers have. */
function inWords(ruler, words) {
  const path = `rulers_screen.usual.${ruler.name}`;
  return words.has(path) ? { ...ruler, name: words.say(path) } : ruler;
}
