// The second place where there is no private file system: Web Storage, which a browser writes some seconds later. What
// was counted just before the browser is killed may be missing in it, so what it gives back is to be counted once more.

import { eventLine, linesOf, readSitting } from "./spare-lines.js";

const SITTING = "matside.sitting.";
const LOG = "matside.log.";
const WHOLE = "matside.whole";
const NOTES = "matside.notes";

export class WebSpare {
  exact = false;

  constructor(storage) {
    this.storage = storage;
  }

  async read() {
    const notes = this.#parsed(NOTES) ?? {};
    const gone = new Set(notes.gone ?? []);
    const ids = Object.keys(this.storage)
      .filter((key) => key.startsWith(SITTING))
      .map((key) => key.slice(SITTING.length));
    const sittings = ids.map((id) => this.#sitting(id)).filter((sitting) => sitting && !gone.has(sitting.id));
    return { mark: notes.mark, gone, sittings, whole: this.#wholeIndex() };
  }

  warm() {}

  async begin(record, longer = false) {
    if (longer && this.#sitting(record.id)?.events.length >= record.events.length) return;
    const [first, ...events] = linesOf(record);
    this.storage.setItem(SITTING + record.id, first);
    this.storage.setItem(LOG + record.id, events.join(""));
  }

  async append(id, sequence, event, script) {
    const log = this.storage.getItem(LOG + id);
    if (log === null || log.split("\n").length - 1 !== sequence) return false;
    this.storage.setItem(LOG + id, log + eventLine(event, script));
    return true;
  }

  async whole({ values, sittings }, besides) {
    const lengths = sittings.map(({ id, events }) => [id, events.length]);
    this.storage.setItem(WHOLE, JSON.stringify({ lengths, values, sittings }));
    this.#note({ gone: [] });
    const kept = new Set(besides);
    for (const key of Object.keys(this.storage))
      if (key.startsWith(SITTING) && !kept.has(key.slice(SITTING.length))) this.#remove(key.slice(SITTING.length));
  }

  async forget(id) {
    this.#remove(id);
    this.#note({ gone: [...(this.#parsed(NOTES)?.gone ?? []), id] });
  }

  async here(ids) {
    const { gone = [] } = this.#parsed(NOTES) ?? {};
    const still = gone.filter((id) => !ids.includes(id));
    if (still.length < gone.length) this.#note({ gone: still });
  }

  async mark(mark) {
    this.#note({ mark });
  }

  #note(change) {
    this.storage.setItem(NOTES, JSON.stringify({ ...this.#parsed(NOTES), ...change }));
  }

  #remove(id) {
    this.storage.removeItem(SITTING + id);
    this.storage.removeItem(LOG + id);
  }

  #sitting(id) {
    return readSitting(this.storage.getItem(SITTING + id) + (this.storage.getItem(LOG + id) ?? ""));
  }

  #wholeIndex() {
    const whole = this.#parsed(WHOLE);
    return whole && { lengths: new Map(whole.lengths), read: async () => whole };
  }

  #parsed(key) {
    try {
      return JSON.parse(this.storage.getItem(key));
    } catch {
      return null;
    }
  }
}
