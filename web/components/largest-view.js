// The largest quilt that a basket gives: drawn, told, with what stays over and what one size more would take.

import { countedPieces, kindName, pieceName } from "../lib/words/cut-words.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { offTheBolt } from "../lib/words/off-the-bolt.js";
import { Folds } from "./fold-open.js";

/**
 * Shows the core's `found` of the ask `largest`; `picture` is the canvas that it is drawn on. `fabricOf` names a fabric
 * by its id. Emits `use-size` {columns, rows} and `size-back`.
 */
export class LargestView extends HTMLElement {
  #folds = new Folds();

  show({ found, picture, used, stale, roundTo, fabricOf, words }) {
    const say = (code, values) => words.say(`largest.${code}`, values);
    const shown = { say, words, fabricOf, roundTo };
    this.classList.toggle("stale", stale);
    refill(this, found.sure ? this.#sure(found, { picture, used, stale }, shown) : this.#none(found, shown));
  }

  #sure(found, { picture, used, stale }, shown) {
    const { sure } = found;
    const { say, words } = shown;
    return [
      h(
        "div",
        { class: "card largest" },
        h(
          "div",
          { class: "largest-head" },
          picture,
          h(
            "div",
            {},
            h(
              "p",
              { class: "largest-size" },
              h("b", {}, `${words.bare(sure.finished.width)} ×`),
              " ",
              h("b", {}, words.length(sure.finished.height)),
            ),
            h("p", {}, say("steps", { ...sure, n: sure.pieces })),
            sure.than_at_hand !== null &&
              !used &&
              h("p", { class: "soft small" }, say(`than.${["smaller", "same", "larger"][sure.than_at_hand + 1]}`)),
          ),
        ),
        h(
          "p",
          { class: "largest-kinds" },
          Object.entries(sure.kinds)
            .sort(([, one], [, other]) => other - one)
            .map(([kind, n]) => h("span", {}, countedPieces(kind, n, 1, words))),
        ),
        h(
          "ul",
          { class: "facts" },
          facts(found, shown).map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text)),
        ),
        this.#over(sure.plan, shown),
        used
          ? h(
              "button",
              {
                type: "button",
                class: "button plain",
                "data-key": "size-back",
                onclick: () => emit(this, "size-back"),
              },
              say("back"),
            )
          : sure.than_at_hand !== 0 &&
              !stale &&
              h(
                "button",
                {
                  type: "button",
                  class: "button",
                  "data-key": "use-size",
                  onclick: () => emit(this, "use-size", sure),
                },
                say("use"),
              ),
      ),
      found.next && h("div", { class: "card" }, h("h3", {}, say("next")), this.#next(found.next, "next_size", shown)),
    ];
  }

  #none(found, shown) {
    const { say } = shown;
    return [
      h(
        "div",
        { class: "card" },
        h("p", { class: "error", role: "alert" }, say("none")),
        h(
          "ul",
          { class: "facts" },
          found.unmet.map((line) => h("li", { class: "warn" }, unmet(line, shown))),
        ),
        found.next && this.#next(found.next, "first_size", shown),
      ),
    ];
  }

  /** What stays over in a line, and cloth by cloth where one opens it. */
  #over({ left_whole: left }, { say, words }) {
    if (!left.length) return h("p", { class: "soft" }, say("over_nothing"));
    const uncut = left.filter(({ opened }) => !opened);
    const rests = left
      .filter(({ opened }) => opened)
      .sort((one, other) => other.length * other.width - one.length * one.width);
    const many = (lines) => lines.reduce((sum, { count }) => sum + count, 0);
    const told = [
      uncut.length && say("over_whole", { n: many(uncut) }),
      rests.length && say("over_rests", { ...rests[0], n: many(rests) }),
    ].filter(Boolean);
    return this.#folds.part(
      "over",
      { class: "largest-over" },
      h(
        "summary",
        { "data-key": "fold-over" },
        h("span", {}, words.say("join.labeled", { label: say("over"), what: words.list(told, "names") })),
      ),
      h(
        "ul",
        { class: "list" },
        uncut.map(({ cloth, count }) => h("li", {}, say("uncut_line", { n: count, cloth }))),
        rests.map(({ cloth, length, width, count }) =>
          h("li", {}, say("over_line", { n: count, cloth, length, width })),
        ),
      ),
    );
  }

  #next(next, code, shown) {
    const { say, words } = shown;
    const values = { ...next, size: `${words.bare(next.finished.width)} × ${words.length(next.finished.height)}` };
    if (!next.buy.length && !next.cannot.length) return [h("p", {}, say("next_enough", values))];
    return [
      next.buy.length > 0 && h("p", {}, say(code, values)),
      next.buy.length > 0 &&
        h(
          "ul",
          { class: "facts largest-buy" },
          next.buy.map((line) => h("li", {}, bought(line, shown))),
        ),
      next.buy.length > 0 && !next.least && h("p", { class: "soft small" }, say("not_least")),
      next.cannot.length > 0 && h("p", { class: "error" }, say("cannot")),
      next.cannot.length > 0 &&
        h(
          "ul",
          { class: "facts" },
          next.cannot.map((line) =>
            h(
              "li",
              {},
              words.say("join.with_fabric", { name: pieceName(line.id, words), fabric: shown.fabricOf(line.fabric) }),
            ),
          ),
        ),
    ];
  }
}

function facts({ sure, larger_ruled_out: ruledOut, last, undecided, could_be: could, recolored }, { say, words }) {
  const notCut = words.list(sure.not_cut.map((id) => pieceName(id, words)));
  return [
    [notCut ? say("sure_but", { what: notCut }) : say("sure"), false],
    ...(ruledOut
      ? [[say("ruled_out"), false]]
      : could
        ? [[say("undecided", { n: undecided, ...could.finished }), true]]
        : []),
    ...(last ? [[say("last"), false]] : []),
    ...(recolored ? [[say("recolored"), false]] : []),
  ];
}

function unmet({ id, fabric, reason, ...values }, { words, fabricOf }) {
  const what = words.has(`quilt.kind.${id.split("/")[0]}`) ? kindName(id.split("/")[0], words) : pieceName(id, words);
  return words.say(`plan.unmet.${reason}`, { ...values, what: `${what}, ${fabricOf(fabric)}` });
}

/** What to buy of one fabric: the smallest first, and instead of it what else is sold. */
function bought(line, { say, words, fabricOf, roundTo }) {
  const amount = ({ sold, count, length, width }) =>
    sold === "length"
      ? say("off_the_bolt", { amount: offTheBolt(length, roundTo, words), width })
      : words.say(sold === "fat_quarter" ? "quilt_screen.fat_quarters" : `largest.${sold}`, { n: count, size: length });
  const values = { fabric: fabricOf(line.fabric), amount: amount(line) };
  if (!line.instead.length) return say("buy", values);
  return say("buy_instead", { ...values, others: line.instead.map(amount).join(say("or")) });
}

customElements.define("largest-view", LargestView);
