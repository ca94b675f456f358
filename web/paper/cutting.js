// The cutting sheet: the guide of a plan on paper, enough to cut from without a phone. What is done and said is the core's
// (the ask `cutting_sheet`); here it is only laid out.

import "../components/scene-view.js";
import { h } from "../lib/page/dom.js";
import { pieceCalled } from "../lib/words/pile-text.js";
import { boxes } from "./frame.js";

const JOINED = /\/joined$/; // strips that are joined later go by the id of what they become, and this

/** The content of the sheet that the core answered. */
export function cuttingSheet(sheet, words) {
  return new CuttingSheet(sheet, words).all();
}

class CuttingSheet {
  #row = 0;

  constructor(sheet, words) {
    Object.assign(this, { sheet, words });
    this.pieces = new Map(sheet.pieces.map((piece) => [piece.id, piece]));
  }

  all() {
    const { sheet } = this;
    return [
      this.#cautions(),
      sheet.cloths.map((cloth, number) => this.#cloth(cloth, number === 0)),
      sheet.finishing.length > 0 && h("section", {}, h("h3", {}, this.#say("finishing")), this.#rows(sheet.finishing)),
      h(
        "section",
        { class: "sheet-total" },
        h("h3", {}, this.#say("total")),
        h("p", {}, this.#sentences(sheet.done)),
        this.#counts(sheet.totals),
      ),
    ];
  }

  #say(code, values) {
    return this.words.say(`sheet.${code}`, values);
  }

  #cautions() {
    const { cautions, hand } = this.sheet;
    return h(
      "section",
      { class: "sheet-cautions" },
      h("h3", {}, this.#say("cautions")),
      h(
        "ul",
        {},
        cautions.map((code) => h("li", {}, this.#caution(code))),
        h("li", {}, this.#say("maker")),
      ),
      h("p", {}, this.#say(`hand.${hand}`), " ", this.#say("tick")),
    );
  }

  /** A cloth, or several alike; before the first of a sheet no other is put aside. */
  #cloth(cloth, isFirst) {
    const swap = cloth.swap ? [cloth.swap] : [];
    return h(
      "section",
      { class: "sheet-cloth" },
      h("h3", {}, boxes(cloth.times, this.words), " ", this.#say("cloth", { n: cloth.times, ...this.#ofCloth(cloth) })),
      h(
        "div",
        { class: "sheet-beside" },
        this.#drawn(cloth.drawing, {}, this.#say("cloth_drawn", this.#ofCloth(cloth))),
        h("div", {}, h("p", {}, this.#say("cloth_gives", { n: cloth.times })), this.#counts(cloth.gives)),
      ),
      this.#rows(isFirst ? [...cloth.rows, ...swap] : [...swap, ...cloth.rows]),
    );
  }

  #ofCloth({ id, length, width, fabric }) {
    const name = this.words.has(`cloth.${id}.name`) ? this.words.say(`cloth.${id}.name`) : id;
    const known = fabric && !name.includes(fabric);
    return { name, length, width, of_fabric: known ? this.words.say("join.fabric", { fabric }) : "" };
  }

  /** Rows with their numbers and boxes; within `strips` alike those of the pieces stand strip by strip. */
  #rows(rows, strips = 1, turns = 1) {
    return h(
      "ol",
      {},
      rows.map((row) => (row.rows ? this.#group(row, strips, turns) : this.#single(row, strips, turns))),
    );
  }

  #single(row, strips, turns) {
    const value = (this.#row += 1);
    const ticks = strips === 1 || row.gives > 0 ? strips : 0;
    const many = row.boxes * turns * ticks > 1;
    return h(
      "li",
      { value, class: row.scene === null ? null : "with-picture" },
      h(
        "div",
        { class: "sheet-row" },
        h(
          "div",
          {},
          h(
            "p",
            {},
            ticks > 0 && !many && h("span", { class: "sheet-done" }, boxes(1, this.words)),
            h("b", {}, this.#due(row)),
            " ",
            this.#more(row),
          ),
          many && this.#ticks(row.boxes * turns, ticks),
        ),
        row.scene !== null && this.#picture(row),
      ),
    );
  }

  /** The boxes of what is done more than once, those of one strip apart from those of the next. */
  #ticks(number, strips) {
    return h(
      "p",
      { class: "sheet-boxes" },
      Array.from({ length: strips }, () => boxes(number, this.words)),
    );
  }

  #group(group, strips, turns) {
    const { times, strip, rows, check } = group;
    const value = (this.#row += 1);
    const [within, by] = strip ? [strips * times, turns] : [strips, turns * times];
    return h(
      "li",
      { value },
      h("p", {}, strip && boxes(times, this.words), " ", h("b", {}, this.#heading(group))),
      this.#rows(rows, within, by),
      check && ["each", "once"].filter((how) => check[how].length).map((how) => this.#check(check, how)),
    );
  }

  #heading({ times, strip }) {
    if (!strip) return this.#say("turns", { n: times });
    return this.#say(strip.layers > 1 ? "stacks" : "strips", { n: times, ...strip, ...this.#called(strip.piece) });
  }

  #check(check, how) {
    const at = this.words.list(check[how].map(String));
    return h(
      "div",
      { class: "sheet-check" },
      h("p", {}, h("b", {}, this.#say(`check.${how}`, { n: check[how].length, at })), " ", this.#sentences(check)),
      check.scene !== null && this.#picture(check),
    );
  }

  /** What hands must know, the long sentence, and the picture that shows it. */
  #more({ hands, long, picture, ...row }) {
    return this.words.sentences(
      ...hands.map(({ say, values }) => this.words.say(say, values)),
      this.words.say(long, this.#values(row)),
      picture ? this.#say("picture", { n: picture }) : "",
    );
  }

  #short(row) {
    return this.words.say(row.short, this.#values(row));
  }

  /** What is to be done, after the cautions that are due. */
  #due(row) {
    return this.words.sentences(...row.cautions.map((code) => this.#caution(code)), this.#short(row));
  }

  #sentences(row) {
    return this.words.sentences(this.#due(row), this.#more(row));
  }

  #values({ piece, values }) {
    return { ...this.#called(piece), ...values };
  }

  #called(id) {
    if (!id) return {};
    const piece = this.pieces.get(id) ?? this.pieces.get(id.replace(JOINED, ""));
    const fabric = piece?.fabric ? this.words.say("join.fabric", { fabric: piece.fabric }) : "";
    return { name: this.#named(id), of_fabric: fabric };
  }

  #named(id) {
    const own = id.replace(JOINED, "");
    return pieceCalled({ id: own, shape: this.pieces.get(own)?.shape }, this.words);
  }

  #counts(counts) {
    return h(
      "ul",
      { class: "sheet-counts" },
      Object.entries(counts).map(([id, n]) => {
        const counted = this.pieces.get(id)?.counted ?? true;
        const { name, of_fabric: fabric = "" } = this.#called(id);
        return h("li", {}, this.#say(counted ? "count" : "count_strips", { name: name + fabric, n }));
      }),
    );
  }

  #picture(row) {
    const { scenes } = this.sheet;
    return h(
      "figure",
      {},
      this.#drawn(scenes[row.scene], row, this.#short(row)),
      h("figcaption", {}, this.#say("picture", { n: row.picture })),
    );
  }

  #drawn(scene, { over = null, at = 0, next = null }, description) {
    const view = document.createElement("scene-view");
    view.show({ scene: { over: {}, ...scene }, over, at, next, description, words: this.words });
    return view;
  }

  #caution(code) {
    return this.words.say(`guide.caution.${code}`);
  }
}
