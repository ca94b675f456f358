// What to buy of each fabric, what it is cut into, and what another width of cloth would change.

import { emit, h, refill } from "../lib/page/dom.js";
import { countedPieces, fabricName, pieceName } from "../lib/words/cut-words.js";
import { offTheBolt } from "../lib/words/off-the-bolt.js";
import { buyingTotal, money } from "./buying-total.js";
import { chips } from "./chips.js";
import { fabricMark, runsOneWay } from "./fabric-mark.js";
import { Folds } from "./fold-open.js";
import { lengthField, plainField } from "./length-field.js";
import { soldIds } from "../lib/quilt/quilt-request.js";
import { saleOf } from "../lib/quilt/quilt-state.js";

const SHOWN = 0.01; // inches: a smaller change of what is bought is none

/** Shows the core's `answer` of the ask `buying`, and how fabrics can be sold, as is `offered`. Emits `put` {path, value}. */
export class BuyingList extends HTMLElement {
  #folds = new Folds();

  constructor() {
    super();
    this.addEventListener("typed", ({ detail }) =>
      emit(this, "put", { path: detail.name.split("."), value: detail.text }),
    );
    this.addEventListener("sold", ({ detail }) => emit(this, "put", { path: detail.path, value: detail.value }));
  }

  show(shown) {
    const { answer, words } = shown;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    if (!answer) return refill(this, h("p", { class: "soft", role: "status" }, say("buying_waiting")));
    const lines = answer.fabrics.filter(({ reason }) => reason !== "nothing_needed");
    refill(
      this,
      h(
        "ul",
        { class: "list" },
        lines.map((line) => this.#line(line, shown, say)),
        answer.batting && this.#batting(answer.batting, shown),
      ),
      buyingTotal(answer, shown.state, words),
    );
  }

  #line(line, shown, say) {
    const { state, colourOf, words } = shown;
    return h(
      "li",
      { class: "card buying-line" },
      h(
        "div",
        { class: "row" },
        h(
          "h3",
          {},
          fabricMark(colourOf(line.id), runsOneWay(line.id, state.fabrics)),
          fabricName(line.id, state.fabrics, words),
        ),
        h("b", { class: "amount" }, amount(line, state.buying.round_to, words)),
      ),
      line.cannot.map((one) =>
        h(
          "p",
          { class: "error" },
          say("cannot", { what: pieceName(one.id, words), why: words.say(`buying.cannot.${one.reason}`) }),
        ),
      ),
      h(
        "ul",
        { class: "facts" },
        facts(line, state.buying, words).map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text)),
      ),
      this.#settings(line, shown, say),
    );
  }

  /** How a fabric is sold, its price and its width; nothing where that is settled elsewhere. */
  #settings(line, { state, offered, errors, words, settled }, say) {
    if (settled) return null;
    const { sale, path } = saleOf(state, line.id);
    const name = fabricName(line.id, state.fabrics, words);
    const choices = offered.sold.map((way) => [
      { path: [...path, "sold"], value: way },
      words.say(`buying.sold.${way}`),
      `${name}: ${words.say(`buying.sold.${way}`)}`,
    ]);
    const taken = choices.find(([{ value }]) => value === sale.sold)[0];
    const by = say(`price_by.${sale.sold === "fat_quarter" ? "fat_quarter" : state.buying.price_by}`);
    const at = `fabrics[${soldIds(state).indexOf(line.id)}]`;
    const error = errors[`${at}.price`];
    // The width of the backing's fabric is read with the quilt first.
    const isBacking = line.id === (state.backing.fabric || "backing");
    const narrow = errors[`${at}.usable_width`] ?? (isBacking && sale.usable_width && errors["backing.usable_width"]);
    return this.#folds.fold(
      `sale-${line.id}`,
      say("sale"),
      Boolean(error || narrow),
      chips(words.say("join.labeled", { label: name, what: say("sold_as") }), choices, taken, "sold"),
      plainField({
        name: [...path, "price"].join("."),
        label: priceLabel(by, state.buying.money, words),
        text: sale.price,
        error,
      }),
      sale.sold === "bolt" &&
        lengthField({
          name: [...path, "usable_width"].join("."),
          label: words.say("buying.own_width"),
          text: sale.usable_width,
          placeholder: state.buying.usable_width,
          hint: words.say("buying.own_width_hint"),
          error: narrow,
        }),
    );
  }

  /** The batting, which is bought by its size. */
  #batting({ width, height, price }, { state, errors, words, settled }) {
    const { batting_price: text } = state;
    const error = errors.batting_price;
    return h(
      "li",
      { class: "card buying-line" },
      h(
        "div",
        { class: "row" },
        h("h3", {}, words.say("quilt_screen.batting")),
        h("b", { class: "amount" }, words.say("buying.batting_size", { width, height })),
      ),
      (price ?? null) !== null &&
        h(
          "ul",
          { class: "facts" },
          h("li", {}, words.say("quilt_screen.price_line", { price: money(price, state.buying.money, words) })),
        ),
      !settled &&
        this.#folds.fold(
          "sale-batting",
          words.say("buying.batting_sale"),
          Boolean(error),
          plainField({
            name: "batting_price",
            label: priceLabel(words.say("buying.batting_piece"), state.buying.money, words),
            text,
            error,
          }),
        ),
    );
  }
}

