// What was typed stays what was meant when other units become the usual ones.

import { withUnit, written } from "./measure.js";

/**
 * A screen's state in the units of now. Where it was typed in others, `lengths(state, meant)` gives it with
 * `meant` done to every length in it: one without a unit gets the one that it was typed in, and its fractions are
 * as they are written now. A state that does not tell its units is in those of now; one that stays as it is, is the same.
 */
export function inUnits(state, units, lengths) {
  const { units: before = units } = state;
  let same = state.units === units;
  const found = lengths(state, (text) => {
    const meant = meantIn(text, before, units);
    same &&= meant === text;
    return meant;
  });
  return same ? state : { ...found, units };
}

/** A length that was typed in the units of `before`, as it stands where others may be the usual ones now. */
export function meantIn(text, before, now) {
  return before === now ? written(text) : withUnit(written(text), before);
}
