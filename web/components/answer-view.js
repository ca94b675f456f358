// The answer to "how many do I get?" in words: what is to be known of the way that is looked at, and the number itself
// with what it rests on.

import { emit, h, keepFocus, refill } from "../lib/page/dom.js";
import { ONE_WAY } from "../lib/words/cloth-ways.js";

/**
 * Shows an `answer` of the ask `cloth` for so many `cloths` of a `kind`, with the `way` that is looked at, or `trouble`
 * in the number's place. Emits `start`.
 */
export class AnswerView extends HTMLElement {
  /** Pales the number that stands there, as it waits for a newer one; whether there is one. */
  wait() {
    const place = this.#place();
    for (const part of [place, this.querySelector(".facts")]) part?.classList.add("stale");
    return Boolean(place);
  }

  #place() {
    return this.querySelector(".figure")?.closest(".go") ?? null;
  }

  /** Puts a newer number in the place of the one that stands there, ahead of all the rest; whether there is such a place. */
  tell({ answer, way, cloths, kind, words }) {
    const go = answer && this.#place();
    if (!go) return false;
    const n = answer[way].pieces * cloths;
    const [number, from] = go.querySelector(".figure").children;
    number.textContent = String(n);
    from.textContent = fromWhat(n, cloths, kind, words);
    go.classList.add("told");
    return true;
  }

  show(shown) {
    keepFocus(this, () => this.#fill(shown)); // the way on from `trouble` is put into new surroundings
  }

  #fill({ answer, way, cloths, kind, waiting, starting, trouble, words }) {
    if (!answer && trouble) return refill(this, inBar(trouble));
    if (!answer)
      return refill(
        this,
        h("p", { class: "soft", role: "status" }, words.say(waiting ? "page.waiting" : "page.unanswered")),
      );
    refill(
      this,
      h(
        "ul",
        { class: waiting ? "card facts stale" : "card facts" },
        facts(answer, way, cloths, words).map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text)),
      ),
      trouble ? inBar(trouble) : this.#result(answer, way, { cloths, kind, waiting, starting, words }),
    );
  }

  /** The number itself with what it rests on, in sight wherever the page is scrolled, and the way on to the mat. */
  #result(answer, way, { cloths, kind, waiting, starting, words }) {
    const shown = answer[way];
    const n = shown.pieces * cloths;
    const from = fromWhat(n, cloths, kind, words);
    return h(
      "div",
      { class: waiting ? "go stale" : "go" },
      h("p", { class: "figure", role: "status" }, h("b", {}, String(n)), h("span", {}, from)),
      shown.pieces > 0 &&
        shown.layout.drawn &&
        h(
          "button",
          {
            type: "button",
            class: "button main",
            "data-key": "start",
            disabled: starting,
            onclick: () => emit(this, "start"),
          },
          words.say(starting ? "page.starting" : "page.start"),
        ),
      shown.pieces > 0 && h("p", { class: "rests" }, restsOn(answer, way, cloths, words)),
    );
  }
}

function inBar(trouble) {
  return h("div", { class: "go broken" }, trouble);
}

/**
 * What the number rests on: a side that is all needed or nearly, and what there is for sure when
 * the cloth turns out smaller.
 */
function restsOn(answer, way, cloths, words) {
  const { pieces, margin, if_smaller: smaller, rests_on: sides, keeps } = answer[way];
  if (way === "sure") return words.say("page.rests.sure", { keeps });
  const { by, pieces: sure } = smaller.at(-1);
  if (sure === pieces) return words.say("page.rests.nothing", { by });
  if (sides.length !== 1) return words.say("page.rests.both", { sure: sure * cloths, by });
  const [side] = sides;
  return words.say(margin[side] > 1 / 32 ? "page.rests.spare" : "page.rests.all", {
    side: answer.cloth[side],
    spare: margin[side],
    sure: sure * cloths,
    by,
  });
}

function facts(answer, way, cloths, words) {
  const shown = answer[way];
  const one = ONE_WAY[shown.way] ? answer[shown.way] : null;
  return [
    ...(shown.pieces ? [] : reasons(answer, way, words)),
    ...(shown.pieces && cloths > 1 ? [[words.say("page.each", { n: shown.pieces }), false]] : []),
    ...(one?.pieces ? stripFacts(one, words) : shown.pieces ? mixFacts(answer.cloth, shown, words) : []),
    ...(answer.cloth.one_way && shown.pieces ? printFacts(shown, words) : []),
    ...wasteFacts(shown, words),
    ...(one?.pieces ? [foldFact(one, words)] : []),
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
  return [
    ...alikeFacts(one, words),
    [
      words.say(one.tight.includes("piece") ? "page.tight_piece" : "page.needs", {
        n: one.per_strip,
        needed: one.needed_length,
        spare: one.spare,
      }),
      one.tight.includes("piece"),
    ],
    ...(one.tight.includes("strip")
      ? [
          [
            words.say(one.strip_spare > 1 / 32 ? "page.tight_strip" : "page.tight_strip_none", {
              spare: one.strip_spare,
            }),
            true,
          ],
        ]
      : []),
    [words.say("page.short_of", { short: one.short_by }), false],
  ];
}

function alikeFacts({ strips: n, per_strip: per, grain }, words) {
  return [
    [words.say("page.strips", { n, per }), false],
    [words.say(`page.grain.${grain}`), false],
  ];
}

/** Of a way that is none of the two: its division, or its strips where all of them run one way. */
function mixFacts(cloth, shown, words) {
  if (shown.strips) return alikeFacts(shown, words);
  const {
    layout: { division, strips },
  } = shown;
  const ways = ["length", "width"].map((along) => strips.filter((strip) => strip.along === along).length);
  return [
    [words.say("page.mix", { at: division.at, side: cloth[division.along], first: ways[0], second: ways[1] }), false],
    ...(shown.grain_mixed ? [[words.say("page.grain.mixed"), true]] : []),
  ];
}

/** How a print that runs one way lies in the pieces. */
function printFacts({ head_down: n, grain_mixed: mixed }, words) {
  return [
    [words.say(n ? "page.print.head_down" : "page.print.all_stand", { n }), n > 0],
    ...(mixed ? [[words.say("page.print.mixed"), true]] : []),
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
  return [
    words.say(lost > 0 ? "page.fold_loses" : "page.fold_same", {
      n: lost,
      folded: one.folded.pieces,
      flat: one.pieces,
    }),
    false,
  ];
}

function fromWhat(n, cloths, kind, words) {
  if (cloths === 1) return words.say("page.pieces_from", { n });
  return words.say("page.pieces_from_all", { n, cloths: words.say(`cloth.${kind}.several`, { n: cloths }) });
}

customElements.define("answer-view", AnswerView);
