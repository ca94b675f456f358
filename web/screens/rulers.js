// My rulers: which ones the user has, described by measure, and how they are laid for the
// piece that was asked for last.

import { troubleOf } from "../lib/asking/asking.js";
import { h, refill } from "../lib/page/dom.js";
import { askedPiece } from "../lib/asking/asked-piece.js";
import { inUnits } from "../lib/words/in-units.js";
import { fitted, maybe } from "../lib/kept/kinds.js";
import { listOf, pickedFor, withPick } from "../lib/kept/picked.js";
import { draftOf, freshDraft, rulerOf, withLengths } from "../lib/kept/ruler-draft.js";
import "../components/ask-trouble.js";
import "../components/ruler-editor.js";
import "../components/ruler-list.js";
import "../components/ways-list.js";

const KEPT = "rulers";

export class RulersScreen {
  #touched = new Set(); // fields whose errors are shown; null once all are

  /** @param {{python, store, settings, facts, shelf}} parts what the page wires it to */
  constructor(parts) {
    Object.assign(this, parts);
    this.state = { drawn: {}, ways: null, pictures: null, waysOf: null, piece: null, editing: null };
    this.draft = { drawn: null, errors: {} };
    this.trouble = troubleOf(this.python, this.settings);
    this.#make();
    this.#listen();
  }

  /** Takes back what was on this screen, so that it is there before Python is. */
  async restore() {
    const draft = freshDraft(this.#usual);
    const kind = {
      drawn: {},
      ways: maybe({}),
      pictures: maybe({}),
      piece: maybe({}),
      editing: maybe({ place: maybe(0), draft: { ...draft, angles: [draft.angles[0]] } }),
    };
    const { value, whole } = fitted((await this.store.get(KEPT)) ?? {}, kind, this.state);
    this.state = value;
    return whole;
  }

  element() {
    return this.root;
  }

  /** What is usual in the units of now. */
  get #usual() {
    return this.facts.usual[this.settings.words.units];
  }

  /** Shows the screen as it was, and asks for everything anew. */
  async enter() {
    this.#keepMeaning();
    this.#show();
    this.#turnTo(await askedPiece(this.store));
    await this.#askAll();
  }

  async #askAll() {
    if (this.state.editing) this.#askDraft();
    await Promise.all([this.#askDrawn(), this.#askWays()]);
  }

  /** The ways that were found for another piece are not shown under this one's name. */
  #turnTo(piece) {
    const same = JSON.stringify(piece) === JSON.stringify(this.state.piece);
    this.state = { ...this.state, piece, ...(!same && { ways: null, pictures: null }) };
    if (!same) this.#show();
  }

