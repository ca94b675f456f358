// Before it happens: how carefully lines are laid, and how far a row may be off; the answer is how often to check.

import { emit, h, refill } from "../lib/page/dom.js";
import { chips } from "./chips.js";
import { lengthField, plainField } from "./length-field.js";

/**
 * Shows a `form` {placing, tolerance, across, rows} of texts, how near lines are laid as the core tells it
 * in the user's units (`placings` by name), the core's `expected` (or null), and `errors` by field. Emits
 * `form` with the changed part.
 */
export class DriftBefore extends HTMLElement {
  constructor() {
    super();
    this.addEventListener("placing", ({ detail }) => emit(this, "form", { placing: detail }));
    this.addEventListener("typed", ({ detail }) => emit(this, "form", { [detail.name]: detail.text }));
  }

  show({ form, placings: told, expected, errors, words }) {
    const say = (code, values) => words.say(`drift_screen.${code}`, values);
    const field = (name) => {
      const one = { name, label: say(name), text: form[name], error: errors[name] };
      return name === "tolerance" ? lengthField(one) : plainField(one);
    };
    const placings = Object.entries(told).map(([name, near]) => [
      name,
      [h("b", {}, near), " ", words.say(`drift_screen.placing.${name}`)],
    ]);
    refill(
      this,
      h("h2", {}, say("before")),
      h(
        "div",
        { class: "card" },
        h("p", {}, say("before_hint")),
        h(
          "div",
          { class: "field" },
          h("span", { class: "label" }, words.say("check.placing")),
          chips(words.say("check.placing"), placings, form.placing, "placing"),
          errors.placing && h("p", { class: "error", role: "alert" }, errors.placing),
        ),
        field("tolerance"),
        h("div", { class: "beside" }, field("across"), field("rows")),
        expected &&
          h(
            "p",
            { class: "verdict", role: "status" },
            words.say(expected.enough ? "check.expected.cuts" : "check.expected.not_enough", expected),
          ),
      ),
    );
  }
}

customElements.define("drift-before", DriftBefore);