function priceLabel(by, sign, words) {
  const label = words.say("quilt_screen.price_each", { by });
  return sign.trim() ? words.say("buying.price_in", { label, money: sign.trim() }) : label;
}

/** What is bought, as the shop counts it. */
function amount(line, roundTo, words) {
  if (line.sold === "fat_quarter" ? !line.fat_quarters.count : line.reason === "cannot") return "–";
  return line.sold === "fat_quarter"
    ? words.say("quilt_screen.fat_quarters", { n: line.fat_quarters.count })
    : offTheBolt(line.buy, roundTo, words);
}

function facts(line, { round_to: roundTo, money: sign }, words) {
  return [
    ...(line.sold === "fat_quarter" ? quarterFacts(line, words) : boltFacts(line, roundTo, words)),
    ...priceFacts(line, sign, words),
  ];
}

function quarterFacts({ fat_quarters: { count, length, squared = length, width, cannot } }, words) {
  return [
    ...(count
      ? [
          [
            words.say(squared < length ? "buying.quarters_squared" : "buying.quarters_whole", {
              length: squared,
              width,
            }),
            false,
          ],
        ]
      : []),
    ...(cannot.length ? [[words.say("quilt_screen.quarters_cannot", { what: names(cannot, words) }), true]] : []),
  ];
}

function boltFacts(line, roundTo, words) {
  const say = (code, values) => words.say(`quilt_screen.${code}`, values);
  const quarters = line.fat_quarters;
  return [
    ...line.strips.map((strips) => [
      say(strips.joined ? "strips_joined" : "strips_cut", {
        n: strips.times,
        size: strips.size,
        gives: gives(strips, line.each, words),
      }),
      false,
    ]),
    ...line.lengths.map(({ id, length, times }) => [
      say("full_length", { n: times, length, what: pieceName(id, words) }),
      false,
    ]),
    ...(line.needed ? [[say("needed", { needed: line.needed, over: line.over }), false]] : []),
    ...otherWidths(line, roundTo, words),
    ...(quarters.count && !quarters.cannot.length ? [[say("or_quarters", { n: quarters.count }), false]] : []),
  ];
}

/** What it costs as it is sold, and what that price leaves out. */
function priceFacts(line, sign, words) {
  if (line.price === null) return [];
  const { cannot } = line.sold === "fat_quarter" ? line.fat_quarters : line;
  const price = money(line.price, sign, words);
  return [
    cannot.length
      ? [words.say("buying.price_without", { price }), true]
      : [words.say("quilt_screen.price_line", { price }), false],
  ];
}

function names(ids, words) {
  return words.list(
    ids.map((id) => pieceName(id, words)),
    "names",
  );
}

function otherWidths({ other_widths: others, usable_width: usable }, roundTo, words) {
  const changed = others.filter(({ changes_by: change, cannot }) => cannot.length || Math.abs(change) > SHOWN);
  if (!changed.length) return [[words.say("quilt_screen.width_same", { less: usable - 1, more: usable + 1 }), false]];
  return changed.map((other) => [widthChange(other, roundTo, words), other.usable_width < usable]);
}

function widthChange({ usable_width: width, changes_by: change, cannot }, roundTo, words) {
  if (cannot.length) return words.say("quilt_screen.width_cannot", { width, what: names(cannot, words) });
  return words.say(change > 0 ? "quilt_screen.width_more" : "quilt_screen.width_less", {
    width,
    by: offTheBolt(Math.abs(change), roundTo, words),
  });
}

function gives({ gives: found }, each, words) {
  return words.list(Object.entries(found).map(([id, count]) => countedPieces(id, count, each?.[id], words)));
}

customElements.define("buying-list", BuyingList);