  /** A draft that was begun when other units were the usual ones stays what it was. */
  #keepMeaning() {
    const { editing } = this.state;
    if (editing)
      this.state.editing = inUnits(editing, this.settings.words.units, ({ draft, ...more }, meant) => ({
        ...more,
        draft: withLengths(draft, meant),
      }));
  }

  /** The parts stay where they are put, so that showing anew moves neither the focus nor the page. */
  #make() {
    this.list = document.createElement("ruler-list");
    this.editor = document.createElement("ruler-editor");
    this.ways = document.createElement("ways-list");
    this.title = h("h1");
    this.intro = h("p");
    this.about = h("div", { class: "section" });
    this.listPart = h("section", { class: "section" }, this.intro, this.list);
    this.waysPart = h("section", { class: "section ways-part" }, this.about, this.ways);
    this.root = h(
      "main",
      { class: "screen rulers-screen" },
      this.title,
      this.editor,
      this.trouble,
      this.listPart,
      this.waysPart,
    );
  }

  #listen() {
    this.list.addEventListener("have", ({ detail }) => this.#changed(this.shelf.have(detail.place, detail.have)));
    this.list.addEventListener("change-ruler", ({ detail }) =>
      this.#edit(detail, draftOf(this.shelf.entries()[detail].ruler)),
    );
    this.list.addEventListener("add", () => this.#edit(null, freshDraft(this.#usual)));
    this.editor.addEventListener("draft", ({ detail }) => this.#drafted(detail));
    this.editor.addEventListener("keep", () => this.#keepDraft());
    this.editor.addEventListener("remove", () => this.#remove());
    this.editor.addEventListener("cancel", () => this.#closeEditor());
    this.ways.addEventListener("use", ({ detail }) => this.#use(detail));
    this.python.addEventListener("again", () => this.#askAll());
  }

  async #changed(change) {
    await change;
    this.#show();
    await Promise.all([this.#askDrawn(), this.#askWays()]);
  }

  // The list, drawn to scale.

  async #askDrawn() {
    const answer = await this.python.askLatest("rulers-drawn", {
      ask: "my_rulers",
      rulers: this.shelf.entries().map(({ ruler }) => ruler),
    });
    if (!answer?.ok) return;
    this.#put({ drawn: Object.fromEntries(answer.rulers.map((ruler) => [ruler.name, ruler])) });
  }

  // One ruler being described.

  #edit(place, draft) {
    this.#touched.clear();
    this.draft = { drawn: null, errors: {} };
    this.#put({ editing: { place, draft, units: this.settings.words.units } });
    this.#askDraft();
    this.editor.querySelector("h2").focus();
    scrollTo(0, 0);
  }

  #drafted(draft) {
    for (const field of changedFields(this.state.editing.draft, draft)) this.#touched?.add(field);
    this.#put({ editing: { ...this.state.editing, draft } });
    return this.#askDraft();
  }

  /** Has the core read the draft among the other rulers; a refusal is shown once its field was touched. */
  async #askDraft() {
    const { place, draft } = this.state.editing;
    const rulers = this.shelf.entries().map(({ ruler }) => ruler);
    const at = place ?? rulers.length;
    rulers[at] = rulerOf(draft, this.settings.words);
    const answer = await this.python.askLatest("ruler-draft", { ask: "my_rulers", rulers });
    if (!answer || !this.state.editing) return false;
    const field = answer.ok ? null : answer.error.field.replace(/^rulers\[\d+\]\./, "");
    this.draft = {
      drawn: answer.ok ? answer.rulers[at] : this.draft.drawn,
      errors: answer.ok ? {} : { [field]: this.settings.words.refusal(answer.error) },
    };
    this.#show();
    return answer.ok;
  }

  async #keepDraft() {
    this.#touched = null;
    const good = await this.#askDraft();
    if (!good) return this.editor.querySelector("[aria-invalid=true]")?.focus();
    const { place, draft } = this.state.editing;
    const change = this.shelf.put(place, rulerOf(draft, this.settings.words));
    this.#closeEditor();
    await this.#changed(change);
  }

  #remove() {
    const { place } = this.state.editing;
    const { ruler } = this.shelf.entries()[place];
    const change = this.shelf.remove(place);
    this.#closeEditor();
    this.takeBack(ruler.name, () => this.#changed(this.shelf.put(null, ruler)));
    return this.#changed(change);
  }

  #closeEditor() {
    const { place } = this.state.editing;
    this.#touched = new Set();
    this.#put({ editing: null });
    this.list.querySelector(place === null ? "[data-key=add]" : `[data-key=change-${place}]`)?.focus();
  }

  #shownErrors() {
    const { errors } = this.draft;
    return this.#touched
      ? Object.fromEntries(Object.entries(errors).filter(([field]) => field === "rulers" || this.#touched.has(field)))
      : errors;
  }

  // How they are laid.

  #request() {
    const { hand, lay, placing, tolerance, across } = this.settings.values;
    return { piece: this.state.piece, rulers: this.shelf.owned(), hand, lay, placing, tolerance, across };
  }

  async #askWays() {
    const request = this.#request();
    const waysOf = this.#listNow();
    const [ways, pictures] = await Promise.all([
      this.python.askLatest("ways", { ask: "rulers", ...request }),
      this.python.askLatest("ways-drawn", { ask: "ways_drawn", ...request }),
    ]);
    if (ways?.ok && pictures?.ok) this.#put({ ways, pictures, waysOf });
  }

  #listNow() {
    return listOf(this.settings.values, this.state.piece, this.shelf.owned());
  }

  async #use({ step, place }) {
    if (this.state.waysOf !== this.#listNow()) return; // the list that was tapped is about to be replaced
    const { values } = this.settings;
    await this.settings.set({ chosen: withPick(values, this.state.piece, this.shelf.owned(), step, place) });
    this.#show();
  }

  #put(change) {
    this.state = { ...this.state, ...change };
    this.#show();
    return this.store.put(KEPT, this.state);
  }

  #show() {
    const { words } = this.settings;
    const { editing } = this.state;
    refill(this.title, words.say("rulers_screen.title"));
    this.editor.hidden = !editing;
    this.listPart.hidden = this.waysPart.hidden = Boolean(editing);
    if (editing)
      return this.editor.show({
        draft: editing.draft,
        drawn: this.draft.drawn,
        known: editing.place !== null,
        choices: this.facts.choices,
        errors: this.#shownErrors(),
        words,
      });
    this.#showList(words);
    this.#showWays(words);
  }

  #showList(words) {
    const entries = this.shelf.entries().map((entry) => ({ ...entry, drawn: this.state.drawn[entry.ruler.name] }));
    refill(this.intro, words.say("rulers_screen.intro"));
    this.list.show({ entries, words });
  }

  #showWays(words) {
    const { piece, ways, pictures } = this.state;
    const { values } = this.settings;
    this.ways.hidden = !ways;
    if (!ways) return refill(this.about, h("p", { class: "soft", role: "status" }, words.say("page.waiting")));
    refill(
      this.about,
      h("h2", {}, words.say("rulers_screen.ways_title")),
      h(
        "p",
        {},
        words.say(`rulers_screen.ways_for.${values.hand}`, piece),
        " ",
        h("a", { href: "#count", "data-key": "piece" }, words.say("rulers_screen.another_piece")),
      ),
      h("p", { class: "soft small" }, words.say("rulers_screen.order")),
    );
    this.ways.show({ answer: ways, pictures, picked: pickedFor(values, piece, this.shelf.owned()), words });
  }
}

/** The fields of a draft that differ, by the names that the core gives them. */
function changedFields(before, after) {
  const own = Object.keys(after).filter((part) => part !== "angles" && after[part] !== before[part]);
  const lines = after.angles.flatMap((line, i) =>
    Object.keys(line)
      .filter((part) => line[part] !== before.angles[i]?.[part] && before.angles[i])
      .map((part) => `angles[${i}].${part}`),
  );
  return [...own, ...lines];
}
