// The page's side of the Python worker: promises instead of messages, stages, and a way to try again.

import { trustedScript } from "./trusted.js";

const STAGES = ["loading", "starting", "ready", "failed"];

/**
 * Starts Python in a worker; returns at once.
 * @param {{workerUrl?: URL|string, folders?: {pyodide: string, python: string}, when?: Promise}} how by default what the page
 *   names, and now
 * @returns {Python}
 */
export function createPython({ workerUrl = new URL("./python-worker.js", import.meta.url), folders = namedFolders(), when = null } = {}) {
  return new Python(workerUrl, folders, when);
}

function namedFolders() {
  const named = (name) => new URL(document.querySelector(`meta[name="matside-${name}"]`).content, document.baseURI).href;
  return { pyodide: named("pyodide"), python: named("python") };
}

/** Events: `stage` (detail: {stage, message}), also at every retry. */
class Python extends EventTarget {
  #workerUrl;
  #folders;
  #worker;
  #lastId = 0;
  #open = new Map(); // id → what waits for it: {message, resolve, reject, onProgress}
  #latest = new Map(); // key → id of its newest question

  constructor(workerUrl, folders, when) {
    super();
    this.#workerUrl = workerUrl;
    this.#folders = folders;
    this.stage = "loading";
    if (when) when.then(() => this.#startWorker());
    else this.#startWorker();
  }

  /** The core's answer, refusals included. Before Python is ready the question waits its turn; rejects if Python breaks. */
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
   * A search: progress as it comes, then the answer; null when the signal stops it first. `onStart` is given {pause, goOn}:
   * a paused search tells its best so far in full (`progress.plan`) and waits.
   */
  search(request, { onProgress = () => {}, onStart = () => {}, signal } = {}) {
    if (signal?.aborted) return Promise.resolve(null);
    const answer = this.#question({ work: request }, onProgress);
    const id = this.#lastId;
    signal?.addEventListener("abort", () => this.#stop(id), { once: true });
    onStart({ pause: () => this.#tell({ id, pause: true }), goOn: () => this.#tell({ id, goOn: true }) });
    return answer;
  }

  /** After `failed`: starts again; what was asked meanwhile is still answered. */
  retry() {
    if (this.stage === "failed") this.#startWorker();
  }

  #startWorker() {
    this.#worker?.terminate();
    this.#setStage("loading");
    this.#worker = new Worker(trustedScript(this.#workerUrl), { type: "module" });
    this.#worker.addEventListener("message", ({ data }) => this.#receive(data));
    this.#worker.addEventListener("error", (event) => this.#broke(event));
    this.#worker.postMessage({ start: this.#folders });
  }

  // The worker's own script did not load or threw outside an answer.
  #broke(event) {
    event.preventDefault();
    this.#setStage("failed", event.message || "the worker could not be loaded");
  }

  #receive(data) {
    if (STAGES.includes(data.stage)) this.#setStage(data.stage, data.message);
    else this.#settle(data);
  }

  #setStage(stage, message = "") {
    this.stage = stage;
    this.message = message;
    if (stage === "ready") this.#open.forEach(({ message: waiting }) => this.#worker.postMessage(waiting));
    this.dispatchEvent(new CustomEvent("stage", { detail: { stage, message } }));
  }

  #question(content, onProgress) {
    const message = { id: ++this.#lastId, ...content };
    return new Promise((resolve, reject) => {
      this.#open.set(message.id, { message, resolve, reject, onProgress });
      if (this.stage === "ready") this.#worker.postMessage(message);
    });
  }

  #settle({ id, answer, progress, error }) {
    const waiting = this.#open.get(id);
    if (!waiting) return;
    if (progress) return waiting.onProgress?.(progress);
    this.#open.delete(id);
    if (error) waiting.reject(Object.assign(new Error(error.message), { code: error.code }));
    else waiting.resolve(answer);
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
    this.#open.delete(id);
    if (this.stage === "ready") this.#worker.postMessage({ id, stop: true });
    waiting.resolve(null);
  }
}
