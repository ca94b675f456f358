// Where something was asked that Python broke at: that it could not be worked out, and the way on.

import { emit, h, refill } from "../lib/page/dom.js";
import { reportText } from "./report-text.js";

/** Shows {report, times}, or nothing for null. Emits `ask-again`. */
export class AskTrouble extends HTMLElement {
  show(trouble, words) {
    this.hidden = !trouble;
    refill(
      this,
      trouble && [
        h("p", { role: "alert" }, words.say(trouble.times > 1 ? "trouble.again_broken" : "trouble.broken")),
        h(
          "button",
          { type: "button", class: "button", "data-key": "ask-again", onclick: () => emit(this, "ask-again") },
          words.say("trouble.again"),
        ),
        trouble.times > 1 && reportText(trouble.report, words),
      ],
    );
  }
}

customElements.define("ask-trouble", AskTrouble);
