// What has to be read: said once, wherever the user is, and there until it is said to be read.

/** Events: `change`. */
export class Notices extends EventTarget {
  #told = new Map(); // code with values → {code, values, whenRead}
  #read = new Set();

  /**
   * Says something under "notice.<code>" of the catalogue; what stands there, or was read since the page was
   * opened, is not said again.
   */
  tell(code, values = {}, whenRead = null) {
    const key = JSON.stringify([code, values]);
    if (this.#told.has(key) || this.#read.has(key)) return;
    this.#told.set(key, { code, values, whenRead });
    this.dispatchEvent(new Event("change"));
  }

  /** The oldest that is not read: {code, values}; null when there is none. */
  get first() {
    return this.#told.values().next().value ?? null;
  }

  /** The oldest has been read, of which whoever told it may want to hear. */
  read() {
    const [[key, notice] = []] = this.#told;
    if (key === undefined) return;
    this.#told.delete(key);
    this.#read.add(key);
    notice.whenRead?.();
    this.dispatchEvent(new Event("change"));
  }

  /** Nothing more is to be said under a code: its cause has gone. */
  drop(code) {
    for (const [key, held] of this.#told) if (held.code === code) this.#told.delete(key);
    this.dispatchEvent(new Event("change"));
  }
}

export const notices = new Notices();
