// Describing a ruler by measure and lines. Everything stays as it was typed; what is wrong
// with it is said at its field.

import { emit, h, refill } from "../lib/page/dom.js";
import { chips } from "./chips.js";
import { lengthField, plainField } from "./length-field.js";
import { rulerDrawing } from "./ruler-drawing.js";

const PLAIN = ["name", "degrees"];
const FRESH_LINE = Object.freeze({
  degrees: "",
  from: "long",
  at: "",
  line_length: "",
  lean: "both",
  hard_to_see: false,
});

/**
 * Shows a `draft` of texts, the ruler `drawn` from it (or null), the `choices` of its lines, and `errors` by field.
 * Emits `draft` with the changed draft, `keep`, `cancel` and, for a ruler that is `known`, `remove`.
 */
export class RulerEditor extends HTMLElement {
  show({ draft, drawn, known, choices, errors, words }) {
    this.draft = draft;
    const say = (code, values) => words.say(`rulers_screen.editor.${code}`, values);
    const field = (name, more = {}) =>
      fieldFor(name)({ name, label: say(name), text: draft[name], error: errors[name], ...more });
    refill(
      this,
      h("h2", { tabindex: "-1", "data-key": "editor" }, say("title")),
      h(
        "div",
        { class: "card" },
        drawn &&
          rulerDrawing(drawn, {
            words,
            labels: true,
            description: words.say("rulers_screen.drawn", {
              width: words.length(drawn.width),
              length: words.length(drawn.length),
            }),
          }),
        field("name"),
        h("div", { class: "beside" }, field("width"), field("length")),
        field("tick", { hint: say("tick_hint") }),
        this.#flag("reads_through", draft.reads_through, words.say("rulers.line.reads_through")),
      ),
      h(
        "div",
        { class: "card" },
        h("h3", {}, say("angles")),
        h("p", { class: "soft small" }, say("angles_hint")),
        draft.angles.map((line, i) => this.#line(line, i, choices, errors, words)),
        h(
          "button",
          {
            type: "button",
            class: "button plain",
            "data-key": "add-line",
            onclick: () => this.#put({ angles: [...draft.angles, FRESH_LINE] }),
          },
          say("add_line"),
        ),
      ),
      errors.rulers && h("p", { class: "error", role: "alert" }, errors.rulers),
      h(
        "div",
        { class: "row" },
        h(
          "button",
          { type: "button", class: "button main", "data-key": "keep", onclick: () => emit(this, "keep") },
          say("keep"),
        ),
        h(
          "button",
          { type: "button", class: "button plain", "data-key": "cancel", onclick: () => emit(this, "cancel") },
          say("cancel"),
        ),
        known &&
          h(
            "button",
            { type: "button", class: "button plain", "data-key": "remove", onclick: () => emit(this, "remove") },
            say("remove"),
          ),
      ),
    );
  }

  constructor() {
    super();
    this.addEventListener("typed", ({ detail }) => this.#typed(detail));
    this.addEventListener("line", ({ detail }) => this.#chose(...detail.split(" ")));
  }

  #typed({ name, text }) {
    const [, line, part] = /^angles\[(\d+)\]\.(\w+)$/.exec(name) ?? [];
    if (part) this.#putLine(Number(line), { [part]: text });
    else this.#put({ [name]: text });
  }

  #chose(line, part, value) {
    this.#putLine(Number(line), { [part]: value });
  }

  #put(change) {
    emit(this, "draft", { ...this.draft, ...change });
  }

  #putLine(place, change) {
    this.#put({ angles: this.draft.angles.map((line, i) => (i === place ? { ...line, ...change } : line)) });
  }

  #line(line, i, { line_from: edges, leans }, errors, words) {
    const say = (code, values) => words.say(`rulers_screen.editor.${code}`, values);
    const field = (part, more) =>
      fieldFor(part)({
        name: `angles[${i}].${part}`,
        label: say(part),
        text: line[part],
        error: errors[`angles[${i}].${part}`],
        ...more,
      });
    return h(
      "fieldset",
      { class: "ruler-line" },
      h("legend", {}, say("line", { n: i + 1 })),
      field("degrees", { hint: say("degrees_hint") }),
      this.#choice(
        i,
        "from",
        line,
        say("from"),
        edges.map((edge) => [edge, words.say(`rulers.from.${edge}`)]),
      ),
      this.#choice(
        i,
        "lean",
        line,
        say("lean"),
        leans.map((lean) => [lean, words.say(`rulers.line.lean.${lean}`)]),
        words.say("rulers.line.lean_help"),
      ),
      h(
        "div",
        { class: "beside" },
        field("at", { hint: words.say("rulers.line.at"), placeholder: say("at_empty") }),
        field("line_length", { hint: say("line_length_hint"), placeholder: say("line_length_empty") }),
      ),
      this.#flag(`hard_to_see-${i}`, line.hard_to_see, words.say("rulers.line.hard_to_see"), (hard_to_see) =>
        this.#putLine(i, { hard_to_see }),
      ),
      h(
        "button",
        {
          type: "button",
          class: "button plain",
          "data-key": `remove-line-${i}`,
          onclick: () => this.#put({ angles: this.draft.angles.filter((_, k) => k !== i) }),
        },
        say("remove_line", { n: i + 1 }),
      ),
    );
  }

  #choice(i, part, line, label, choices, hint) {
    const values = choices.map(([value, text]) => [`${i} ${part} ${value}`, text]);
    return h(
      "div",
      { class: "field" },
      h("span", { class: "label" }, label),
      hint && h("span", { class: "soft small" }, hint),
      chips(`${label} (${i + 1})`, values, `${i} ${part} ${line[part]}`, "line"),
    );
  }

  #flag(key, on, label, put = (flag) => this.#put({ [key]: flag })) {
    return h(
      "label",
      { class: "tick" },
      h("input", {
        type: "checkbox",
        checked: on,
        "data-key": key,
        onchange: (event) => put(event.currentTarget.checked),
      }),
      h("span", {}, label),
    );
  }
}

/** A field as a part is one for: most are lengths. */
function fieldFor(part) {
  return PLAIN.includes(part) ? plainField : lengthField;
}

customElements.define("ruler-editor", RulerEditor);
