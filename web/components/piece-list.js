// The list of pieces by fabric and kind, with how each is cut.

import { cutSentence, fabricName, kindName } from "../lib/words/cut-words.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { fabricMark, runsOneWay } from "./fabric-mark.js";

/** Shows the core's `answer` of the ask `quilt`. Emits `steps` {columns, rows} when a size near it is tapped. */
export class PieceList extends HTMLElement {
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
              h("h3", {}, fabricMark(colourOf(id), runsOneWay(id, fabrics)), fabricName(id, fabrics, words)),
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

customElements.define("piece-list", PieceList);
