// The record of everything kept, in IndexedDB. A write is done only when its transaction is complete and flushed.

import { openDB } from "../vendor/idb.js";
import { Overtaken, Removed } from "./errors.js";

const NAME = "matside";
const VERSION = 1;
const MARK = "mark";

/**
 * Kept values by name, sittings (a guide with its scripts), each sitting's log of events, and the mark: how many
 * sittings there are, and a turn that grows by one with every change of that number.
 */
export class IndexedRecord {
  #opening = null;

  /**
   * Opens the database; rejects where there is none to be had, with a VersionError where a newer
   * version of the page made it.
   */
  open() {
    this.#opening ??= openDB(NAME, VERSION, {
      upgrade: makeStores,
      terminated: () => (this.#opening = null),
      blocking: (_, __, event) => {
        event.target.close();
        this.#opening = null;
      },
    });
    this.#opening.catch(() => (this.#opening = null));
    return this.#opening;
  }

  get(name) {
    return this.#with((db) => db.get("kept", name));
  }

  put(name, value) {
    return this.#write(["kept"], (at, over) => over(at("kept").put(value, name)));
  }

  /** Keeps some parts of a value beside those that are kept already. */
  merge(name, change) {
    return this.#write(["kept"], async (at, over) => {
      const before = await at("kept").get(name);
      await over(at("kept").put({ ...before, ...change }, name));
    });
  }

  /** All kept values by name. */
  async values() {
    return this.#with(async (db) => {
      const reading = db.transaction("kept");
      const [names, values] = await Promise.all([reading.store.getAllKeys(), reading.store.getAll()]);
      return Object.fromEntries(names.map((name, i) => [name, values[i]]));
    });
  }

  mark() {
    return this.get(MARK);
  }

  /** A sitting with its scripts and its events in order, or undefined. */
  sitting(id) {
    return this.#with(async (db) => {
      const reading = db.transaction(["sittings", "log"]);
      const [sitting, events] = await Promise.all([
        reading.objectStore("sittings").get(id),
        reading.objectStore("log").getAll(logOf(id)),
      ]);
      return sitting && { ...sitting, events };
    });
  }

  /** All sittings without their events. */
  sittings() {
    return this.#with((db) => db.getAll("sittings"));
  }

  /** How many events each sitting has, by id. */
  lengths() {
    return this.#with(async (db) => {
      const reading = db.transaction(["sittings", "log"]);
      const ids = await reading.objectStore("sittings").getAllKeys();
      const counts = await Promise.all(ids.map((id) => reading.objectStore("log").count(logOf(id))));
      return new Map(ids.map((id, i) => [id, counts[i]]));
    });
  }

  /** Adds an event, and a script with it; rejects with `Overtaken` or `Removed`. */
  async append(stored, script) {
    try {
      await this.#write(["log", "sittings"], async (at) => {
        if (!(await at("sittings").getKey(stored.sitting))) throw new Removed("the sitting was removed");
        await at("log").add(stored);
        if (script) await addScript(at("sittings"), stored.sitting, script);
      });
    } catch (error) {
      if (error.name !== "ConstraintError" || !(await this.#isThis(stored))) throw overtaken(error);
    }
  }

  /**
   * Takes in sittings, all or none: {sitting, events}, whose events follow those that are stored. Gives the mark as it
   * is then; rejects with `Overtaken` where a log has gone on meanwhile.
   */
  async takeIn(changes) {
    try {
      return await this.#marked(async (at) => {
        for (const { sitting, events } of changes) {
          await at("sittings").put(sitting);
          for (const event of events) await at("log").add(event);
        }
      });
    } catch (error) {
      throw overtaken(error);
    }
  }

  /** Removes a sitting and its log; gives the mark as it is then. */
  remove(id) {
    return this.#marked(async (at) => {
      await at("sittings").delete(id);
      await at("log").delete(logOf(id));
    });
  }

  /** Sets the mark to what is there; gives it. `turn` is the least that it may be. */
  remark(turn = 0) {
    return this.#marked(async () => {}, turn);
  }

  /** Does a change of what sittings there are, and counts them anew, in one transaction. */
  async #marked(change, turn = 0) {
    let mark;
    await this.#write(["sittings", "log", "kept"], async (at) => {
      await change(at);
      const [before, n] = await Promise.all([at("kept").get(MARK), at("sittings").count()]);
      mark = { turn: Math.max(before?.turn ?? 0, turn) + 1, n };
      await at("kept").put(mark, MARK);
    });
    return mark;
  }

  /** Whether the number in the log is held by this very event: then an earlier try had reached the store after all. */
  async #isThis(stored) {
    const held = await this.#with((db) => db.get("log", [stored.sitting, stored.sequence]));
    return held?.mark === stored.mark;
  }

  /**
   * `work(at, over)` writes to the stores that `at` gives. What is handed to `over`, if anything, is the last request:
   * it is written even where the page is left before it hears of it.
   */
  #write(names, work) {
    return this.#with(async (db) => {
      const writing = db.transaction(names, "readwrite", { durability: "strict" });
      const done = writing.done;
      done.catch(() => {}); // awaited below; until then it must not count as unheard
      const over = (last) => {
        writing.commit?.();
        return last;
      };
      try {
        await work((name) => writing.objectStore(name), over);
      } catch (error) {
        abort(writing);
        throw await whyOver(error, done);
      }
      await done;
    });
  }

  /** Runs work on the open database. A connection that the system dropped in the background is opened anew, once. */
  async #with(work) {
    try {
      return await work(await this.open());
    } catch (error) {
      if (!["InvalidStateError", "UnknownError"].includes(error.name)) throw error;
      this.#opening = null;
      return work(await this.open());
    }
  }
}

function logOf(id) {
  return IDBKeyRange.bound([id, 0], [id, Infinity]);
}

/** A request that was cut off by its transaction's end says nothing of why: the transaction does. */
async function whyOver(error, done) {
  if (error.name !== "AbortError") return error;
  return done.then(
    () => error,
    (reason) => reason ?? error,
  );
}

/** Nothing of a write that failed in the middle stays. */
function abort(writing) {
  try {
    writing.abort();
  } catch {
    // it was over already
  }
}

function overtaken(error) {
  return error.name === "ConstraintError" ? new Overtaken("another page has counted on") : error;
}

function makeStores(db) {
  db.createObjectStore("kept");
  db.createObjectStore("sittings", { keyPath: "id" });
  db.createObjectStore("log", { keyPath: ["sitting", "sequence"] });
}

async function addScript(sittings, id, script) {
  const sitting = await sittings.get(id);
  await sittings.put({ ...sitting, scripts: [...sitting.scripts, script] });
}
