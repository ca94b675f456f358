// How far away the phone is, and a check of the phone's size of a pixel against a bank card.

import { emit, h, refill } from "../lib/page/dom.js";
import { Folds } from "./fold-open.js";

const LONG_SIDE = 85.6 / 25.4; // in; ISO/IEC 7810, ID-1
const SHORT_SIDE = 53.98 / 25.4;
const DISTANCES = [50, 60, 70, 80, 90];
const [LEAST, MOST] = [90, 260]; // CSS pixels to the inch that a screen may have

/** Emits `seen-from` with {distance} in cm or {pxPerInch}. */
export class DistanceCheck extends HTMLElement {
  #folds = new Folds();

  show({ values, words }) {
    const tell = (change) => emit(this, "seen-from", change);
    const card = h("div", { class: "bank-card", "aria-hidden": "true" });
    grow(card, values.pxPerInch);
    refill(
      this,
      h(
        "div",
        { class: "field" },
        h("label", { for: "distance" }, words.say("tools.distance.name")),
        h(
          "select",
          {
            id: "distance",
            class: "entry",
            "data-key": "distance",
            onchange: (event) => tell({ distance: Number(event.target.value) }),
          },
          DISTANCES.map((cm) =>
            h(
              "option",
              { value: cm, selected: cm === values.distance },
              words.say("tools.distance.at", { distance: shown(cm, words) }),
            ),
          ),
        ),
      ),
      this.#folds.part(
        "card",
        {},
        h("summary", { "data-key": "fold-card" }, words.say("tools.distance.check")),
        h("p", {}, words.say("tools.distance.check_hint")),
        h(
          "div",
          { class: "field" },
          h("label", { for: "px" }, words.say("tools.distance.size")),
          h("input", {
            id: "px",
            type: "range",
            min: LEAST,
            max: MOST,
            value: values.pxPerInch,
            "data-key": "px",
            oninput: (event) => grow(card, Number(event.target.value)),
            onchange: (event) => tell({ pxPerInch: Number(event.target.value) }),
          }),
        ),
        h("div", { class: "card-frame" }, card),
      ),
    );
  }
}

/** A distance in inches, as it is shown: whole ones, or just the centimeters. */
function shown(cm, { units }) {
  return units === "cm" ? cm / 2.54 : Math.round(cm / 2.54);
}

/** The card stands upright: lying, it would be wider than a phone. */
function grow(card, pxPerInch) {
  Object.assign(card.style, { width: `${SHORT_SIDE * pxPerInch}px`, height: `${LONG_SIDE * pxPerInch}px` });
}

customElements.define("distance-check", DistanceCheck);
