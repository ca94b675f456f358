// "What happened?": every way in which cutting goes wrong, with what it does to the count said before it is done.

import { emit, h, refill } from "../lib/dom.js";

const MOST_NUMBERS = 12;

/**
 * Opened with the limits of each event, the counts and the pieces a cut frees; `others` are further things to do, each
 * [type, title, hint, detail]; `later` are more of these, promised. Emits `mended` with {event, n}, or the type of one of the others with its detail.
 */
export class MendDialog extends HTMLElement {
  open({ limits, counts, gives, others, later, words }) {
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "mend-title" }));
    refill(this.dialog,
      h("div", { class: "mend" },
        h("h2", { id: "mend-title", tabindex: "-1", autofocus: true }, words.say("mat.mend_title")),
        limits("spoiled") && this.#spoiled("spoiled", counts, words),
        limits("spoiled_before")?.[1] > 0 && this.#spoiled("spoiled_before", counts, words),
        limits("ends_early")?.[1] > 0 && this.#endsEarly(limits("ends_early"), counts, gives, words),
        limits("ends_early")?.[1] > 0 && this.#wrongWidth(limits("ends_early")[1], counts, gives, words),
        limits("extra") === null && this.#button("extra", undefined, words.say("mat.extra"), words.say("mat.extra_effect", { all: counts.all + gives })),
        others.map((other) => this.#other(...other)),
        this.#later(later),
        limits("recount") && this.#recount(counts, words),
        h("button", { type: "button", onclick: () => this.dialog.close() }, words.say("mat.mend_close"))));
    this.dialog.showModal();
  }

  #spoiled(event, counts, words) {
    return this.#button(event, 1, words.say(`mat.${event}`), words.say("mat.spoiled_effect", { all: counts.all - 1, spoiled: counts.spoiled + 1 }));
  }

  #endsEarly([least, most], counts, gives, words) {
    const losses = numbers(Math.max(least, most - MOST_NUMBERS + 1), most).reverse();
    return h("div", { role: "group", "aria-label": words.say("mat.ends_early") },
      h("p", {}, words.say("mat.ends_early")),
      h("div", { class: "numbers" }, losses.map((n) => this.#number("ends_early", n, (most - n) * gives,
        words.say("mat.makes", { all: counts.all - n * gives }), words.say("mat.ends_early_effect", { left: (most - n) * gives, all: counts.all - n * gives })))));
  }

  /** A strip that is cut at the wrong width gives nothing more of this piece. */
  #wrongWidth(most, counts, gives, words) {
    return this.#button("ends_early", most, words.say("mat.wrong_width"), words.say("mat.wrong_width_effect", { all: counts.all - most * gives }));
  }

  #recount(counts, words) {
    const from = Math.max(0, counts.total - 3);
    return h("div", { role: "group", "aria-label": words.say("mat.recount") },
      h("p", {}, words.say("mat.recount")),
      h("div", { class: "numbers" }, numbers(from, counts.total + 3).filter((n) => n !== counts.total)
        .map((n) => this.#number("recount", n - counts.total, n, words.say("mat.makes", { all: counts.all + n - counts.total }),
          words.say("mat.recount_effect", { n, all: counts.all + n - counts.total })))));
  }

  #button(event, n, title, effect) {
    return h("button", { type: "button", onclick: () => this.#done(event, n) }, h("b", {}, title), h("span", {}, effect));
  }

  #other(type, title, hint, detail) {
    const chosen = () => {
      this.dialog.close();
      emit(this, type, detail);
    };
    return h("button", { type: "button", "data-key": [type, detail].filter(Boolean).join(" "), onclick: chosen }, h("b", {}, title), h("span", {}, hint));
  }

  /** What can be done besides is added as soon as it is known. */
  #later(promised) {
    const room = h("div", { class: "mend-later", "aria-busy": "true" });
    promised.then((others) => {
      room.replaceChildren(...others.map((other) => this.#other(...other)));
      room.removeAttribute("aria-busy");
    });
    return room;
  }

  #number(event, n, shown, makes, effect) {
    return h("button", { type: "button", title: effect, onclick: () => this.#done(event, n) }, h("b", {}, String(shown)), h("span", {}, makes));
  }

  #done(event, n) {
    this.dialog.close();
    emit(this, "mended", { event, n });
  }
}

function numbers(from, to) {
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i);
}

customElements.define("mend-dialog", MendDialog);
