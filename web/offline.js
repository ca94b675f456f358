// Registers the service worker and says how the page stands with working offline.
//
// A worker is believed only when it answers. A waiting one that does not (an empty or a foreign script on the host) is
// never put in place by us, and since the browser itself would do that once the last tab closes, this version's own
// worker is registered over it, under the name that belongs to this version alone (`sw-<hash>.js`). An active one that
// does not answer is replaced at once. As soon as the host's `sw.js` is whole again, it is the one that is registered.

import { asked, checked, isWhole, takenOver } from "./offline/ask.js";
import { faultOf, guess, isSound, whyNotRegistered } from "./offline/faults.js";
import { ownName } from "./offline/own-name.js";
import { LatestOnly } from "./lib/page/latest-only.js";
import { trustedScript } from "./worker/trusted.js";

const BUSY = "matside-busy";
const TOLD_WITHIN = 300; // ms
const COMES_IN = 3000; // ms
const NOTHING = Object.freeze({ kind: "", detail: "" });

/**
 * Events: `state` whenever `state`, `fault` or `trouble` has changed. States: 'waiting'      `start` has not been
 * called yet 'installing'   the files are being fetched 'ready'        every file of this version is really in the
 * cache, and its worker answers 'update'       as ready, and a newer version waits, whole, for `applyUpdate`
 * 'unsupported'  this browser, or this way of opening the page, has no service worker 'failed'       the files
 * could not all be kept; `fault` says why; `start` tries again `fault` and `trouble` are {kind, detail}: a kind has
 * words under "updates.failed" and "updates.trouble", the detail is for a report. `trouble` is that of a newer
 * version while this one goes on.
 */
class Offline extends EventTarget {
  state = "waiting";
  fault = NOTHING;
  trouble = NOTHING;
  #url = null;
  #registration = null;
  #gaveUp = NOTHING; // what the last installation that ended has told
  #tried = new Map(); // what was done about silent workers since `start`, and whether it could be
  #silent = new WeakSet(); // workers that did not answer since `start`
  #coming = new WeakMap(); // workers that were just coming in, and whether they have had their time
  #sound = new WeakMap(); // waiting workers, and whether their script is as it was built
  #watched = new WeakSet();
  #judging = new LatestOnly(() => this.#judge());

  /** Why not, as a kind; "" unless the state is 'failed'. */
  get message() {
    return this.fault.kind;
  }

  /** Registers the service worker, or looks again. Best called when Python is ready or has failed. */
  async start(url = "sw.js") {
    if (!navigator.serviceWorker) return this.#set("unsupported");
    if (this.state !== "update") this.#set("installing");
    this.#url = new URL(url, document.baseURI);
    this.#tried = new Map();
    this.#silent = new WeakSet();
    this.#listen();
    try {
      this.#registration = await this.#registered();
    } catch (error) {
      return this.#set("failed", await whyNotRegistered(this.#url, error));
    }
    this.#watchAll();
    await this.#judging.run();
  }

  /** Looks for a newer version; harmless without a network. */
  async lookForUpdate() {
    await this.#registration?.update().catch(() => {});
  }

  /**
   * Puts the waiting version in place and reloads. Gives false, and does nothing, while any tab holds (see `hold`),
   * when no version waits, and when the one that waits does not answer or is not whole.
   */
  async applyUpdate() {
    const { waiting } = this.state === "update" ? this.#registration : {};
    if (!waiting || (await this.#held())) return false;
    const found = await asked(waiting);
    const came = isWhole(found) && (await takenOver(waiting));
    if (came) location.reload();
    else await this.#doubt(waiting, !found || isWhole(found));
    return came;
  }

  /** No version is put in place from now on, in any tab, until the function that this returns is called. */
  hold() {
    let release = () => {};
    const held = new Promise((resolve) => {
      release = resolve;
    });
    navigator.locks?.request(BUSY, { mode: "shared" }, () => held);
    return release;
  }

  async #held() {
    const { held = [], pending = [] } = (await navigator.locks?.query()) ?? {};
    return [...held, ...pending].some(({ name }) => name === BUSY);
  }

  async #doubt(waiting, silent) {
    if (silent) this.#silent.add(waiting);
    await this.#judging.run();
  }

  // ---- registering

