// Tools: what the user settles once: measures, hand, how the strip lies, what is heard, keys and
// knocks, the phone's distance.

import { emit, h, keepFocus, refill } from "../lib/page/dom.js";
import { chips } from "../components/chips.js";
import { fileName } from "../copies/copies.js";
import { Refused } from "../copies/refused.js";
import { lengthField } from "../components/length-field.js";
import { troubleOf } from "../lib/asking/asking.js";
import { canShare, download, shareOrSave } from "../lib/page/sharing.js";
import { keeping, persist } from "../lib/kept/keeping.js";
import { farInches, typedLength, withUnit, written } from "../lib/words/measure.js";
import { CHOICES as SETTLED } from "../lib/kept/settings.js";
import { Folds } from "../components/fold-open.js";
import "../components/ask-trouble.js";
import "../components/copy-keeper.js";
import "../components/distance-check.js";
import "../components/install-offer.js";
import "../components/key-teacher.js";
import "../components/knock-tuner.js";
import "../components/keeping-state.js";
import "../components/language-choice.js";
import "../components/past-list.js";

const chosenFrom = (...names) => Object.fromEntries(names.map((name) => [name, SETTLED[name]]));
const UNITS = chosenFrom("units", "decimal", "paper");
const READING = chosenFrom("depth", "theme", "motion");
const HEARING = { ...chosenFrom("voice", "ticks"), volume: [0.3, 0.6, 1] };
const BLADE = chosenFrom("bladeAfter");
const CHOICES = { ...UNITS, ...READING, ...HEARING, ...BLADE };

export class ToolsScreen {
  /**
   * @param {{python, store, settings, shelf, facts, voice, blade, past, copies, reminder, practise}}
   * parts what the page wires it to
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.errors = {};
    this.folds = new Folds();
    this.entries = [];
    this.copying = {
      own: true,
      since: 0,
      shares: canShare(new File(["{}"], fileName(), { type: "application/json" })),
    };
    this.root = h("main", { class: "screen" });
    this.trouble = troubleOf(this.python, this.settings);
    this.python.addEventListener("again", () => this.#typed({ text: this.mat }));
    this.#listen();
  }

  element() {
    return this.root;
  }

  /** Shows how all is set; `given` brings what takes in a file into sight, `keep` what makes one. */
  async enter([what] = []) {
    this.#show();
    await this.#lookBack();
    const sought = { given: "#import", keep: "[data-key=copy-save]" }[what];
    if (!sought || !this.root.isConnected) return;
    const found = this.root.querySelector(sought);
    found.scrollIntoView({ block: "center" });
    found.focus({ preventScroll: true });
  }

