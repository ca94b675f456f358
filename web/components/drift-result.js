// What the measures say: the true angle and size, whether it matters in this quilt, and the mend.

import { emit, h, refill } from "../lib/page/dom.js";
import { sayNumber } from "../lib/words/measure.js";
import "./scene-view.js";

/**
 * Shows the core's `found` (or null) and its picture of the `trim` (or null). At the mat, `cost` is how many cuts the
 * mend takes off the strip; then it emits `trimmed`.
 */
export class DriftResult extends HTMLElement {
  show({ found, trim, cost, waiting, words }) {
    if (!found) return refill(this);
    const off = found.verdict !== "good";
    refill(
      this,
      h(
        "div",
        { class: waiting ? "card stale" : "card", role: "status" },
        h("p", { class: off ? "verdict off" : "verdict" }, words.say(`check.verdict.${found.verdict}`)),
        h(
          "ul",
          { class: "facts" },
          told(found, words).map((text) => h("li", {}, text)),
        ),
      ),
      found.mend && this.#mend({ found, trim, cost, words }),
    );
  }

  #mend({ found, trim, cost, words }) {
    const say = (code, values) => words.say(`drift_screen.${code}`, values);
    return h(
      "section",
      { class: "section" },
      h("h2", {}, say("mend")),
      h(
        "div",
        { class: "card" },
        trim && picture(trim, words),
        trim &&
          h(
            "ol",
            { class: "moves" },
            moves(found, trim, words).map((text) => h("li", {}, text)),
          ),
        h(
          "ul",
          { class: "facts" },
          h("li", {}, say("costs", found.trim)),
          found.strip && stripTold(found.strip, words),
        ),
        cost !== null && this.#trimmed(cost, say),
      ),
    );
  }

  #trimmed(cost, say) {
    return h(
      "div",
      { class: "field" },
      h(
        "button",
        { type: "button", class: "button main", "data-key": "trimmed", onclick: () => emit(this, "trimmed") },
        say("trimmed"),
      ),
      h("p", { class: "soft" }, cost ? say("trimmed_effect", { n: cost }) : say("trimmed_nothing")),
    );
  }
}

function moves(found, trim, words) {
  return [
    trim.turned && words.say("rulers.turn.half_turn"),
    words.say(`check.trim.${trim.widest_at}`, found.trim),
    trim.turned && words.say("drift_screen.turn_back"),
  ].filter(Boolean);
}

function told(found, words) {
  const seen = (name) => found.seen.includes(name);
  const degrees = (value) => sayNumber(Math.abs(value), words.locale, 1);
  const { growth, shift, by_size: bySize } = found.row_error;
  const angle = { angle: degrees(found.angle), error: degrees(found.error), size: found.size };
  return [
    words.say("check.found", angle),
    words.say("check.sure_to", { sure_to: degrees(found.sure_to) }),
    found.unsure && words.say("check.unsure"),
    seen("growth") && words.say(`check.row.${growth < 0 ? "growth_short" : "growth"}`, { growth: Math.abs(growth) }),
    seen("shift") && words.say("check.row.shift", { shift: Math.abs(shift) }),
    seen("by_size") &&
      words.say(`check.row.${bySize < 0 ? "by_size_short" : "by_size"}`, { by_size: Math.abs(bySize) }),
  ].filter(Boolean);
}

function stripTold(strip, words) {
  if (strip.planned === null) return null;
  const n = strip.enough ? strip.planned : strip.pieces;
  return h(
    "li",
    { class: strip.enough ? null : "warn" },
    words.say(`check.strip.${strip.enough ? "enough" : "short"}`, { ...strip, n }),
  );
}

function picture(trim, words) {
  const view = document.createElement("scene-view");
  view.show({ ...trim, words, description: words.say("drift_screen.trim_drawn") });
  return view;
}

customElements.define("drift-result", DriftResult);
