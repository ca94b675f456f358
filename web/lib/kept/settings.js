// What the user has chosen once for all: units, hand, how the strip lies, rulers, looks. Kept,
// and there at every start.

import { DEFAULT_KEYS } from "../mat/keys.js";
import { todaysSettings } from "./older.js";
import { fitted, listOf, maybe, oneOf, such } from "./kinds.js";

const KEPT = "settings";

export const DEFAULTS = Object.freeze({
  units: "in",
  hand: "right",
  lay: "along",
  layers: 1,
  mat: "24 in",
  theme: "auto",
  depth: "long",
  distance: 70,
  pxPerInch: 160,
  motion: "auto",
  rulers: null,
  chosen: null,
  voice: "off",
  ticks: true,
  volume: 0.8,
  keys: DEFAULT_KEYS,
  letters: false,
  knock: null,
  bladeAfter: 300, // yards, or meters: whichever the units tell a long way in
  sizes: null, // those that were cut last (web/lib/kept/sizes.js)
  shown: {}, // how often each kind of move was shown unasked (web/lib/mat/moves.js)
  welcomed: false, // whether the first ways in were read, or something was begun
  installLater: false, // whether the offer of the home screen was put off
  tapped: 0, // how often "Tap when done" was followed, as far as that matters
});

/** What can be chosen in the page itself; what a habit may be, the core says. Volume and distances are any number. */
export const CHOICES = Object.freeze({
  units: ["in", "cm"],
  depth: ["long", "short"],
  theme: ["auto", "light", "dark"],
  motion: ["auto", "none"],
  voice: ["off", "count", "short", "long"],
  ticks: [true, false],
  bladeAfter: [100, 200, 300, 500],
});

/** A ruler as a request takes it. */
export const RULER = such((ruler) => typeof ruler?.name === "string" && Array.isArray(ruler.angles));

const typed = maybe(such((value) => ["string", "number"].includes(typeof value)));
const KINDS = {
  ...DEFAULTS,
  rulers: maybe(listOf(RULER)),
  chosen: maybe({}),
  knock: maybe(0),
  sizes: maybe({ since: "", last: listOf({ text: "", units: "", measure: "" }) }),
  placing: typed,
  tolerance: typed,
  across: typed,
};

/** Events: `change` after every change. */
export class Settings extends EventTarget {
  /** @param {object} habits what each habit that the core knows may be */
  constructor(store, words, habits = {}) {
    super();
    this.store = store;
    this.words = words;
    this.kinds = {
      ...KINDS,
      ...Object.fromEntries(Object.entries({ ...CHOICES, ...habits }).map(([name, choices]) => [name, oneOf(choices)])),
    };
    this.values = { ...DEFAULTS };
  }

  /** Takes back what is kept; gives whether nothing of it had to be replaced. */
  async restore() {
    const { value, whole } = fitted(todaysSettings(await this.store.get(KEPT)), this.kinds, DEFAULTS);
    this.values = value;
    this.#apply();
    return whole;
  }

  /** Takes and keeps changed values. */
  async set(change) {
    this.values = { ...this.values, ...change };
    this.#apply();
    this.dispatchEvent(new CustomEvent("change", { detail: change }));
    await this.store.merge(KEPT, change); // another window may have changed others
  }

  #apply() {
    const { units, theme, motion } = this.values;
    const root = document.documentElement;
    this.words.units = units;
    root.dataset.theme = theme;
    root.dataset.motion = motion;
    applyDistance(root, this.values);
  }
}

// Character heights by the visual angle: 20 minutes of arc for what is read while working, 16 at the least
// (NUREG-0700), with h = 2 · D · tan(angle / 2) and capitals 0.7 em high.
const ARC = { "--mat-text": 23, "--mat-small": 18.6, "--mat-count": 41.5 };
const CAPITAL = 0.7;

/** Sets the mat's type for the phone's distance in centimeters and its pixels to the inch. */
export function applyDistance(root, { distance, pxPerInch }) {
  for (const [name, minutes] of Object.entries(ARC)) {
    const inches = 2 * (distance / 2.54) * Math.tan(((minutes / 60) * Math.PI) / 360);
    root.style.setProperty(name, `${Math.round((inches * pxPerInch) / CAPITAL)}px`);
  }
}
