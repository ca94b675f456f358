// A length off the bolt as the shop measures it.

import { bareLength, sayNumber } from "./measure.js";

const INCHES = { yd: 36, m: 1 / 0.0254 };

/** In eighths of a yard, or in metres. */
export function offTheBolt(inches, roundTo, words) {
  if (roundTo === "eighth_yard")
    return words.say("unit.yd", { number: bareLength(inches / INCHES.yd, "in", words.locale) });
  return words.say("unit.m", { number: sayNumber(inches / INCHES.m, words.locale, 1) });
}
