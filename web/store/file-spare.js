// The second place where the browser has a private file system: what is acknowledged there has been flushed.

import { trustedScript } from "../worker/trusted.js";
import { within } from "./failing.js";
import { fileOf, readAll } from "./spare-files.js";
import { eventLine, linesOf } from "./spare-lines.js";

const LONGEST = 5000; // ms that an answer of the worker may take

export class FileSpare {
  exact = true;
  #worker = null;
  #lastId = 0;
  #open = new Map(); // id → {resolve, reject}

  constructor(workerUrl = new URL("./spare-worker.js", import.meta.url)) {
    this.workerUrl = workerUrl;
  }

  /** What stands there: {mark, gone, sittings, whole}. */
  read() {
    return readAll();
  }

  /** Gets ready to write, ahead of the first cut. */
  warm() {
    this.#start();
  }

  /** Writes a sitting with its events anew; with `longer` only where fewer of them stand there. */
  begin(record, longer = false) {
    return this.#ask({ begin: { name: fileOf(record.id), lines: linesOf(record), longer } });
  }

  /** Adds an event; false where the file does not stand just before it, and the whole sitting is to be written. */
  async append(id, sequence, event, script) {
    const { behind } = await this.#ask({ append: { name: fileOf(id), sequence, line: eventLine(event, script) } });
    return !behind;
  }

  /** Writes the whole store; of the sittings' own files only those of `besides` stay. */
  whole(content, besides) {
    return this.#ask({ whole: { content, besides: besides.map(fileOf) } });
  }

  forget(id) {
    return this.#ask({ forget: { name: fileOf(id), gone: id } });
  }

  /** Sittings of these ids are not gone any more. */
  here(ids) {
    return this.#ask({ here: ids });
  }

  mark(mark) {
    return this.#ask({ mark });
  }

  #ask(message) {
    this.#start();
    const id = ++this.#lastId;
    const answer = new Promise((resolve, reject) => this.#open.set(id, { resolve, reject }));
    this.#worker.postMessage({ id, ...message });
    return within(LONGEST, answer).catch((error) => {
      if (error.name === "TimeoutError") this.#end(error);
      throw error;
    });
  }

  #start() {
    if (this.#worker) return;
    this.#worker = new Worker(trustedScript(this.workerUrl), { type: "module" });
    this.#worker.addEventListener("message", ({ data }) => this.#settle(data));
    this.#worker.addEventListener("error", (event) => {
      event.preventDefault();
      this.#end(new DOMException(event.message || "no worker", "UnknownError"));
    });
  }

  #settle({ id, error, ...found }) {
    const { resolve, reject } = this.#open.get(id) ?? {};
    this.#open.delete(id);
    if (error) reject?.(new DOMException(error.message, error.name));
    else resolve?.(found);
  }

  /** A worker that broke or is silent is given up; the next question starts another. */
  #end(error) {
    this.#worker?.terminate();
    this.#worker = null;
    this.#open.forEach(({ reject }) => reject(error));
    this.#open.clear();
  }
}
