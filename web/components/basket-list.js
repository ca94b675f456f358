// The cloths on hand: kind, how many, their usable sides, which fabric, and whether the print has a direction.

import { emit, h, refill } from "../lib/page/dom.js";
import { choiceField, tickField } from "./choice-field.js";
import { Folds } from "./fold-open.js";
import { lengthField, plainField } from "./length-field.js";
import { ownSide, sideUnit } from "../lib/words/measure.js";
import { fabricMark } from "./fabric-mark.js";

/**
 * Shows `cloths` (all as typed) of the `fabrics` [id, label, colour]. Emits `put` {path, value}, `add-cloth`
 * kind and `remove-cloth` place.
 */
export class BasketList extends HTMLElement {
  #folds = new Folds();
  #added = null;

  constructor() {
    super();
    const put = (name, value) => emit(this, "put", { path: ["cloths", ...name.split(".").slice(1)], value });
    this.addEventListener("typed", ({ detail }) => put(detail.name, detail.text));
    this.addEventListener("ticked", ({ detail }) => put(detail.name, detail.on));
    this.addEventListener("chosen-one", ({ detail }) =>
      detail.name === "add" ? this.#add(detail.value) : put(detail.name, detail.value),
    );
  }

  show(shown) {
    this.shown = shown;
    const { cloths, kinds, words } = shown;
    const say = (code, values) => words.say(`basket_screen.${code}`, values);
    refill(
      this,
      h(
        "div",
        { class: "card" },
        cloths.length
          ? h(
              "ul",
              { class: "list", "aria-label": say("cloths") },
              cloths.map((cloth, place) => this.#row(cloth, place, shown, say)),
            )
          : h("p", { class: "soft" }, say("cloths_none")),
        choiceField({
          name: "add",
          label: say("add"),
          taken: "",
          choices: [["", say("add_choose")], ...kinds.map(({ code }) => [code, words.say(`cloth.${code}.name`)])],
        }),
      ),
    );
  }

  #add(kind) {
    if (!kind) return;
    this.#foldAllBut(this.shown.cloths.length);
    emit(this, "add-cloth", kind);
  }

  #remove(place) {
    this.#foldAllBut(null);
    emit(this, "remove-cloth", place);
  }

  /** The places of the cloths are others now, or one is to be seen alone. */
  #foldAllBut(place) {
    this.#folds = new Folds();
    this.#added = place;
  }

  #row(cloth, place, { kinds, fabrics, errors, words }, say) {
    const kind = kinds.find(({ code }) => code === cloth.kind);
    const wrong = Object.keys(errors).some((field) => field.startsWith(`cloths[${place}]`));
    const [, label, colour, oneWay] = fabrics.find(([id]) => id === cloth.fabric) ?? [];
    const name = words.say(`cloth.${cloth.kind}.name`);
    return h(
      "li",
      {},
      this.#folds.part(
        `cloth-${place}`,
        { class: "cloth-row", open: place === this.#added, wrong },
        h(
          "summary",
          { "data-key": `cloth-${place}` },
          h("b", { class: "times" }, `${cloth.count || "–"} ×`),
          h(
            "span",
            {},
            colour && fabricMark(colour, oneWay),
            label ? words.say("join.with_fabric", { name, fabric: label }) : name,
          ),
        ),
        h(
          "div",
          { class: "section" },
          h(
            "div",
            { class: "beside" },
            plainField({
              name: `cloths.${place}.count`,
              label: say("count"),
              text: cloth.count,
              error: errors[`cloths[${place}].count`],
            }),
            fabrics.length > 0 &&
              choiceField({
                name: `cloths.${place}.fabric`,
                label: say("fabric"),
                taken: cloth.fabric,
                choices: fabrics.map(([id, text]) => [id, text]),
              }),
          ),
          h(
            "div",
            { class: "beside" },
            ["length", "width"].map((side) => this.#side(side, cloth, place, kind, errors, words)),
          ),
          oneWay
            ? h("p", { class: "soft" }, words.say("page.one_way"))
            : tickField({ name: `cloths.${place}.one_way`, label: words.say("page.one_way"), on: cloth.one_way }),
          h(
            "button",
            {
              type: "button",
              class: "button plain",
              "data-key": `remove-cloth-${place}`,
              onclick: () => this.#remove(place),
            },
            say("remove"),
          ),
        ),
      ),
    );
  }

  #side(side, cloth, place, kind, errors, words) {
    return lengthField({
      name: `cloths.${place}.${side}`,
      unit: sideUnit(side, kind, words.units),
      label: words.say(`cloth.${kind.code}.${side}`),
      text: cloth[side],
      placeholder: ownSide(side, kind, words) || words.say(`page.placeholder_${words.units}`),
      error: errors[`cloths[${place}].${side}`],
    });
  }
}

customElements.define("basket-list", BasketList);
