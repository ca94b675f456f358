// Drift: how often to check the angle before cutting, and what a measured piece says of it afterwards.

import { troubleOf } from "../lib/asking/asking.js";
import { h, refill } from "../lib/page/dom.js";
import { askedPiece } from "../lib/asking/asked-piece.js";
import { inUnits } from "../lib/words/in-units.js";
import { fitted } from "../lib/kept/kinds.js";
import { sayLength, typedLength } from "../lib/words/measure.js";
import { MEASURES } from "../components/drift-measures.js";
import "../components/ask-trouble.js";
import "../components/drift-before.js";
import "../components/drift-result.js";

const KEPT = "drift";
const NOTHING = Object.freeze(Object.fromEntries(MEASURES.map((name) => [name, ""])));
const FORM = ["placing", "tolerance", "across", "rows"];
const NO_STRIP = Object.freeze({ length_left: "", pieces_left: "" });

/** What is on the screen before anything is typed: what the core says is usual. */
function fresh({ placing, tolerance, across }, words) {
  const form = { placing, tolerance: words.length(tolerance), across: String(across), rows: "" };
  return { units: words.units, form, measured: NOTHING, strip: NO_STRIP };
}

/** The state with `meant` done to every length in it. */
function withLengths({ form, measured, strip, ...state }, meant) {
  const all = Object.fromEntries(Object.entries(measured).map(([name, text]) => [name, meant(text)]));
  return {
    ...state,
    form: { ...form, tolerance: meant(form.tolerance) },
    measured: all,
    strip: { ...strip, length_left: meant(strip.length_left) },
  };
}

