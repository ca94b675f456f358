// What is to be known when sewing: facts, set-in seams step by step, the rows with their letters, and the seam test.

import { fabricName, kindName } from "../lib/words/cut-words.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { stepPicture } from "../lib/quilt/step-picture.js";
import { fabricMark, runsOneWay } from "./fabric-mark.js";
import { Folds } from "./fold-open.js";
import { lengthField } from "./length-field.js";

/**
 * Shows `sewing` and what goes with it of the core's `answer`, and `tested`, its answer to the seam test. Emits `put`
 * {path, value} for what was measured in it, and `sewn` with how many rows are sewn.
 */
export class SewingList extends HTMLElement {
  #folds = new Folds();

  constructor() {
    super();
    this.addEventListener("typed", ({ detail }) =>
      emit(this, "put", { path: detail.name.split("."), value: detail.text }),
    );
  }

  show(shown) {
    const { answer, words } = shown;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    refill(
      this,
      h(
        "section",
        { class: "section" },
        h("h2", {}, say("sewing_title")),
        h(
          "div",
          { class: "card" },
          h(
            "ul",
            { class: "facts" },
            facts(answer, words).map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text)),
          ),
          this.#steps(answer.sewing, say, words),
          this.#rows(answer.sewing.rows, say),
          this.#layout(shown, say),
          this.#seamTest(shown, say),
        ),
      ),
    );
  }

  #part(name, title, ...content) {
    return this.#folds.part(name, {}, h("summary", { "data-key": `fold-${name}` }, title), ...content);
  }

  #steps({ steps, seam }, say, words) {
    if (!steps.length) return null;
    return this.#part(
      "steps",
      say("steps_title"),
      h(
        "ol",
        { class: "steps" },
        steps.map((step) =>
          h(
            "li",
            {},
            stepPicture(step, seam, say("step_drawn", { n: step.pieces.length })),
            h("span", {}, words.say(`quilt.step.${step.code}`)),
          ),
        ),
      ),
    );
  }

  #rows(found, say) {
    if (!found.length) return null;
    const n = found.reduce((sum, row) => sum + row.rows, 0);
    return this.#part(
      "rows",
      say("rows_title", { n }),
      h(
        "ul",
        { class: "facts" },
        found.map((row) => h("li", {}, say("row", { ...row, n: row.rows, pieces: say("pieces", { n: row.pieces }) }))),
      ),
    );
  }

  #layout({ answer, fabrics, colourOf, sewn, words }, say) {
    const { letters, rows, read } = answer.sewing.layout;
    return this.#part(
      "layout",
      say("layout_title"),
      h("p", { class: "soft" }, words.say(`quilt.layout.${read}`)),
      h(
        "ul",
        { class: "letters" },
        letters.map(({ letter, fabric }) =>
          h(
            "li",
            {},
            fabricMark(colourOf(answer.fabrics[fabric].id), runsOneWay(answer.fabrics[fabric].id, fabrics)),
            say("layout_letter", { letter, name: fabricName(answer.fabrics[fabric].id, fabrics, words) }),
          ),
        ),
      ),
      this.#count(Math.min(sewn, rows.length), rows.length, say),
      h(
        "ol",
        { class: "layout-rows" },
        rows.map(({ row, letters: told }) =>
          h(
            "li",
            { class: row <= sewn ? "done" : row === sewn + 1 ? "upcoming" : null },
            h("b", {}, say(row <= sewn ? "layout_row_sewn" : "layout_row", { row })),
            h("span", {}, told.join(" ")),
          ),
        ),
      ),
    );
  }

  /** Counting the rows that are sewn, one tap a row, from the first to the last. */
  #count(sewn, all, say) {
    const to = (rows, key, text, kind) =>
      h("button", { type: "button", class: kind, "data-key": key, onclick: () => emit(this, "sewn", rows) }, text);
    return h(
      "div",
      { class: "row rows-sewn no-print" },
      h("p", { role: "status" }, say("rows_sewn", { sewn, n: all })),
      sewn < all && to(sewn + 1, "row-sewn", say("row_sewn", { row: sewn + 1 }), "button"),
      sewn > 0 && to(sewn - 1, "row-unsewn", say("row_undo", { row: sewn }), "button plain"),
    );
  }

  #seamTest({ answer, state, errors, tested, words }, say) {
    return this.#part(
      "seam-test",
      say("seam_test_title"),
      h("p", {}, say("seam_test_how", answer.sewing.seam_test)),
      lengthField({
        name: "seam_test.measured",
        label: say("seam_test_measured"),
        text: state.seam_test.measured,
        error: errors["seam_test.measured"],
        placeholder: words.say(`page.placeholder_${words.units}`),
      }),
      tested &&
        h(
          "div",
          { role: "status" },
          h("p", {}, h("b", {}, words.say(`quilt.seam_test.${tested.verdict}`, tested))),
          h("p", {}, say("seam_test_would_be", wouldBe(tested))),
        ),
    );
  }
}

function wouldBe({ would_be: found, planned }) {
  return { ...found, planned_width: planned.width, planned_height: planned.height };
}

/** What is to be known when sewing: [sentence, whether it is a warning]. */
function facts({ sewing: known, cautions, binding }, words) {
  const say = (code, values) => words.say(`quilt_screen.${code}`, values);
  const bias = Object.entries(known.bias).map(([kind, code]) => [
    say("bias", { kind: kindName(kind, words), edges: words.say(`quilt.bias.${code}`) }),
    false,
  ]);
  return [
    ...known.before.map((code) => [words.say(`quilt.before.${code}`), false]),
    ...cautions.map((code) => [words.say(`quilt.caution.${code}`, { ...binding, seam: known.seam }), true]),
    [words.say(`quilt.assembly.${known.assembly}`), false],
    [words.say(`quilt.press.${known.press}`), false],
    known.tip_offset !== null && [say("tip_offset", known), false],
    known.tip_trim !== null && [say("tip_trim", known), false],
    [words.say(`quilt.outer_edge.${known.outer_edge}`), known.outer_edge === "bias"],
    known.edge_leans?.wrong_side_up > 0 && [
      say("edge_leans", { ...known.edge_leans, n: known.edge_leans.diamonds }),
      false,
    ],
    ...bias,
  ].filter(Boolean);
}

customElements.define("sewing-list", SewingList);
