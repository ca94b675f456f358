// A field for a length, or for another text, with its label, a hint and the error that belongs to it.

import { emit, h } from "../lib/page/dom.js";
import { tape } from "./length-tape.js";

/**
 * Emits `typed` with {name, text} at every keystroke. The text stays as the user wrote it, whatever is wrong with it. A
 * length can also be set on a tape, in the units of now or in the `unit` that is meant where the text tells none.
 */
export function lengthField({ unit = "", ...field }) {
  return typedField(field, { "data-tape": unit }, tape.button(field.name));
}

/** The same for what is no length: an angle, a count, a price, a name. */
export function plainField(field) {
  return typedField(field);
}

function typedField({ name, label, text, hint, error, placeholder }, more = {}, button = null) {
  const id = `field-${name.replace(/\W/g, "-")}`;
  const notes = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ");
  const typed = (event) => emit(event.currentTarget, "typed", { name, text: event.currentTarget.value });
  const input = h("input", {
    id,
    class: "entry",
    value: tape.written(text),
    placeholder: placeholder && tape.written(placeholder),
    autocomplete: "off",
    autocapitalize: "off",
    spellcheck: "false",
    enterkeyhint: "done",
    "data-key": name,
    "aria-invalid": String(Boolean(error)),
    "aria-describedby": notes || null,
    oninput: typed,
    ...more,
  });
  return h(
    "div",
    { class: "field" },
    h("label", { id: `${id}-label`, for: id }, label),
    button ? h("div", { class: "with-tape" }, input, button) : input,
    hint && h("p", { id: `${id}-hint`, class: "soft small" }, hint),
    error && h("p", { id: `${id}-error`, class: "error", role: "alert" }, error),
  );
}
