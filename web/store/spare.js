// The second place for what is at hand, which does not share the database's fate: files where the browser has them, Web
// Storage where it has not. What cannot be written there is no reason to stop.

import { FileSpare } from "./file-spare.js";
import { WebSpare } from "./web-spare.js";
import { within } from "./failing.js";

const LONGEST = 1500; // ms that reading may take before the page goes on without

export class Spare {
  #gone = new Set(); // ids that some place notes as removed

  /** @param {Array} places best first; the first one that takes what is written is written to */
  constructor(places) {
    this.all = places;
    this.places = places; // those that have not failed yet
  }

  /** Whether there is any. */
  get some() {
    return this.places.length > 0;
  }

  /**
   * What stands in the second places: {marks, sittings: [{exact, sitting}], wholes, unread}; a place that cannot be
   * read in time has nothing, and `unread` says that there is one. What is not `exact`, as a whole store never is, may
   * lack what was counted last.
   */
  async read() {
    const there = (await Promise.all(this.all.map((place) => this.#read(place)))).filter(Boolean);
    const gone = (this.#gone = new Set(there.flatMap((each) => [...each.gone])));
    return {
      unread: there.length < this.all.length,
      marks: there.map(({ mark }) => mark).filter(Boolean),
      sittings: there.flatMap(({ exact, sittings }) =>
        sittings.filter(({ id }) => !gone.has(id)).map((sitting) => ({ exact, sitting })),
      ),
      wholes: there
        .filter(({ whole }) => whole)
        .map(({ whole }) => ({ ...whole, lengths: new Map([...whole.lengths].filter(([id]) => !gone.has(id))) })),
    };
  }

  /** What stands in one place; one that cannot be read is not written to either. */
  async #read(place) {
    try {
      return { ...(await within(LONGEST, place.read())), exact: place.exact };
    } catch {
      this.#giveUp(place);
      return null;
    }
  }

  #giveUp(place) {
    this.places = this.places.filter((each) => each !== place);
  }

  warm() {
    this.places[0]?.warm();
  }

  /** Adds an event; where the place lacks what comes before it, the sitting that `record` gives is written in full. */
  append(id, sequence, event, script, record) {
    return this.#written(async (place) => {
      if (!(await place.append(id, sequence, event, script))) await place.begin(await record());
    }, record);
  }

  /**
   * Writes a sitting with its events anew; with `longer` only where fewer of them stand there:
   * another window may have gone on.
   */
  async begin(record, longer = false) {
    await this.#written((place) => place.begin(record, longer));
    await this.#here([record.id]);
  }

  /** Writes the whole store, or as many of the newest sittings as there is room for. */
  async whole({ values, sittings }, besides) {
    await this.#written(async (place) => {
      for (let some = sittings; ; some = some.slice(0, Math.floor(some.length / 2))) {
        try {
          return await place.whole({ values, sittings: some }, besides);
        } catch (error) {
          if (error.name !== "QuotaExceededError" || !some.length) throw error;
        }
      }
    });
    await this.#here(sittings.map(({ id }) => id));
  }

  /** What was removed once and is kept again (it came back with a copy) is not gone any more, for no place. */
  async #here(ids) {
    const back = ids.filter((id) => this.#gone.delete(id));
    if (back.length) await this.#everywhere((place) => place.here(back));
  }

  /** Removes a sitting everywhere: from then on it is not brought back. */
  forget(id) {
    this.#gone.add(id);
    return this.#everywhere((place) => place.forget(id));
  }

  mark(mark) {
    return this.#everywhere((place) => place.mark(mark));
  }

  /** Writes to the first place that takes it; one that failed is left until the page is opened again. */
  async #written(writing) {
    while (this.some) {
      const [place] = this.places;
      try {
        await writing(place);
        return true;
      } catch {
        this.#giveUp(place);
      }
    }
    return false;
  }

  #everywhere(writing) {
    return Promise.all(this.all.map(async (place) => writing(place)).map((done) => done.catch(() => {})));
  }
}

/** The second places that this browser has. */
export function findSpare() {
  const storage = webStorage();
  return new Spare([hasFiles() && new FileSpare(), storage && new WebSpare(storage)].filter(Boolean));
}

/** Whether there are files; whether they can be written, only the worker finds out. */
function hasFiles() {
  try {
    return Boolean(globalThis.FileSystemFileHandle && globalThis.Worker && globalThis.navigator?.storage?.getDirectory);
  } catch {
    return false;
  }
}

/** Web Storage, if it takes anything. */
function webStorage() {
  try {
    const storage = globalThis.localStorage;
    storage.setItem("matside.tried", "1");
    storage.removeItem("matside.tried");
    return storage;
  } catch {
    return null;
  }
}
