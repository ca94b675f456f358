// One text with a button to close it: large at the mat, why a step is done or what a word means; else as small as a page.

import { openOver } from "../lib/page/closing.js";
import { h, refill } from "../lib/page/dom.js";

export class SayDialog extends HTMLElement {
  /** At the mat. */
  open(text, words, ...more) {
    this.#open("mend", text, words.say("where.close"), more);
  }

  /** On any other screen. */
  tell(title, words, ...more) {
    this.#open("told", title, words.say("page.slot.done"), more);
  }

  #open(look, text, close, more) {
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "said" }));
    refill(
      this.dialog,
      h(
        "div",
        { class: look },
        h("p", { id: "said", tabindex: "-1", autofocus: true }, text),
        more,
        h("button", { type: "button", onclick: () => this.dialog.close() }, close),
      ),
    );
    openOver(this.dialog);
  }
}

customElements.define("say-dialog", SayDialog);
