// A search that is looked at after a while: the page keeps the time, the search keeps its best so far.

const SHOWN_AFTER = 2000; // ms from its first progress until a search pauses and shows what it has

/**
 * Events: `change`. `stage` is "idle", "searching", "paused" or "done"; `progress`, `plan` and
 * `answer` as the core gives them.
 */
export class TimedSearch extends EventTarget {
  stage = "idle";
  progress = null;
  plan = null;
  #control = null;
  #abort = null;
  #timer = null;

  constructor(python) {
    super();
    this.python = python;
  }

  /** Begins; resolves to the last answer, a refusal included, or null when another search or `drop` came first. */
  async begin(request) {
    this.drop();
    const abort = (this.#abort = new AbortController());
    Object.assign(this, { stage: "searching", progress: null, plan: null });
    this.#changed();
    const answer = await this.python.search(request, {
      signal: abort.signal,
      onProgress: (progress) => this.#progressed(progress, abort),
      onStart: (control) => (this.#control = control),
    });
    if (this.#abort !== abort || answer === null) return null;
    clearTimeout(this.#timer);
    this.stage = answer.ok ? "done" : "idle";
    if (answer.ok) this.plan = answer;
    this.#changed();
    return answer;
  }

  /** Shows the best so far and waits. */
  pause() {
    clearTimeout(this.#timer);
    this.#control?.pause();
  }

  /** Looks for as long again. */
  goOn() {
    this.stage = "searching";
    this.#timer = setTimeout(() => this.pause(), SHOWN_AFTER);
    this.#control.goOn();
    this.#changed();
  }

  /** Forgets the search at hand. */
  drop() {
    clearTimeout(this.#timer);
    this.#timer = null;
    this.#abort?.abort();
    this.#abort = null;
    this.stage = "idle";
  }

  #progressed(progress, abort) {
    if (this.#abort !== abort) return;
    this.progress = progress;
    this.#timer ??= setTimeout(() => this.pause(), SHOWN_AFTER);
    if (progress.plan) [this.stage, this.plan] = ["paused", progress.plan];
    this.#changed();
  }

  #changed() {
    this.dispatchEvent(new Event("change"));
  }
}
