// A small square of a fabric's colour beside its name.

import { svg } from "../lib/page/dom.js";

/** `colour` as #rrggbb. */
export function fabricMark(colour) {
  return svg(
    "svg",
    { class: "fabric-mark", viewBox: "0 0 20 20", "aria-hidden": "true" },
    svg("rect", { width: 20, height: 20, rx: 4, fill: colour }),
  );
}