export class DriftScreen {
  /**
   * @param {{python, store, settings, facts, shelf, atMat, trimmed}} parts what the page wires it to; `atMat()`
   *   gives the piece being cut and what is left of its strip (or null), `trimmed(cuts)` takes a mend into the
   *   count and goes back to it
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.state = fresh(this.facts.drift.usual, this.settings.words);
    this.found = { expected: null, after: null, drawn: null, errors: {}, waiting: false };
    this.trouble = troubleOf(this.python, this.settings);
    this.#make();
    this.#listen();
  }

  /** The parts stay where they are put, so that showing anew moves neither the focus nor the page. */
  #make() {
    this.before = document.createElement("drift-before");
    this.measures = document.createElement("drift-measures");
    this.result = document.createElement("drift-result");
    this.beforePart = h("section", { class: "section" }, this.before);
    this.afterPart = h("section", { class: "section" }, this.measures, this.result);
    this.head = h("div", { class: "section" });
    this.root = h("main", { class: "screen rulers-screen" }, this.head, this.trouble);
  }

  /** Takes back what was on this screen, so that it is there before Python is. */
  async restore() {
    const { value, whole } = fitted((await this.store.get(KEPT)) ?? {}, this.state);
    this.state = value;
    return whole;
  }

  element() {
    return this.root;
  }

  /** Shows the screen; reached from the guide (`from` is "cut"), for the piece and the strip being cut. */
  async enter([from] = []) {
    this.state = inUnits(this.state, this.settings.words.units, withLengths);
    this.mat = from === "cut" ? this.atMat() : null;
    this.root.classList.toggle("near-mat", Boolean(this.mat));
    this.root.append(...(this.mat ? [this.afterPart, this.beforePart] : [this.beforePart, this.afterPart]));
    this.#startAnew();
    this.#show(); // in the units of now, whatever the store has to say
    this.piece = this.mat?.piece ?? (await askedPiece(this.store));
    this.#show();
    await this.#askAll();
  }

  /** Each stop at the mat is about another piece: what was measured then is not this one's. */
  #startAnew() {
    const place = this.mat?.place ?? null;
    if (this.state.place === place) return;
    const { words } = this.settings;
    const strip = this.mat
      ? { length_left: words.length(this.mat.lengthLeft), pieces_left: String(this.mat.piecesLeft) }
      : NO_STRIP;
    this.found = { ...this.found, after: null, errors: {} };
    this.#keep({ place, measured: NOTHING, strip });
  }

  #listen() {
    this.before.addEventListener("form", ({ detail }) => this.#changed("form", detail, () => this.#askBoth()));
    this.measures.addEventListener("measured", ({ detail }) =>
      this.#changed("measured", detail, () => this.#askAfter()),
    );
    this.measures.addEventListener("strip", ({ detail }) => this.#changed("strip", detail, () => this.#askAfter()));
    this.result.addEventListener("trimmed", () => this.trimmed(this.#cost()));
    this.python.addEventListener("again", () => this.#askAll());
  }

  #changed(part, change, ask) {
    this.#keep({ [part]: { ...this.state[part], ...change } });
    const asking = ask(); // first: it tells that what is shown waits
    this.#show();
    return asking;
  }

  #keep(change) {
    this.state = { ...this.state, ...change };
    return this.store.put(KEPT, this.state);
  }

  #askAll() {
    return Promise.all([this.#askBefore(), this.#askAfter(), this.#askDrawn(null)]);
  }

  #askBoth() {
    return Promise.all([this.#askBefore(), this.#askAfter()]);
  }

  // What is asked.

  #length(text) {
    const { units, locale } = this.settings.words;
    return typedLength(text, units, locale);
  }

  /** What is typed, by the names of a request; empty fields are left out. */
  #filled(texts, read) {
    return Object.fromEntries(
      Object.entries(texts)
        .filter(([, text]) => text.trim())
        .map(([name, text]) => [name, read(text.trim())]),
    );
  }

  #form() {
    const { placing, tolerance, across, rows } = this.state.form;
    const { words } = this.settings;
    return {
      placing: this.facts.drift.placings[words.units][placing],
      ...this.#filled({ tolerance }, (text) => this.#length(text)),
      ...this.#filled({ across, rows }, String),
    };
  }

  /** Habits that the core takes are kept: the guide's checks go by them. */
  async #askBefore() {
    const { rows, ...form } = this.#form();
    const answer = await this.python.askLatest("drift-before", { ask: "check", piece: this.piece, ...form });
    if (!answer) return;
    this.#took(answer, { expected: answer.ok ? answer.expected : null }, FORM);
    if (answer.ok) await this.settings.set({ placing: form.placing, tolerance: form.tolerance, across: form.across });
  }

  async #askAfter() {
    const asked = (this.asked = {});
    const measured = this.#filled(this.state.measured, (text) => this.#length(text));
    if (Object.keys(measured).length < 2) return this.#forget();
    this.found.waiting = true;
    const { hand } = this.settings.values;
    const { length_left, pieces_left } = this.state.strip;
    const strip = {
      ...this.#filled({ length_left }, (text) => this.#stripLeft(text)),
      ...this.#filled({ pieces_left }, String),
    };
    const answer = await this.python.askLatest("drift-after", {
      ask: "check",
      piece: this.piece,
      ...this.#form(),
      measured,
      hand,
      ...strip,
    });
    if (!answer || asked !== this.asked) return;
    this.found.waiting = false;
    this.#took(answer, { after: answer.ok ? answer : null }, [
      "measured",
      ...MEASURES.map((name) => `measured.${name}`),
      "length_left",
      "pieces_left",
      "rows",
    ]);
    if (answer.ok) await this.#askDrawn(answer.angle);
  }

  /** What is shown of the length is rounded, in whichever units; as long as nobody changes it, the length itself is meant. */
  #stripLeft(text) {
    const shown = (units) => sayLength(this.mat.lengthLeft, units, this.settings.words.locale);
    return this.mat && ["in", "cm"].some((units) => text === shown(units)) ? this.mat.lengthLeft : this.#length(text);
  }

  #forget() {
    this.found = {
      ...this.found,
      after: null,
      waiting: false,
      errors: this.#errorsWithout(Object.keys(this.found.errors).filter((field) => field.startsWith("measured"))),
    };
    this.#show();
  }

  async #askDrawn(found) {
    const { hand, lay } = this.settings.values;
    const answer = await this.python.askLatest("drift-drawn", {
      ask: "check_drawn",
      piece: this.piece,
      rulers: this.shelf.owned(),
      hand,
      lay,
      ...(found && { found }),
    });
    if (!answer?.ok) return;
    this.found = { ...this.found, drawn: answer };
    this.#show();
  }

  /** An answer with the fields that it is about: their errors are gone, or there is this one. */
  #took(answer, found, fields) {
    const errors = this.#errorsWithout(fields);
    if (!answer.ok) errors[answer.error.field] = this.settings.words.refusal(answer.error);
    this.found = { ...this.found, ...found, errors };
    this.#show();
  }

  #errorsWithout(fields) {
    return Object.fromEntries(Object.entries(this.found.errors).filter(([field]) => !fields.includes(field)));
  }

  /** How many cuts the mend takes off the strip being cut; null away from the mat. */
  #cost() {
    // What was typed may be more than is there.
    return this.mat ? Math.min(this.mat.piecesLeft, this.found.after?.strip?.lost ?? 0) : null;
  }

  // What is shown.

  #show() {
    const { words } = this.settings;
    const { form, measured, strip } = this.state;
    const { expected, after, drawn, errors, waiting } = this.found;
    refill(
      this.head,
      this.mat && h("a", { class: "button back", href: "#cut", "data-key": "back" }, words.say("drift_screen.back")),
      h("h1", {}, words.say("drift_screen.title")),
      this.piece && h("p", {}, words.say("drift_screen.for", this.piece)),
    );
    this.before.show({ form, placings: this.facts.drift.placings[words.units], expected, errors, words });
    this.measures.show({ measured, strip, drawn, errors, words });
    this.result.show({ found: after, trim: drawn?.trim ?? null, cost: this.#cost(), waiting, words });
  }
}
