// One text, large, with a button to close it: why a step is done, what a word means.

import { h, refill } from "../lib/page/dom.js";

export class SayDialog extends HTMLElement {
  open(text, words, ...more) {
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "said" }));
    refill(
      this.dialog,
      h(
        "div",
        { class: "mend" },
        h("p", { id: "said", tabindex: "-1", autofocus: true }, text),
        more,
        h("button", { type: "button", onclick: () => this.dialog.close() }, words.say("where.close")),
      ),
    );
    this.dialog.showModal();
  }
}

customElements.define("say-dialog", SayDialog);
