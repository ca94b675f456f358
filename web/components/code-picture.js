// A code to be read by another phone: one that stands still, or one after another of a stream.

import { emit, h, refill, svg } from "../lib/page/dom.js";

/**
 * Shows a `code` {side, path}, or a `stream` {rate, codeOf(number)} that goes on by itself until it is held. Always dark
 * on light, whatever the page is: readers look for that. Emits `stream-held` {on}.
 */
export class CodePicture extends HTMLElement {
  #timer = null;
  #number = 0;
  #held = false;

  disconnectedCallback() {
    clearInterval(this.#timer);
  }

  connectedCallback() {
    if (this.view) this.show(this.view);
  }

  show(view) {
    this.view = view;
    const { code, stream, told, words } = view;
    clearInterval(this.#timer);
    this.picture = h("div", { class: "code-frame", role: "img", "aria-label": told });
    const held = stream && this.#holdButton(words);
    refill(this, this.picture, held);
    if (code) this.#draw(code);
    if (stream) this.#run(stream);
  }

  #run({ rate, codeOf }) {
    this.#draw(codeOf(this.#number));
    if (this.#held) return;
    this.#timer = setInterval(() => this.#draw(codeOf((this.#number += 1))), 1000 / rate);
  }

  #draw({ side, path }) {
    refill(
      this.picture,
      svg(
        "svg",
        { viewBox: `0 0 ${side} ${side}`, "shape-rendering": "crispEdges", "aria-hidden": "true" },
        svg("rect", { width: side, height: side, fill: "#ffffff" }),
        svg("path", { d: path, fill: "#000000" }),
      ),
    );
  }

  #holdButton(words) {
    return h(
      "button",
      { type: "button", class: "button plain", "data-key": "hold-stream", onclick: () => this.#hold() },
      words.say(this.#held ? "passing.go_on" : "passing.hold"),
    );
  }

  #hold() {
    this.#held = !this.#held;
    this.show(this.view);
    emit(this, "stream-held", { on: this.#held });
  }
}

customElements.define("code-picture", CodePicture);
