// A row of choices of which one is taken.

import { emit, h } from "../lib/page/dom.js";

/**
 * Buttons for `choices` ([value, content]); tapping one emits `chosen` with its value.
 * @param {string} name what is chosen, said by screen readers
 */
export function chips(name, choices, taken, type = "chosen", className = "chips") {
  return h(
    "div",
    { class: className, role: "group", "aria-label": name },
    choices.map(([value, content, spoken]) => chip(name, value, content, value === taken, type, spoken)),
  );
}

function chip(name, value, content, taken, type, spoken) {
  const pressed = (event) => emit(event.currentTarget, type, value);
  return h(
    "button",
    {
      type: "button",
      class: "chip",
      "aria-pressed": String(taken),
      "aria-label": spoken,
      "data-key": `${name}:${value}`,
      onclick: pressed,
    },
    content,
  );
}
