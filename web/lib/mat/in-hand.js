// The piece that is in hand at a guide's step: what it is, and what is left of its strip.

import { allowed } from "./fold.js";

/** Where the angle can be checked at this step: {place, piece, lengthLeft, piecesLeft}; null elsewhere. */
export function inHand(sitting) {
  const { step, script, state, table, scripts } = sitting;
  const lengthLeft = step.values?.length_left;
  const kind = lengthLeft === undefined ? null : script.pieces.find(({ id }) => id === script.strips[step.strip].piece);
  if (!kind?.check && kind?.shape !== "Diamond") return null; // scripts of before say only what shape it is
  const [, piecesLeft] = allowed(table, scripts, state, "ends_early");
  const piece = { shape: "diamond", size: kind.size, angle: kind.angle, seam: script.request?.piece?.seam };
  return { place: `${sitting.id} ${state.script} ${state.step}`, piece, lengthLeft, piecesLeft };
}
