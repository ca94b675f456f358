// A small whole number that is made one more or one fewer.

import { emit, h } from "../lib/page/dom.js";

/** Emits `stepped` with {name, number}; at either end of its range the button that would leave it does nothing. */
export function stepper({ name, label, number, least, most, fewer, more }) {
  const id = `stepper-${name.replace(/\W/g, "-")}`;
  const button = (by, sign, said) => {
    const to = number + by;
    return h(
      "button",
      {
        type: "button",
        class: "button step",
        "data-key": `${name}${sign}`,
        "aria-label": `${label}: ${said}`,
        "aria-disabled": String(to < least || to > most),
        onclick: (event) => to >= least && to <= most && emit(event.currentTarget, "stepped", { name, number: to }),
      },
      sign,
    );
  };
  return h(
    "div",
    { class: "stepper", role: "group", "aria-labelledby": id },
    h("span", { id, class: "label" }, label),
    button(-1, "−", fewer),
    h("output", { "data-key": name }, String(number)),
    button(1, "+", more),
  );
}