  /**
   * The registration: of the host's `sw.js`, which browsers ask for anew, where that is sound; else of
   * what there is, or the spare.
   */
  async #registered() {
    const held = await navigator.serviceWorker.getRegistration(document.baseURI);
    const ours = held?.scope === new URL("./", document.baseURI).href ? held : null;
    const newest = ours?.installing ?? ours?.waiting ?? ours?.active;
    if (newest?.scriptURL === this.#url.href) return register(this.#url, "none"); // asks nobody
    const sound = await isSound(this.#url);
    if (ours && !sound) return ours;
    if (sound !== false) return register(this.#url, "none");
    if (!(await isSound(spareUrl()))) throw new Error("the service worker is not as it was built");
    return register(spareUrl(), "all");
  }

  /** Does something about a silent worker, once since `start`; whether it could be done. */
  #once(name, act) {
    if (!this.#tried.has(name))
      this.#tried.set(
        name,
        act().then(
          () => true,
          () => false,
        ),
      );
    return this.#tried.get(name);
  }

  /** Registers this version's own worker over one that is not to be believed; whether it could be had. */
  #spare() {
    return this.#once("spare", async () => {
      if ((await isSound(spareUrl())) === false) throw new Error("the host has it no more");
      await register(spareUrl(), "all");
    });
  }

  // ---- watching

  #listen() {
    if (this.#watched.has(navigator.serviceWorker)) return;
    this.#watched.add(navigator.serviceWorker);
    navigator.serviceWorker.addEventListener(
      "message",
      ({ data }) => data?.gaveUp && (this.#gaveUp = faultOf(data.gaveUp)),
    );
    navigator.serviceWorker.startMessages();
  }

  #watchAll() {
    const { installing, waiting, active } = this.#registration;
    if (!this.#watched.has(this.#registration))
      this.#registration.addEventListener("updatefound", () => this.#watch(this.#registration.installing));
    this.#watched.add(this.#registration);
    for (const worker of [installing, waiting, active]) this.#watch(worker);
  }

  #watch(worker) {
    if (!worker || this.#watched.has(worker)) return;
    this.#watched.add(worker);
    let installing = worker.state === "installing";
    worker.addEventListener("statechange", () => {
      if (installing && worker.state === "redundant") this.#ended();
      else this.#judging.run();
      installing = worker.state === "installing";
    });
  }

  /** An installation has ended without a version. */
  async #ended() {
    if (!this.#registration.active) return this.#judging.run();
    this.#set(this.state, this.fault, await this.#why());
    return this.#judging.run();
  }

  /** Why it has; what it told may come a moment later. */
  async #why() {
    if (!this.#gaveUp.kind)
      await new Promise((resolve) => {
        setTimeout(resolve, TOLD_WITHIN);
      });
    const why = this.#gaveUp.kind ? this.#gaveUp : await guess();
    this.#gaveUp = NOTHING;
    return why;
  }

  // ---- judging what the registration and the cache say now

  async #judge() {
    const { installing, waiting, active } = this.#registration;
    if (!active)
      return installing || waiting || this.state === "failed" ? undefined : this.#set("failed", await this.#why());
    if (active.state !== "activated" && this.#isComing(active)) return undefined; // it tells when it is
    const [now, next] = [await this.#found(active, checked), waiting && (await this.#found(waiting, asked))];
    if (!now) return this.#heal(waiting, next);
    if (now.missing.length) return this.#set("failed", now.fault ?? (await guess()));
    if (waiting && !(next && (await this.#isSound(waiting)))) return this.#setAside(waiting);
    if (!next || next.version === now.version) return this.#set("ready");
    if (!isWhole(next)) return this.#set("ready", NOTHING, next.fault ?? (await guess()));
    return this.#set("update", NOTHING, NOTHING);
  }

  /**
   * Whether a worker that comes in still has time to. A page that is loaded meanwhile is never told by WebKit that
   * it has: so it is asked then.
   */
  #isComing(worker) {
    if (!this.#coming.has(worker)) {
      this.#coming.set(worker, true);
      setTimeout(() => {
        this.#coming.set(worker, false);
        this.#judging.run();
      }, COMES_IN);
    }
    return this.#coming.get(worker);
  }

  /** A waiting worker is not to be believed: the browser must not put it in place either. */
  async #setAside(waiting) {
    const safe = waiting.scriptURL !== spareUrl().href && (await this.#spare());
    this.#set("ready", NOTHING, { kind: safe ? "damaged" : "exposed", detail: waiting.scriptURL });
  }

  /** Whether a waiting worker's script is as it was built, as far as the host says; asked once for each. */
  async #isSound(waiting) {
    if (waiting.scriptURL !== this.#url.href) return true;
    if (!this.#sound.has(waiting)) this.#sound.set(waiting, (await isSound(this.#url)) !== false);
    return this.#sound.get(waiting);
  }

  /** What a worker answers, with what was lacking fetched; null when it is silent. */
  async #found(worker, ask) {
    if (this.#silent.has(worker)) return null;
    const found = await ask(worker);
    if (!found) this.#silent.add(worker);
    return found;
  }

  /** The active worker answers nothing, so nothing here comes from it: another may come in at once. */
  async #heal(waiting, next) {
    if (next && isWhole(next)) return waiting.postMessage({ takeOver: true });
    if (!waiting) await this.#once("anew", () => this.#registration.update());
    if (this.#registration.installing || (await this.#spare())) return undefined; // it tells when it is there
    return this.#set("failed", {
      kind: (await isSound(this.#url)) === null ? "network" : "host",
      detail: "the service worker does not answer",
    });
  }

  #set(state, fault = NOTHING, trouble = this.trouble) {
    const same = state === this.state && isSame(fault, this.fault) && isSame(trouble, this.trouble);
    Object.assign(this, { state, fault, trouble });
    if (!same) this.dispatchEvent(new CustomEvent("state", { detail: { state, message: fault.kind } }));
  }
}

/** Every service worker is registered here. */
function register(url, updateViaCache) {
  return navigator.serviceWorker.register(trustedScript(url), { updateViaCache });
}

/** The name that the worker has for this version alone. */
function spareUrl() {
  return new URL(ownName() ?? "sw.js", document.baseURI);
}

function isSame(one, other) {
  return one.kind === other.kind && one.detail === other.detail;
}

export const offline = new Offline();
