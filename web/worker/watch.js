// Notices that a worker is dead or hangs. It answers in turn what it is given, so what is first in the line
// tells how long it may take.

const TICK = 1000; // ms
// So many ticks the worker may say nothing: while it starts, while it works something out, and while it has nothing to
// do but to answer a ping. Generous: a phone may be ten times slower than what was measured, and stops for seconds
// when it is short of memory.
const LONGEST = { start: 60, work: 90, ping: 15 };
const LATE = 4; // ticks until what was asked is said to be late
const PINGED = 2; // ticks between pings

/**
 * Events: `late` when `late` has changed, `dead` once the worker has said nothing for too long. Only ticks that pass
 * while the page is in sight count: a phone that sleeps, and a page that is frozen behind others, find nobody dead.
 */
export class Watch extends EventTarget {
  late = false;
  started = false; // whether the worker has told that it is ready
  #line = []; // what it was given and has not answered: {ping} or {id}
  #quiet = 0; // ticks since it last said anything
  #pings = 0;
  #timer = null;

  /**
   * @param {{post: (message: object) => void, isSearching: () => boolean, tick?: number}} how `post`
   * gives the worker a message
   */
  constructor({ post, isSearching, tick = TICK }) {
    super();
    Object.assign(this, { post, isSearching, tick });
  }

  /** A question is about to go to the worker. A worker that had nothing to do shows first that it is there. */
  given(id) {
    if (!this.#line.length) this.#ping();
    this.#line.push({ id });
  }

  /** Watches as long as something waits for the worker. */
  waiting(something) {
    if (something) this.#timer ??= this.#begin();
    else this.end();
  }

  /** The worker has said something: whatever it was given before that is done. */
  heard({ pong, id }) {
    this.#quiet = 0;
    this.#setLate(false);
    const at = this.#line.findIndex((each) =>
      pong === undefined ? id !== undefined && each.id === id : each.ping === pong,
    );
    this.#line.splice(0, at + 1);
  }

  /** The question that the worker is at; undefined when it has not begun one. */
  get at() {
    return this.#line[0]?.id;
  }

  end() {
    clearInterval(this.#timer);
    this.#timer = null;
    this.#setLate(false);
  }

  #begin() {
    this.#quiet = 0;
    return setInterval(() => document.hidden || this.#ticked(), this.tick);
  }

  #ticked() {
    this.#quiet += 1;
    if (this.#quiet > this.#longest()) return this.#dead();
    if (this.started && this.#quiet >= LATE) this.#setLate(true);
    if (this.started && this.#quiet % PINGED === 0 && !this.#line.some(({ ping }) => ping)) this.#ping();
  }

  #longest() {
    if (!this.started) return LONGEST.start;
    return this.at !== undefined || this.isSearching() ? LONGEST.work : LONGEST.ping;
  }

  #dead() {
    this.end();
    this.dispatchEvent(new Event("dead"));
  }

  #ping() {
    this.#pings += 1;
    this.#line.push({ ping: this.#pings });
    this.post({ ping: this.#pings });
  }

  #setLate(late) {
    if (late === this.late) return;
    this.late = late;
    this.dispatchEvent(new Event("late"));
  }
}
