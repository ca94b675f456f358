// What a leader prepares for a class, in sentences: supplies, tools, time, weekly portions, a swap, labels.

import { h } from "../page/dom.js";
import { countedPieces, fabricName } from "../words/cut-words.js";
import { sayNumber } from "../words/measure.js";
import { offTheBolt } from "../words/off-the-bolt.js";

const BEFORE = ["wash", "starch", "selvage"];

/** The parts of the answer of the ask `class_plan` in sentences, with what the quilt's `state` says. */
export class ClassTold {
  constructor({ state, words, errors }) {
    Object.assign(this, { state, words, errors });
  }

  say(code, values) {
    return this.words.say(`leading.${code}`, values);
  }

  supplies({ supplies: { fabrics, batting } }) {
    return [
      list([...fabrics.map((line) => this.#supply(line)), batting && this.say("supplies_batting", batting)]),
      list(BEFORE.map((code) => this.say(`before.${code}`))),
    ];
  }

  #supply({ id, sold, quarters, buy, usable_width: width }) {
    const fabric = this.#fabric(id);
    return sold === "fat_quarter"
      ? this.say("supplies_quarters", { fabric, n: quarters })
      : this.say("supplies_length", { fabric, amount: this.#amount(buy), width });
  }

  tools({ tools }) {
    return list(
      tools.map((tool) => {
        const { share, count } = tool;
        const what = this.#tool(tool);
        return share ? this.say("tool_shared", { what, share, n: count }) : this.say("tool_each", { what, count });
      }),
    );
  }

  #tool({ code, rulers }) {
    const [one, other] = rulers;
    if (!one) return this.say(`tool.${code}`);
    if (!other) return this.#ruler(one);
    return this.say("tool.two_rulers", { one: this.#sides(one), other: this.#sides(other) });
  }

  #sides({ width, length }) {
    return `${this.words.bare(width)} × ${this.words.length(length)}`;
  }

  /** A ruler by its measure and the lines that it has, as the core names it. */
  #ruler(ruler) {
    const sides = this.#sides(ruler);
    const told = this.words.list((ruler.lines ?? []).map((degrees) => `${sayNumber(degrees, this.words.locale)}°`));
    return told ? this.say("tool.rulers", { sides, lines: told }) : this.say("tool.plain_ruler", { sides });
  }

  time({ time }) {
    return list([
      this.say("time_one", this.#counts(time)),
      this.say("time_basis", { pace: sayNumber(time.pace, this.words.locale) }),
    ]);
  }

  #counts({ pieces, strips, minutes }) {
    return { pieces: this.say("pieces", { n: pieces }), strips: this.say("strips", { n: strips }), n: minutes };
  }

  weeks({ weeks, each }) {
    return weeks.map((week, place) => this.#hand(this.say("week", { number: place + 1 }), week, each));
  }

  swap({ swap: { cutters, take }, each }) {
    return [
      h("p", { class: "soft" }, this.say("swap_hint")),
      cutters.map((cutter, place) => this.#hand(this.say("cutter", { number: place + 1 }), cutter, each)),
      h("h4", {}, this.say("take")),
      list(
        take.map(({ fabric, id, pieces }) =>
          this.say("take_line", {
            fabric: this.#fabric(fabric),
            gives: countedPieces(id, pieces, each[id], this.words),
          }),
        ),
      ),
    ];
  }

  /** What one hand, or one week, cuts. */
  #hand(name, { cut, minutes, strips }, each) {
    return h(
      "div",
      { class: "class-hand" },
      h("h4", {}, name, strips > 0 && h("small", { class: "soft" }, ` ${this.say("minutes", { n: minutes })}`)),
      cut.length ? list(cut.map((pile) => this.#pile(pile, each))) : h("p", { class: "soft" }, this.say("nothing")),
    );
  }

  #pile({ fabric, size, strips, gives, joined }, each) {
    const counted = Object.entries(gives).map(([id, count]) => countedPieces(id, count, each[id], this.words));
    const values = { fabric: this.#fabric(fabric), n: strips, size, gives: this.words.list(counted) };
    return this.say(joined ? "pile_joined" : "pile", values);
  }

  /** A label for every kit. Those of one size are alike but for whose they are. */
  labels({ people, kits, labels, sizes = [], each }, { made_as: madeAs, names }) {
    const named = names
      .split(",")
      .map((name) => name.trim())
      .filter(Boolean);
    const owners = Array.from({ length: kits }, (_, place) => this.#owner(place, people, named));
    const groups = [{ owners, lines: labels[madeAs] }];
    let number = people;
    for (const size of sizes) {
      const others = Array.from({ length: size.people }, (_, place) => {
        const owner = this.#owner(number + place, Infinity, named);
        return this.say("kit_sized", { owner, size: size.name });
      });
      groups.push({ owners: others, lines: size.labels[madeAs] });
      number += size.people;
    }
    return h(
      "div",
      { class: "kit-labels" },
      groups.flatMap(({ owners: whose, lines }) => {
        const told = lines.flatMap(({ fabric, lines: found }) => found.map((line) => this.#line(fabric, line, each)));
        return whose.map((owner) => h("div", { class: "kit-label" }, h("h4", {}, owner), list(told)));
      }),
    );
  }

  #owner(place, people, names) {
    if (place >= people) return this.say("kit_spare", { number: place - people + 1 });
    return names[place] ? this.say("kit_named", { name: names[place] }) : this.say("kit_number", { number: place + 1 });
  }

  #line(id, line, each) {
    const fabric = this.#fabric(id);
    if ("length" in line) return this.say("line.length", { fabric, amount: this.#amount(line.length) });
    if ("quarters" in line) return this.say("supplies_quarters", { fabric, n: line.quarters });
    if ("panel" in line) return this.say("line.panel", { fabric, n: line.times, length: line.panel });
    if ("pieces" in line)
      return this.say("take_line", { fabric, gives: countedPieces(line.id, line.pieces, each[line.id], this.words) });
    return this.#pile(line, each);
  }

  #amount(inches) {
    return offTheBolt(inches, this.state.buying.round_to, this.words);
  }

  #fabric(id) {
    return fabricName(id, this.state.fabrics, this.words);
  }
}

function list(texts) {
  return h(
    "ul",
    { class: "facts" },
    texts.filter(Boolean).map((text) => h("li", {}, text)),
  );
}
