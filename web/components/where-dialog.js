// "Where am I": this strip, this cloth, all; the pace and the time left; the piles; and all that was
// counted, with undo to any point.

import { openOver } from "../lib/page/closing.js";
import { emit, h, refill, svg } from "../lib/page/dom.js";
import { closedPath } from "../lib/page/drawing.js";
import { minutesLeft, perMinute } from "../lib/mat/pace.js";

const NEWEST = 60;

/**
 * Opened with a sitting's counts, history and piles (each with the `text` that names it). Emits `undo-to` with how many
 * events to take back; what that leaves is said first, and a second tap does it.
 */
export class WhereDialog extends HTMLElement {
  open({ counts, history, piles, cloth, colour, words }) {
    this.dialog ??= this.appendChild(h("dialog", { "aria-labelledby": "where-title" }));
    refill(
      this.dialog,
      h(
        "div",
        { class: "mend" },
        h("h2", { id: "where-title", tabindex: "-1", autofocus: true }, words.say("where.title")),
        h(
          "ul",
          { class: "list" },
          lines({ counts, history, cloth, colour, words }).map((line) => h("li", {}, line)),
        ),
        h("h2", {}, words.say("where.piles")),
        h("ul", { class: "list" }, piles.map(pileRow)),
        h("button", { type: "button", onclick: () => this.dialog.close() }, words.say("where.close")),
        h("h2", {}, words.say("where.history")),
        h(
          "ol",
          { class: "list", reversed: true },
          history
            .slice(-NEWEST)
            .reverse()
            .map((event, back) => this.#row(event, leftAfter(history, back + 1, counts), back, words)),
        ),
      ),
    );
    openOver(this.dialog);
  }

  #row(event, left, back, words) {
    const time = new Date(event.at).toLocaleTimeString(words.tongue, { hour: "2-digit", minute: "2-digit" });
    return h(
      "li",
      {},
      h("p", {}, `${time} · ${told(event, words)}`),
      h(
        "button",
        { type: "button", onclick: ({ currentTarget }) => this.#sure(currentTarget, back + 1, left, words) },
        words.say("where.undo_to", { n: back + 1 }),
      ),
    );
  }

  /** Undoing cannot be undone: the first tap says what it leaves, the second does it. */
  #sure(button, n, left, words) {
    if (button === this.asked) return this.#undoTo(n);
    this.asked = button;
    refill(button, h("span", { role: "alert" }, words.say("where.undo_sure", { left })));
  }

  #undoTo(n) {
    this.dialog.close();
    emit(this, "undo-to", n);
  }
}

/** Pieces that stay counted when the last `n` events are taken back. */
function leftAfter(history, n, counts) {
  return history.slice(-n).reduce((left, { made }) => left - made, counts.total);
}

function lines({ counts, history, cloth, colour, words }) {
  const left = counts.all - counts.total;
  const pace = perMinute(history);
  return [
    words.say("where.strip", counts),
    words.say("where.cloth", cloth),
    colour && words.say("where.colour", colour),
    words.say("where.all", counts),
    counts.spoiled ? words.say("where.spoiled", { n: counts.spoiled }) : null,
    pace === null
      ? words.say("where.pace_unknown")
      : words.say("where.pace", { pace, minutes: minutesLeft(history, left) }),
  ].filter(Boolean);
}

function told(event, words) {
  const name = event.event === "cut" ? `cut_${event.made > 0 ? "piece" : "step"}` : event.event;
  return words.say(`where.event.${name}`, {
    n: event.n ?? 1,
    made: event.made,
    step: words.say(`where.step.${event.step.do}`),
  });
}

function pileRow({ piece: { outline, size }, text }) {
  const xs = outline.map(([x]) => x);
  const [left, wide] = [Math.min(...xs), Math.max(...xs) - Math.min(...xs)];
  return h(
    "li",
    { class: "pile" },
    svg(
      "svg",
      { class: "drawing", viewBox: `${left} 0 ${wide} ${size}`, "aria-hidden": "true" },
      svg("path", { class: "piece", transform: `matrix(1 0 0 -1 0 ${size})`, d: closedPath(outline) }),
    ),
    h("span", {}, text),
  );
}

customElements.define("where-dialog", WhereDialog);
