// The memory that a module begins with, as one stretch to read and to write in.

/** @param {Uint8Array} bytes of the module; @param {object} module as readModule gives it */
export class Memory {
  #bytes;
  #pieces;

  constructor(bytes, { data }) {
    this.#bytes = bytes;
    this.#pieces = data;
    const end = Math.max(0, ...data.map(({ at, size }) => at + size));
    this.image = Buffer.alloc(end);
    for (const { at, from, size } of data) this.image.set(bytes.subarray(from, from + size), at);
  }

  /** The text at an address, up to its closing zero. */
  text(address) {
    const end = this.image.indexOf(0, address);
    return this.image.toString("latin1", address, end < 0 ? address : end);
  }

  /** The module's bytes with the memory as it is now. */
  written() {
    const bytes = Uint8Array.from(this.#bytes);
    for (const { at, from, size } of this.#pieces) bytes.set(this.image.subarray(at, at + size), from);
    return bytes;
  }
}
