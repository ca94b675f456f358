// Work that is only worth doing for the newest state: while it runs, any number of changes ask for just one more run.

export class LatestOnly {
  #running = false;
  #again = false;

  /** @param {() => Promise<void>} work reads the state when it starts */
  constructor(work) {
    this.work = work;
  }

  get running() {
    return this.#running;
  }

  /** Whether a newer state is waiting for the run at hand to end. */
  get overtaken() {
    return this.#again;
  }

  /** Runs now, or once more when the run at hand has ended. */
  async run() {
    if (this.#running) return void (this.#again = true);
    this.#running = true;
    try {
      do {
        this.#again = false;
        await this.work();
      } while (this.#again);
    } finally {
      this.#running = false;
    }
  }
}
