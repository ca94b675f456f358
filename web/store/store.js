// What must not be lost: the record in IndexedDB, and a second place for what is at hand. A count is
// shown only after both hold it.

import { newId } from "../lib/kept/ids.js";
import { Removed } from "./errors.js";
import { why, within } from "./failing.js";
import { IndexedRecord } from "./indexed-record.js";
import { MemoryRecord } from "./memory-record.js";
import { lacking, newest } from "./read-back.js";
import { findSpare } from "./spare.js";

export { Overtaken, Removed } from "./errors.js";

const LONGEST_OPENING = 3000; // ms; a page that waited longer would be taken for broken
const LONGEST_WRITE = 10_000;
const FEW = 8; // sittings that a start writes to the second place one by one
/** The name of the value that tells the id of the sitting at hand. */
export const AT_HAND = "sitting";
const MARK = "mark";
const DEVICE = "device";

/**
 * Kept values by name, sittings (a guide with its scripts), and each sitting's log of events.
 *
 * Events: `notice` (detail: {code, values}) for what has to be read, and `unkept` (detail: {name, why}) when a value
 * could not be kept. Everything waits for `open`.
 */
export class Store extends EventTarget {
  #opening = null;
  #record;
  #spare;
  #turn = Promise.resolve();
  #device = null;

  constructor({ record = new IndexedRecord(), spare = findSpare() } = {}) {
    super();
    this.#record = record;
    this.#spare = spare;
    /** Why there is no database, as "missing", "refused", "silent", "newer" or "broken"; null when there is one. */
    this.lacking = null;
  }

  /**
   * Opens the record, or goes on in memory, and reads back what it lacks. Never rejects;
   * takes some seconds at the most.
   */
  open() {
    this.#opening ??= this.#openNow();
    return this.#opening;
  }

  async #openNow() {
    const [found] = await Promise.all([this.#spare.read(), this.#openRecord()]);
    await this.#readBack(found).catch(() => this.#notice("unread"));
    if (this.lacking)
      this.#notice(this.lacking === "newer" ? "store_newer" : this.#spare.some ? "store_second" : "store_memory");
  }

  async #openRecord() {
    try {
      if (!globalThis.indexedDB) throw new DOMException("no database", "NotFoundError");
      await within(LONGEST_OPENING, this.#record.open());
    } catch (error) {
      this.lacking = { NotFoundError: "missing", VersionError: "newer" }[error.name] ?? why(error);
      this.#record = new MemoryRecord();
    }
  }

  // ---- values

  /** A kept value, or undefined. */
  async get(name) {
    await this.open();
    return within(LONGEST_WRITE, this.#record.get(name));
  }

  /** Keeps a value under a name; whether it is kept. What could not be is told by `unkept`. */
  put(name, value) {
    return this.#kept(name, () => this.#record.put(name, value));
  }

  /** Keeps some parts of a value under a name, beside those that are kept there already; whether they are kept. */
  merge(name, change) {
    return this.#kept(name, () => this.#record.merge(name, change));
  }

  async #kept(name, keeping) {
    await this.open();
    try {
      await within(LONGEST_WRITE, keeping());
      return true;
    } catch (error) {
      this.dispatchEvent(new CustomEvent("unkept", { detail: { name, why: why(error) } }));
      return false;
    }
  }

  /**
   * The id that this device counts by: random, no copy has it, and none but this device counts by it. It is another one
   * from the moment on at which something that was counted may be lacking here: else two counts would go by one name.
   */
  device() {
    this.#device ??= this.#findDevice().catch(() => newId()); // this page's own
    return this.#device;
  }

  async #findDevice() {
    const kept = await this.get(DEVICE);
    if (typeof kept === "string") return kept;
    const id = newId();
    await this.put(DEVICE, id);
    return id;
  }

  // ---- sittings

  /** Makes a sitting; resolves to it once it is stored. */
  async newSitting(sitting) {
    await this.open();
    await this.#marked(within(LONGEST_WRITE, this.#record.takeIn([{ kind: "new", sitting, events: [] }])));
    await this.#spare.begin({ ...sitting, events: [] });
    return { ...sitting, events: [] };
  }

