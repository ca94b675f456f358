// Where to lay which ruler: for each step the way that is used, drawn and told hand by hand, and below it the others.

import { emit, h, refill } from "../lib/page/dom.js";
import { rulerNames, twoMarksFacts, wayFacts, waySteps } from "../lib/words/way-words.js";
import { Folds } from "./fold-open.js";
import "./scene-view.js";

const STEPS = ["strip", "starter", "following"];

/**
 * Shows an `answer` of the ask `rulers` with the `pictures` of the ask `ways_drawn` (or null) and the places `picked`
 * by step. Emits `use` with {step, place}.
 */
export class WaysList extends HTMLElement {
  #folds = new Folds();

  show({ answer, pictures, picked, words }) {
    this.view = { answer, pictures, picked, words };
    refill(
      this,
      STEPS.map((step) => this.#step(step)),
    );
  }

  #step(step) {
    const { answer, words } = this.view;
    const ways = answer[step].map((way, place) => ({ way, place }));
    const used = ways[this.#used(step)];
    const others = ways.filter((way) => way !== used);
    return h(
      "section",
      { class: "section", "data-step": step },
      h("h3", {}, words.say(`rulers.step.${step}`)),
      answer.lacking.filter((lack) => lack.step === step).map((lack) => lacking(lack, words)),
      used ? this.#way(step, used, true) : h("p", {}, words.say("rulers_screen.no_way")),
      others.length > 0 &&
        this.#folded(`others-${step}`, words.say("rulers_screen.others", { n: others.length }), () =>
          others.map((way) => this.#way(step, way, false)),
        ),
      this.#leftOut(step),
    );
  }

  /** The place of the way in use; a pick that is not there any more is none. */
  #used(step) {
    const { answer, picked } = this.view;
    return answer[step][picked?.[step]] ? picked[step] : 0;
  }

  #way(step, { way, place }, used) {
    const { answer, pictures, words } = this.view;
    const picture = pictures?.[step][place];
    const facts = [
      ...wayFacts(way, words),
      ...(way.kind === "two_marks" && answer.two_marks && step !== "strip"
        ? twoMarksFacts(answer.two_marks, words)
        : []),
    ];
    return h(
      "article",
      { class: used ? "card way used" : "card way" },
      h(
        "header",
        { class: "row" },
        h("h4", {}, words.say(`rulers.title.${way.kind}`)),
        h("p", { class: "soft" }, words.say("rulers_screen.with", { rulers: rulerNames(way, words) })),
      ),
      picture && scene(picture, words),
      h(
        "ol",
        { class: "moves" },
        waySteps(way, words).map((text) => h("li", {}, text)),
      ),
      h(
        "ul",
        { class: "facts" },
        facts.map(([text, warn]) => h("li", { class: warn ? "warn" : null }, text)),
      ),
      used
        ? this.#inUse(step, place)
        : this.#button(`use-${step}-${place}`, step, place, words.say("rulers_screen.use")),
    );
  }

  #inUse(step, place) {
    const { words } = this.view;
    if (place === 0) return h("p", { class: "in-use" }, words.say("rulers_screen.in_use"));
    return h(
      "div",
      { class: "row" },
      h("p", { class: "in-use" }, words.say("rulers_screen.in_use_chosen")),
      this.#button(`best-${step}`, step, 0, words.say("rulers_screen.use_best")),
    );
  }

  #button(key, step, place, text) {
    return h(
      "button",
      { type: "button", class: "button", "data-key": key, onclick: () => emit(this, "use", { step, place }) },
      text,
    );
  }

  #leftOut(step) {
    const { answer, words } = this.view;
    const out = answer.left_out.filter((one) => one.step === step);
    if (!out.length) return null;
    const line = ({ ruler, reason, values }) =>
      h(
        "li",
        {},
        words.say("rulers_screen.left_out_one", { ruler, reason: words.say(`rulers.reason.${reason}`, values) }),
      );
    return this.#folded(`out-${step}`, words.say("rulers_screen.left_out", { n: out.length }), () =>
      h("ul", { class: "facts" }, out.map(line)),
    );
  }

  /** A part that is folded away until it is asked for, and made only then. */
  #folded(key, title, content) {
    const part = this.#folds.part(key, {}, h("summary", { "data-key": key }, title));
    const fill = () => part.childElementCount === 1 && part.append(...[content()].flat());
    if (part.open) fill();
    part.addEventListener("toggle", () => part.open && fill());
    return part;
  }
}

/** What to get where nothing works, and what would make it easier where marks do. */
function lacking({ code, values, blocking }, words) {
  const told = blocking ? code : { ruler_wider: "ruler_wider_would_help" }[code];
  return told ? h("p", { class: blocking ? "error" : "soft" }, words.say(`rulers.lacking.${told}`, values)) : null;
}

function scene(picture, words) {
  const view = document.createElement("scene-view");
  view.show({ ...picture, words, description: words.say("rulers_screen.way_drawn") });
  return view;
}

customElements.define("ways-list", WaysList);
