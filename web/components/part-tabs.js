// The parts of a page beside each other, of which one is open.

import { emit, h, svg } from "../lib/page/dom.js";

const MARKS = {
  size: "M3 8V22H21V8ZM3 3H21M3 1V5M21 1V5",
  setting: "M12 2 16 9H8ZM8 9H16L12 22ZM8 9 3 15H21L16 9",
  fabrics: "M12 3 22 8 12 13 2 8ZM2 12 12 17 22 12M2 16 12 21 22 16",
  edges: "M3 3H21V21H3ZM8 8H16V16H8Z",
  cut: "M4 5H6M10 5H21M4 12H6M10 12H21M4 19H6M10 19H21",
  sew: "M2 12H6M9 12H13M16 12H20M3 5 9 19M15 5 21 19",
  buy: "M3 5H14V19H3ZM14 8C22 8 22 16 14 16",
  class:
    "M8 4A3 3 0 1 0 8 10 3 3 0 1 0 8 4M17 7A2 2 0 1 0 17 11 2 2 0 1 0 17 7M2 20C2 14 14 14 14 20M14 15C18 13 22 15 22 20",
  all: "M4 4H20M4 9H20M4 14H20M4 19H20",
};

/**
 * A row of buttons for `parts` [{name, title, wrong}]; tapping one emits `part` with its name.
 * @param {string} label what they are the parts of, said by screen readers
 */
export function partTabs(label, parts, open) {
  return h(
    "nav",
    { class: "part-tabs no-print", "aria-label": label },
    parts.map(({ name, title, wrong }) =>
      h(
        "button",
        {
          type: "button",
          class: wrong ? "part-tab wrong" : "part-tab",
          "data-key": `part-${name}`,
          "aria-pressed": String(name === open),
          onclick: (event) => emit(event.currentTarget, "part", name),
        },
        svg("svg", { viewBox: "0 0 24 24", "aria-hidden": "true" }, svg("path", { d: MARKS[name] })),
        h("span", {}, title),
      ),
    ),
  );
}
