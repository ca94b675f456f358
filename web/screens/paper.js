// On paper: the sheets that are printed of a plan, each a page of its own, and its drawings as pictures to keep or share.

import { chips } from "../components/chips.js";
import { tickField } from "../components/choice-field.js";
import { plainField } from "../components/length-field.js";
import { h, keepFocus, refill } from "../lib/page/dom.js";
import { pngFile, svgFile } from "../lib/page/picture.js";
import { shareOrSave } from "../lib/page/sharing.js";
import { typedNumber } from "../lib/words/measure.js";
import { usualPaper } from "../lib/words/locale.js";
import { chartSheet } from "../paper/chart.js";
import { cuttingSheet } from "../paper/cutting.js";
import { boxes, sheetFrame } from "../paper/frame.js";
import { buyingSheet, labelsSheet } from "../paper/lists.js";
import { legend, quiltPicture, rowsSheet } from "../paper/quilt.js";
import { leftOut, templatePages } from "../paper/templates.js";
import { givenOut } from "../passing/given-out.js";
import { packed } from "../passing/packed.js";
import { buyingRequest, classRequest, quiltRequest } from "../lib/quilt/quilt-request.js";

/** The sheets, in the order in which they are offered. */
export const SHEETS = ["cutting", "chart", "buying", "quilt", "coloring", "rows", "templates", "labels"];
const PAPERS = ["a4", "letter"];
const NAMED = ["title", "date", "by"];

/** The core has refused what a sheet is made from. */
class Unmade extends Error {
  constructor(said) {
    super(said);
    this.said = said;
  }
}

