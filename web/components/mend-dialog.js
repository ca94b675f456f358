// "What happened?": every way in which cutting goes wrong, with what it does to the count said before it is done.

import { openOver } from "../lib/page/closing.js";
import { emit, h, refill } from "../lib/page/dom.js";

const MOST_NUMBERS = 12;

/**
 * Opened with the limits of each event, the counts, what `would(event, n)` make of them, and the pieces a cut frees;
 * `others` are further things to do, each [type, title, hint, detail]; `later` are more of these, promised. Emits
 * `mended` with {event, n}, or the type of one of the others with its detail.
 */
export class MendDialog extends HTMLElement {
  open(view) {
    const { limits, would, counts, others, later, words } = view;
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "mend-title" }));
    const most = limits("ends_early")?.[1] ?? 0;
    refill(
      this.dialog,
      h(
        "div",
        { class: "mend" },
        h("h2", { id: "mend-title", tabindex: "-1", autofocus: true }, words.say("mat.mend_title")),
        limits("spoiled")?.[1] > 0 && this.#spoiled("spoiled", would, words),
        limits("spoiled_before")?.[1] > 0 && this.#spoiled("spoiled_before", would, words),
        most > 0 && this.#endsEarly(limits("ends_early"), would, words),
        (most > 0 || counts.made > 0) && limits("wrong_width") === null && this.#wrongWidth(would, words),
        limits("extra") === null &&
          this.#button("extra", undefined, words.say("mat.extra"), words.say("mat.extra_effect", would("extra"))),
        others.map((other) => this.#other(...other)),
        this.#later(later),
        limits("recount") && this.#recount(view),
        h("button", { type: "button", onclick: () => this.dialog.close() }, words.say("mat.mend_close")),
      ),
    );
    openOver(this.dialog);
  }

  #spoiled(event, would, words) {
    return this.#button(event, 1, words.say(`mat.${event}`), words.say("mat.spoiled_effect", would(event, 1)));
  }

  #endsEarly([least, most], would, words) {
    const losses = numbers(Math.max(least, most - MOST_NUMBERS + 1), most).reverse();
    return h(
      "div",
      { role: "group", "aria-label": words.say("mat.ends_early") },
      h("p", {}, words.say("mat.ends_early")),
      h(
        "div",
        { class: "numbers" },
        losses.map((n) => this.#endedBy(n, would("ends_early", n), words)),
      ),
    );
  }

  #endedBy(n, after, words) {
    const left = after.of - after.made;
    return this.#number(
      "ends_early",
      n,
      left,
      words.say("mat.makes", after),
      words.say("mat.ends_early_effect", { ...after, left }),
    );
  }

  /** A strip that is cut at the wrong width gives nothing of this piece. */
  #wrongWidth(would, words) {
    return this.#button(
      "wrong_width",
      undefined,
      words.say("mat.wrong_width"),
      words.say("mat.wrong_width_effect", would("wrong_width")),
    );
  }

  /**
   * Within what the strip gives it is a tap that was missed or one too many: the strip goes on, or back,
   * and all stays what it was.
   */
  #recount({ would, counts, gives, words }) {
    const from = Math.max(0, counts.total - 3);
    return h(
      "div",
      { role: "group", "aria-label": words.say("mat.recount") },
      h("p", {}, words.say("mat.recount")),
      h(
        "div",
        { class: "numbers" },
        numbers(from, counts.total + 3)
          .filter((n) => n !== counts.total)
          .map((n) => this.#recounted(n, counts.total, would, gives, words)),
      ),
    );
  }

  #recounted(now, before, would, gives, words) {
    const taps = (now - before) / (gives || 1);
    const within = Number.isInteger(taps) ? would("recount_strip", taps) : null;
    if (within?.total === now) {
      const effect = words.say(`mat.recount_strip_${taps > 0 ? "effect" : "back"}`, {
        now,
        n: Math.abs(taps),
        ...within,
      });
      return this.#number("recount_strip", taps, now, words.say("mat.makes", within), effect);
    }
    const after = would("recount", now - before);
    return this.#number(
      "recount",
      now - before,
      now,
      words.say("mat.makes", after),
      words.say("mat.recount_effect", { n: now, ...after }),
    );
  }

  #button(event, n, title, effect) {
    return h(
      "button",
      { type: "button", onclick: () => this.#done(event, n) },
      h("b", {}, title),
      h("span", {}, effect),
    );
  }

  #other(type, title, hint, detail) {
    const chosen = () => {
      this.dialog.close();
      emit(this, type, detail);
    };
    return h(
      "button",
      { type: "button", "data-key": [type, detail].filter(Boolean).join(" "), onclick: chosen },
      h("b", {}, title),
      h("span", {}, hint),
    );
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
    return h(
      "button",
      { type: "button", title: effect, onclick: () => this.#done(event, n) },
      h("b", {}, String(shown)),
      h("span", {}, makes),
    );
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
