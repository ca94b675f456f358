// The record where nothing can be kept: the same as in IndexedDB, until the page is closed.

import { Overtaken, Removed } from "./errors.js";

export class MemoryRecord {
  #kept = new Map();
  #sittings = new Map(); // id → {sitting, events}

  async open() {}

  async get(name) {
    return copy(this.#kept.get(name));
  }

  async put(name, value) {
    this.#kept.set(name, copy(value));
  }

  async merge(name, change) {
    this.#kept.set(name, copy({ ...this.#kept.get(name), ...change }));
  }

  async values() {
    return copy(Object.fromEntries(this.#kept));
  }

  mark() {
    return this.get("mark");
  }

  async sitting(id) {
    const held = this.#sittings.get(id);
    return held && copy({ ...held.sitting, events: held.events });
  }

  async sittings() {
    return copy([...this.#sittings.values()].map(({ sitting }) => sitting));
  }

  async lengths() {
    return new Map([...this.#sittings].map(([id, { events }]) => [id, events.length]));
  }

  async append(stored, script) {
    const held = this.#sittings.get(stored.sitting);
    if (!held) throw new Removed("the sitting was removed");
    if (held.events.length > stored.sequence) throw new Overtaken("the log has gone on");
    held.events.push(copy(stored));
    if (script) held.sitting.scripts.push(copy(script));
  }

  async takeIn(changes) {
    for (const { sitting, events } of changes) {
      const before = this.#sittings.get(sitting.id)?.events ?? [];
      this.#sittings.set(sitting.id, copy({ sitting, events: [...before, ...events] }));
    }
    return this.remark();
  }

  async remove(id) {
    this.#sittings.delete(id);
    return this.remark();
  }

  async remark(turn = 0) {
    const before = this.#kept.get("mark")?.turn ?? 0;
    const mark = { turn: Math.max(before, turn) + 1, n: this.#sittings.size };
    this.#kept.set("mark", mark);
    return mark;
  }
}

/** What is kept is not what is held elsewhere: a later change of the one leaves the other. */
function copy(value) {
  return value === undefined ? undefined : JSON.parse(JSON.stringify(value));
}
