// What a kind of piece is called at the mat, and a pile of them with how many lie in it.

import { pieceName } from "./cut-words.js";

/** What a piece of a script is called: by its id, or by its shape where it is the only kind and has no name. */
export function pieceCalled({ id, shape }, words) {
  if (id !== "piece") return pieceName(id, words);
  const form = shape?.replace(/(?<=[a-z])(?=[A-Z])|-/, "_").toLowerCase(); // scripts of before have the name of a class
  return words.has(`mat.shape.${form}`) ? words.say(`mat.shape.${form}`) : words.say("mat.shape.piece");
}

/**
 * A pile in words: what it is, how many of how many, their size and fabric; its grain, where each
 * grain has a pile of its own.
 */
export function pileText({ piece, pile, made, of, counted }, words) {
  const values = { name: pieceCalled(piece, words), size: piece.size, fabric: piece.fabric ?? "", made, of, n: made };
  const text = words.say(counted ? "where.pile" : "where.pile_joined", values).trim();
  return pile ? words.say("where.pile_grain", { pile: text, grain: words.say(`where.grain.${pile}`) }) : text;
}
