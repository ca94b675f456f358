// Which of several windows counts in a sitting. The others follow it, and one of them can take over (Web Locks).

/**
 * Events: `change`. `state` is "off" (nothing is held), "counting", "following" (another window counts), or "alone"
 * where the browser cannot tell: then every window may count, and the log's numbers keep them apart.
 */
export class Hold extends EventTarget {
  state = "off";
  #name = null;
  #release = null;
  #waiting = null;

  /** Counts in a sitting from now on, or follows whoever does; once that window lets go, this one counts. */
  async hold(id) {
    this.letGo();
    if (!navigator.locks) return this.#set("alone");
    const name = (this.#name = `matside-counting ${id}`);
    if (!(await this.#ask(name, { ifAvailable: true })) && this.#name === name) this.#wait(name);
  }

  /** Counts here; the window that did follows. */
  takeOver() {
    return this.#ask(this.#name, { steal: true });
  }

  letGo() {
    this.#name = null;
    this.#waiting?.abort();
    this.#release?.();
    this.#waiting = this.#release = null;
    this.#set("off");
  }

  /** Waits in line, without a word while it has to. */
  #wait(name) {
    this.#set("following");
    this.#waiting = new AbortController();
    this.#ask(name, { signal: this.#waiting.signal });
  }

  /** Resolves to whether it is held. It is held until `letGo`, or until another window takes it. */
  #ask(name, how) {
    return new Promise((settled) => {
      let had = false;
      const held = (lock) => {
        settled(Boolean(lock) && this.#name === name);
        if (!lock || this.#name !== name) return undefined;
        had = true;
        this.#set("counting");
        return new Promise((release) => (this.#release = release));
      };
      asked(name, how, held).catch(() => {
        settled(false);
        if (this.#name !== name || how.signal?.aborted) return;
        if (had)
          this.#wait(name); // another window has taken it
        // Asked again in a page that is just being left, WebKit would refuse for ever, and hang.
        else this.#set("alone");
      });
    });
  }

  #set(state) {
    if (state === this.state) return;
    this.state = state;
    this.dispatchEvent(new Event("change"));
  }
}

/** As the browser's own, which may also throw where it is not allowed. */
async function asked(name, how, held) {
  return navigator.locks.request(name, how, held);
}
