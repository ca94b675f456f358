// A piece in hand: where to measure it, and a field for every measure.

import { emit, h, refill, svg } from "../lib/page/dom.js";
import { closedPath, openPath } from "../lib/page/drawing.js";
import { lengthField, plainField } from "./length-field.js";

export const MEASURES = ["edge", "short_diagonal", "long_diagonal", "across_1", "across_2"];
const LETTERS = "ABCDE";

/**
 * Shows `measured` texts by measure, the core's drawing `drawn` {outline, measures} (or null), and `errors` by field;
 * with `strip` {length_left, pieces_left} also what is left of the strip.
 * Emits `measured` or `strip` with the changed part.
 */
export class DriftMeasures extends HTMLElement {
  constructor() {
    super();
    this.addEventListener("typed", ({ detail }) => this.#typed(detail));
  }

  show({ measured, strip, drawn, errors, words }) {
    const say = (code) => words.say(`drift_screen.${code}`);
    refill(
      this,
      h("h2", { id: "after" }, say("after")),
      h(
        "div",
        { class: "card" },
        h("p", {}, words.say("check.which")),
        drawn && measuresDrawing(drawn, say("measured_drawn")),
        MEASURES.map((name, i) => this.#field(name, LETTERS[i], measured[name], errors, words)),
        errors.measured && h("p", { class: "error", role: "alert" }, errors.measured),
        strip &&
          h(
            "div",
            { class: "beside" },
            lengthField({
              name: "strip.length_left",
              label: say("length_left"),
              hint: say("length_left_hint"),
              text: strip.length_left,
              error: errors.length_left,
            }),
            plainField({
              name: "strip.pieces_left",
              label: say("pieces_left"),
              text: strip.pieces_left,
              error: errors.pieces_left,
            }),
          ),
      ),
    );
  }

  #field(name, letter, text, errors, words) {
    const label = [letter, words.say(`check.measure.${name}`)].join(" – ");
    return lengthField({
      name: `measured.${name}`,
      label,
      text,
      error: errors[`measured.${name}`],
      placeholder: words.say(`page.placeholder_${words.units}`),
    });
  }

  #typed({ name, text }) {
    const [part, field] = name.split(".");
    emit(this, part, { [field]: text });
  }
}

/** The piece with every measure on it as a lettered line. */
function measuresDrawing({ outline, measures }, description) {
  const [wide, high] = [0, 1].map((axis) => Math.max(...outline.map((point) => point[axis])));
  const unit = wide / 300;
  const letter = (name, i) => text(along(measures[name], PLACES[i]), LETTERS[i], high, unit);
  return svg(
    "svg",
    {
      class: "drawing measured",
      viewBox: `${-12 * unit} ${-12 * unit} ${wide + 24 * unit} ${high + 36 * unit}`,
      role: "img",
      "aria-label": description,
    },
    svg(
      "g",
      { transform: `matrix(1 0 0 -1 0 ${high})` },
      svg("path", { class: "piece", d: closedPath(outline) }),
      MEASURES.map((name) => svg("path", { class: `measure-taken ${name}`, d: openPath(measures[name]) })),
    ),
    MEASURES.map(letter),
  );
}

/** How far along its line each letter stands, so that none lies on another. */
const PLACES = [0.5, 0.86, 0.86, 0.16, 0.84];

function along([[x1, y1], [x2, y2]], share) {
  return [x1 + share * (x2 - x1), y1 + share * (y2 - y1)];
}

function text([x, y], letter, high, unit) {
  return svg(
    "text",
    { x, y: high - y, "font-size": 22 * unit, "text-anchor": "middle", "dominant-baseline": "central" },
    letter,
  );
}

customElements.define("drift-measures", DriftMeasures);
