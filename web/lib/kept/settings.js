// What the user has chosen once for all: units, hand, how the strip lies, rulers, looks. Kept,
// and there at every start.

import { DEFAULT_KEYS } from "../mat/keys.js";
import { chooseLanguage, chosenLanguage, OWN_NAMES } from "../words/language.js";
import { usualPaper } from "../words/locale.js";
import { todaysSettings } from "./older.js";
import { fitted, listOf, maybe, oneOf, such } from "./kinds.js";

const KEPT = "settings";

export const DEFAULTS = Object.freeze({
  language: null, // what the device asks for
  decimal: "auto",
  paper: "auto",
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
  decimal: ["auto", "point", "comma"],
  paper: ["auto", "a4", "letter"],
  depth: ["long", "short"],
  theme: ["auto", "light", "dark"],
  motion: ["auto", "none"],
  voice: ["off", "count", "short", "long"],
  ticks: [true, false],
  bladeAfter: [100, 200, 300, 500],
});

/** The mat's longer side on a first visit, by units: common practice, no published source. */
const USUAL_MAT = { in: DEFAULTS.mat, cm: "60 cm" };

/** A ruler as a request takes it. */
export const RULER = such((ruler) => typeof ruler?.name === "string" && Array.isArray(ruler.angles));

const typed = maybe(such((value) => ["string", "number"].includes(typeof value)));
const KINDS = {
  ...DEFAULTS,
  language: maybe(oneOf(Object.keys(OWN_NAMES))),
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
  #isFresh = false; // nothing was ever chosen

  /**
   * @param {object} habits what each habit that the core knows may be
   * @param {string} units what is usual where the device is, until anything is chosen
   */
  constructor(store, words, habits = {}, units = DEFAULTS.units) {
    super();
    this.store = store;
    this.words = words;
    this.usualUnits = units;
    this.kinds = {
      ...KINDS,
      ...Object.fromEntries(Object.entries({ ...CHOICES, ...habits }).map(([name, choices]) => [name, oneOf(choices)])),
    };
    this.values = { ...DEFAULTS, ...this.#usual };
  }

  /** Takes back what is kept; gives whether nothing of it had to be replaced. */
  async restore() {
    const kept = todaysSettings(await this.store.get(KEPT));
    this.#isFresh = kept === undefined;
    const fresh = { ...DEFAULTS, ...(this.#isFresh && this.#usual), language: chosenLanguage() };
    const { value, whole } = fitted(kept, this.kinds, fresh);
    this.values = value;
    if (value.language !== chosenLanguage()) chooseLanguage(value.language); // for the next load
    this.#apply();
    return whole;
  }

  /** Takes and keeps changed values. */
  async set(change) {
    this.values = { ...this.values, ...change };
    this.#apply();
    this.dispatchEvent(new CustomEvent("change", { detail: change }));
    const { units, mat } = this.values;
    const usual = this.#isFresh && { units, ...(mat !== DEFAULTS.mat && { mat }) }; // from now on what was gone by
    this.#isFresh = false;
    await this.store.merge(KEPT, { ...usual, ...change }); // another window may have changed others
  }

  /** What a first visit begins with where the device is. */
  get #usual() {
    return { units: this.usualUnits, mat: USUAL_MAT[this.usualUnits] };
  }

  #apply() {
    const { units, decimal, paper, theme, motion } = this.values;
    const root = document.documentElement;
    Object.assign(this.words, { units, decimal });
    root.dataset.theme = theme;
    root.dataset.motion = motion;
    root.dataset.paper = paper === "auto" ? usualPaper() : paper;
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
