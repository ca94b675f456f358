// The picture of a quilt that is on no screen, such as one that was passed on.

import { fabricColour } from "./fabric-colour.js";
import { QuiltPainter } from "./quilt-canvas.js";
import { quiltRequest } from "./quilt-request.js";
import { tileOf } from "./swatch.js";

const PICTURE = 480; // px of the longer side

/** A canvas with the quilt of a state in its fabrics; null where the core refuses it or cannot be asked. */
export async function drawnQuilt(state, { units, python, words }) {
  const request = { ask: "quilt", ...quiltRequest(state, { units, locale: words.locale }) };
  const answer = await python.ask(request).catch(() => null);
  if (!answer?.ok || !answer.drawing) return null;
  const canvas = document.createElement("canvas");
  const { width, height } = answer.finished;
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", words.say("passing.drawn", { width, height }));
  paintQuilt(canvas, answer, (fabric) => lookOf(fabric, state.fabrics));
  return canvas;
}

/** Paints a quilt of the core's on a canvas, as small as it is shown; `look` gives the tile of one of its fabrics. */
export function paintQuilt(canvas, { drawing, fabrics }, look) {
  const scale = PICTURE / Math.max(drawing.width, drawing.height);
  Object.assign(canvas, { width: Math.ceil(drawing.width * scale), height: Math.ceil(drawing.height * scale) });
  new QuiltPainter(drawing).paint(canvas.getContext("2d"), {
    colours: drawing.pieces.map((piece) => piece[1]),
    tiles: fabrics.map(look),
    view: { scale, x: 0, y: 0 },
  });
}

function lookOf({ id, strips }, fabrics) {
  const fabric = fabrics.find((one) => one.id === id);
  return fabric ? { ...tileOf(fabric, null), strips } : { colour: fabricColour(id, fabrics) };
}
