// A copy of everything counted: saved to a file, and taken back from one, with what came of it.

import { emit, h, refill } from "../lib/dom.js";

const PARTS = ["new", "longer", "beside", "same"];

/**
 * Shows how it stands: {busy, result, refused, own} with what `Copies` gives. Emits `copy-save`, and `copy-take` with {file, kept}: the
 * chosen file, and whether its rulers and settings are wanted.
 */
export class CopyKeeper extends HTMLElement {
  #ticked = null; // whether rulers and settings are wanted, once that was said

  show({ state, words }) {
    this.view = { state, words };
    const say = (code, values) => words.say(`copies.${code}`, values);
    refill(this, h("div", { class: "list" },
      h("p", { class: "soft" }, say("hint")),
      h("p", { class: "soft" }, say("clearing")),
      h("button", { type: "button", class: "button", "data-key": "copy-save", onclick: () => emit(this, "copy-save") }, say("save")),
      this.#taking(state, say),
      h("div", { role: "status" }, this.#said(state, say))));
  }

  /** Brings what came of it into sight: the page above may have changed by what was taken. */
  reveal() {
    this.querySelector("[role=alert], [role=status]").scrollIntoView({ block: "nearest" });
  }

  #taking({ refused, own, busy }, say) {
    const wanted = this.#ticked ?? !own;
    return h("div", { class: "field" },
      h("label", { for: "import" }, say("take")),
      h("label", { class: "row" }, say("kept"), h("input", { type: "checkbox", "data-key": "copy-kept", checked: wanted, onchange: ({ target }) => (this.#ticked = target.checked) })),
      own && h("p", { class: "soft small" }, say("kept_own")),
      h("input", {
        id: "import", class: "entry", type: "file", accept: ".json,application/json", "data-key": "copy-take", disabled: busy === "taking",
        "aria-invalid": String(Boolean(refused)), "aria-describedby": refused ? "import-error" : null, onchange: (event) => this.#chosen(event.currentTarget.files[0]),
      }),
      refused && this.#refusal(refused, say));
  }

  #chosen(file) {
    if (file) emit(this, "copy-take", { file, kept: this.querySelector("[data-key=copy-kept]").checked });
  }

  #refusal({ code, values, detail }, say) {
    const text = code === "unkept" ? say(`refused.unkept.${values.why}`) : say(`refused.${code}`, values);
    return h("div", { id: "import-error", class: "error", role: "alert" }, h("p", {}, text), detail && h("details", {}, h("summary", {}, say("report")), h("code", {}, detail)));
  }

  /** What has come of it, one line for each kind of thing that happened. */
  #said({ busy, result, saved }, say) {
    if (busy) return h("p", {}, say(`busy.${busy}`));
    if (saved) return h("p", {}, say(saved));
    if (!result) return null;
    const lines = PARTS.filter((part) => result[part]).map((part) => say(`taken.${part}`, { n: result[part] }));
    const kept = result.kept === null ? say("taken.kept_failed") : result.kept && say("taken.kept");
    return [...lines, !lines.length && say("taken.none"), kept].filter(Boolean).map((text) => h("p", {}, text));
  }
}

customElements.define("copy-keeper", CopyKeeper);
