// A kind of cloth as it is offered: its shape beside the others', and its name.

import { h, svg } from "./dom.js";

const DRAWN = 44; // inches that the pictures of the kinds are drawn to

/** The content of a button for a kind of cloth. */
export function kindContent({ code, length, width }, words) {
  const sides = [length ?? 4, width ?? 12];
  const [wide, high] = [Math.max(...sides), Math.min(...sides)];
  return [
    svg(
      "svg",
      { viewBox: `${-(DRAWN - wide) / 2} ${-(24 - high) / 2} ${DRAWN} 24`, "aria-hidden": "true" },
      svg("rect", { width: wide, height: high }),
    ),
    h("span", {}, words.say(`cloth.${code}.name`)),
  ];
}
