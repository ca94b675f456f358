// Python as a screen asks it. A question that Python broke at is answered all the same, by a refusal that no field is
// to blame for, and is remembered, so that it can be said where it was asked and asked again.

/** The refusal in place of an answer that did not come; `message` is for a report only. */
function broke(message) {
  return { ok: false, error: { code: "python_broke", field: "", message, values: {} } };
}

/** Whether an answer is one that did not come. */
export function isBroken(answer) {
  return answer?.error?.code === "python_broke";
}

/** Events: `change` whenever `trouble` is another, and `again` when what did not come is to be asked again. */
export class Asking extends EventTarget {
  #broken = new Map(); // what is asked → {report, times, request}, until it is answered
  #waiting = 0;
  #told = "null";

  constructor(python) {
    super();
    this.python = python;
    python.addEventListener("stage", () => this.#changed());
  }

  /** What could not be computed: {report, times}, `times` at the same request; null where there is nothing of the kind. */
  get trouble() {
    if (this.python.stage === "failed" && this.#waiting) return { report: this.python.message, times: 2 };
    const [broken] = this.#broken.values();
    return broken ? { report: broken.report, times: broken.times } : null;
  }

  ask(request) {
    return this.#answered(request, () => this.python.ask(request));
  }

  askLatest(key, request) {
    return this.#answered(request, () => this.python.askLatest(key, request));
  }

  /** Another question of this kind has its answer: what could not be computed is asked no more. */
  settled(ask) {
    if (this.#broken.delete(ask)) this.#changed();
  }

  /** What nobody has asked for yet: null where it cannot be had, and no word is said of it. */
  askQuietly(request) {
    return this.python.ask(request).catch(() => null);
  }

  search(request, how) {
    return this.#answered(request, () => this.python.search(request, how));
  }

  /** Asks again: of a Python that is started anew where it had failed; it then answers what still waits by itself. */
  again() {
    if (this.python.stage === "failed") this.python.retry();
    if (this.#broken.size) this.dispatchEvent(new Event("again"));
  }

  async #answered(asking, asked) {
    const { ask } = asking;
    this.#waiting += 1;
    this.#changed();
    try {
      const answer = await asked();
      if (answer) this.#broken.delete(ask);
      return answer;
    } catch (error) {
      const request = JSON.stringify(asking);
      const before = this.#broken.get(ask);
      const times = before?.request === request ? before.times + 1 : 1;
      this.#broken.set(ask, { report: `${ask}: ${error.message}`, times, request });
      return broke(error.message);
    } finally {
      this.#waiting -= 1;
      this.#changed();
    }
  }

  #changed() {
    const now = JSON.stringify(this.trouble);
    if (now === this.#told) return;
    this.#told = now;
    this.dispatchEvent(new Event("change"));
  }
}

/** The element that says it where it was asked, and asks again; hidden where there is nothing to say. */
export function troubleOf(asking, settings) {
  const shown = document.createElement("ask-trouble");
  const show = () => shown.show(asking.trouble, settings.words);
  asking.addEventListener("change", show);
  shown.addEventListener("ask-again", () => asking.again());
  show();
  return shown;
}

/**
 * The same for what is asked with a tap, such as a guide: where Python broke or has failed, `dialog` is opened, and the
 * question waits until it is answered after all or given up.
 */
export function insisting(asking, dialog, words) {
  const { python } = asking;
  const insist = async (ask) => {
    for (let times = 1; ; times += 1) {
      const answer = await orFailed(ask(), python);
      if (!isBroken(answer) || !(await dialog.again({ report: answer.error.message, times }, words()))) return answer;
      if (python.stage === "failed") python.retry();
    }
  };
  return {
    ask: (request) => insist(() => asking.ask(request)),
    search: (request, how) => insist(() => asking.search(request, how)),
    /** What is only offered where it is known: no word is said of it where it is not. */
    askQuietly: (request) => asking.ask(request),
  };
}

/** An answer, or what stands in its place as soon as Python has failed. */
function orFailed(answer, python) {
  return new Promise((resolve) => {
    const look = () => python.stage === "failed" && resolve(broke(python.message));
    python.addEventListener("stage", look);
    answer.then(resolve).finally(() => python.removeEventListener("stage", look));
    look();
  });
}
