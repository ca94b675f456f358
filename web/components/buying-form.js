// What the buying list goes by: the cloth's width, what is lost, what is spared, how the shop measures, and kits.

import { emit, h, refill } from "../lib/page/dom.js";
import { signed, withUnit } from "../lib/words/measure.js";
import { chips } from "./chips.js";
import { choiceField, tickField } from "./choice-field.js";
import { Folds } from "./fold-open.js";
import { lengthField, plainField } from "./length-field.js";

const FIELD_OF = {
  shrink_length: "shrink.length",
  shrink_width: "shrink.width",
  spare_percent: "spare.percent",
  spare_pieces: "spare.pieces",
  quarter_length: "fat_quarter.length",
  quarter_width: "fat_quarter.width",
  people: "kits.people",
  leader: "kits.leader",
  bolt_length: "kits.bolt_length",
};

/** Shows the buying part of `state`; of what can be chosen what is `offered`, within `limits`. Emits `put` {path, value}. */
export class BuyingForm extends HTMLElement {
  #folds = new Folds();

  constructor() {
    super();
    const put = (name, value) => emit(this, "put", { path: name.split("."), value });
    this.addEventListener("typed", ({ detail }) => put(detail.name, detail.text));
    this.addEventListener("chosen-one", ({ detail }) => put(detail.name, detail.value));
    this.addEventListener("ticked", ({ detail }) => put(detail.name, detail.on));
    this.addEventListener("round", ({ detail }) => put("buying.round_to", detail));
  }

  show({ state: { buying }, errors, words, sizes, offered, limits }) {
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    const field = (name, hint, kind = plainField, unit = undefined) =>
      kind({
        name: `buying.${name}`,
        unit,
        label: say(`buy.${name}`),
        text: buying[name],
        hint: hint && say(hint),
        error: errors[FIELD_OF[name] ?? name],
      });
    const square = lengthField({
      name: "buying.square",
      label: words.say("buying.square"),
      text: buying.square,
      hint: words.say("buying.square_hint"),
      error: errors.square,
    });
    const wrong = [
      "straighten",
      "shrink.length",
      "shrink.width",
      "spare.percent",
      "spare.pieces",
      "fat_quarter.length",
      "fat_quarter.width",
      "square",
    ].some((name) => errors[name]);
    refill(
      this,
      h(
        "div",
        { class: "card" },
        field("usable_width", "usable_hint", lengthField),
        chips(
          say("buy.round_to"),
          offered.round_to.map((step) => [step, words.say(`buying.round_to.${step}`)]),
          buying.round_to,
          "round",
        ),
        this.#folds.fold(
          "losses",
          say("losses", {
            straighten: withUnit(signed(buying.straighten, words.locale), words.units),
            shrink: buying.shrink_length,
            spare: buying.spare_percent,
          }),
          wrong,
          h(
            "div",
            { class: "beside" },
            field("straighten", null, lengthField),
            field("shrink_length"),
            field("shrink_width"),
            field("spare_percent"),
            field("spare_pieces"),
            field("quarter_length", null, lengthField),
            field("quarter_width", null, lengthField),
          ),
          h("p", { class: "soft small" }, say("shrink_hint")),
          square,
          choiceField({
            name: "buying.price_by",
            label: say("buy.price_by"),
            taken: buying.price_by,
            choices: offered.price_by.map((by) => [by, say(`price_by.${by}`)]),
          }),
        ),
        plainField({
          name: "buying.money",
          label: words.say("buying.money"),
          text: buying.money,
          hint: words.say("buying.money_hint"),
        }),
        tickField({ name: "buying.kits", label: say("buy.kits"), on: buying.kits }),
        buying.kits &&
          h(
            "div",
            { class: "beside" },
            field("people"),
            field("leader", "leader_hint"),
            field("bolt_length", `bolt_hint_${buying.price_by}`, lengthField, buying.price_by),
          ),
        buying.kits && this.#otherSizes(buying.sizes, { sizes, most: limits.sizes, errors, words }),
      ),
    );
  }

  /** Others in the class who make the same quilt in another size. */
  #otherSizes(others, { sizes, most, errors, words }) {
    const put = (value) => emit(this, "put", { path: ["buying", "sizes"], value });
    const say = (code, values) => words.say(`buying.sizes.${code}`, values);
    const usual = sizes.map(({ code }) => [code, words.say(`quilt.size.${code}`)]);
    const rows = others.map(({ size, people }, place) =>
      h(
        "div",
        { class: "beside" },
        choiceField({
          name: `buying.sizes.${place}.size`,
          label: say("size"),
          choices: usual,
          taken: size,
          error: errors[`kits.sizes[${place}].target.width`],
        }),
        plainField({
          name: `buying.sizes.${place}.people`,
          label: say("people"),
          text: people,
          error: errors[`kits.sizes[${place}].people`],
        }),
        h(
          "button",
          {
            type: "button",
            class: "button plain",
            "data-key": `remove-size-${place}`,
            onclick: () => put(others.filter((_, other) => other !== place)),
          },
          say("remove"),
        ),
      ),
    );
    const next = usual[0] && {
      size: usual.find(([code]) => !others.some(({ size }) => size === code))?.[0],
      people: "1",
    };
    return h(
      "div",
      { class: "section" },
      rows,
      others.length > 0 && h("p", { class: "soft small" }, say("hint")),
      next?.size &&
        others.length < most &&
        h(
          "button",
          { type: "button", class: "button plain", "data-key": "add-size", onclick: () => put([...others, next]) },
          say("add"),
        ),
    );
  }
}

customElements.define("buying-form", BuyingForm);
