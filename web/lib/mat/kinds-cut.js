// What was cut, by kind of piece, at a state of a log.

/** What the id of strips that are joined later ends in, after the id of what they become. */
export const JOINED = /\/joined$/;

/**
 * What the tallies of a state come to by the id of the kind, of the strips that fit: {made, spoiled, lost}. What is joined
 * later counts as the strips it is, and what was put right before any strip belongs to no kind.
 */
export function cutByKind(scripts, state, fits = () => true) {
  const found = new Map();
  for (const [key, tally] of Object.entries(state.tallies)) {
    const [script, strip] = key.split(":");
    const held = scripts[script].strips[strip];
    if (!held || JOINED.test(held.piece) || !fits(strip, Number(script))) continue;
    const joined = scripts[script].pieces.find(({ id }) => id === held.piece)?.counted === false;
    const { made, spoiled, lost } = found.get(held.piece) ?? { made: 0, spoiled: 0, lost: 0 };
    found.set(held.piece, {
      made: made + (joined ? tally.aside : tally.made),
      spoiled: spoiled + tally.spoiled,
      lost: lost + tally.lost,
    });
  }
  return Object.fromEntries(found);
}
