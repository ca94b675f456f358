// What must not be lost, in IndexedDB. A count is shown only after its transaction is complete and flushed.

import { openDB } from "../vendor/idb.js";

const NAME = "matside";
const VERSION = 1;

/** Another page wrote to the same sitting first; what is stored is right and must be read again. */
export class Overtaken extends Error {}

/** The sitting was removed, here or by another page: nothing can be counted in it any more. */
export class Removed extends Error {}

/** The store: kept values by name, sittings (a guide with its scripts), and each sitting's log of events. */
export class Store {
  #opening = null;

  /** Opens the database ahead of the first question; one that cannot be opened tells when it is asked. */
  warm() {
    return this.#open().then(() => {}, () => (this.#opening = null));
  }

  /** A kept value, or undefined. */
  get(name) {
    return this.#with((db) => db.get("kept", name));
  }

  /** Keeps a value under a name. */
  put(name, value) {
    return this.#write(["kept"], (at) => at("kept").put(value, name));
  }

  /** Keeps some parts of a value under a name, beside those that are kept there already. */
  merge(name, change) {
    return this.#write(["kept"], async (at) => {
      const before = await at("kept").get(name);
      await at("kept").put({ ...before, ...change }, name);
    });
  }

  /** Makes a sitting; resolves to it once it is stored. */
  async newSitting(sitting) {
    await this.#write(["sittings"], (at) => at("sittings").put(sitting));
    return { ...sitting, events: [] };
  }

  /** A sitting with its scripts and its events in order, or undefined. */
  async sitting(id) {
    return this.#with(async (db) => {
      const reading = db.transaction(["sittings", "log"]);
      const [sitting, events] = await Promise.all([
        reading.objectStore("sittings").get(id),
        reading.objectStore("log").getAll(IDBKeyRange.bound([id, 0], [id, Infinity])),
      ]);
      return sitting && { ...sitting, events };
    });
  }

  /** All sittings without their events, the newest first. */
  async sittings() {
    const all = await this.#with((db) => db.getAll("sittings"));
    return all.sort((a, b) => b.started - a.started);
  }

  /**
   * Adds the event number `sequence` to a sitting's log, together with a script when the event switches to a new one.
   * Resolves once it is stored for good; rejects with `Overtaken` when that number is taken already, with `Removed` when the
   * sitting is no longer there.
   */
  async addEvent(id, sequence, event, script) {
    const stored = { ...event, sitting: id, sequence };
    try {
      await this.#write(["log", "sittings"], async (at) => {
        if (!(await at("sittings").getKey(id))) throw new Removed("the sitting was removed");
        await at("log").add(stored);
        if (script) await addScript(at("sittings"), id, script);
      });
    } catch (error) {
      if (error.name !== "ConstraintError" || !(await this.#isThis(stored))) throw overtaken(error);
    }
    return stored;
  }

  /** Removes a sitting and its log. */
  removeSitting(id) {
    return this.#write(["sittings", "log"], (at) => {
      at("sittings").delete(id);
      at("log").delete(IDBKeyRange.bound([id, 0], [id, Infinity]));
    });
  }

  /** Everything, for a copy that the user keeps elsewhere. */
  async exported() {
    const sittings = await this.sittings();
    return Promise.all(sittings.map(({ id }) => this.sitting(id)));
  }

  /** Takes back what `exported` gave; sittings that are there already stay as they are. */
  async imported(sittings) {
    const known = new Set((await this.sittings()).map(({ id }) => id));
    for (const { events, ...sitting } of sittings.filter(({ id }) => !known.has(id))) {
      await this.#write(["sittings", "log"], async (at) => {
        await at("sittings").put(sitting);
        for (const event of events) await at("log").put(event);
      });
    }
  }

  /** Whether the number in the log is held by this very event: then an earlier try had reached the store after all. */
  async #isThis(stored) {
    const held = await this.#with((db) => db.get("log", [stored.sitting, stored.sequence]));
    return held?.mark === stored.mark;
  }

  async #write(names, work) {
    return this.#with(async (db) => {
      const writing = db.transaction(names, "readwrite", { durability: "strict" });
      const done = writing.done;
      try {
        await work((name) => writing.objectStore(name));
      } catch (error) {
        done.catch(() => {});
        throw error;
      }
      await done;
    });
  }

  /** Runs work on the open database. A connection that the system dropped in the background is opened anew, once. */
  async #with(work) {
    try {
      return await work(await this.#open());
    } catch (error) {
      if (!["InvalidStateError", "UnknownError"].includes(error.name)) throw error;
      this.#opening = null;
      return work(await this.#open());
    }
  }

  #open() {
    this.#opening ??= openDB(NAME, VERSION, {
      upgrade: makeStores,
      terminated: () => (this.#opening = null),
      blocking: (_, __, event) => {
        event.target.close();
        this.#opening = null;
      },
    });
    return this.#opening;
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
