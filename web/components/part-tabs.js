// The parts of a page beside each other, of which one is open.

import { emit, h } from "../lib/page/dom.js";
import { icon } from "../lib/page/icons.js";

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
        icon("part", name),
        h("span", {}, title),
      ),
    ),
  );
}
