// What the user has chosen once for all: units, hand, how the strip lies, rulers, looks. Kept, and there at every start.

import { DEFAULT_KEYS } from "./keys.js";

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
  bladeMetres: 300,
  tapped: 0, // how often "Tap when done" was followed, as far as that matters
});

/** Events: `change` after every change. */
export class Settings extends EventTarget {
  constructor(store, words) {
    super();
    this.store = store;
    this.words = words;
    this.values = { ...DEFAULTS };
  }

  async restore() {
    this.values = { ...DEFAULTS, ...(await this.store.get(KEPT)) };
    this.#apply();
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

// Character heights by the visual angle: 20 minutes of arc for what is read while working, 16 at the least (NUREG-0700),
// with h = 2 · D · tan(angle / 2) and capitals 0.7 em high.
const ARC = { "--mat-text": 23, "--mat-small": 18.6, "--mat-count": 41.5 };
const CAPITAL = 0.7;

/** Sets the mat's type for the phone's distance in centimetres and its pixels to the inch. */
export function applyDistance(root, { distance, pxPerInch }) {
  for (const [name, minutes] of Object.entries(ARC)) {
    const inches = 2 * (distance / 2.54) * Math.tan(((minutes / 60) * Math.PI) / 360);
    root.style.setProperty(name, `${Math.round((inches * pxPerInch) / CAPITAL)}px`);
  }
}
