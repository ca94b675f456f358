// What is needed from the basket: everything of the quilt, or pieces that are typed by hand.

import { pieceName } from "../lib/words/cut-words.js";
import { needName } from "../lib/words/need-name.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { chips } from "./chips.js";
import { isJoined, piecesIn } from "../lib/asking/plan-request.js";
import { choiceField, tickField } from "./choice-field.js";
import { Folds } from "./fold-open.js";
import { lengthField, plainField } from "./length-field.js";

const LENGTHS = ["size", "length"];

/**
 * Shows what a quilt needs (`needs` with their `counts`, those `left_out` unticked, and what is `not_cut`) or the
 * `typed` pieces, with the `choices` of shapes, cuts and grains. Emits `put` {path, value}, `leave-out` {id, on},
 * `add-piece`, `remove-piece` place.
 */
export class NeedList extends HTMLElement {
  #folds = new Folds();

  constructor() {
    super();
    const put = (name, value) => emit(this, "put", { path: name.split("."), value });
    this.addEventListener("from", ({ detail }) => put("from", detail));
    this.addEventListener("grain", ({ detail }) => put("grain", detail));
    this.addEventListener("typed", ({ detail }) => put(detail.name, detail.text));
    this.addEventListener("chosen-one", ({ detail }) => put(detail.name, detail.value));
    this.addEventListener("ticked", ({ detail }) => emit(this, "leave-out", { id: detail.name, on: detail.on }));
  }

  show(shown) {
    const { state, choices, errors, words } = shown;
    const say = (code, values) => words.say(`basket_screen.${code}`, values);
    refill(
      this,
      h(
        "div",
        { class: "card" },
        chips(
          say("from"),
          ["quilt", "typed"].map((from) => [from, say(`from_${from}`)]),
          state.from,
          "from",
        ),
        errors.pieces && h("p", { class: "error", role: "alert" }, errors.pieces),
        ...(state.from === "quilt" ? this.#quilt(shown, say) : this.#typed(shown, say)),
        choiceField({
          name: "grain",
          label: say("grain"),
          taken: state.grain,
          choices: choices.grains.map((grain) => [grain, say(`grains.${grain}`)]),
          error: errors.grain,
        }),
      ),
    );
  }

  #quilt({ needs, counts, not_cut: bought, state, words }, say) {
    if (!needs) return [h("p", { class: "soft", role: "status" }, say("needs_waiting"))];
    const taken = needs.filter(({ id }) => !state.left_out.includes(id));
    return [
      this.#folds.fold(
        "needs",
        toldNeeds(taken, counts, words),
        false,
        h(
          "ul",
          { class: "list" },
          needs.map((need) =>
            h(
              "li",
              {},
              tickField({ name: need.id, label: needName(need, counts, words), on: !state.left_out.includes(need.id) }),
            ),
          ),
        ),
        h("p", { class: "soft small" }, say("needs_hint")),
        bought?.length > 0 &&
          h(
            "p",
            { class: "soft small" },
            say("needs_bought", { what: words.list(bought.map((id) => pieceName(id, words))) }),
          ),
      ),
    ];
  }

  #typed({ state, choices, fabrics, errors }, say) {
    return [
      ...state.typed.map((piece, place) => this.#piece(piece, place, { choices, fabrics, errors }, say)),
      h(
        "button",
        { type: "button", class: "button", "data-key": "add-piece", onclick: () => emit(this, "add-piece") },
        say("piece_add"),
      ),
    ];
  }

  #piece(piece, place, { choices: { shapes, cuts }, fabrics, errors }, say) {
    const at = (name) => `typed.${place}.${name}`;
    const told = shapes[piece.shape] ?? [];
    const field = (name, label) => {
      const one = { name: at(name), label, text: piece[name], error: errors[`pieces[${place}].${name}`] };
      return LENGTHS.includes(name) ? lengthField(one) : plainField(one);
    };
    return h(
      "fieldset",
      { class: "part" },
      h("legend", {}, say("piece_number", { number: place + 1 })),
      h(
        "div",
        { class: "beside" },
        choiceField({
          name: at("shape"),
          label: say("shape"),
          taken: piece.shape,
          choices: Object.keys(shapes).map((shape) => [shape, say(`shapes.${shape.replace("-", "_")}`)]),
        }),
        field("need", say("need")),
        field("size", say("size")),
        told.filter((name) => name !== "cut").map((name) => field(name, say(name))),
        told.includes("cut") &&
          choiceField({
            name: at("cut"),
            label: say("cut"),
            taken: piece.cut,
            choices: cuts.map((cut) => [cut, say(`cuts.${cut}`)]),
          }),
        fabrics.length > 0 &&
          choiceField({
            name: at("fabric"),
            label: say("fabric"),
            taken: piece.fabric,
            choices: [["", say("fabric_any")], ...fabrics.map(([id, text]) => [id, text])],
          }),
      ),
      h(
        "button",
        {
          type: "button",
          class: "button plain",
          "data-key": `remove-piece-${place}`,
          onclick: () => emit(this, "remove-piece", place),
        },
        say("remove"),
      ),
    );
  }
}

/** How many pieces some needs come to, as many as the quilt has, and how many strips are joined for what. */
function toldNeeds(needs, counts, words) {
  const say = (code, values) => words.say(`basket_screen.${code}`, values);
  const all = Object.fromEntries(needs.map(({ id, need }) => [id, need]));
  const told = say("needs", { pieces: piecesIn(all, needs, counts), n: needs.length });
  const joined = needs.filter((need) => isJoined(need, counts));
  if (!joined.length) return told;
  const names = words.list([...new Set(joined.map(({ id }) => pieceName(id, words)))], "names");
  return say("needs_joined", { needs: told, n: joined.reduce((sum, { need }) => sum + need, 0), names });
}

customElements.define("need-list", NeedList);
