// What was just taken out, and the way to put it back, until something else is done on that screen.

import { h, refill } from "../lib/page/dom.js";

export class TakeBack extends HTMLElement {
  /** Offers to put `what` back by `act()`; null takes the offer away. */
  show(what, words, act) {
    this.hidden = !what;
    if (!what) return refill(this);
    const back = () => {
      this.show(null);
      act();
    };
    refill(
      this,
      h("p", { role: "status" }, words.say("page.taken_out", { what })),
      h(
        "button",
        { type: "button", class: "button", "data-key": "put-back", onclick: back },
        words.say("page.put_back"),
      ),
    );
  }
}

customElements.define("take-back", TakeBack);
