// Keeps the screen awake while the guide is up. The lock is lost whenever the page is hidden, so it is asked for
// again; some browsers give it only to a page that was tapped since it was loaded, so after a refusal it is
// asked for with the next tap.

/**
 * Events: `change`. `state` is "off", "on", "unsupported", "untapped" where a refusal may end with
 * the first tap, or "refused".
 */
export class Wake extends EventTarget {
  state = "off";
  #wanted = false;
  #lock = null;

  constructor() {
    super();
    document.addEventListener("visibilitychange", () => this.#renew());
    document.addEventListener("click", () => ["untapped", "refused"].includes(this.state) && this.#renew(), true);
  }

  /** Asks for the lock, now and whenever the page comes back, until `release`. */
  hold() {
    this.#wanted = true;
    return this.#renew();
  }

  release() {
    this.#wanted = false;
    letGo(this.#lock).catch(() => {});
    this.#lock = null;
    this.#set("off");
  }

  async #renew() {
    if (!this.#wanted || document.visibilityState !== "visible") return;
    try {
      if (!navigator.wakeLock) return this.#set("unsupported");
      this.#lock = await navigator.wakeLock.request("screen");
      this.#set("on");
    } catch {
      this.#set(navigator.userActivation?.hasBeenActive === false ? "untapped" : "refused");
    }
  }

  #set(state) {
    if (state === this.state) return;
    this.state = state;
    this.dispatchEvent(new Event("change"));
  }
}

/** It is lost by itself where it cannot be given back: with the page. */
async function letGo(lock) {
  await lock?.release();
}
