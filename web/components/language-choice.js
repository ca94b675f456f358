// The page's language: chosen by its own name, or that of the device.

import { h, refill } from "../lib/page/dom.js";
import { OWN_NAMES } from "../lib/words/language.js";
import { chips } from "./chips.js";

/** Emits `language` with a code, or "auto". */
class LanguageChoice extends HTMLElement {
  /** @param {{taken, state, words}} view `state` is {code, language}: what became of a choice, in words of its own */
  show({ taken, state, words }) {
    const say = (code, more) => words.say(`tools.language.${code}`, more);
    const named = Object.entries(OWN_NAMES).map(([code, name]) => [code, h("span", { lang: code }, name)]);
    refill(
      this,
      h(
        "div",
        { class: "field" },
        h("span", { class: "label" }, say("name")),
        chips(say("name"), [["auto", say("auto")], ...named], taken ?? "auto", "language"),
        h("p", { role: "status" }, state && say(state.code, { name: OWN_NAMES[state.language] })),
        words.catalogue.draft && h("p", { class: "soft small" }, say("draft")),
      ),
    );
  }
}

customElements.define("language-choice", LanguageChoice);
