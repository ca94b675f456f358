// What is written at each still of a step's moves.

const LIT = { edge: "edge", side: "side", "last-cut": "last", "measure-line": "measured", "angle-line": "angle" };

/** A still's line: by its kind of move and what the step does, as exactly as the step's values allow. */
export function stillText({ move, step, words }) {
  const values = { ...step.values, ...move.label };
  const kind = kindOf(move);
  const ways = kind === "slide" ? [move.moves] : [step.do, "any"];
  const path = ways.map((way) => `show_me.still.${kind}.${way}`).find((each) => words.fits(each, values));
  return words.say(path, values);
}

function kindOf({ kind, role, along, aside }) {
  if (kind === "light") return along ? "along" : LIT[role];
  return aside ? "aside" : kind;
}
