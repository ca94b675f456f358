// The moves of a step as pictures that stand still, one below the other or side by side, each with its line.

import { openOver } from "../lib/page/closing.js";
import { emit, h, refill } from "../lib/page/dom.js";
import "./scene-view.js";

/** Opened with `stills`, each {text, pose}, and the `scene` as a scene-view takes it. Emits `moving` where that is offered. */
export class ShowMe extends HTMLElement {
  open({ stills, scene, words, moving }) {
    this.dialog ??= this.appendChild(h("dialog", { class: "show-me", "aria-labelledby": "show-me-title" }));
    const views = stills.map(() => h("scene-view", { "aria-hidden": "true" }));
    refill(
      this.dialog,
      h("h2", { id: "show-me-title", class: "unseen", tabindex: "-1", autofocus: true }, words.say("show_me.title")),
      h(
        "ol",
        { class: "show-me-stills", role: "list", tabindex: "0", "aria-labelledby": "show-me-title" },
        stills.map(({ text }, i) => h("li", {}, h("p", {}, h("b", { "aria-hidden": "true" }, i + 1), text), views[i])),
      ),
      h(
        "div",
        { class: "show-me-bar" },
        moving && this.#button(words.say("show_me.moving"), () => this.#moving()),
        this.#button(words.say("show_me.close"), () => this.dialog.close(), "show-me-close"),
      ),
    );
    openOver(this.dialog);
    views.forEach((view, i) => {
      view.show({ ...scene, words, description: stills[i].text });
      view.pose(stills[i].pose);
    });
  }

  #button(text, onclick, name = "") {
    return h("button", { type: "button", class: name, onclick }, text);
  }

  #moving() {
    this.dialog.close();
    emit(this, "moving");
  }
}

customElements.define("show-me", ShowMe);
