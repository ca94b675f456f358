// The rulers that are known, to one scale, each with a box to tick for "I have this one".

import { emit, h, refill } from "../lib/page/dom.js";
import { written } from "../lib/words/measure.js";
import { rulerDrawing } from "./ruler-drawing.js";

/** Shows `entries` {ruler, have, drawn}. Emits `have` {place, have}, `change-ruler` place and `add`. */
export class RulerList extends HTMLElement {
  show({ entries, words }) {
    const longest = Math.max(...entries.map(({ drawn }) => drawn?.length ?? 0));
    refill(
      this,
      h(
        "ul",
        { class: "rulers", "aria-label": words.say("rulers_screen.list") },
        entries.map((entry, place) => this.#row(entry, place, longest, words)),
      ),
      h(
        "button",
        { type: "button", class: "button", "data-key": "add", onclick: () => emit(this, "add") },
        words.say("rulers_screen.add"),
      ),
    );
  }

  #row({ ruler, have, drawn }, place, longest, words) {
    const sizes = { width: typed(ruler.width, words), length: typed(ruler.length, words) };
    const id = `have-${place}`;
    const ticked = (event) => emit(this, "have", { place, have: event.currentTarget.checked });
    return h(
      "li",
      { class: "card ruler-row" },
      h(
        "div",
        { class: "row" },
        h(
          "label",
          { class: "tick", for: id },
          h("input", { type: "checkbox", id, checked: have, "data-key": id, onchange: ticked }),
          h("b", {}, ruler.name),
        ),
        this.#change(place, ruler.name, words),
      ),
      h(
        "div",
        { class: "beside" },
        drawn && rulerDrawing(drawn, { words, wide: longest, description: words.say("rulers_screen.drawn", sizes) }),
        h(
          "p",
          { class: "soft small" },
          words.list([
            words.say("rulers_screen.size", sizes),
            words.say("rulers_screen.tick", { tick: typed(ruler.tick, words) }),
            lines(ruler, words),
          ]),
        ),
      ),
    );
  }

  #change(place, name, words) {
    return h(
      "button",
      {
        type: "button",
        class: "button plain",
        "data-key": `change-${place}`,
        "aria-label": words.say("rulers_screen.change_one", { name }),
        onclick: () => emit(this, "change-ruler", place),
      },
      words.say("rulers_screen.change"),
    );
  }
}

/** A length of a request: as the user wrote it, or in the user's units. */
function typed(length, words) {
  return typeof length === "string" ? written(length) : words.length(length);
}

function lines({ angles = [] }, words) {
  const degrees = [...new Set(angles.map((line) => `${line.degrees}°`))];
  return degrees.length
    ? words.say("rulers_screen.lines", { degrees: words.list(degrees) })
    : words.say("rulers_screen.no_lines");
}

customElements.define("ruler-list", RulerList);
