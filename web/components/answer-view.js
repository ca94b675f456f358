// The answer to "how many do I get?": three ways to cut, each with its number, drawing and what is to be known of it.

import { emit, h, refill } from "../lib/dom.js";
import { clothDrawing } from "../lib/drawing.js";
import { chips } from "./chips.js";

const ONE_WAY = { along_length: "length", along_width: "width" };

/** Shows an `answer` of the ask `cloth` with the `way` that is looked at. Emits `way` and `start`. */
export class AnswerView extends HTMLElement {
  show({ answer, way, waiting, starting, words }) {
    if (!answer) return refill(this, h("p", { class: "soft", role: "status" }, words.say(waiting ? "page.waiting" : "page.unanswered")));
    const shown = answer[way];
    refill(
      this,
      h("div", { class: waiting ? "card stale" : "card" },
        this.#ways(answer, way, words),
        shown.layout.drawn
          ? clothDrawing(answer.cloth, shown.layout, words, words.say("page.layout_drawn", { n: shown.pieces, strips: shown.layout.strips.length }))
          : h("p", { class: "soft" }, words.say("page.not_drawn")),
        h("ul", { class: "facts" }, facts(answer, way, words).map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text))),
      ),
      this.#result(shown, waiting, starting, words),
    );
  }

  /** The number itself, in sight wherever the page is scrolled, and the way on to the mat. */
  #result(shown, waiting, starting, words) {
    return h("div", { class: waiting ? "go stale" : "go" },
      h("p", { class: "figure", role: "status" }, h("b", {}, String(shown.pieces)), h("span", {}, words.say("page.pieces_from", { n: shown.pieces }))),
      shown.pieces > 0 && shown.layout.drawn &&
        h("button", { type: "button", class: "button main", "data-key": "start", disabled: starting, onclick: () => emit(this, "start") },
          words.say(starting ? "page.starting" : "page.start")));
  }

  #ways(answer, way, words) {
    const choices = ["along_length", "along_width", "best"].map((name) => [name, wayContent(answer, name, words)]);
    return chips(words.say("page.ways"), choices, way, "way", "ways");
  }
}

function wayContent(answer, name, words) {
  const side = ONE_WAY[name] && answer.cloth[ONE_WAY[name]];
  const label = side ? words.say("page.way_one", { side }) : words.say(answer.best.way === "mixed" ? "page.way_mixed" : "page.way_no_mix");
  return [h("b", {}, String(answer[name].pieces)), h("span", {}, label)];
}

function facts(answer, way, words) {
  const one = answer[way === "best" && answer.best.way !== "mixed" ? answer.best.way : way];
  const shown = answer[way];
  return [
    ...(shown.pieces ? [] : reasons(answer, way, words)),
    ...(one.pieces && "per_strip" in one ? stripFacts(one, words) : []),
    ...(way === "best" && answer.best.way === "mixed" ? mixFacts(answer, words) : []),
    ...wasteFacts(shown, words),
    ...(one.pieces && one.folded ? [foldFact(one, words)] : []),
  ];
}

/** Why there are none: this way, or each way where the best of both is asked for. */
function reasons(answer, way, words) {
  const ways = way in ONE_WAY ? [way] : Object.keys(ONE_WAY);
  return ways.map((name) => {
    const { reason, short_by: short, strip_short_by: narrow } = answer[name];
    return [words.say(`page.reason.${reason}`, { side: answer.cloth[ONE_WAY[name]], short, narrow }), true];
  });
}

function stripFacts(one, words) {
  const number = one.per_strip + 1;
  return [
    [words.say("page.strips", { n: one.strips, per: one.per_strip }), false],
    [words.say(`page.grain.${one.grain}`), false],
    [words.say(one.tight.includes("piece") ? "page.tight_piece" : "page.needs", { n: one.per_strip, needed: one.needed_length, spare: one.spare }), one.tight.includes("piece")],
    ...(one.tight.includes("strip") ? [[words.say(one.strip_spare > 1 / 32 ? "page.tight_strip" : "page.tight_strip_none", { spare: one.strip_spare }), true]] : []),
    [words.say("page.short_of", { short: one.short_by, number }), false],
  ];
}

function mixFacts(answer, words) {
  const { division, strips } = answer.best.layout;
  const ways = ["length", "width"].map((along) => strips.filter((strip) => strip.along === along).length);
  return [
    [words.say("page.mix", { at: division?.at ?? 0, side: answer.cloth[division?.along ?? "length"], first: ways[0], second: ways[1] }), false],
    ...(answer.best.grain_mixed ? [[words.say("page.grain.mixed"), true]] : []),
  ];
}

function wasteFacts(shown, words) {
  return [
    [words.say("page.used", { used: shown.used_share, wasted: 1 - shown.used_share }), false],
    ...shown.left_whole.map(([length, width]) => [words.say("page.left_whole", { length, width }), false]),
  ];
}

function foldFact(one, words) {
  const lost = one.pieces - one.folded.pieces;
  return [words.say(lost > 0 ? "page.fold_loses" : "page.fold_same", { n: lost, folded: one.folded.pieces, flat: one.pieces }), false];
}

customElements.define("answer-view", AnswerView);
