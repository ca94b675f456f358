// The screens: each is loaded and made by itself, so that one that is missing or broken leaves the others working.

import { spared } from "./stages.js";

/** Events: `change` whenever a screen has come, or cannot come. */
export class Screens extends EventTarget {
  #makers;
  #store;
  #mended;
  #made = new Map(); // name → {coming, screen, problem}

  /**
   * @param {{makers, store, mended}} parts `makers` gives by name what loads and makes a screen with a store;
   *   `mended(name, error)` hears of what was kept and could not be taken back
   */
  constructor({ makers, store, mended }) {
    super();
    this.#makers = makers;
    this.#store = store;
    this.#mended = mended;
  }

  get names() {
    return Object.keys(this.#makers);
  }

  /** A screen that has come; null before, and where it cannot come. */
  get(name) {
    return this.#made.get(name)?.screen ?? null;
  }

  /** Why a screen cannot be shown, or null. */
  problem(name) {
    return this.#made.get(name)?.problem ?? null;
  }

  /** Resolves to a screen, or to null where it cannot come. */
  ready(name) {
    if (!this.#made.has(name)) this.#make(name, (make) => this.#restored(name, make));
    return this.#made.get(name).coming;
  }

  /** A screen that failed is made once more, without what was kept of it; resolves as `ready`. */
  anew(name) {
    this.#make(name, (make) => this.#fresh(make));
    this.#made.get(name).fresh = true;
    return this.ready(name);
  }

  /** Whether a screen was made without what was kept of it. */
  isFresh(name) {
    return Boolean(this.#made.get(name)?.fresh);
  }

  /** A screen cannot be shown. */
  fail(name, error) {
    Object.assign(this.#made.get(name), { screen: null, problem: error });
  }

  #make(name, come) {
    const made = { screen: null, problem: null };
    this.#made.set(name, made);
    made.coming = come(this.#makers[name])
      .then(
        (screen) => (made.screen = screen),
        (error) => void (made.problem = error),
      )
      .then(() => {
        this.dispatchEvent(new CustomEvent("change", { detail: name }));
        return made.screen;
      });
  }

  async #restored(name, make) {
    const screen = await make(this.#store);
    const whole = await spared(
      `screen ${name}`,
      () => screen.restore?.(),
      (error) => error,
    );
    if (whole instanceof Error || whole === false) this.#mended(name, whole || null);
    return whole instanceof Error ? this.#fresh(make) : screen;
  }

  /** As if nothing were kept yet. */
  async #fresh(make) {
    const found = { get: async () => undefined };
    const screen = await make(new Proxy(this.#store, { get: (store, name) => found[name] ?? bound(store, name) }));
    await screen.restore?.();
    delete found.get;
    return screen;
  }
}

function bound(object, name) {
  const found = object[name];
  return typeof found === "function" ? found.bind(object) : found;
}
