// "Plan the rest anew?": asked at the mat, so everything is big; says what a new plan changes before it is taken.

import { openOver } from "../lib/page/closing.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { lengthField } from "./length-field.js";

/**
 * Opened with a title and what is known so far; where sides are asked for, with their `labels`. Emits `replan-yes`,
 * `replan-no` and `other-sides` {length, width}.
 */
export class ReplanDialog extends HTMLElement {
  constructor() {
    super();
    this.addEventListener("typed", ({ detail }) => (this.view.sides[detail.name] = detail.text));
  }

  open(view) {
    this.view = { facts: [], labels: {}, waiting: false, problem: null, errors: {}, sides: null, yes: null, ...view };
    this.opened = {};
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "replan-title" }));
    this.#show();
    openOver(this.dialog);
  }

  /** What tells one opening from another; null while nothing is asked. */
  get question() {
    return this.dialog?.open ? this.opened : null;
  }

  /** Shows what has become known meanwhile. */
  tell(change) {
    this.view = { ...this.view, problem: null, errors: {}, ...change };
    this.#show();
  }

  close() {
    this.dialog.close();
  }

  #show() {
    const { title, facts, waiting, problem, errors, sides, labels, yes, words } = this.view;
    const say = (code) => words.say(`basket_screen.replan.${code}`);
    const button = (key, text, type, detail, kind = null) =>
      h(
        "button",
        {
          type: "button",
          class: kind,
          "data-key": key,
          disabled: waiting && type !== "replan-no",
          onclick: () => emit(this, type, detail),
        },
        h("b", {}, text),
      );
    refill(
      this.dialog,
      h(
        "div",
        { class: "mend swap" },
        h("h2", { id: "replan-title", tabindex: "-1", autofocus: true, "data-key": "replan-title" }, title),
        sides &&
          h(
            "div",
            { class: "beside near-mat" },
            ["length", "width"].map((side) =>
              lengthField({ name: side, label: labels[side], text: sides[side], error: errors[side] }),
            ),
          ),
        waiting && h("p", { role: "status" }, say("waiting")),
        problem && h("p", { role: "alert" }, problem),
        facts.map((fact) => h("p", {}, fact)),
        sides && button("smaller-go", say("smaller_go"), "other-sides", sides, "go-on"),
        yes && button("replan-yes", yes, "replan-yes", undefined, "go-on"),
        button("replan-no", say(sides ? "back" : yes ? "no" : "close"), "replan-no"),
      ),
    );
  }
}

customElements.define("replan-dialog", ReplanDialog);
