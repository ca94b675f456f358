// What the buying list costs together, and what is left out of that sum.

import { h } from "../lib/page/dom.js";
import { fabricName, pieceName } from "../lib/words/cut-words.js";

const WAYS = ["bolt", "fat_quarter"];

/** The sum of the core's `answer` of the ask `buying`, with what it leaves out; nothing where nothing has a price. */
export function buyingTotal({ price, totals, batting }, { fabrics, buying }, words) {
  if (price === null || !totals) return null; // an answer kept by an older page says no more than its sum
  const say = (code, values) => words.say(`buying.total.${code}`, values);
  const left = leftOut(totals, batting, fabrics, words, say);
  const sign = buying.money;
  const code = left.length ? "some" : "all";
  return h(
    "div",
    { class: "buying-total" },
    h("p", { class: "total" }, say(code, { price: money(price, sign, words) })),
    h(
      "ul",
      { class: "facts" },
      [...apart(totals, sign, words, say), ...left].map(([text, warn]) =>
        h("li", { class: warn ? "warn" : null }, text),
      ),
    ),
  );
}

/** An amount of money in what the user calls it: a sign goes before it, a word after it; as it is where nothing was typed. */
export function money(number, sign, words) {
  const amount = number.toLocaleString(words.locale, { minimumFractionDigits: 2, maximumFractionDigits: 2 });
  const name = sign.trim();
  if (!name) return amount;
  return /\p{L}/u.test(name) ? `${amount}\u00a0${name}` : `${name}${amount}`;
}

/** The two ways of buying, each with its own sum, where both have one. */
function apart(totals, sign, words, say) {
  if (WAYS.some((way) => totals[way].price === null)) return [];
  return WAYS.map((way) => [say(way, { price: money(totals[way].price, sign, words) }), false]);
}

function leftOut(totals, batting, fabrics, words, say) {
  const unpriced = WAYS.flatMap((way) => totals[way].unpriced).map((id) => fabricName(id, fabrics, words));
  if (batting && (batting.price ?? null) === null) unpriced.push(words.say("quilt_screen.batting"));
  const cannot = WAYS.flatMap((way) =>
    totals[way].cannot.map(({ fabric, pieces }) => [
      say(`not_${way}`, {
        fabric: fabricName(fabric, fabrics, words),
        what: words.list(
          pieces.map((id) => pieceName(id, words)),
          "names",
        ),
      }),
      true,
    ]),
  );
  return [
    ...(unpriced.length ? [[say("unpriced", { n: unpriced.length, what: words.list(unpriced) }), true]] : []),
    ...cannot,
  ];
}
