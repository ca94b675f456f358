// A length off the bolt as the shop measures it.

import { bareLength, sayNumber } from "./measure.js";

const INCHES = { yd: 36, m: 1 / 0.0254 };

/** In eighths of a yard, or in metres. */
export function offTheBolt(inches, roundTo, words) {
  if (roundTo === "eighth_yard") return `${bareLength(inches / INCHES.yd, "in", words.locale)} yd`;
  return `${sayNumber(inches / INCHES.m, words.locale, 1)} m`;
}
