// What came from elsewhere and is not taken.

/** A copy, or what was passed on, that is not taken. `code` has its sentence under "copies.refused"; `detail` is for a report. */
export class Refused extends Error {
  constructor(code, values = {}, detail = "") {
    super(`${code} ${detail}`);
    Object.assign(this, { code, values, detail });
  }
}
