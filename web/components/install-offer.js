// The offer to keep the page on the home screen: a button where the browser gives one, else how it is done there.

import { emit, h, refill } from "../lib/page/dom.js";
import { icon } from "../lib/page/icons.js";

const STEPS = {
  ios: [
    ["share", "first"],
    ["add", "second"],
  ],
  firefox: [
    ["dots", "first"],
    ["add", "second"],
  ],
  mac: [
    ["share", "first"],
    ["add", "second"],
  ],
};

/** Shows how it can be installed (`how` of lib/page/install.js), or nothing. Emits `install` and `install-later`. */
export class InstallOffer extends HTMLElement {
  show({ how, canWait, words }) {
    const say = (code) => words.say(`install.${code}`);
    this.hidden = !how;
    if (!how) return refill(this);
    refill(
      this,
      h(
        "section",
        { class: "card install" },
        h("h2", {}, say("title")),
        how === "done" ? h("p", {}, say("done")) : h("p", {}, say("about")),
        STEPS[how] &&
          h(
            "ol",
            { class: "install-steps" },
            STEPS[how].map(([sign, step]) => this.#step(sign, say(`${how}.${step}`))),
          ),
        h(
          "div",
          { class: "row" },
          how === "button" && this.#button("install", "button", say("act")),
          canWait && this.#button("install-later", "button plain", say("later")),
        ),
      ),
    );
  }

  #step(sign, text) {
    return h("li", {}, icon("sign", sign), h("span", {}, text));
  }

  #button(type, look, text) {
    return h("button", { type: "button", class: look, "data-key": type, onclick: () => emit(this, type) }, text);
  }
}

customElements.define("install-offer", InstallOffer);
