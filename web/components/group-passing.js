// A count on its way: one's own to somebody else, as a text or a file; and others' to here.

import { emit, h, refill } from "../lib/page/dom.js";
import "./code-picture.js";
import { plainField } from "./length-field.js";

/**
 * Shows the fields, and what became of what was done: `state` has {said, refused, passed}, each a sentence. `out` is the own
 * count as codes, {code} or {stream}, where it is shown so. Emits `take-text`, `take-file`, `show-report`, `copy-report` and
 * `save-report`; the own name comes as `typed`.
 */
export class GroupPassing extends HTMLElement {
  show({ me, out, state, words }) {
    this.say = (code, values) => words.say(`group.${code}`, values);
    this.picture ??= document.createElement("code-picture");
    if (out) this.picture.show({ ...out, told: this.say("code_told"), words });
    refill(
      this,
      h("section", { class: "section" }, h("h2", {}, this.say("taking")), this.#taking(state)),
      h("section", { class: "section" }, h("h2", {}, this.say("passing")), this.#passing(me, out, state)),
    );
  }

  #taking({ said, refused }) {
    return h(
      "div",
      { class: "card" },
      h("a", { class: "button link", href: "#plan", "data-key": "read-code" }, this.say("read_code")),
      h("div", { class: "field" }, h("label", { for: "group-paste" }, this.say("paste")), this.#pasted(refused)),
      this.#button("take-text", "take", () => emit(this, "take-text", this.textarea.value)),
      h("div", { class: "field" }, h("label", { for: "group-file" }, this.say("file")), this.#chooser()),
      refused && h("p", { id: "group-refused", class: "error", role: "alert" }, refused),
      h("p", { role: "status", tabindex: "-1", "data-key": "group-said" }, said ?? ""),
    );
  }

  /** Always the same field: what was pasted stays in it while the rest is shown anew. */
  #pasted(refused) {
    this.textarea ??= h("textarea", {
      id: "group-paste",
      class: "entry",
      rows: "3",
      "data-key": "group-paste",
      autocomplete: "off",
      spellcheck: "false",
    });
    this.textarea.setAttribute("aria-invalid", String(Boolean(refused)));
    this.textarea.toggleAttribute("aria-describedby", Boolean(refused));
    if (refused) this.textarea.setAttribute("aria-describedby", "group-refused");
    return this.textarea;
  }

  #chooser() {
    this.input ??= h("input", {
      id: "group-file",
      class: "entry",
      type: "file",
      accept: ".json,.txt,application/json,text/plain",
      "data-key": "group-file",
      onchange: () => this.#chosen(),
    });
    return this.input;
  }

  #chosen() {
    const [file] = this.input.files;
    if (file) emit(this, "take-file", file);
    this.input.value = ""; // the same file can be chosen once more
  }

  /** What was pasted is taken: the field is empty again. */
  taken() {
    if (this.textarea) this.textarea.value = "";
  }

  #passing(me, out, { passed }) {
    return h(
      "div",
      { class: "card" },
      plainField({ name: "group.me", label: this.say("my_name"), hint: this.say("my_name_hint"), text: me }),
      h("p", { class: "soft" }, this.say("passing_hint")),
      h(
        "div",
        { class: "chips" },
        this.#button("show-report", out ? "hide_code" : "code", () => emit(this, "show-report", !out)),
        this.#button("copy-report", "copy", () => emit(this, "copy-report")),
        this.#button("save-report", "save", () => emit(this, "save-report")),
      ),
      h("p", { role: "status" }, passed ?? ""),
      out && [this.picture, h("p", { class: "soft" }, this.say("code_hint"))],
    );
  }

  #button(key, code, onclick) {
    return h("button", { type: "button", class: "button", "data-key": key, onclick }, this.say(code));
  }
}

customElements.define("group-passing", GroupPassing);
