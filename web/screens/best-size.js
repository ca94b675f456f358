// "Which size wastes least?": asked when it is unfolded and whenever what it hangs on has changed meanwhile,
// and taken over in one tap.

import { isBroken } from "../lib/asking/asking.js";
import { h, refill } from "../lib/page/dom.js";
import { chips } from "../components/chips.js";
import "../components/size-curve.js";

export class BestSize {
  #abort = null;
  #range = null;
  #asking = "";

  /**
   * @param {{python, settings, facts, asked, use, choices}} parts `asked()` gives the request without its name, null
   *   where there is nothing to ask; `use(inches)` takes a size over and returns what takes it back; `choices()` lists
   *   the pieces [id, label] that may be asked for, of which one is `chosen`
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.found = null;
    this.error = null;
    this.before = null;
    this.chosen = null;
    this.view = document.createElement("size-curve");
    this.inside = h("div", { class: "section" });
    this.root = h(
      "details",
      { class: "card fold best-size no-print", ontoggle: () => this.changed() },
      h("summary", { "data-key": "best-size" }),
      this.inside,
    );
    this.root.addEventListener("of-piece", ({ detail }) => this.#choose(detail));
    this.view.addEventListener("use-size", ({ detail }) => this.#use(detail));
    this.view.addEventListener("size-back", () => this.#back());
  }

  #say(code, values) {
    return this.settings.words.say(`best_size.${code}`, values);
  }

  /** Asks anew where what is asked is another; the picture keeps its ends as long as the size lies between them. */
  async changed() {
    this.show();
    const asked = this.root.open && this.asked();
    const key = JSON.stringify([asked, this.settings.words.units]);
    if (!asked || key === this.#asking) return;
    this.#asking = key;
    this.#abort?.abort();
    const abort = (this.#abort = new AbortController());
    let answer = await this.#ask({ ...asked, ...this.#range }, abort);
    if (this.#range && (answer?.error?.field === "from" || (answer?.ok && !within(answer))))
      answer = await this.#ask(asked, abort);
    if (this.#abort !== abort || !answer) return;
    if (isBroken(answer)) this.#asking = "";
    this.error = answer.ok || isBroken(answer) ? null : this.settings.words.refusal(answer.error);
    if (answer.ok) [this.found, this.#range] = [answer, { from: answer.from, to: answer.to }];
    this.show();
  }

  #ask(request, { signal }) {
    const { tick: step } = this.facts.usual[this.settings.words.units];
    return this.python.search({ ask: "best_size", ...request, step }, { signal });
  }

  #choose(id) {
    [this.chosen, this.#range, this.before] = [id, null, null];
    this.changed();
  }

  #use(size) {
    const [before, back] = [this.found.size, this.use(size)];
    this.before ??= { size: before, back };
    this.changed();
  }

  #back() {
    this.before.back();
    this.before = null;
    this.changed();
  }

  show() {
    const { words } = this.settings;
    this.root.querySelector("summary").textContent = this.#say("title");
    if (!this.root.open) return;
    const { found } = this;
    const asked = this.asked();
    if (found && !found.none)
      this.view.show({ found, back: this.before?.size, stale: Boolean(this.error) || !asked, words });
    refill(
      this.inside,
      h("p", { class: "soft small" }, this.#say("hint")),
      this.#choices(),
      this.error && h("p", { class: "error", role: "alert" }, this.error),
      !asked && h("p", { class: "soft", role: "status" }, this.#say("unready")),
      asked && !found && !this.error && h("p", { class: "soft", role: "status" }, this.#say("waiting")),
      found?.none && h("p", { class: "error", role: "status" }, this.#say(`none.${found.none}`, found)),
      found && !found.none && this.view,
    );
  }

  /** Which pieces it is asked of, where there are several. */
  #choices() {
    const choices = this.choices?.() ?? [];
    const taken = choices.some(([id]) => id === this.chosen) ? this.chosen : choices[0]?.[0];
    return choices.length > 1 && chips(this.#say("choose"), choices, taken, "of-piece");
  }
}

/** Whether the size that the piece has lies where the picture shows it. */
function within({ size, from, to }) {
  return size >= from && size <= to;
}
