// What was typed stays what was meant when other units become the usual ones.

import { withUnit } from "./measure.js";

/**
 * A screen's state in the units of now. Where it was typed in others, `lengths(state, meant)` gives it with
 * `meant` done to every length in it: one without a unit gets the one that it was typed in. A state that does not
 * tell its units is in those of now.
 */
export function inUnits(state, units, lengths) {
  if (state.units === units) return state;
  const { units: before = units } = state;
  return { ...lengths(state, (text) => withUnit(text, before)), units };
}
