// The same for what was asked with a tap: above whatever stands there, at the mat too, so everything is big.

import { openOver } from "../lib/page/closing.js";
import { h, refill } from "../lib/page/dom.js";
import { reportText } from "./report-text.js";

export class TroubleDialog extends HTMLElement {
  #chosen = null;

  /** Says it and resolves to whether it is to be tried again; what else breaks meanwhile goes the same way. */
  again(trouble, words) {
    this.#chosen ??= this.#asked(trouble, words).finally(() => (this.#chosen = null));
    return this.#chosen;
  }

  #asked({ report, times }, words) {
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "trouble-title" }));
    const button = (key, choice, text) =>
      h("button", { type: "button", "data-key": key, onclick: () => this.dialog.close(choice) }, h("b", {}, text));
    refill(
      this.dialog,
      h(
        "div",
        { class: "mend swap" },
        h(
          "h2",
          { id: "trouble-title", tabindex: "-1", autofocus: true },
          words.say(times > 1 ? "trouble.again_broken" : "trouble.broken"),
        ),
        button("try-again", "again", words.say("trouble.again")),
        times > 1 && reportText(report, words),
        button("give-up", "", words.say("trouble.leave")),
      ),
    );
    this.dialog.returnValue = "";
    openOver(this.dialog);
    return new Promise((chosen) =>
      this.dialog.addEventListener("close", () => chosen(this.dialog.returnValue === "again"), { once: true }),
    );
  }
}

customElements.define("trouble-dialog", TroubleDialog);
