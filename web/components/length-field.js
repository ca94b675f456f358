// A field for a length, with its label, a hint and the error that belongs to it.

import { emit, h } from "../lib/page/dom.js";

/**
 * Emits `typed` with {name, text} at every keystroke. The text stays as the user wrote it, whatever is wrong with it.
 */
export function lengthField({ name, label, text, hint, error, placeholder }) {
  const id = `field-${name.replace(/\W/g, "-")}`;
  const notes = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ");
  const typed = (event) => emit(event.currentTarget, "typed", { name, text: event.currentTarget.value });
  return h(
    "div",
    { class: "field" },
    h("label", { for: id }, label),
    h("input", {
      id,
      class: "entry",
      value: text,
      placeholder,
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      enterkeyhint: "done",
      "data-key": name,
      "aria-invalid": String(Boolean(error)),
      "aria-describedby": notes || null,
      oninput: typed,
    }),
    hint && h("p", { id: `${id}-hint`, class: "soft small" }, hint),
    error && h("p", { id: `${id}-error`, class: "error", role: "alert" }, error),
  );
}
