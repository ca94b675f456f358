// What stands in the place of a screen that cannot be shown, and under the address "#repair": what
// is wrong, and the ways on.

import { emit, h, refill } from "../lib/page/dom.js";
import { reportText } from "./report-text.js";

const WORKING = ["asking", "loading"];

export class RepairView extends HTMLElement {
  /**
   * `title` and `about` say what is wrong, `report` for a report. Emits `repair`; what becomes of
   * it is told to `tell(code)`.
   */
  show({ title, about, report, canRepair, words }) {
    const say = (code) => words.say(`repair.${code}`);
    this.words = words;
    this.told = h("p", { role: "status" });
    this.button = h(
      "button",
      { type: "button", class: "button", "data-key": "repair", onclick: () => emit(this, "repair") },
      say("repair"),
    );
    refill(
      this,
      h(
        "main",
        { class: "screen" },
        h("h1", {}, title),
        h(
          "div",
          { class: "repair" },
          h("p", { role: "alert" }, about),
          h("p", {}, say("kept")),
          h("a", { class: "button main link", href: "./", "data-key": "load-again" }, say("load_again")),
          canRepair && [this.button, h("p", { class: "soft" }, say("how")), this.told],
          reportText(report, words),
        ),
      ),
    );
  }

  tell(code) {
    this.button.disabled = WORKING.includes(code);
    refill(this.told, this.words.say(`repair.told.${code}`));
  }
}

customElements.define("repair-view", RepairView);
