// Choosing the piece: angle, and size by whichever measure the user knows.

import { emit, h, refill } from "../lib/page/dom.js";
import { diamondDrawing } from "../lib/page/drawing.js";
import { signed, withUnit, written } from "../lib/words/measure.js";
import { chips } from "./chips.js";
import { Folds } from "./fold-open.js";
import { lengthField, plainField } from "./length-field.js";

/**
 * Shows `piece` {angle, measure, text, seam}, `angles` and `sizes` to tap (texts), what the core `measured` of it (or
 * null) by the `measures` that it knows, and `errors` by field.
 * Emits `piece` with the changed part; a measure that is tapped comes with its exact `inches`, as its text is rounded.
 */
export class PiecePicker extends HTMLElement {
  #other = false;
  #folds = new Folds();

  constructor() {
    super();
    this.addEventListener("angle", ({ detail }) => this.#choseAngle(detail));
    this.addEventListener("size", ({ detail }) => emit(this, "piece", { text: detail }));
    this.addEventListener("measure", ({ detail }) => emit(this, "piece", detail));
    this.addEventListener("typed", ({ detail }) => emit(this, "piece", { [detail.name.split(".")[1]]: detail.text }));
  }

  show({ piece, angles, sizes, measures, measured, errors, words }) {
    const open = this.#other || !angles.includes(piece.angle);
    refill(
      this,
      h(
        "div",
        { class: "card" },
        this.#angles(piece, angles, open, errors, words),
        this.#size(piece, sizes, errors, words),
        measured && this.#measures(piece, measures, measured, words),
        this.#seam(piece, errors, words),
      ),
    );
  }

  #choseAngle(angle) {
    this.#other = angle === "other";
    emit(this, "piece", this.#other ? {} : { angle });
  }

  #angles(piece, angles, open, errors, words) {
    const choices = [...angles.map((angle) => [angle, `${angle}°`]), ["other", words.say("page.angle_other")]];
    return h(
      "div",
      { class: "field" },
      h("span", { class: "label" }, words.say("page.angle")),
      chips(words.say("page.angle"), choices, open ? "other" : piece.angle, "angle"),
      open &&
        plainField({
          name: "piece.angle",
          label: words.say("page.angle_typed"),
          text: piece.angle,
          error: errors["piece.angle"],
        }),
    );
  }

  #size(piece, sizes, errors, words) {
    const choices = sizes.map((size) => [size, size]);
    return h(
      "div",
      { class: "field" },
      chips(words.say("page.size_quick", { unit: words.units }), choices, written(piece.text), "size"),
      lengthField({
        name: "piece.text",
        label: words.say(`page.measure.${piece.measure}.label`),
        hint: words.say(`page.measure.${piece.measure}.hint`),
        text: piece.text,
        error: errors[`piece.${piece.measure}`] ?? errors.piece,
        placeholder: words.say(`page.placeholder_${words.units}`),
      }),
    );
  }

  #measures(piece, measures, measured, words) {
    return h(
      "div",
      { class: "piece" },
      diamondDrawing(
        measured,
        words.length(measured.size),
        words.say("page.diamond_drawn", { angle: measured.angle, size: measured.size }),
      ),
      h(
        "div",
        { class: "measures", role: "group", "aria-label": words.say("page.measures") },
        measures.map((measure) => this.#measure(measure, piece, measured, words)),
      ),
    );
  }

  #measure(measure, piece, measured, words) {
    const taken = measure === piece.measure;
    const text = words.bare(measured[measure]);
    const choose = () => emit(this, "measure", taken ? {} : { measure, text, inches: measured[measure] });
    return h(
      "button",
      { type: "button", "aria-pressed": String(taken), "data-key": `measure-${measure}`, onclick: choose },
      h("span", {}, words.say(`page.measure.${measure}.short`)),
      h("strong", {}, measured[measure] > 0 ? words.length(measured[measure]) : "–"),
    );
  }

  #seam(piece, errors, words) {
    return this.#folds.part(
      "seam",
      { wrong: Boolean(errors["piece.seam"]) },
      h(
        "summary",
        { "data-key": "seam" },
        words.say("page.seam_summary", { seam: withUnit(signed(piece.seam, words.locale), words.units) }),
      ),
      lengthField({
        name: "piece.seam",
        label: words.say("page.seam"),
        hint: words.say("page.seam_hint"),
        text: piece.seam,
        error: errors["piece.seam"],
      }),
    );
  }
}

customElements.define("piece-picker", PiecePicker);