  /** Looks at the sittings that are kept, and how; where the store cannot be read, those that were seen last stay. */
  async #lookBack() {
    [this.entries, this.keptHow, this.copying.own] = await Promise.all([
      this.past.list().catch(() => this.entries),
      keeping(),
      this.copies.hasOwn().catch(() => true),
    ]);
    this.copying.since = await this.reminder.since(this.entries).catch(() => 0);
    this.#show();
  }

  #listen() {
    const { root, settings } = this;
    root.addEventListener("install", () => this.install.ask().then(() => this.#show()));
    this.install?.addEventListener("change", () => root.isConnected && this.#show());
    for (const name of [...Object.keys(CHOICES), ...Object.keys(this.facts.habits.choices)])
      root.addEventListener(name, ({ detail }) => this.#set({ [name]: detail }));
    root.addEventListener("typed", ({ detail }) => this.#typed(detail));
    root.addEventListener("learnt", ({ detail }) => this.#set({ keys: detail }));
    root.addEventListener("letters", ({ detail }) => this.#set({ letters: detail }));
    root.addEventListener("knock", ({ detail }) => this.#set({ knock: detail }));
    root.addEventListener("seen-from", ({ detail }) => this.#set(detail));
    root.addEventListener("language", ({ detail }) => this.#speak(detail));
    root.addEventListener("new-blade", () => this.blade.changed().then(() => this.#show()));
    root.addEventListener("old-blade", () => this.#oldBlade());
    root.addEventListener("try-voice", () => this.#tryVoice());
    root.addEventListener("practise", () => this.practise());
    root.addEventListener("past-go-on", ({ detail }) => this.past.goOn(detail));
    root.addEventListener("past-anew", ({ detail }) => this.past.anew(detail));
    root.addEventListener("past-remove", ({ detail }) => this.#remove(detail));
    root.addEventListener("keep-asked", () => persist().then(() => this.#lookBack()));
    root.addEventListener("copy-save", () => this.#giveCopy(saved));
    root.addEventListener("copy-share", () => this.#giveCopy(shareOrSave));
    root.addEventListener("copy-take", ({ detail }) => this.#takeCopy(detail));
    settings.addEventListener("change", () => root.isConnected && this.#show());
  }

  /** The row with the button that was pressed is gone: the focus goes to what the rows stand under. */
  async #remove(id) {
    const back = await this.past.remove(id).finally(() => this.#lookBack());
    this.takeBack(this.settings.words.say("page.taken_out_sitting"), () => back().finally(() => this.#lookBack()));
    if (!this.root.contains(document.activeElement)) this.root.querySelector("[data-key=fold-earlier]").focus();
  }

  #set(change) {
    if (change.units && this.mat) this.mat = withUnit(this.mat, this.settings.values.units);
    return this.settings.set(change);
  }

  /** Another language comes with the page loaded anew; where its words are not to be had, all stays as it is. */
  async #speak(choice) {
    const telling = (state) => {
      this.speaking = state;
      this.#show();
    };
    const problem = await this.speak(choice === "auto" ? null : choice, (language) =>
      telling({ code: "fetching", language }),
    );
    telling(problem);
  }

  /** The mat's side is checked by the core before it is kept; what was typed stays in the field either way. */
  async #typed({ text }) {
    this.mat = text;
    const { words } = this.settings;
    const length = typedLength(text, words.units, words.locale);
    const answer = await this.python.askLatest("mat", { ask: "habits", mat: length });
    if (!answer) return;
    this.errors = answer.ok ? {} : { mat: words.refusal(answer.error) };
    if (answer.ok) await this.#set({ mat: length });
    else this.#show();
  }

  #show() {
    keepFocus(this.root, () => this.#fill());
  }

  #fill() {
    const { words, values } = this.settings;
    const say = (code, more) => words.say(`tools.${code}`, more);
    refill(
      this.root,
      h("h1", {}, say("title")),
      h(
        "nav",
        { class: "list", "aria-label": say("title") },
        this.#link("plan"),
        this.#link("pass"),
        this.#link("paper"),
        this.#link("rulers"),
        this.#link("drift"),
        this.#link("group"),
        this.#link("terms"),
      ),
      this.folds.fold(
        "earlier",
        say("earlier.title"),
        false,
        this.#part("past-list", { entries: this.entries, words }),
      ),
      this.#section(
        "language",
        this.#part("language-choice", { taken: values.language, state: this.speaking, words }),
        ...this.#choices(UNITS),
      ),
      this.#section(
        "practice",
        h("p", { class: "soft" }, words.say("mat.practice_hint")),
        this.#button("practise", words.say("mat.practice")),
      ),
      this.#section(
        "habits",
        ...this.#choices(this.facts.habits.choices),
        lengthField({
          name: "mat",
          label: say("mat.name"),
          hint: say("mat.hint"),
          text: this.mat ?? written(values.mat),
          error: this.errors.mat,
        }),
        this.trouble,
      ),
      this.#section("reading", ...this.#choices(READING), this.#part("distance-check", { values, words })),
      this.#section("hearing", ...this.#choices(HEARING), this.#button("try-voice", say("try_voice"))),
      this.#section(
        "hands_free",
        this.#part("key-teacher", { values, words }),
        this.#part("knock-tuner", { values, words }),
      ),
      this.#section("blade", ...this.#bladeParts(say)),
      this.#section(
        "keeping",
        this.#part("keeping-state", { state: this.keptHow, words }),
        this.#part("copy-keeper", { state: this.copying, words }),
        this.#part("install-offer", { how: this.install?.how ?? null, canWait: false, words }),
      ),
    );
  }

  #bladeParts(say) {
    const { inches, inchesBefore } = this.blade;
    return [
      h("p", { role: "status" }, say("blade_cut", { cut: inches })),
      this.#bladeAfter(say),
      this.#button("new-blade", say("blade_changed")),
      inchesBefore > 0 && this.#button("old-blade", say("blade_not_changed", { cut: inchesBefore })),
    ];
  }

  #bladeAfter(say) {
    const { words, values } = this.settings;
    const labels = BLADE.bladeAfter.map((far) => [far, words.far(far * farInches(words.units))]);
    return h(
      "div",
      { class: "field" },
      h("span", { class: "label" }, say("blade_after")),
      chips(say("blade_after"), labels, values.bladeAfter, "bladeAfter"),
    );
  }

  #link(name) {
    const { words } = this.settings;
    const titles = {
      terms: "glossary.title",
      group: "group.title",
      pass: "passing.title",
      plan: "passing.take_title",
      paper: "paper.title",
    };
    const title = words.say(titles[name] ?? `${name}_screen.title`);
    return h("a", { class: "button link", href: `#${name}`, "data-key": name }, title);
  }

  #section(name, ...content) {
    const { words } = this.settings;
    return h(
      "section",
      { class: "section", "data-section": name },
      h("h2", {}, words.say(`tools.section.${name}`)),
      h("div", { class: "card" }, content),
    );
  }

  #choices(group) {
    const { words, values } = this.settings;
    return Object.entries(group).map(([name, choices]) => {
      const labels = choices.map((value) => [value, words.say(`tools.${name}.${String(value).replace(".", "_")}`)]);
      return h(
        "div",
        { class: "field" },
        h("span", { class: "label" }, words.say(`tools.${name}.name`)),
        chips(words.say(`tools.${name}.name`), labels, values[name], name),
      );
    });
  }

  #button(type, text) {
    return h(
      "button",
      { type: "button", class: "button", "data-key": type, onclick: (event) => emit(event.currentTarget, type) },
      text,
    );
  }

  /** The button that took "new blade" back is gone: the focus goes to the one that is left. */
  async #oldBlade() {
    await this.blade.notChanged();
    this.#show();
    this.root.querySelector("[data-key=new-blade]").focus();
  }

  #part(name, view) {
    this[name] ??= document.createElement(name);
    this[name].show(view);
    return this[name];
  }

  #tryVoice() {
    this.voice.prime();
    this.voice.tick("cut");
    this.voice.say(this.settings.words.say("mat.spoken_count", { made: 5, of: 8 }));
  }

  #tellCopying(change) {
    const { own, since, shares } = this.copying;
    this.copying = { own, shares, since: change.saved && change.saved !== "save_failed" ? 0 : since, ...change };
    this.#show();
  }

  /** A copy of everything, as a file: the only defence when a phone loses its store. `give` saves or shares it. */
  async #giveCopy(give) {
    this.#tellCopying({ busy: "saving" });
    const text = await this.copies.text().catch(() => null);
    const became = text && (await give(new File([text], fileName(), { type: "application/json" })));
    if (became && became !== "left") await this.reminder.copied();
    this.#tellCopying(became === "left" ? {} : { saved: became || "save_failed" });
  }

  /** It is over when the screen goes by what was taken: what is taken next is asked for by that. */
  async #takeCopy({ file, kept }) {
    this.#tellCopying({ busy: "taking" });
    const outcome = await this.#taken(file, kept);
    await Promise.all([this.settings, this.shelf].map((part) => part.restore()));
    await this.#lookBack();
    this.#tellCopying(outcome);
    this["copy-keeper"].reveal();
  }

  async #taken(file, kept) {
    try {
      return { result: await this.copies.takeBack(file, { kept }) };
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      return { refused: error };
    }
  }
}

function saved(file) {
  download(file);
  return "saved";
}
