// The plans that are kept beside the one at hand.

import { emit, h, refill } from "../lib/page/dom.js";

/** Shows `plans` [{at, plan}]. Emits `use-plan` and `remove-plan`, each with the place of one. */
export class PlanBeside extends HTMLElement {
  show({ plans, words }) {
    const say = (code, values) => words.say(`passing.${code}`, values);
    const button = (key, place, look) =>
      h(
        "button",
        {
          type: "button",
          class: look,
          "data-key": `${key}-${place}`,
          "aria-describedby": `plan-beside-${place}`,
          onclick: () => emit(this, `${key}-plan`, place),
        },
        say(key),
      );
    refill(
      this,
      h(
        "ul",
        { class: "section" },
        plans.map(({ at, plan }, place) =>
          h(
            "li",
            { class: "card list" },
            h("b", { id: `plan-beside-${place}` }, plan.title || say("nameless")),
            h("p", { class: "soft" }, say("kept_since", { at })),
            h("div", { class: "row" }, button("use", place, "button"), button("remove", place, "button plain")),
          ),
        ),
      ),
    );
  }
}

customElements.define("plan-beside", PlanBeside);
