// What is passed on as one text: JSON made short by a dictionary of what nearly every plan has, a checksum before it, all
// of it letters that an address may have. The first letter is the version of this writing.
//
//   text = "1" + base64url(CRC-32 of the JSON in UTF-8, 4 bytes, the highest first, + DEFLATE (RFC 1951) of the JSON)

import { deflateSync, inflateSync } from "../vendor/deflate.js";
import { Refused } from "../copies/refused.js";
import { checksum } from "./checksum.js";
import { DICTIONARY } from "./dictionary.js";
import { fromAddress, toAddress } from "./letters.js";

/** The version that is written. Every older one is read for ever. */
export const VERSION = "1";
/** A text that is longer is passed on as a file. */
export const MOST_LETTERS = 16 * 1024;
// What a text may come to: one that was made to fill the memory ends there.
const MOST_BYTES = 512 * 1024;
const NAMES = /^[\w-]+$/;
const dictionary = new TextEncoder().encode(DICTIONARY);

/** A value of JSON as a text; null where that is too long for codes and addresses. */
export function packed(value) {
  const plain = new TextEncoder().encode(JSON.stringify(value));
  const short = deflateSync(plain, { level: 9, mem: 12, dictionary });
  const bytes = new Uint8Array(4 + short.length);
  new DataView(bytes.buffer).setUint32(0, checksum(plain));
  bytes.set(short, 4);
  const text = VERSION + toAddress(bytes);
  return text.length <= MOST_LETTERS ? text : null;
}

/** The value of a text that came. Throws `Refused`, and nothing else, where it is none or came damaged. */
export function unpacked(text) {
  if (typeof text !== "string" || !NAMES.test(text)) throw new Refused("foreign");
  if (text.length > MOST_LETTERS) throw new Refused("large");
  if (text[0] !== VERSION) throw new Refused(/^[2-9]/.test(text) ? "newer" : "foreign");
  const bytes = fromAddress(text.slice(1));
  if (!bytes || bytes.length < 5) throw new Refused("cut_short");
  const plain = inflated(bytes.subarray(4));
  if (plain.length > MOST_BYTES) throw new Refused("large");
  if (checksum(plain) !== new DataView(bytes.buffer, bytes.byteOffset).getUint32(0)) throw new Refused("cut_short");
  return parsed(plain);
}

function inflated(bytes) {
  try {
    return inflateSync(bytes, { dictionary, out: new Uint8Array(MOST_BYTES + 1) });
  } catch (error) {
    throw new Refused("cut_short", {}, String(error));
  }
}

function parsed(plain) {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(plain));
  } catch (error) {
    throw new Refused("damaged", {}, String(error));
  }
}
