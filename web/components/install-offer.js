// The offer to keep the page on the home screen: a button where the browser gives one, else how it is done there.

import { emit, h, refill, svg } from "../lib/page/dom.js";

// What is to be looked for on the screen, as browsers draw it.
const SIGNS = {
  share: "M12 15V3M8 7 12 3 16 7M8 10H5V21H19V10H16",
  add: "M4 4H20V20H4ZM12 8V16M8 12H16",
  dots: "M12 5V5.1M12 12V12.1M12 19V19.1",
};
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
    return h(
      "li",
      {},
      svg("svg", { viewBox: "0 0 24 24", "aria-hidden": "true" }, svg("path", { d: SIGNS[sign] })),
      h("span", {}, text),
    );
  }

  #button(type, look, text) {
    return h("button", { type: "button", class: look, "data-key": type, onclick: () => emit(this, type) }, text);
  }
}

customElements.define("install-offer", InstallOffer);
