// What the browser says about keeping: whether it is promised, how much is used, and what helps.

import { emit, h, refill } from "../lib/page/dom.js";
import { sayNumber } from "../lib/words/measure.js";

const MB = 1e6;

/** Shows what `keeping` of lib/kept/keeping.js gives, or nothing while that is not known. Emits `keep-asked`. */
export class KeepingState extends HTMLElement {
  show({ state, words }) {
    if (!state) return refill(this);
    const say = (code, values) => words.say(`tools.keeping.${code}`, values);
    const { promised, cleared, used, room } = state;
    const mb = (bytes) => sayNumber(bytes / MB, words.locale, bytes < 10 * MB ? 1 : 0);
    refill(
      this,
      h(
        "div",
        { class: "list" },
        h("p", {}, say(promised === null ? "unknown" : promised ? "promised" : "not_promised")),
        cleared && h("p", {}, h("b", {}, say("cleared"))),
        promised === false &&
          h(
            "button",
            {
              type: "button",
              class: "button plain",
              "data-key": "keep-asked",
              onclick: () => emit(this, "keep-asked"),
            },
            say("ask"),
          ),
        used !== null && room !== null && h("p", { class: "soft" }, say("used", { used: mb(used), room: mb(room) })),
      ),
    );
  }
}

customElements.define("keeping-state", KeepingState);
