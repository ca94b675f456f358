// Registers the service worker and says how the page stands with working offline.

import { trustedScript } from "./worker/trusted.js";

const BUSY = "matside-busy";

/**
 * Events: `state` (detail: {state, message}). States:
 *   'waiting'      `start` has not been called yet
 *   'installing'   the files are being fetched
 *   'ready'        every file of this version is really in the cache
 *   'update'       as ready, and a newer version waits, whole, for `applyUpdate`
 *   'unsupported'  this browser, or this way of opening the page, has no service worker
 *   'failed'       the files could not all be kept; `message` says why; `start` tries again
 */
class Offline extends EventTarget {
  state = "waiting";
  message = "";
  #registration = null;
  #watched = new WeakSet();

  /** Registers the service worker, or looks again. Best called when Python is ready or has failed. */
  async start(url = "sw.js") {
    if (!navigator.serviceWorker) return this.#set("unsupported");
    if (this.state !== "update") this.#set("installing");
    try {
      await this.#register(new URL(url, document.baseURI));
    } catch (error) {
      this.#set("failed", error.message);
    }
  }

  /** Looks for a newer version; harmless without a network. */
  async lookForUpdate() {
    await this.#registration?.update().catch(() => {});
  }

  /**
   * Puts the waiting version in place and reloads. Gives false, and does nothing, while any tab holds (see `hold`)
   * or when no version waits.
   */
  async applyUpdate() {
    const waiting = this.#registration?.waiting;
    if (!waiting || (await this.#held())) return false;
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    waiting.postMessage({ takeOver: true });
    return true;
  }

  /** No version is put in place from now on, in any tab, until the function that this returns is called. */
  hold() {
    let release = () => {};
    const held = new Promise((resolve) => { release = resolve; });
    navigator.locks?.request(BUSY, { mode: "shared" }, () => held);
    return release;
  }

  async #held() {
    const { held = [], pending = [] } = (await navigator.locks?.query()) ?? {};
    return [...held, ...pending].some(({ name }) => name === BUSY);
  }

  async #register(url) {
    const registration = await navigator.serviceWorker.register(trustedScript(url), { updateViaCache: "none" });
    this.#registration = registration;
    registration.addEventListener("updatefound", () => this.#watch(registration.installing));
    this.#watch(registration.installing);
    await this.#judge();
  }

  #watch(worker) {
    if (!worker || this.#watched.has(worker)) return;
    this.#watched.add(worker);
    worker.addEventListener("statechange", () => this.#judge(worker.state === "redundant"));
  }

  // What the registration and the cache say now.
  async #judge(gaveUp = false) {
    const { active, waiting } = this.#registration;
    if (waiting && active) return this.#set("update");
    if (active) return this.#verify(active);
    if (gaveUp) this.#set("failed", await reason());
  }

  async #verify(active) {
    const found = await send(active, { check: true });
    const { missing, error } = found.missing?.length ? await send(active, { repair: true }) : found;
    if (missing?.length === 0) this.#set("ready");
    else this.#set("failed", error ?? (await reason()));
  }

  #set(state, message = "") {
    if (state === this.state && message === this.message) return;
    Object.assign(this, { state, message });
    this.dispatchEvent(new CustomEvent("state", { detail: { state, message } }));
  }
}

function send(worker, message) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage(message, [port2]);
  });
}

// Why files could not be kept: a browser says it only through what is left of its storage.
async function reason() {
  const { quota = 0, usage = 0 } = (await navigator.storage?.estimate?.()) ?? {};
  return quota && quota - usage < 30e6 ? "storage" : "network";
}

export const offline = new Offline();
