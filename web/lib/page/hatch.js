// What waste looks like in every drawing: one hatch, with the slant that is ours.

import { svg } from "./dom.js";

const STEP = 5; // px between two lines
// From the screen to how a drawing lies: its y runs up, down, or it is turned over its diagonal.
const LIES = { up: "scale(1 -1)", down: "", turned: "matrix(0 1 1 0 0 0)" };
let hatches = 0;

/**
 * The hatch of one drawing: the `defs` that it needs, its `fill`, a path `over` an area of waste, and `fit`, which takes
 * how large a pixel is in the drawing's units. `lies` is one of `LIES`: the lines have the same slant on every screen.
 */
export function wasteHatch(pixel = 1, lies = "up") {
  const id = `waste-${(hatches += 1)}`;
  const pattern = svg(
    "pattern",
    { id, width: STEP, height: STEP, patternUnits: "userSpaceOnUse" },
    svg("path", { class: "hatch", d: `M0 0V${STEP}` }),
  );
  const fill = `url(#${id})`;
  const fit = (unit) => pattern.setAttribute("patternTransform", `${LIES[lies]} scale(${unit}) rotate(30)`);
  fit(pixel);
  return {
    defs: svg("defs", {}, pattern),
    fill,
    fit,
    over: (d) => svg("path", { class: "hatched", d, fill }),
  };
}
