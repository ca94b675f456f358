// Kits for a class: three ways to cut the bolt for so many people, fabric by fabric.

import { h, refill } from "../lib/page/dom.js";
import { fabricName, pieceName } from "../lib/words/cut-words.js";
import { offTheBolt } from "../lib/words/off-the-bolt.js";
import { money } from "./buying-total.js";
import { fabricMark, runsOneWay } from "./fabric-mark.js";
import { Folds } from "./fold-open.js";

/** Shows the kits of the core's `answer` of the ask `buying`. */
export class KitList extends HTMLElement {
  #folds = new Folds();

  show({ answer, state, colourOf, words }) {
    const lines = answer?.fabrics.filter(({ kits }) => kits?.ways.length) ?? [];
    refill(
      this,
      lines.map((line) =>
        h(
          "div",
          { class: "card" },
          h(
            "h3",
            {},
            fabricMark(colourOf(line.id), runsOneWay(line.id, state.fabrics)),
            fabricName(line.id, state.fabrics, words),
          ),
          line.kits.ways.map((way, place) => kitWay(way, place, line, state, this.#folds, words)),
        ),
      ),
      lines.length > 0 && kitPrice(answer.kits_price, state, words),
    );
  }
}

/** What a kit costs of all fabrics together, and what that leaves out; nothing where nothing has a price. */
function kitPrice(found, { fabrics, buying }, words) {
  if ((found?.apart ?? null) === null) return null; // an answer kept by an older page has none
  const [apart, least] = [found.apart, found.least].map((price) => money(price, buying.money, words));
  const what = words.list(found.unpriced.map((id) => fabricName(id, fabrics, words)));
  return h(
    "div",
    { class: "buying-total" },
    h("p", { class: "total" }, words.say("buying.kit_price.all", { price: apart })),
    h(
      "ul",
      { class: "facts" },
      least !== apart && h("li", {}, words.say("buying.kit_price.least", { price: least })),
      what && h("li", { class: "warn" }, words.say("buying.total.unpriced", { n: found.unpriced.length, what })),
    ),
  );
}

function kitWay(way, place, { id, kits }, { buying }, folds, words) {
  const say = (code, values) => words.say(`quilt_screen.${code}`, values);
  const facts = [...cutFacts(way, say, words), ...priceFacts(way, buying, words)];
  return h(
    "div",
    { class: "kit-way" },
    h(
      "div",
      { class: "row" },
      h("h4", {}, words.say(`buying.kit_way.${way.way}`)),
      h(
        "b",
        { class: "amount" },
        way.quarters ? say("fat_quarters", { n: way.quarters }) : offTheBolt(way.buy, buying.round_to, words),
      ),
    ),
    folds.part(
      `kit-${id}-${way.way}`,
      { open: place === kits.ways.length - 1 },
      h(
        "summary",
        { "data-key": `kit-${id}-${way.way}` },
        words.say(`buying.kit_how.${way.quarters ? "quarters" : "bolt"}`, {
          n: kits.count,
          people: kits.people,
          leader: kits.leader,
        }),
      ),
      h(
        "ul",
        { class: "facts" },
        facts.map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text)),
      ),
    ),
  );
}

function cutFacts({ cuts, bolts, quarters, cannot, way }, say, words) {
  const cut = ({ cut: name, length, times }) =>
    say("kit_cut", {
      n: times,
      length,
      what: words.has(`buying.cut.${name}`) ? words.say(`buying.cut.${name}`) : name,
    });
  return [
    ...cuts.map((one) => [cut(one), false]),
    ...(bolts === null ? [] : [[say(bolts ? "kit_bolts" : "kit_no_bolt", { n: bolts }), !bolts]]),
    ...(quarters ? [[words.say(`buying.kit_quarters.${way}`), false]] : []),
    ...(cannot?.length
      ? [
          [
            say("quarters_cannot", {
              what: words.list(
                cannot.map((id) => pieceName(id, words)),
                "names",
              ),
            }),
            true,
          ],
        ]
      : []),
  ];
}

function priceFacts({ price, price_each: each }, buying, words) {
  if ((each ?? null) === null) return [];
  const values = { each: money(each, buying.money, words), all: money(price, buying.money, words) };
  return [[words.say("buying.kit_price.way", values), false]];
}

customElements.define("kit-list", KitList);
