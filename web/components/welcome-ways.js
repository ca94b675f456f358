// For whoever comes for the first time: what stands above, and the other ways in. Each of them is of use at once.

import { emit, h, refill } from "../lib/page/dom.js";

const WAYS = { quilt: "#quilt", given: "#plan", example: "#quilt/example" };

/** Emits `welcomed` when it is to be closed. */
export class WelcomeWays extends HTMLElement {
  show({ words }) {
    const say = (code) => words.say(`welcome.${code}`);
    refill(
      this,
      h(
        "section",
        { class: "card welcome", "aria-labelledby": "welcome" },
        h(
          "header",
          { class: "row" },
          h("h2", { id: "welcome" }, say("title")),
          h(
            "button",
            {
              type: "button",
              class: "welcome-close",
              "data-key": "welcome-close",
              "aria-label": say("close"),
              onclick: () => emit(this, "welcomed"),
            },
            "×",
          ),
        ),
        h("p", {}, say("count")),
        h(
          "ul",
          { class: "welcome-ways" },
          Object.entries(WAYS).map(([name, href]) =>
            h(
              "li",
              {},
              h(
                "a",
                { href, "data-key": `welcome-${name}` },
                h("b", {}, say(name)),
                h("span", {}, say(`${name}_told`)),
              ),
            ),
          ),
        ),
        h("p", { class: "soft small" }, say("promise")),
      ),
    );
  }
}

customElements.define("welcome-ways", WelcomeWays);
