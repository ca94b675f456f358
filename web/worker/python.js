// The page's side of the Python worker: promises instead of messages, stages, and a way to try again.

import { trustedScript } from "./trusted.js";
import { Watch } from "./watch.js";

const STAGES = ["loading", "starting", "ready"];
const RESTARTS = 2; // in a row, without any answer
const DEATHS = 2; // of workers at the same question

/**
 * Starts Python in a worker; returns at once.
 * @param {{workerUrl?: URL|string, folders?: {pyodide: string, python: string}, when?: Promise, tick?: number}} how by
 *   default what the page names, now, and watched in seconds
 * @returns {Python}
 */
export function createPython({
  workerUrl = new URL("./python-worker.js", import.meta.url),
  folders = namedFolders(),
  when = null,
  tick,
} = {}) {
  return new Python(workerUrl, folders, when, tick);
}

function namedFolders() {
  const named = (name) =>
    new URL(document.querySelector(`meta[name="matside-${name}"]`).content, document.baseURI).href;
  return { pyodide: named("pyodide"), python: named("python") };
}

/**
 * Events: `stage` (detail: {stage, message}), also at every retry, and `late` when `late` has changed: whether
 * something that was asked takes its time. A worker that has died or hangs is started again by itself ('again'
 * until it is ready, a few times in a row at the most), and what was asked is asked again; a question at which
 * two workers ended rejects.
 */
class Python extends EventTarget {
  #workerUrl;
  #folders;
  #tick;
  #worker;
  #watch;
  #restarts = 0; // since the last answer
  #lastId = 0;
  #open = new Map(); // id → what waits for it: {message, resolve, reject, onProgress, deaths, pausing, shown}
  #latest = new Map(); // key → id of its newest question

