// The frame around the screens: name, how the page stands with Python and the network, tabs.

import { atDesk, whenDeskChanges } from "../lib/page/desk.js";
import { h, refill } from "../lib/page/dom.js";
import { icon, wordmark } from "../lib/page/icons.js";
import "./take-back.js";

/** Fills `root` and gives the frame. Events: `update`, `retry` and `explain`, when the user asks for them. */
export function frame(root, { words, tabs }) {
  return new Frame(root, words, tabs);
}

class Frame extends EventTarget {
  constructor(root, words, tabs) {
    super();
    this.words = words;
    this.place = h("div");
    this.state = h("div", { class: "standing", role: "status" });
    this.terms = h("a", { class: "to-terms", href: "#terms" }, words.say("glossary.open"));
    this.top = h("header", { class: "top" }, brand(words), this.terms, this.state);
    this.links = [...tabs.map((name) => tab(name, words)), this.terms];
    this.tabs = h("nav", { class: "tabs", "aria-label": words.say("page.tabs") }, this.links.slice(0, -1));
    this.back = document.createElement("take-back");
    this.back.hidden = true;
    refill(root, h("div", { class: "frame" }, this.top, this.place, this.back, this.tabs));
    this.#arrange();
    whenDeskChanges(() => this.#arrange());
  }

  /** On a phone the tabs are under the thumb, on a desk on top; for the keyboard as they are seen. */
  #arrange() {
    if (atDesk()) this.terms.before(this.tabs);
    else this.back.after(this.tabs);
  }

  /** Puts a screen in its place, with what stands at its foot; at the mat there is nothing else on the page. */
  show(name, element, alone, foot = null) {
    this.top.hidden = this.tabs.hidden = alone;
    if (name !== this.name) this.offerBack(null);
    this.name = name;
    this.links.forEach((link) => link.toggleAttribute("aria-current", false));
    this.links.find((link) => link.getAttribute("href") === `#${name}`)?.setAttribute("aria-current", "page");
    refill(this.place, element, foot);
    scrollTo(0, 0);
  }

  /** Offers to put back what was just taken out, by `act()`; null takes the offer away. */
  offerBack(what, act) {
    this.back.show?.(what, this.words, act);
  }

  /** Says something at the top until the next standing. */
  say(text) {
    refill(this.state, h("span", { role: "alert" }, text));
    this.top.scrollIntoView({ block: "nearest" });
  }

  /** How the page stands with Python ({stage, message, late}) and without a network ({state, fault, trouble}). */
  standing({ python, offline, underWay }) {
    if (python.stage === "failed") return this.#failed(this.words.say("updates.python.failed"), python.message);
    if (offline.state === "failed")
      return this.#failed(this.words.say(`updates.failed.${offline.fault.kind}`), offline.fault.detail);
    return refill(this.state, this.#working(python) ?? this.#atEase(offline, underWay));
  }

  #failed(text, detail) {
    return refill(
      this.state,
      h("span", {}, text),
      " ",
      this.#button("retry", this.words.say("page.retry")),
      report(detail, this.words),
    );
  }

  /** What Python is doing, as long as it is not ready. */
  #working({ stage, late }) {
    if (stage === "again" || (stage === "ready" && late))
      return this.words.say(`updates.python.${stage === "again" ? "again" : "late"}`);
    return stage === "ready" ? null : this.words.say(`page.standing.${stage}`);
  }

  #atEase({ state, trouble }, underWay) {
    const { words } = this;
    if (state === "update")
      return underWay ? words.say("page.update_later") : this.#button("update", words.say("page.update"));
    const text = words.say(`page.standing.${state}`);
    if (state === "ready" && !trouble.kind) return this.#button("explain", text);
    return trouble.kind
      ? [h("p", {}, text), h("p", {}, words.say(`updates.trouble.${trouble.kind}`)), report(trouble.detail, words)]
      : text;
  }

  #button(type, text) {
    return h("button", { type: "button", "data-key": type, onclick: () => this.dispatchEvent(new Event(type)) }, text);
  }
}

/** The browser's own words, out of sight until someone reports them. */
function report(detail, words) {
  return detail && h("details", {}, h("summary", {}, words.say("updates.report")), h("code", {}, detail));
}

function brand(words) {
  return h("span", { class: "wordmark" }, wordmark(), words.say("page.name"));
}

function tab(name, words) {
  return h("a", { href: `#${name}` }, icon("tab", name), words.say(`page.tab.${name}`));
}
