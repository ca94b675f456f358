// Before another guide is begun: what is under way, and what becomes of it.

import { openOver } from "../lib/page/closing.js";
import { emit, h, refill } from "../lib/page/dom.js";

const CHOICES = ["begin", "go_on", "back"];

/**
 * Opened with the counts of what is under way. Emits `chosen` with "begin", "go_on" or "back"; closed in
 * any other way it is "back".
 */
export class UnderWayDialog extends HTMLElement {
  open(counts, words) {
    const say = (code, values) => words.say(`mat.under_way.${code}`, values);
    this.dialog ??= this.#made();
    const button = (choice) =>
      h(
        "button",
        { type: "button", class: "button", "data-key": choice, onclick: () => this.dialog.close(choice) },
        say(choice),
      );
    refill(
      this.dialog,
      h(
        "div",
        { class: "ask" },
        h("h2", { id: "under-way-title", tabindex: "-1", autofocus: true }, say("title")),
        h("p", {}, say("stands", { made: counts.total, all: counts.all })),
        CHOICES.map(button),
      ),
    );
    this.dialog.returnValue = "";
    openOver(this.dialog);
  }

  #made() {
    const dialog = this.appendChild(h("dialog", { "aria-labelledby": "under-way-title" }));
    dialog.addEventListener("close", () => emit(this, "chosen", dialog.returnValue || "back"));
    return dialog;
  }
}

customElements.define("under-way-dialog", UnderWayDialog);
