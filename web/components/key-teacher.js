// Teaching keys and pedals: any key for any act.

import { emit, h, refill } from "../lib/page/dom.js";
import { ACTS, isCharacter, learnt } from "../lib/mat/keys.js";

/** Emits `learnt` with the new keys, and `letters` with whether single characters may act. */
export class KeyTeacher extends HTMLElement {
  #learning = null;

  show({ values, words }) {
    this.view = { values, words };
    refill(
      this,
      h("p", { class: "soft small" }, words.say("tools.keys.hint")),
      ACTS.map((act) => this.#row(act, values.keys[act] ?? [], words)),
      h(
        "label",
        { class: "row" },
        words.say("tools.keys.letters"),
        h("input", {
          type: "checkbox",
          "data-key": "letters",
          checked: values.letters,
          onchange: (event) => emit(this, "letters", event.target.checked),
        }),
      ),
    );
  }

  #row(act, keys, words) {
    const learning = this.#learning === act;
    return h(
      "div",
      { class: "row" },
      h("span", {}, h("b", {}, words.say(`tools.keys.${act}`)), " ", words.list(keys.map(named)) || "–"),
      h(
        "button",
        {
          type: "button",
          class: "button plain",
          "data-key": `learn-${act}`,
          "aria-pressed": String(learning),
          onclick: () => this.#learn(act),
          onkeydown: (event) => this.#heard(event),
        },
        words.say(learning ? "tools.keys.press" : "tools.keys.learn"),
      ),
    );
  }

  #learn(act) {
    this.#learning = this.#learning === act ? null : act;
    this.show(this.view);
  }

  #heard(event) {
    if (!this.#learning || ["Tab", "Escape", "Shift", "Control", "Alt", "Meta"].includes(event.key)) return;
    event.preventDefault();
    const act = this.#learning;
    this.#learning = null;
    emit(this, "learnt", learnt(this.view.values.keys, act, event.key));
  }
}

function named(key) {
  return key === " " ? "Space" : isCharacter(key) ? key.toUpperCase() : key;
}

customElements.define("key-teacher", KeyTeacher);
