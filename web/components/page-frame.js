// The frame around the screens: name, how the page stands with Python and the network, tabs.

import { atDesk, whenDeskChanges } from "../lib/page/desk.js";
import { h, refill, svg } from "../lib/page/dom.js";

const MARKS = {
  count: "M3 19 9 4h14l-6 15ZM12 4 6 19M18 4l-6 15",
  cut: "M3 20 23 4M5 6h12M9 12h12",
  quilt: "M13 3 23 12 13 21 3 12ZM8 7.5 18 16.5M18 7.5 8 16.5",
  basket: "M3 9h20l-3 11H6ZM8 9l4-6M18 9l-4-6",
  tools: "M3 8h20v8H3ZM7 8v4M11 8v3M15 8v4M19 8v3",
};

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
    this.top = h("header", { class: "top" }, wordmark(words), this.terms, this.state);
    this.links = [...tabs.map((name) => tab(name, words)), this.terms];
    this.tabs = h("nav", { class: "tabs", "aria-label": words.say("page.tabs") }, this.links.slice(0, -1));
    refill(root, h("div", { class: "frame" }, this.top, this.place, this.tabs));
    this.#arrange();
    whenDeskChanges(() => this.#arrange());
  }

  /** On a phone the tabs are under the thumb, on a desk on top; for the keyboard as they are seen. */
  #arrange() {
    if (atDesk()) this.terms.before(this.tabs);
    else this.place.after(this.tabs);
  }

  /** Puts a screen in its place, with what stands at its foot; at the mat there is nothing else on the page. */
  show(name, element, alone, foot = null) {
    this.top.hidden = this.tabs.hidden = alone;
    this.links.forEach((link) => link.toggleAttribute("aria-current", false));
    this.links.find((link) => link.getAttribute("href") === `#${name}`)?.setAttribute("aria-current", "page");
    refill(this.place, element, foot);
    scrollTo(0, 0);
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

function wordmark(words) {
  return h(
    "span",
    { class: "wordmark" },
    svg(
      "svg",
      { viewBox: "0 0 38 30", "aria-hidden": "true" },
      svg("path", { d: "M2 28 10 14h16l-8 14Z", fill: "var(--press)" }),
      svg("path", { d: "M12 12 20-2h16l-8 14Z", fill: "var(--next)", transform: "translate(0 2)" }),
    ),
    words.say("page.name"),
  );
}

function tab(name, words) {
  return h(
    "a",
    { href: `#${name}` },
    svg("svg", { viewBox: "0 0 26 24", "aria-hidden": "true" }, svg("path", { d: MARKS[name] })),
    words.say(`page.tab.${name}`),
  );
}
