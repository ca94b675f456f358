// What is needed of one kind, in words.

import { isJoined } from "../asking/plan-request.js";
import { countedPieces, pieceName } from "./cut-words.js";

/** A kind of piece with how many and of which fabric. */
export function needName(piece, counts, words) {
  const { id, need, fabric, size, length } = piece;
  const of = fabric ? words.say("join.fabric", { fabric }) : "";
  if (isJoined(piece, counts))
    return words.say("basket_screen.need_joined", { n: need, name: pieceName(id, words), of, size, length });
  return words.say("basket_screen.need_line", { gives: countedPieces(id, need, counts?.[id]?.each, words), of });
}
