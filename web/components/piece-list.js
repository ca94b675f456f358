// The list of pieces by fabric and kind, with how each is cut, and what is to be known when sewing.

import { cutSentence, fabricName, kindName } from "../lib/words/cut-words.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { fabricMark } from "./fabric-mark.js";
import { Folds } from "./fold-open.js";

/** Shows the core's `answer` of the ask `quilt`. Emits `steps` {columns, rows} when a size near it is tapped. */
export class PieceList extends HTMLElement {
  #folds = new Folds();

  show({ answer, fabrics, colourOf, words }) {
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    const ids = [...new Set(answer.cut.map(({ fabric }) => fabric))];
    refill(
      this,
      h(
        "section",
        { class: "section" },
        h("h2", {}, say("pieces_title")),
        h(
          "div",
          { class: "card" },
          ids.map((id) =>
            h(
              "div",
              { class: "by-fabric" },
              h("h3", {}, fabricMark(colourOf(id)), fabricName(id, fabrics, words)),
              h(
                "ul",
                { class: "pieces" },
                answer.cut.filter(({ fabric }) => fabric === id).map((entry) => piece(entry, words)),
              ),
            ),
          ),
          this.#extras(answer, fabrics, say, words),
        ),
      ),
      this.#near(answer, say, words),
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
            sewing(answer, words).map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text)),
          ),
          rows(answer.sewing.rows, this.#folds, say),
        ),
      ),
    );
  }

  #extras({ pieces, binding, backing, batting, trim_to: trim, top }, fabrics, say, words) {
    const of = (id) =>
      fabrics.some((fabric) => fabric.id === id) ? say("of_fabric", { fabric: fabricName(id, fabrics, words) }) : "";
    const facts = [
      trim && say("trim_to", trim),
      !top && pieces.border_side > 0 && say("top_first"),
      top && say("top_told", { ...top, planned_width: top.planned.width, planned_height: top.planned.height }),
      binding &&
        say(`binding_${binding.grain}`, {
          ...binding,
          of: of(binding.fabric),
          join: words.say(`quilt.binding_join.${binding.join}`),
          n: binding.strips ?? 0,
        }),
      backing &&
        say("backing_told", {
          ...backing,
          n: backing.panels,
          run: words.say(`quilt.backing_run.${backing.run}`),
          of: of(backing.fabric),
        }),
      batting && say("batting_told", batting),
    ].filter(Boolean);
    return (
      facts.length > 0 &&
      h(
        "ul",
        { class: "facts" },
        facts.map((text) => h("li", {}, text)),
      )
    );
  }

  #near({ could_be: others }, say, words) {
    if (!others.length) return null;
    const chip = ({ columns, rows, diamonds, finished }) =>
      h(
        "button",
        {
          type: "button",
          class: "chip near",
          "data-key": `near-${columns}-${rows}`,
          onclick: () => emit(this, "steps", { columns, rows }),
        },
        h("b", {}, say("near_steps", { columns, rows })),
        h("span", {}, say("near_size", { n: diamonds, width: words.bare(finished.width), height: finished.height })),
      );
    return h(
      "section",
      { class: "section no-print" },
      h("h2", {}, say("near_title")),
      h("div", { class: "chips" }, others.map(chip)),
    );
  }
}

function piece(entry, words) {
  return h(
    "li",
    {},
    h("b", { class: "number" }, String(entry.count)),
    h("span", {}, h("b", {}, kindName(entry.kind, words)), h("span", { class: "soft" }, cutSentence(entry, words))),
  );
}

/** What is to be known when sewing: [sentence, whether it is a warning]. */
function sewing({ sewing: facts, cautions, binding }, words) {
  const say = (code, values) => words.say(`quilt_screen.${code}`, values);
  const bias = Object.entries(facts.bias).map(([kind, code]) => [
    say("bias", { kind: kindName(kind, words), edges: words.say(`quilt.bias.${code}`) }),
    false,
  ]);
  return [
    ...cautions.map((code) => [words.say(`quilt.caution.${code}`, { ...binding, seam: facts.seam }), true]),
    [words.say(`quilt.assembly.${facts.assembly}`), false],
    [words.say(`quilt.press.${facts.press}`), false],
    facts.tip_offset !== null && [say("tip_offset", facts), false],
    facts.tip_trim !== null && [say("tip_trim", facts), false],
    [words.say(`quilt.outer_edge.${facts.outer_edge}`), facts.outer_edge === "bias"],
    facts.edge_leans?.wrong_side_up > 0 && [
      say("edge_leans", { ...facts.edge_leans, n: facts.edge_leans.diamonds }),
      false,
    ],
    ...bias,
  ].filter(Boolean);
}

function rows(found, folds, say) {
  if (!found.length) return null;
  return folds.part(
    "rows",
    {},
    h("summary", { "data-key": "fold-rows" }, say("rows_title", { n: found.reduce((sum, row) => sum + row.rows, 0) })),
    h(
      "ul",
      { class: "facts" },
      found.map((row) => h("li", {}, say("row", { ...row, n: row.rows, pieces: say("pieces", { n: row.pieces }) }))),
    ),
  );
}

customElements.define("piece-list", PieceList);
