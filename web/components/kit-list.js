// Kits for a class: three ways to cut the bolt for so many people, fabric by fabric.

import { h, refill } from "../lib/page/dom.js";
import { fabricName } from "../lib/words/cut-words.js";
import { offTheBolt } from "./buying-list.js";
import { fabricMark } from "./fabric-mark.js";
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
          h("h3", {}, fabricMark(colourOf(line.id)), fabricName(line.id, state.fabrics, words)),
          line.kits.ways.map((way, place) => kitWay(way, place, line, state, this.#folds, words)),
        ),
      ),
    );
  }
}

function kitWay(way, place, { id, kits }, { buying }, folds, words) {
  const say = (code, values) => words.say(`quilt_screen.${code}`, values);
  const cut = ({ cut: name, length, times }) =>
    say("kit_cut", {
      n: times,
      length,
      what: words.has(`buying.cut.${name}`) ? words.say(`buying.cut.${name}`) : name,
    });
  return h(
    "div",
    { class: "kit-way" },
    h(
      "div",
      { class: "row" },
      h("h4", {}, words.say(`buying.kit_way.${way.way}`)),
      h("b", { class: "amount" }, offTheBolt(way.buy, buying.round_to, words)),
    ),
    folds.part(
      `kit-${id}-${way.way}`,
      { open: place === 2 },
      h(
        "summary",
        { "data-key": `kit-${id}-${way.way}` },
        say("kit_how", { n: kits.count, people: kits.people, leader: kits.leader }),
      ),
      h(
        "ul",
        { class: "facts" },
        way.cuts.map((one) => h("li", {}, cut(one))),
        way.bolts !== null &&
          h("li", { class: way.bolts ? null : "warn" }, say(way.bolts ? "kit_bolts" : "kit_no_bolt", { n: way.bolts })),
      ),
    ),
  );
}

customElements.define("kit-list", KitList);
