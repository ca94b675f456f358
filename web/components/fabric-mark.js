// A small square of a fabric's colour beside its name.

import { svg } from "../lib/page/dom.js";
import { isLight } from "../lib/quilt/swatch.js";

const ARROW = "M10 16.5V4.5M5 9L10 4L15 9";

/** `colour` as #rrggbb; a print that runs one way has an arrow to its head. */
export function fabricMark(colour, oneWay = false) {
  return svg(
    "svg",
    { class: "fabric-mark", viewBox: "0 0 20 20", "aria-hidden": "true" },
    svg("rect", { width: 20, height: 20, rx: 4, fill: colour }),
    oneWay && svg("path", { class: "one-way", d: ARROW, stroke: isLight(colour) ? "#251a30" : "#ffffff" }),
  );
}

/** The arrow alone, for where the swatch is a field; `told` says it in words. */
export function oneWayMark(told) {
  return svg(
    "svg",
    { class: "fabric-mark", viewBox: "0 0 20 20", role: "img", "aria-label": told },
    svg("path", { class: "one-way", d: ARROW, stroke: "currentColor" }),
  );
}

/** Whether a fabric, by its id, has a print that runs one way. */
export function runsOneWay(id, fabrics) {
  return Boolean(fabrics.find((fabric) => fabric.id === id)?.one_way);
}
