// What the words mean: all of the trade's words that this page uses, to be looked for and opened.

import { allTerms } from "../components/term-list.js";
import { h, refill } from "../lib/page/dom.js";

export class TermsScreen {
  #list = null;
  #failed = false;
  #wanted = "";

  /** @param {{settings, glossary}} parts what the page wires it to */
  constructor(parts) {
    Object.assign(this, parts);
    this.root = h("main", { class: "screen" });
    this.none = h("p", { class: "soft", role: "status" });
  }

  element() {
    return this.root;
  }

  /** Shows the words; reached from the guide (`from` is "cut"), with a way back to it. */
  async enter([from] = []) {
    this.from = from;
    this.#show();
    if (this.#list) return;
    try {
      const { words } = this.settings;
      this.#list = allTerms(await this.glossary.ready(), words.tongue);
      this.#failed = false;
    } catch {
      this.#failed = true;
    }
    this.#show();
  }

  #show() {
    const say = (code) => this.settings.words.say(`glossary.${code}`);
    refill(
      this.root,
      this.from === "cut" &&
        h(
          "a",
          { class: "button back", href: "#cut", "data-key": "back" },
          this.settings.words.say("drift_screen.back"),
        ),
      h("h1", {}, say("title")),
      this.#list ? this.#all(say) : this.#notYet(say),
    );
  }

  #all(say) {
    const look = (event) => this.#look(event.target.value);
    this.#look(this.#wanted);
    return [
      h(
        "div",
        { class: "field" },
        h("label", { for: "term-wanted" }, say("find")),
        h("input", {
          id: "term-wanted",
          class: "entry",
          type: "search",
          autocomplete: "off",
          value: this.#wanted,
          "data-key": "term-wanted",
          oninput: look,
        }),
        this.none,
      ),
      h(
        "div",
        { class: "terms all-terms" },
        this.#list.map(({ element }) => element),
      ),
    ];
  }

  #notYet(say) {
    if (!this.#failed) return h("p", { class: "soft", role: "status" }, say("waiting"));
    return [
      h("p", { role: "alert" }, say("missing")),
      h(
        "button",
        { type: "button", class: "button", "data-key": "again", onclick: () => this.enter([this.from]) },
        say("again"),
      ),
    ];
  }

  /** Leaves those in sight that have what is looked for in their name or meaning. */
  #look(wanted) {
    this.#wanted = wanted;
    const sought = wanted.trim().toLowerCase();
    for (const { element, text } of this.#list) element.hidden = !text.includes(sought);
    const none = this.#list.every(({ element }) => element.hidden);
    this.none.textContent = none ? this.settings.words.say("glossary.none") : "";
  }
}
