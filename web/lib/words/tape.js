// The tape on which a length can be set: where a text stands on it, its steps and its end. Whether a text is a length at
// all is for the core to say; here it is only found where the tape begins.

import { bareLength, fieldNumber, plainDigits, typedNumber } from "./measure.js";

// Ticks to the unit; the steps that can be taken, in ticks, and the usual one; the tape's end, in units.
const TAPES = {
  in: { ticks: 16, steps: [8, 4, 2, 1], usual: 4, most: 120 },
  cm: { ticks: 10, steps: [10, 5, 1], usual: 5, most: 300 },
  yd: { ticks: 8, steps: [4, 2, 1], usual: 2, most: 20 },
  m: { ticks: 100, steps: [50, 10, 1], usual: 10, most: 20 },
};
const INCHES = { in: 1, ft: 12, yd: 36, mm: 1 / 25.4, cm: 1 / 2.54, m: 100 / 2.54 };
const NAMES = { inch: "in", inches: "in", '"': "in", foot: "ft", feet: "ft", yard: "yd", yards: "yd" };
const ON = { ft: "in", mm: "cm" }; // what has no tape of its own
const NUMBER = /^(?:(?:(\d+)(?: +| *- *| +and +))?(\d+) *\/ *(\d+)|(\d+\.?\d*|\.\d+)) *([a-z"]*)\.?$/;

/**
 * The tape for a text that is typed in `unit` where it tells none: {unit, at, told, …}, `at` in ticks (null where the text
 * is no length that can be found on it) and `told` whether the text tells its unit.
 */
export function tapeOf(text, unit, locale) {
  const read = NUMBER.exec(plainDigits(typedNumber(text, locale)).trim().toLowerCase().replace(/[″”]/g, '"'));
  const [, whole, top, bottom, decimal, name = ""] = read ?? [];
  const own = NAMES[name] ?? (name || unit);
  const on = ON[own] ?? (TAPES[own] ? own : unit);
  const number = decimal === undefined ? Number(whole ?? 0) + top / bottom : Number(decimal);
  const ticks = ((number * INCHES[own]) / INCHES[on]) * TAPES[on].ticks;
  return { ...TAPES[on], unit: on, told: Boolean(name), at: Number.isFinite(ticks) ? near(ticks) : null };
}

/** What stands in the field for a place on a tape. */
export function textAt(at, { unit, ticks, told }, locale) {
  const number = at / ticks;
  const bare = unit === "in" || unit === "yd" ? bareLength(number, "in") : fieldNumber(number, locale);
  return told ? `${bare} ${unit}` : bare;
}

/** The place a step further along, or back (`way` is 1 or −1): the next mark of that step. */
export function stepped(at, step, way, { most, ticks }) {
  const to = way > 0 ? (Math.floor(near(at / step)) + 1) * step : (Math.ceil(near(at / step)) - 1) * step;
  return within(to, most * ticks);
}

/** The mark of a step that is nearest to a place. */
export function nearest(at, step, { most, ticks }) {
  return within(Math.round(at / step) * step, most * ticks);
}

/** The step to begin with: the usual one, or the finer one on whose marks the place lies. */
export function firstStep({ at, steps, usual }) {
  return steps.find((step) => step <= usual && Number.isInteger((at ?? 0) / step)) ?? steps.at(-1);
}

/** A step as it is said: "¼ in", "5 mm". */
export function stepText(step, { unit, ticks }, locale) {
  if (unit === "cm" && step < ticks) return `${step} mm`;
  if (unit === "m" && step < ticks) return `${step} cm`;
  return textAt(step, { unit, ticks, told: true }, locale);
}

function within(at, most) {
  return Math.max(0, Math.min(most, at));
}

/** Without what binary fractions leave behind the sixth decimal. */
function near(number) {
  return Math.round(number * 1e6) / 1e6;
}
