// A label with a list to choose from.

import { emit, h } from "../lib/page/dom.js";

/** `choices` are [value, text]. Emits `chosen-one` with {name, value}. */
export function choiceField({ name, label, choices, taken, hint, error }) {
  const id = `choice-${name.replace(/\W/g, "-")}`;
  const chosen = (event) => emit(event.currentTarget, "chosen-one", { name, value: event.currentTarget.value });
  return h(
    "div",
    { class: "field" },
    h("label", { for: id }, label),
    h(
      "select",
      {
        id,
        class: "entry",
        "data-key": name,
        "aria-invalid": error ? "true" : null,
        "aria-describedby": error ? `${id}-error` : null,
        onchange: chosen,
      },
      choices.map(([value, text]) => h("option", { value, selected: value === taken }, text)),
    ),
    hint && h("p", { class: "soft small" }, hint),
    error && h("p", { id: `${id}-error`, class: "error", role: "alert" }, error),
  );
}

/** A box to tick. Emits `ticked` with {name, on}. */
export function tickField({ name, label, on }) {
  const changed = (event) => emit(event.currentTarget, "ticked", { name, on: event.currentTarget.checked });
  return h(
    "label",
    { class: "tick" },
    h("input", { type: "checkbox", checked: on, "data-key": name, onchange: changed }),
    h("span", {}, label),
  );
}