  constructor(workerUrl, folders, when, tick) {
    super();
    this.#workerUrl = workerUrl;
    this.#folders = folders;
    this.#tick = tick;
    this.stage = "loading";
    this.message = "";
    if (when) when.then(() => this.#startWorker("loading"));
    else this.#startWorker("loading");
  }

  /** Whether what was asked takes its time. */
  get late() {
    return this.#watch?.late ?? false;
  }

  /**
   * The core's answer, refusals included. Before Python is ready the question waits its turn; rejects if Python breaks.
   */
  ask(request) {
    return this.#question({ ask: request });
  }

  /** As `ask`, but a newer question with the same key makes this one stale: its promise then gives null. */
  async askLatest(key, request) {
    this.#dropStale(key);
    const answer = this.ask(request);
    const id = this.#lastId;
    this.#latest.set(key, id);
    return answer.finally(() => this.#latest.get(key) === id && this.#latest.delete(key));
  }

  /**
   * A search: progress as it comes, then the answer; null when the signal stops it first. `onStart` is given {pause,
   * goOn}: a paused search tells its best so far in full (`progress.plan`) and waits.
   */
  search(request, { onProgress = () => {}, onStart = () => {}, signal } = {}) {
    if (signal?.aborted) return Promise.resolve(null);
    const answer = this.#question({ work: request }, onProgress);
    const id = this.#lastId;
    signal?.addEventListener("abort", () => this.#stop(id), { once: true });
    onStart({ pause: () => this.#pause(id), goOn: () => this.#goOn(id) });
    return answer;
  }

  /** After `failed`: starts again; what was asked meanwhile is still answered. */
  retry() {
    this.#restarts = 0;
    if (this.stage === "failed") this.#startWorker("loading");
  }

  // ---- the worker

  #startWorker(stage) {
    this.#end();
    const worker = new Worker(trustedScript(this.#workerUrl), { type: "module" });
    const watch = new Watch({
      post: (message) => worker.postMessage(message),
      isSearching: () => this.#searching().length > 0,
      tick: this.#tick,
    });
    const own = (act) => (event) => worker === this.#worker && act(event);
    this.#worker = worker;
    this.#watch = watch;
    worker.addEventListener(
      "message",
      own(({ data }) => this.#receive(data)),
    );
    worker.addEventListener(
      "error",
      own((event) => this.#broke(event)),
    );
    watch.addEventListener(
      "late",
      own(() => this.dispatchEvent(new Event("late"))),
    );
    watch.addEventListener(
      "dead",
      own(() => this.#died("the worker does not answer")),
    );
    this.#setStage(stage);
    worker.postMessage({ start: this.#folders });
    this.#watchOn();
  }

  #end() {
    const worker = this.#worker;
    this.#worker = null;
    this.#watch?.end();
    worker?.terminate();
  }

  // The worker's own script did not load, or threw outside an answer.
  #broke(event) {
    event.preventDefault();
    this.#failed(event.message || "the worker could not be loaded");
  }

  /** One that has been ready may be so again; one that could not even start is left to the user. */
  #failed(message) {
    if (this.#watch.started) this.#restart(message);
    else this.#fail(message);
  }

  #fail(message) {
    this.#end();
    this.#setStage("failed", message);
  }

  /** What it was at when it went silent may be why. */
  #died(message) {
    const at = this.#open.get(this.#watch.at);
    for (const each of at ? [at] : this.#searching()) this.#blame(each, message);
    this.#restart(message);
  }

  #restart(message) {
    this.#restarts += 1;
    if (this.#restarts > RESTARTS) return this.#fail(message);
    this.#startWorker("again");
  }

  #blame(waiting, message) {
    waiting.deaths += 1;
    if (waiting.deaths >= DEATHS) this.#settle({ id: waiting.message.id, error: { code: "python_broke", message } });
  }

  #receive(data) {
    this.#watch.heard(data);
    if (data.stage === "failed") this.#failed(data.message);
    else if (STAGES.includes(data.stage)) this.#came(data.stage);
    else if (data.id !== undefined) this.#settle(data);
  }

  #came(stage) {
    if (stage === "ready") this.#watch.started = true;
    if (stage === "ready" || this.stage !== "again") this.#setStage(stage);
  }

  #setStage(stage, message = "") {
    this.stage = stage;
    this.message = message;
    if (stage === "ready") this.#open.forEach((waiting) => this.#give(waiting));
    this.dispatchEvent(new CustomEvent("stage", { detail: { stage, message } }));
  }

  #watchOn() {
    this.#watch?.waiting(this.stage !== "failed" && [...this.#open.values()].some(isWaiting));
  }

  #searching() {
    return [...this.#open.values()].filter((each) => each.message.work && isWaiting(each));
  }

  // ---- questions

  #question(content, onProgress) {
    const message = { id: ++this.#lastId, ...content };
    return new Promise((resolve, reject) => {
      const waiting = { message, resolve, reject, onProgress, deaths: 0, pausing: false, shown: false };
      this.#open.set(message.id, waiting);
      if (this.stage === "ready") this.#give(waiting);
      this.#watchOn();
    });
  }

  /**
   * Gives the worker a question, or a search; one that shows its best and waits is begun anew only when it may go on.
   */
  #give(waiting) {
    if (!isWaiting(waiting)) return;
    const { message, pausing } = waiting;
    if (message.ask) this.#watch.given(message.id);
    this.#worker.postMessage(message);
    if (pausing) this.#tell({ id: message.id, pause: true });
    waiting.given = this.#worker;
  }

  #settle({ id, answer, progress, error }) {
    const waiting = this.#open.get(id);
    if (!waiting) return;
    if (progress) return this.#progressed(waiting, progress);
    this.#open.delete(id);
    this.#watchOn();
    if (error) return waiting.reject(Object.assign(new Error(error.message), { code: error.code }));
    this.#restarts = 0;
    waiting.resolve(answer);
  }

  #progressed(waiting, progress) {
    waiting.shown = waiting.pausing && Boolean(progress.plan);
    this.#watchOn();
    waiting.onProgress?.(progress);
  }

  #pause(id) {
    const waiting = this.#open.get(id);
    if (!waiting) return;
    waiting.pausing = true;
    this.#tell({ id, pause: true });
  }

  #goOn(id) {
    const waiting = this.#open.get(id);
    if (!waiting) return;
    Object.assign(waiting, { pausing: false, shown: false });
    if (this.stage === "ready" && waiting.given !== this.#worker) this.#give(waiting);
    else this.#tell({ id, goOn: true });
    this.#watchOn();
  }

  #tell(message) {
    if (this.#open.has(message.id) && this.stage === "ready") this.#worker.postMessage(message);
  }

  #dropStale(key) {
    const id = this.#latest.get(key);
    if (id !== undefined) this.#stop(id);
  }

  #stop(id) {
    const waiting = this.#open.get(id);
    if (!waiting) return;
    this.#tell({ id, stop: true });
    this.#open.delete(id);
    this.#watchOn();
    waiting.resolve(null);
  }
}

/** Whether something waits for the worker, and not the worker for the user. */
function isWaiting({ shown }) {
  return !shown;
}
