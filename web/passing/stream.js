// A text that does not fit one code, as a stream of codes that any sufficient number of gives back, in any order.
//
// A random linear fountain over GF(2) (D. J. C. MacKay, "Fountain codes", IEE Proceedings Communications 152, 2005): the
// text is cut into blocks; the first frames are the blocks themselves, each further one is the sum of about half of them,
// drawn by its number. With e frames more than blocks, the chance that they do not settle all blocks is at most 2^-e.
//
//   frame = "MS1:" + base45(blocks: 2 bytes, length: 2, CRC-32 of the whole: 4, number: 2, the sum: BLOCK bytes)

import { checksum } from "./checksum.js";
import { fromDense, toDense } from "./letters.js";

const MARK = "MS1:";
const HEAD = 10;
/** Bytes of a block: with it a frame is a code of version 15 at level M, which a hand holds still enough for. */
export const BLOCK = 360;
/** So many frames a second: each stands for some of a camera's own. */
export const RATE = 10;
const MOST_BLOCKS = 64;
const NUMBERS = 65536;

/** The frames of a text, by their number; they go on for ever. */
export function framesOf(text) {
  const bytes = new TextEncoder().encode(text);
  const blocks = Array.from({ length: Math.ceil(bytes.length / BLOCK) }, (_, place) => {
    const block = new Uint8Array(BLOCK);
    block.set(bytes.subarray(place * BLOCK, (place + 1) * BLOCK));
    return block;
  });
  if (blocks.length > MOST_BLOCKS) throw new RangeError(`${bytes.length} bytes are a file's matter`);
  const sum = checksum(bytes);
  return { blocks: blocks.length, frame: (number) => frame(blocks, bytes.length, sum, number % NUMBERS) };
}

function frame(blocks, length, sum, number) {
  const bytes = new Uint8Array(HEAD + BLOCK);
  const head = new DataView(bytes.buffer);
  head.setUint16(0, blocks.length);
  head.setUint16(2, length);
  head.setUint32(4, sum);
  head.setUint16(8, number);
  const content = bytes.subarray(HEAD);
  taken(number, blocks.length).forEach((takes, place) => takes && add(content, blocks[place]));
  return MARK + toDense(bytes);
}

/** Which blocks a frame is the sum of: by its number alone, so that whoever receives it knows. */
function taken(number, blocks) {
  if (number < blocks) return Array.from({ length: blocks }, (_, place) => place === number);
  let state = mixed(number + 1);
  const drawn = Array.from({ length: blocks }, () => (state = mixed(state + 0x9e3779b9)) >>> 31 === 1);
  if (!drawn.includes(true)) drawn[number % blocks] = true;
  return drawn;
}

/** 32 bits from 32 bits, as if drawn: the finalizer of MurmurHash3 (A. Appleby, public domain). */
function mixed(bits) {
  let found = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  found = Math.imul(found ^ (found >>> 13), 0xc2b2ae35);
  return (found ^ (found >>> 16)) >>> 0;
}

function add(sum, bytes) {
  for (let place = 0; place < sum.length; place += 1) sum[place] ^= bytes[place];
}

/** Receives the frames of a stream, whatever is missed. */
export class Receiver {
  #stream = null; // {blocks, length, sum} of the stream that is being received
  #rows = []; // by its first block: what is known, {takes, content}

  /** How much of the stream is here, from 0 to 1. */
  get progress() {
    return this.#stream ? this.#rows.filter(Boolean).length / this.#stream.blocks : 0;
  }

  /**
   * Takes what a code said. Gives the text once it is whole, null before that, and undefined for what is no frame. Frames
   * of another stream begin anew.
   */
  take(said) {
    const read = said.startsWith(MARK) ? readFrame(fromDense(said.slice(MARK.length))) : null;
    if (!read) return undefined;
    const { number, content, ...stream } = read;
    if (!this.#isSame(stream)) this.#begin(stream);
    this.#settle({ takes: taken(number, stream.blocks), content });
    return this.progress === 1 ? this.#whole() : null;
  }

  #isSame({ blocks, length, sum }) {
    const now = this.#stream;
    return Boolean(now) && now.blocks === blocks && now.length === length && now.sum === sum;
  }

  #begin(stream) {
    this.#stream = stream;
    this.#rows = Array.from({ length: stream.blocks }, () => null);
  }

  /** Takes from a row what is known already; what is left of it is known from now on. */
  #settle({ takes, content }) {
    for (let place = takes.indexOf(true); place >= 0; place = takes.indexOf(true)) {
      const known = this.#rows[place];
      if (!known) {
        this.#rows[place] = { takes, content };
        return;
      }
      known.takes.forEach((has, each) => has && (takes[each] = !takes[each]));
      add(content, known.content);
    }
  }

  #whole() {
    const { blocks, length, sum } = this.#stream;
    for (let place = blocks - 1; place >= 0; place -= 1) {
      const { takes, content } = this.#rows[place];
      takes.forEach((has, other) => has && other > place && add(content, this.#rows[other].content));
      takes.fill(false, place + 1);
    }
    const bytes = new Uint8Array(blocks * BLOCK);
    this.#rows.forEach(({ content }, place) => bytes.set(content, place * BLOCK));
    if (checksum(bytes.subarray(0, length)) === sum) return new TextDecoder().decode(bytes.subarray(0, length));
    this.#stream = null; // a frame was made up: all over again
    return null;
  }
}

function readFrame(bytes) {
  if (bytes?.length !== HEAD + BLOCK) return null;
  const head = new DataView(bytes.buffer);
  const blocks = head.getUint16(0);
  const length = head.getUint16(2);
  if (!blocks || blocks > MOST_BLOCKS || Math.ceil(length / BLOCK) !== blocks) return null;
  return { blocks, length, sum: head.getUint32(4), number: head.getUint16(8), content: bytes.slice(HEAD) };
}
