// A packed text as codes to be shown: one where it fits, else a stream of them.

import { saidFor } from "./address.js";
import { codeOf, fitsOne } from "./codes.js";
import { framesOf, RATE } from "./stream.js";

/**
 * {code}, or {stream} for what does not fit one, with the `link` that the code says where a public address is known; null
 * where the text is a file's matter.
 */
export function givenOut(text, address) {
  if (text === null) return null;
  const said = saidFor(text, address);
  const link = said === text ? null : said;
  if (fitsOne(said)) return { code: codeOf(said), link };
  const { frame, blocks } = framesOf(text);
  return { stream: { rate: RATE, blocks, codeOf: (number) => codeOf(frame(number)) }, link };
}