  /** A sitting with its scripts and its events in order, or undefined. */
  async sitting(id) {
    await this.open();
    return this.#record.sitting(id);
  }

  /** All sittings without their events, the newest first. */
  async sittings() {
    await this.open();
    return newestFirst(await this.#record.sittings());
  }

  /**
   * Adds the event number `sequence` to a sitting's log, together with a script when the event switches to a new one.
   * Resolves once it is stored for good; rejects with `Overtaken` when that number is taken already, with `Removed`
   * when the sitting is no longer there.
   */
  async addEvent(id, sequence, event, script) {
    await this.open();
    const stored = { ...event, sitting: id, sequence };
    await within(LONGEST_WRITE, this.#appended(stored, script));
    await this.#spare.append(id, sequence, stored, script, () => this.#record.sitting(id));
    return stored;
  }

  /**
   * A sitting that is gone with the mark was not removed: the browser has thrown the database away under the open page.
   */
  async #appended(stored, script) {
    try {
      await this.#record.append(stored, script);
    } catch (error) {
      if (!(error instanceof Removed) || (await this.#record.mark())) throw error;
      await this.#readBack(await this.#spare.read());
      await this.#record.append(stored, script);
    }
  }

  /** Removes a sitting and its log. The second place first: what stands only there would be brought back. */
  async removeSitting(id) {
    await this.open();
    await this.#inTurn(async () => {
      await this.#spare.forget(id);
      await this.#marked(this.#record.remove(id));
    });
  }

  /** Makes a sitting the one at hand, which the page opens with; null for none. */
  atHand(id) {
    this.#spare.warm();
    return this.put(AT_HAND, id);
  }

  /** Writes everything to the second place as well, as far as there is room. */
  async keepWhole() {
    await this.open();
    await this.#keepWhole();
  }

  #keepWhole() {
    return this.#inTurn(async () => {
      const [values, sittings, atHand] = await Promise.all([
        this.#record.values(),
        this.#all(),
        this.#record.get(AT_HAND),
      ]);
      await this.#spare.whole({ values, sittings }, [atHand].filter(Boolean));
    });
  }

  /** What is removed while everything is being written would else be written once more. */
  #inTurn(work) {
    const done = this.#turn.then(work);
    this.#turn = done.catch(() => {});
    return done;
  }

  // ---- copies

  /** Every sitting with its events, the newest first. */
  async exported() {
    await this.open();
    return this.#all();
  }

  async #all() {
    const sittings = newestFirst(await this.#record.sittings());
    return (await Promise.all(sittings.map(({ id }) => this.#record.sitting(id)))).filter(Boolean);
  }

  /** Takes in sittings, all or none: {sitting, events}, whose events follow those that are stored. */
  async takeIn(changes) {
    await this.open();
    await this.#marked(this.#record.takeIn(changes));
    await this.keepWhole().catch(() => {});
  }

  // ---- reading back

  async #readBack(found) {
    const [lengths, mark] = await Promise.all([this.#record.lengths(), this.#record.mark()]);
    const before = newest([mark, ...found.marks]);
    if (!mark && before) await this.#valuesBack(found);
    const back = await this.#sittingsBack(found, lengths);
    const now = lengths.size + back.filter(({ kind }) => kind !== "longer").length;
    if (before?.n > now)
      this.#notice(now ? "lost_some" : "lost_all", { n: before.n - now }, () =>
        this.#marked(this.#record.remark(before.turn)),
      );
    else if (now && (!before || before.n !== now || back.length || found.marks.length < this.#spare.all.length))
      await this.#marked(this.#record.remark(before?.turn));
    await this.#catchUp(found, back.length ? await this.#record.lengths() : lengths).catch(() => {});
  }

  /**
   * A kill between the two writes of an event leaves the second place behind: what this start is about to show must
   * stand there, too. A second place that lacks many sittings was lost or is full; that is seen to while the page goes
   * on. Where one could not be read, nothing is known of what it lacks.
   */
  async #catchUp(found, lengths) {
    if (found.unread) return;
    const there = longest(found);
    const behind = [...lengths].filter(([id, n]) => n > (there.get(id) ?? -1)).map(([id]) => id);
    const atHand = await this.#record.get(AT_HAND);
    const few = behind.length <= FEW;
    for (const id of behind.filter((each) => few || each === atHand))
      await this.#spare.begin(await this.#record.sitting(id), true);
    if (!few) this.#keepWhole().catch(() => {});
  }

  /** Kept values that the record has lost come from the newest whole store; none that is there is touched. */
  async #valuesBack({ wholes }) {
    const { values = {} } = (await wholes[0]?.read()) ?? {};
    const there = await this.#record.values();
    for (const [name, value] of Object.entries(values))
      if (!(name in there) && name !== MARK) await this.#record.put(name, value);
  }

  async #sittingsBack(found, lengths) {
    const more = (id, n) => n > (lengths.get(id) ?? -1);
    const wanted = [
      ...found.sittings.filter(({ sitting }) => more(sitting.id, sitting.events.length)),
      ...(await sittingsOfWholes(found.wholes, more)),
    ].sort((a, b) => b.sitting.events.length - a.sitting.events.length);
    const longest = wanted.filter(
      ({ sitting: { id } }, i) => wanted.findIndex(({ sitting }) => sitting.id === id) === i,
    );
    const back = [];
    for (const { sitting, exact } of longest) {
      const change = lacking(sitting, await this.#record.sitting(sitting.id), newId);
      if (change) back.push({ ...change, exact });
    }
    if (back.length) await this.#takeBack(back);
    return back;
  }

  async #takeBack(back) {
    await this.#record.takeIn(back);
    if (back.some(({ exact }) => !exact)) await this.#anotherDevice();
    if (!(await this.#record.get(AT_HAND))) await this.#record.put(AT_HAND, lastTouched(back).sitting.id);
    const last = lastTouched(back);
    if (!last.exact) this.#notice("back_as_of", { at: touched(last) });
    else if (!this.lacking) this.#notice("back", { n: back.length });
  }

  async #anotherDevice() {
    const id = newId();
    this.#device = Promise.resolve(id);
    await this.#record.put(DEVICE, id);
  }

  // ---- marks

  /** After a change of what sittings there are, every place notes how many there are. */
  async #marked(change) {
    const mark = await change;
    await this.#spare.mark(mark);
  }

  #notice(code, values = {}, whenRead = null) {
    this.dispatchEvent(new CustomEvent("notice", { detail: { code, values, whenRead } }));
  }
}

function newestFirst(sittings) {
  return [...sittings].sort((a, b) => b.started - a.started);
}

/** Id → how many events the second place has of a sitting, wherever it has most. */
function longest({ sittings, wholes }) {
  const lengths = [
    ...sittings.map(({ sitting: { id, events } }) => [id, events.length]),
    ...wholes.flatMap((whole) => [...whole.lengths]),
  ];
  return new Map(lengths.sort(([, a], [, b]) => a - b));
}

/**
 * Of the whole stores, the sittings that have more than the record; a store is read only where
 * its index says that it has.
 */
async function sittingsOfWholes(wholes, more) {
  const wanted = wholes.filter(({ lengths }) => [...lengths].some(([id, n]) => more(id, n)));
  const read = await Promise.all(
    wanted.map(async ({ lengths, read: content }) => {
      const { sittings = [] } = (await content()) ?? {};
      return sittings
        .filter(({ id, events }) => lengths.has(id) && more(id, events.length))
        .map((sitting) => ({ exact: false, sitting }));
    }),
  );
  return read.flat();
}

function touched({ sitting, events }) {
  return events.at(-1)?.at ?? sitting.started;
}

function lastTouched(changes) {
  return [...changes].sort((a, b) => touched(b) - touched(a))[0];
}
