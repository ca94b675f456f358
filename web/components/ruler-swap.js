// "Which rulers do you use now?": asked at the mat, so everything is big.

import { openOver } from "../lib/page/closing.js";
import { emit, h, refill } from "../lib/page/dom.js";

/** Opened with the `names` of all rulers and those `taken`. Emits `swap` with the names that are taken then. */
export class RulerSwap extends HTMLElement {
  open({ names, taken, words }) {
    this.view = { names, taken: new Set(taken), words, problem: null, waiting: false };
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "swap-title" }));
    this.#show();
    openOver(this.dialog);
  }

  /** What tells one opening from another; null while nothing is asked. */
  get question() {
    return this.dialog?.open ? this.view : null;
  }

  /** Says that it is being worked out, or why it cannot be done. */
  tell({ waiting = false, problem = null }) {
    Object.assign(this.view, { waiting, problem });
    this.#show();
  }

  close() {
    this.dialog.close();
  }

  #show() {
    const { names, taken, words, problem, waiting } = this.view;
    const say = (code) => words.say(`rulers_screen.swap.${code}`);
    refill(
      this.dialog,
      h(
        "div",
        { class: "mend swap" },
        h("h2", { id: "swap-title" }, say("title")),
        names.map((name) =>
          h(
            "button",
            {
              type: "button",
              "aria-pressed": String(taken.has(name)),
              "data-key": `swap-${name}`,
              disabled: waiting,
              onclick: () => this.#turn(name),
            },
            h("b", {}, name),
          ),
        ),
        problem && h("p", { role: "alert" }, problem),
        h(
          "button",
          { type: "button", class: "go-on", "data-key": "swap-go", disabled: waiting, onclick: () => this.#go() },
          h("b", {}, say(waiting ? "waiting" : "go")),
        ),
        h("button", { type: "button", "data-key": "swap-cancel", onclick: () => this.close() }, say("cancel")),
      ),
    );
  }

  #turn(name) {
    const { taken } = this.view;
    if (!taken.delete(name)) taken.add(name);
    this.tell({});
  }

  #go() {
    const { taken, words } = this.view;
    if (!taken.size) return this.tell({ problem: words.say("rulers_screen.swap.none") });
    emit(this, "swap", [...taken]);
  }
}

customElements.define("ruler-swap", RulerSwap);
