// "Earlier cutting": every sitting that is kept, with what it was, how far it is, and what can be done with it.

import { emit, h, refill } from "../lib/page/dom.js";

// By the shape’s name, and as older scripts name it.
const SHAPES = {
  diamond: "diamond",
  "half-diamond": "half_diamond",
  rectangle: "rectangle",
  Diamond: "diamond",
  HalfDiamond: "half_diamond",
  Rectangle: "rectangle",
};

/**
 * Shows `entries` as `Past.list` gives them. Emits `past-go-on`, `past-anew` and `past-remove` with a sitting's id; a
 * removal is asked again first.
 */
export class PastList extends HTMLElement {
  #asked = null;

  show({ entries, words }) {
    this.view = { entries, words };
    const say = (code, values) => words.say(`tools.earlier.${code}`, values);
    refill(
      this,
      h(
        "div",
        { class: "section" },
        h("p", { class: "soft" }, say("hint")),
        entries.length
          ? h(
              "ul",
              { class: "section" },
              entries.map((entry) => this.#row(entry, say)),
            )
          : h("p", {}, say("none")),
      ),
    );
  }

  #row({ id, sitting, touched }, say) {
    const { words } = this.view;
    const when = words.moment(touched);
    const name = sitting ? whatOf(sitting, say, words) : say("unreadable");
    return h(
      "li",
      { class: "list" },
      h("b", { id: `past-${id}` }, name),
      h("p", {}, [sitting && farOf(sitting, say), say("touched", { when })].filter(Boolean).join(" · ")),
      this.#asked === id ? this.#question(id, say) : this.#acts(id, sitting, say),
    );
  }

  #acts(id, sitting, say) {
    return h(
      "div",
      { class: "row" },
      sitting &&
        this.#button(
          "go-on",
          id,
          say(sitting.done ? "look" : "go_on"),
          () => emit(this, "past-go-on", id),
          sitting.done ? "button plain" : "button",
        ),
      sitting?.title?.ask && this.#button("anew", id, say("anew"), () => emit(this, "past-anew", id), "button plain"),
      this.#button("remove", id, say("remove"), () => this.#ask(id), "button plain"),
    );
  }

  #question(id, say) {
    return h(
      "div",
      { class: "list", role: "group", "aria-labelledby": `past-${id}` },
      h("p", { role: "alert" }, say("remove_ask")),
      h(
        "div",
        { class: "row" },
        this.#button("keep", id, say("keep"), () => this.#ask(null, `remove ${id}`), "button plain"),
        this.#button("remove-yes", id, say("remove_yes"), () => this.#remove(id), "button"),
      ),
    );
  }

  #remove(id) {
    this.#asked = null; // should it be put back, nothing is asked about it
    emit(this, "past-remove", id);
  }

  /** Asks about one of them, or about none any more; the focus goes to the button that leaves all as it is. */
  #ask(id, back = `keep ${id}`) {
    this.#asked = id;
    this.show(this.view);
    this.querySelector(`[data-key="${CSS.escape(back)}"]`)?.focus();
  }

  #button(act, id, text, onclick, kind) {
    return h(
      "button",
      { type: "button", class: kind, "data-key": `${act} ${id}`, "aria-describedby": `past-${id}`, onclick },
      text,
    );
  }
}

/** The piece and the cloth; of several, how many. */
function whatOf({ scripts: [{ pieces, cloths }] }, say, words) {
  const names = [
    ...new Set(cloths.map(({ id }) => (words.has(`cloth.${id}.name`) ? words.say(`cloth.${id}.name`) : id))),
  ];
  const [{ shape, size, angle }] = pieces;
  const piece =
    pieces.length === 1 && SHAPES[shape] ? say(SHAPES[shape], { size, angle }) : say("pieces", { n: pieces.length });
  return say("what", {
    piece,
    cloth: cloths.length === 1 || names.length === 1 ? names[0] : say("cloths", { n: cloths.length }),
  });
}

function farOf(sitting, say) {
  const { total: made, all } = sitting.counts();
  return sitting.done ? say("done", { n: made }) : say("far", { made, all });
}

customElements.define("past-list", PastList);
