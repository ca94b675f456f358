// What came from elsewhere: a text that was scanned or pasted, or a file. Read whole or not at all; nothing is changed.

import { means } from "../copies/means.js";
import { MOST_BYTES, readCopy, readPart } from "../copies/reading.js";
import { Refused } from "../copies/refused.js";
import { textIn } from "./address.js";
import { unpacked } from "./packed.js";

/** What a scanned or pasted text holds: {plan} or another part of a copy. Throws `Refused`. */
export async function readText(said, table) {
  const value = said.trimStart().startsWith("{") ? null : unpacked(textIn(said));
  const judge = { ...(await means()), table };
  if (!value) return readCopy(said, judge);
  if (typeof value !== "object" || Array.isArray(value)) throw new Refused("damaged");
  return readPart(value, judge);
}

/** What a file holds. Throws `Refused`. */
export async function readFile(file, table) {
  if (file.size > MOST_BYTES) throw new Refused("large");
  const text = await file.text().catch((error) => {
    throw new Refused("unread", {}, String(error));
  });
  return readText(text, table);
}
