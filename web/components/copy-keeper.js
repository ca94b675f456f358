// A copy of everything counted: saved to a file, and taken back from one, with what came of it.

import { emit, h, refill } from "../lib/page/dom.js";

const PARTS = ["new", "longer", "beside", "same", "plans"];

/**
 * Shows how it stands: {busy, result, refused, own} with what `Copies` gives, `since` how many sittings were counted since
 * the last copy, and whether the device `shares` files. Emits `copy-save`, `copy-share`, and `copy-take` with
 * {file, kept}: the chosen file, and whether its rulers and settings are wanted.
 */
export class CopyKeeper extends HTMLElement {
  #ticked = null; // whether rulers and settings are wanted, once that was said

  show({ state, words }) {
    this.view = { state, words };
    const say = (code, values) => words.say(`copies.${code}`, values);
    refill(
      this,
      h(
        "div",
        { class: "list" },
        h("p", { class: "soft" }, say("hint")),
        h("p", { class: "soft" }, say("photos")),
        h("p", { class: "soft" }, say("clearing")),
        state.since > 0 && h("p", {}, say("since", { n: state.since })),
        this.#act("copy-save", say("save")),
        state.shares && this.#act("copy-share", say("share")),
        this.#taking(state, say),
        h("div", { role: "status" }, this.#said(state, say)),
      ),
    );
  }

  /** Brings what came of it into sight: the page above may have changed by what was taken. */
  reveal() {
    this.querySelector("[role=alert], [role=status]").scrollIntoView({ block: "nearest" });
  }

  #act(key, text) {
    return h("button", { type: "button", class: "button", "data-key": key, onclick: () => emit(this, key) }, text);
  }

  #taking({ refused, own, busy }, say) {
    const wanted = this.#ticked ?? !own;
    return h(
      "div",
      { class: "field" },
      h("label", { for: "import" }, say("take")),
      h(
        "label",
        { class: "row" },
        say("kept"),
        h("input", {
          type: "checkbox",
          "data-key": "copy-kept",
          checked: wanted,
          onchange: ({ target }) => (this.#ticked = target.checked),
        }),
      ),
      own && h("p", { class: "soft small" }, say("kept_own")),
      this.#chooser(busy, refused),
      refused && this.#refusal(refused, say),
    );
  }

  /** The field for the file, always the same one: while its dialog is open the screen may be shown anew. */
  #chooser(busy, refused) {
    this.input ??= h("input", {
      id: "import",
      class: "entry",
      type: "file",
      accept: ".json,application/json",
      "data-key": "copy-take",
      onchange: () => this.#chosen(),
    });
    this.input.disabled = busy === "taking";
    this.input.setAttribute("aria-invalid", String(Boolean(refused)));
    this.input.toggleAttribute("aria-describedby", Boolean(refused));
    if (refused) this.input.setAttribute("aria-describedby", "import-error");
    return this.input;
  }

  #chosen() {
    const [file] = this.input.files;
    if (file) emit(this, "copy-take", { file, kept: this.querySelector("[data-key=copy-kept]").checked });
    this.input.value = ""; // the same file can be chosen once more
  }

  #refusal({ code, values, detail }, say) {
    const text = code === "unkept" ? say(`refused.unkept.${values.why}`) : say(`refused.${code}`, values);
    return h(
      "div",
      { id: "import-error", class: "error", role: "alert" },
      h("p", {}, text),
      detail && h("details", {}, h("summary", {}, say("report")), h("code", {}, detail)),
    );
  }

  /** What has come of it, one line for each kind of thing that happened. */
  #said({ busy, result, saved }, say) {
    if (busy) return h("p", {}, say(`busy.${busy}`));
    if (saved) return h("p", {}, say(saved));
    if (!result) return null;
    const lines = PARTS.filter((part) => result[part]).map((part) => say(`taken.${part}`, { n: result[part] }));
    const kept = result.kept === null ? say("taken.kept_failed") : result.kept && say("taken.kept");
    const told = [...lines, !lines.length && !result.plan && say("taken.none"), kept, result.plan && say("taken.plan")];
    const link = { class: "button link", href: "#plan", "data-key": "look-at-plan" };
    return [...told.filter(Boolean).map((text) => h("p", {}, text)), result.plan && h("a", link, say("taken.look"))];
  }
}

customElements.define("copy-keeper", CopyKeeper);
