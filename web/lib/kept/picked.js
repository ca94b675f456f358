// Which way the user picked at a step. A place in a list of ways means something for that list only: one
// piece, one hand, these rulers.

const STEPS = ["strip", "starter", "following"];

/** The picked places by step, or undefined where nothing was picked for this list. */
export function pickedFor(values, piece, rulers) {
  const { chosen } = values;
  if (!chosen || chosen.list !== listOf(values, piece, rulers)) return undefined;
  return Object.fromEntries(STEPS.filter((step) => chosen[step] !== undefined).map((step) => [step, chosen[step]]));
}

/** The setting `chosen` once a place is picked at a step; the first place, the best, is no pick. */
export function withPick(values, piece, rulers, step, place) {
  const { [step]: _, ...others } = pickedFor(values, piece, rulers) ?? {};
  return { ...others, ...(place > 0 && { [step]: place }), list: listOf(values, piece, rulers) };
}

/** Names a list of ways by what it depends on: a place in one list means nothing in another. */
export function listOf({ hand }, { size, angle }, rulers) {
  return JSON.stringify([size, angle, hand, rulers]);
}
