// Knocks on the table: off until the user tunes them on the spot with three knocks.

import { emit, h, refill } from "../lib/page/dom.js";
import { listenToMotion, motionAllowed, peaksOf, tuned } from "../lib/mat/knock.js";

const KNOCKS = 3;
const PATIENCE = 15_000; // ms to knock three times

/** Emits `knock` with the threshold in m/s², or null to switch knocks off. */
export class KnockTuner extends HTMLElement {
  #state = "idle";

  show({ values, words }) {
    this.view = { values, words };
    const on = values.knock !== null;
    refill(
      this,
      h("p", { class: "soft small" }, words.say("tools.knock.hint")),
      h(
        "p",
        { role: "status" },
        words.say(this.#state === "idle" ? (on ? "tools.knock.on" : "tools.knock.off") : `tools.knock.${this.#state}`),
      ),
      h(
        "div",
        { class: "row" },
        h(
          "button",
          { type: "button", class: "button plain", "data-key": "tune", onclick: () => this.#tune() },
          words.say("tools.knock.tune"),
        ),
        on &&
          h(
            "button",
            { type: "button", class: "button plain", "data-key": "untune", onclick: () => emit(this, "knock", null) },
            words.say("tools.knock.stop"),
          ),
      ),
    );
  }

  async #tune() {
    if (!(await motionAllowed())) return this.#say("missing");
    this.#say("listening");
    const samples = [];
    const stop = listenToMotion((at, strength) => {
      samples.push([at, strength]);
      if (peaksOf(samples).length >= KNOCKS) done();
    });
    const late = setTimeout(() => (stop(), this.#say(samples.length ? "too_soft" : "missing")), PATIENCE);
    const done = () => {
      stop();
      clearTimeout(late);
      this.#state = "idle";
      emit(this, "knock", tuned(peaksOf(samples)));
    };
  }

  #say(state) {
    this.#state = state;
    this.show(this.view);
  }
}

customElements.define("knock-tuner", KnockTuner);
