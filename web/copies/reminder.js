// When it is time to keep a copy: after real work, and not again and again.

const COPIED = "copied"; // {at, reminded}: when a copy was kept last, and when it was last said to be time
const REAL_WORK = 30; // pieces that somebody would not like to count again
const DAY = 24 * 60 * 60 * 1000;
const PAUSE = 3 * DAY; // a reminder that is read keeps still for so long

export class Reminder {
  constructor({ store, now = Date.now }) {
    Object.assign(this, { store, now });
  }

  /** A copy is kept now. */
  copied() {
    return this.store.merge(COPIED, { at: this.now() });
  }

  /** The reminder was read. */
  read() {
    return this.store.merge(COPIED, { reminded: this.now() });
  }

  /** How many sittings of `Past.list` have real work in them that no copy has. */
  async since(entries) {
    const { at = 0 } = (await this.store.get(COPIED)) ?? {};
    return entries.filter(({ touched, sitting }) => touched > at && isWork(sitting)).length;
  }

  /** The same, 0 where it was said not long ago. */
  async due(entries) {
    const { reminded = 0 } = (await this.store.get(COPIED)) ?? {};
    return this.now() - reminded < PAUSE ? 0 : this.since(entries);
  }
}

function isWork(sitting) {
  return Boolean(sitting) && !sitting.title?.practice && sitting.counts().total >= REAL_WORK;
}
