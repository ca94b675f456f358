// The bar above every screen with what has to be read, one thing at a time.

import { emit, h, refill, whenLettersCome } from "../lib/page/dom.js";

// Where a notice's way leads that is not to the repair.
const WAYS = { keep_copy: "#tools/keep", insecure: "#tools/keep" };

/**
 * Shows {code, values} of "notice", or nothing for null. Emits `notice-read`. The screens make
 * room for it by `--notice`.
 */
export class NoticeBar extends HTMLElement {
  show(notice, words) {
    this.hidden = !notice;
    if (notice) this.#tell(notice, words);
    else refill(this);
    this.#measure();
  }

  #tell({ code, values }, words) {
    const [full, brief] = [`notice.${code}.full`, `notice.${code}.brief`].map((path) => words.say(path, values));
    refill(
      this,
      h("p", { role: "alert" }, h("span", { class: "notice-full" }, full), h("span", { class: "notice-brief" }, brief)),
      words.has(`notice.${code}.way`) &&
        h(
          "a",
          { class: "button link", href: WAYS[code] ?? "#repair", "data-key": "notice-way" },
          words.say(`notice.${code}.way`),
        ),
      h(
        "button",
        { type: "button", class: "button", "data-key": "notice-read", onclick: () => emit(this, "notice-read") },
        words.say("notice.read"),
      ),
    );
  }

  connectedCallback() {
    addEventListener("resize", () => this.#measure());
    whenLettersCome(() => this.#measure());
  }

  #measure() {
    document.documentElement.style.setProperty("--notice", `${this.hidden ? 0 : this.offsetHeight}px`);
  }
}

customElements.define("notice-bar", NoticeBar);
