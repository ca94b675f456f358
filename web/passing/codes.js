// Texts as QR codes (ISO/IEC 18004): drawn as one path, and read from pictures.

import { encodeQR } from "../vendor/qr/index.js";

/** A code is kept at this version and below: with more modules, hands and screens make it hard to read. */
const LARGEST = 20;
// Bytes that a code of that version holds at level M, in the writing of bytes (ISO/IEC 18004, table 7).
const MOST_BYTES = 666;
const QUIET = 4; // modules round it (ISO/IEC 18004, 5.3.8)

/** Whether a text fits one code. */
export function fitsOne(text) {
  return new TextEncoder().encode(text).length <= MOST_BYTES;
}

/** {side, path, version}: how many modules it is wide, its quiet zone included, and what of it is dark, as an SVG path. */
export function codeOf(text) {
  const rows = encodeQR(text, "raw", { ecc: "medium", border: QUIET });
  const side = rows.length;
  const version = (side - 2 * QUIET - 17) / 4;
  if (version > LARGEST) throw new RangeError(`a code of version ${version}`);
  return { side, version, path: rows.map(line).join("") };
}

/** The dark stretches of one row. */
function line(row, y) {
  let path = "";
  for (let x = 0; x < row.length; x += 1) {
    const from = x;
    while (row[x]) x += 1;
    if (x > from) path += `M${from} ${y}h${x - from}v1h-${x - from}z`;
  }
  return path;
}