export class PaperScreen {
  #made = 0;
  #makers = {
    cutting: () => this.#cutting(),
    chart: () => this.#chart(),
    buying: () => this.#buying(),
    quilt: () => this.#drawn(this.gray ? "gray" : "color", "sheets.quilt"),
    coloring: () => this.#drawn("lines", "sheets.coloring"),
    rows: () => this.#rows(),
    templates: () => this.#templates(),
    labels: () => this.#labels(),
  };

  /**
   * @param {{python, settings, facts, plans, states, guide}} parts what the page wires it to; `states()` gives what the
   *   screens hold, `guide()` the request of the guide that is printed, null where there is nothing to cut
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.sheet = SHEETS[0];
    this.gray = false;
    this.content = [];
    this.root = h("main", { class: "screen paper-screen" });
    // As large as it is printed, it is wider than a phone: a part that is looked at in two dimensions (WCAG 2.2, 1.4.10).
    this.paper = h("div", { class: "paper-sheets", "data-wide": true, tabindex: "0", role: "region" });
    const on = (type, take) => this.root.addEventListener(type, ({ detail }) => take(detail));
    on("sheet", (sheet) => (location.hash = `paper/${sheet}`));
    on("paper", (paper) => this.settings.set({ paper }).then(() => this.#make()));
    on("ticked", ({ on: gray }) => this.#turnGray(gray));
    on("typed", ({ name, text }) => this.plans.say({ [name]: text }).then(() => this.#make()));
  }

  element() {
    return this.root;
  }

  async enter([sheet] = []) {
    if (SHEETS.includes(sheet)) this.sheet = sheet;
    document.documentElement.toggleAttribute("data-bare", this.sheet === "templates"); // its pages have edges of their own
    this.content = [];
    await this.#make();
  }

  exit() {
    document.documentElement.removeAttribute("data-bare");
  }

  #say(code, values) {
    return this.settings.words.say(`paper.${code}`, values);
  }

  get #paper() {
    const { paper } = this.settings.values;
    return paper === "auto" ? usualPaper() : paper;
  }

  #turnGray(gray) {
    this.gray = gray;
    return this.#make();
  }

  // Making.

  /** Makes the sheet that is looked at; of several that are on their way the last one is shown. */
  async #make() {
    const making = (this.#made += 1);
    this.waiting = true;
    this.#show();
    let content;
    try {
      content = await this.#content();
    } catch (error) {
      if (!(error instanceof Unmade)) throw error;
      content = [h("p", { class: "error", role: "alert" }, error.said)];
    }
    if (making !== this.#made) return;
    this.waiting = false;
    this.content = content;
    this.#show();
  }

  async #content() {
    const { title, date, by } = this.plans.hand;
    this.how = { said: { title, date, by }, code: await this.#code(), words: this.settings.words };
    return this.#makers[this.sheet]();
  }

  /** A code stands still on paper: what makes it too large for one, the layouts, is found again by the phone. */
  async #code() {
    for (const layouts of [true, false]) {
      const code = givenOut(packed({ plan: await this.plans.now({ layouts }) }))?.code;
      if (code) return code;
    }
    return null;
  }

  #framed(title, ...content) {
    return sheetFrame({ ...this.how, title }, ...content);
  }

  async #ask(request) {
    const answer = await this.python.ask(request);
    if (!answer.ok) throw new Unmade(this.settings.words.refusal(answer.error));
    return answer;
  }

  async #quilt() {
    const { quilt: state } = await this.states();
    const { words } = this.settings;
    return { state, quilt: await this.#ask({ ask: "quilt", ...quiltRequest(state, words) }) };
  }

  async #cutting() {
    const request = await this.guide();
    if (!request) throw new Unmade(this.#say("nothing_to_cut"));
    const { sheet } = await this.#ask({ ...request, ask: "cutting_sheet" });
    return [this.#framed(this.settings.words.say("sheet.title"), cuttingSheet(sheet, this.settings.words))];
  }

  async #chart() {
    const { count } = await this.states();
    const { words } = this.settings;
    const piece = { shape: "diamond", angle: typedNumber(count.piece.angle, words.locale) };
    const answer = await this.#ask({ ask: "chart", piece, units: words.units, drawing: false });
    return [this.#framed(words.say("handout.chart_title"), chartSheet(answer, words))];
  }

  async #buying() {
    const { state, found } = await this.#lists();
    const { words } = this.settings;
    const shown = { state, offered: this.facts.choices, words };
    return [this.#framed(this.#say("sheets.buying"), buyingSheet(found, shown))];
  }

  async #labels() {
    const { state, found } = await this.#lists();
    return [this.#framed(this.#say("sheets.labels"), labelsSheet(found, { state, words: this.settings.words }))];
  }

  /** What the lists are made from: the quilt, what to buy for it, and what a class prepares. */
  async #lists() {
    const { state, quilt } = await this.#quilt();
    const { words, values } = this.settings;
    const { sizes } = await this.#ask({ ask: "quilt_sizes" });
    const buying = await this.#ask({ ask: "buying", ...buyingRequest(state, words, sizes) });
    const lesson =
      state.buying.kits && (await this.#ask({ ask: "class_plan", ...classRequest(state, words, values.hand, sizes) }));
    return { state, found: { quilt, buying, class: lesson || null } };
  }

  async #drawn(look, title) {
    const { state, quilt } = await this.#quilt();
    if (!quilt.drawing) throw new Unmade(this.settings.words.say("quilt_screen.not_drawn"));
    const { words } = this.settings;
    const { width, height } = quilt.finished;
    const shown = { fabrics: state.fabrics, look, words, description: words.say("passing.drawn", { width, height }) };
    const size = h("p", {}, words.say("handout.quilt_size", { width, height }));
    return [
      this.#framed(
        this.#say(title),
        size,
        h("figure", {}, quiltPicture(quilt, shown)),
        look !== "lines" && legend(quilt, shown),
      ),
    ];
  }

  async #rows() {
    const { state, quilt } = await this.#quilt();
    if (!quilt.sewing?.layout) throw new Unmade(this.#say("no_rows"));
    return [this.#framed(this.#say("sheets.rows"), rowsSheet(quilt, { ...state, words: this.settings.words, boxes }))];
  }

  async #templates() {
    const { quilt: state } = await this.states();
    const { words } = this.settings;
    const answer = await this.#ask({ ask: "templates", quilt: quiltRequest(state, words), paper: this.#paper });
    const lacking = leftOut(answer, words);
    return [
      lacking.length > 0 &&
        h(
          "ul",
          { class: "facts no-print" },
          lacking.map((said) => h("li", { class: "warn" }, said)),
        ),
      templatePages(answer, this.how),
    ].flat();
  }

  // Showing.

  #show() {
    keepFocus(this.root, () => this.#fill());
  }

  #fill() {
    this.paper.setAttribute("aria-label", this.#say("preview"));
    this.paper.dataset.paper = this.#paper;
    this.paper.classList.toggle("gray", this.gray);
    refill(this.paper, this.content);
    refill(
      this.root,
      h("div", { class: "section no-print" }, h("h1", {}, this.#say("title")), this.#form()),
      this.waiting && h("p", { class: "no-print", role: "status" }, this.#say("making")),
      this.paper,
      h("div", { class: "section no-print" }, this.#pictures()),
    );
  }

  #form() {
    const sheets = SHEETS.map((sheet) => [sheet, this.#say(`sheets.${sheet}`)]);
    const papers = PAPERS.map((paper) => [paper, this.settings.words.say(`tools.paper.${paper}`)]);
    return h(
      "div",
      { class: "card" },
      h(
        "div",
        { class: "field" },
        h("span", { class: "label" }, this.#say("which")),
        chips(this.#say("which"), sheets, this.sheet, "sheet"),
      ),
      h(
        "div",
        { class: "field" },
        h("span", { class: "label" }, this.settings.words.say("tools.paper.name")),
        chips(this.settings.words.say("tools.paper.name"), papers, this.#paper, "paper"),
      ),
      tickField({ name: "gray", label: this.#say("gray"), on: this.gray }),
      h(
        "div",
        { class: "beside" },
        NAMED.map((name) =>
          plainField({ name, label: this.settings.words.say(`passing.field.${name}`), text: this.plans.hand[name] }),
        ),
      ),
      h("p", { class: "soft small" }, this.#say(this.sheet === "templates" ? "true_size" : "hint")),
      h(
        "button",
        { type: "button", class: "button main", "data-key": "print", disabled: this.waiting, onclick: () => print() },
        this.#say("print"),
      ),
    );
  }

  /** Every drawing of the sheet that is looked at, to save or share as a picture. */
  #pictures() {
    const found = this.waiting ? [] : [...this.paper.querySelectorAll("svg[role=img]:not(.sheet-code svg)")];
    if (!found.length) return null;
    const keep = (drawing, name, make, code) =>
      h(
        "button",
        {
          type: "button",
          class: "button",
          "data-key": `${code}-${name}`,
          onclick: async () => shareOrSave(await make(drawing, `matside-${name}`)),
        },
        this.#say(code),
      );
    return h(
      "section",
      { class: "card" },
      h("h2", {}, this.#say("pictures")),
      h(
        "ul",
        { class: "list" },
        found.map((drawing, place) =>
          h(
            "li",
            { class: "row" },
            h("span", {}, `${place + 1}. ${drawing.getAttribute("aria-label")}`),
            keep(drawing, `${this.sheet}-${place + 1}`, svgFile, "svg"),
            keep(drawing, `${this.sheet}-${place + 1}`, pngFile, "png"),
          ),
        ),
      ),
    );
  }
}
