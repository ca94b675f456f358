// What a leader prepares for a class: the supply list, tools, time, weekly portions, who cuts what in a swap, labels.

import { emit, h, refill } from "../lib/page/dom.js";
import { ClassTold } from "../lib/quilt/class-told.js";
import { chips } from "./chips.js";
import { tickField } from "./choice-field.js";
import { Folds } from "./fold-open.js";
import { plainField } from "./length-field.js";

/** Shows the core's `answer` of the ask `class_plan` and what it goes by. Emits `put` {path, value}. */
export class ClassPlan extends HTMLElement {
  #folds = new Folds();

  constructor() {
    super();
    const put = (path, value) => emit(this, "put", { path, value });
    this.addEventListener("typed", ({ detail }) => put(detail.name.split("."), detail.text));
    this.addEventListener("ticked", ({ detail }) => put(detail.name.split("."), detail.on));
    this.addEventListener("made-as", ({ detail }) => put(["class", "made_as"], detail));
  }

  show(shown) {
    const told = new ClassTold(shown);
    if (!shown.state.buying.kits) return refill(this, this.#begin(told, shown.words));
    const { answer } = shown;
    refill(
      this,
      h("h2", {}, told.say("title")),
      h("p", { class: "soft small no-print" }, told.say("hint")),
      this.#form(shown, told),
      answer && [
        this.#fold("supplies", true, told, told.supplies(answer)),
        this.#fold("tools", false, told, told.tools(answer)),
        this.#fold("time", false, told, told.time(answer)),
        answer.weeks.length > 1 && this.#fold("weekly", false, told, told.weeks(answer)),
        answer.swap && this.#fold("swapping", false, told, told.swap(answer)),
        this.#fold("labels", false, told, this.#labels(answer, shown, told)),
      ],
    );
  }

  /** What this part is for, and the way into it: the same as the tick under "Buy". */
  #begin(told, words) {
    return h(
      "div",
      { class: "card class-begin no-print" },
      h("h2", {}, told.say("title")),
      h("p", { class: "soft small" }, told.say("hint")),
      h(
        "button",
        {
          type: "button",
          class: "button",
          "data-key": "class-begin",
          onclick: () => emit(this, "put", { path: ["buying", "kits"], value: true }),
        },
        words.say("quilt_screen.buy.kits"),
      ),
    );
  }

  #form({ state, errors }, told) {
    const field = (name, hint) =>
      plainField({
        name: `class.${name}`,
        label: told.say(name),
        text: state.class[name],
        hint: hint && told.say(hint),
        error: errors[name],
      });
    return h(
      "div",
      { class: "card no-print" },
      h("div", { class: "beside" }, field("weeks"), field("pace", "pace_hint"), field("share_an_iron")),
      tickField({ name: "class.swap", label: told.say("swap"), on: state.class.swap }),
      errors["kits.people"] && state.class.swap && h("p", { class: "error" }, errors["kits.people"]),
    );
  }

  #fold(name, open, told, content) {
    return this.#folds.part(
      `class-${name}`,
      { class: "card fold class-part", open },
      h("summary", { "data-key": `class-${name}` }, told.say(name)),
      h("div", { class: "section" }, content),
    );
  }

  #labels(answer, { state, offered }, told) {
    const made = offered.made_as.map((one) => [one, told.say(`made_as.${one}`)]);
    return [
      h(
        "div",
        { class: "no-print" },
        chips(told.say("made_as_label"), made, state.class.made_as, "made-as"),
        plainField({
          name: "class.names",
          label: told.say("names"),
          text: state.class.names,
          hint: told.say("names_hint"),
        }),
      ),
      told.labels(answer, state.class),
    ];
  }
}

customElements.define("class-plan", ClassPlan);
