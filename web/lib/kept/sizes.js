// The sizes that the user cuts: on the first day the usual ones are offered, later the last ones that were cut.

import { written } from "../words/measure.js";

const OFFERED = 6;
const KEPT = 24; // of all units and measures together

/** What is kept, {since, last}, with a size {text, units, measure} in front; `day` as in 2026-02-28. */
export function withSize(kept, size, day) {
  const { since = day, last = [] } = kept ?? {};
  const others = last.filter((one) => !isSame(one, size));
  return { since, last: [size, ...others].slice(0, KEPT) };
}

/** The texts to offer for a measure in the units of now: the user's last ones, newest first, and then usual ones. */
export function offeredSizes(kept, usual, { units, measure }, day) {
  if (!kept || kept.since >= day) return usual;
  const own = kept.last
    .filter((one) => one.units === units && one.measure === measure)
    .map(({ text }) => written(text));
  return [...new Set([...own, ...usual])].slice(0, OFFERED);
}

/** The day by the user's own clock. */
export function today(now = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function isSame(one, other) {
  return ["text", "units", "measure"].every((part) => one[part] === other[part]);
}
