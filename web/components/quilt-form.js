// What the quilt is to be: three or four choices in sight, everything else folded away with what it is now.

import { emit, h, refill } from "../lib/page/dom.js";
import { signed, withUnit } from "../lib/words/measure.js";
import { chips } from "./chips.js";
import { choiceField, tickField } from "./choice-field.js";
import { Folds } from "./fold-open.js";
import { lengthField, plainField } from "./length-field.js";

/**
 * Shows `state` (all as typed), the usual `sizes`, `errors` by field; of what can be chosen for a `quilt` only what is
 * possible in the setting that is taken, by its `choices`, and usual angles, as are `offered`. Emits `put` with a path and the new value:
 * {path: ["piece", "text"], value: "4"}; `usual-size` with a code; `add-border` and `remove-border` with its place.
 */
export class QuiltForm extends HTMLElement {
  #folds = new Folds();

  constructor() {
    super();
    const put = (path, value) => emit(this, "put", { path, value });
    this.addEventListener("typed", ({ detail }) => put(detail.name.split("."), detail.text));
    this.addEventListener("chosen-one", ({ detail }) =>
      detail.name === "usual" ? emit(this, "usual-size", detail.value) : put(detail.name.split("."), detail.value),
    );
    this.addEventListener("ticked", ({ detail }) => put(detail.name.split("."), detail.on));
    for (const name of ["by", "setting", "orientation", "edge", "joined_by"])
      this.addEventListener(name, ({ detail }) => put([name], detail));
    this.addEventListener("angle", ({ detail }) => put(["piece", "angle"], detail));
  }

  show(shown) {
    refill(
      this,
      h("div", { class: "card", "data-in": "size" }, this.#size(shown)),
      h("div", { class: "card", "data-in": "size" }, this.#piece(shown)),
      h("div", { class: "section", "data-in": "setting" }, [
        h("div", { class: "card" }, this.#setting(shown)),
        this.#sashing(shown),
      ]),
      h("div", { class: "section", "data-in": "edges" }, this.#borders(shown), this.#finishing(shown)),
    );
  }

  #plain(name, label, { state, errors }, field = name, hint = null) {
    return plainField({ name, label, text: textAt(name, state), hint, error: errors[field] });
  }

  #length(name, label, { state, errors, words }, field = name, hint = null) {
    return lengthField({
      name,
      label,
      text: textAt(name, state),
      hint,
      error: errors[field],
      placeholder: words.say(`page.placeholder_${words.units}`),
    });
  }

  #size(shown) {
    const { state, errors, words } = shown;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    return [
      chips(
        say("by"),
        ["target", "steps", "have"].map((by) => [by, say(`by_${by}`)]),
        state.by,
        "by",
      ),
      errors.target && h("p", { class: "error", role: "alert" }, errors.target),
      ...{
        target: () => this.#target(shown, say),
        steps: () => this.#steps(shown, say),
        have: () => this.#have(shown, say),
      }[state.by](),
    ];
  }

  #target(shown, say) {
    const { state, sizes, words } = shown;
    const named = (size) =>
      words.list([
        words.say(`quilt.size.${size.code}`),
        `${words.bare(size.hung.width)} × ${words.length(size.hung.height)}`,
      ]);
    const usual = sizes.map((size) => [size.code, named(size)]);
    const source = sizes.find(({ code }) => code === state.target.size)?.source;
    return [
      h(
        "div",
        { class: "beside" },
        this.#length("target.width", say("width"), shown),
        this.#length("target.height", say("height"), shown),
      ),
      h(
        "div",
        { class: "beside" },
        choiceField({
          name: "usual",
          label: say("usual"),
          choices: [["", say("usual_own")], ...usual],
          taken: state.target.size,
          hint: source && words.say(`quilt.source.${source}`),
        }),
        choiceField({
          name: "fit",
          label: say("fit"),
          choices: shown.quilt.fits.map((fit) => [fit, words.say(`quilt.fit.${fit}`)]),
          taken: state.fit,
        }),
      ),
      sizes.find(({ code }) => code === state.target.size)?.bed &&
        this.#length("target.drop", say("drop"), shown, "drop"),
    ];
  }

  #steps(shown, say) {
    return [
      h(
        "div",
        { class: "beside" },
        this.#plain("steps.columns", say("columns"), shown, "columns"),
        this.#plain("steps.rows", say("rows"), shown, "rows"),
      ),
    ];
  }

  #have(shown, say) {
    return [this.#plain("have", say("have"), shown, "have", say("have_hint"))];
  }

  #piece(shown) {
    const { state, errors, words } = shown;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    const { measure } = state.piece;
    return [
      h("h2", {}, say("piece_title")),
      h(
        "div",
        { class: "beside" },
        this.#length("piece.text", words.say(`page.measure.${measure}.label`), shown, `piece.${measure}`),
        choiceField({
          name: "piece.measure",
          label: say("measured_by"),
          choices: shown.quilt.measures.map((name) => [name, words.say(`page.measure.${name}.short`)]),
          taken: measure,
          error: errors.piece,
        }),
      ),
      h(
        "div",
        { class: "field" },
        h("span", { class: "label" }, words.say("page.angle")),
        chips(
          words.say("page.angle"),
          anglesOf(shown).map((angle) => [angle, `${angle}°`]),
          state.piece.angle,
          "angle",
        ),
      ),
      this.#folds.fold(
        "seam",
        say("more_piece", { seam: withUnit(signed(state.piece.seam, words.locale), words.units) }),
        Boolean(errors["piece.seam"] || errors["piece.angle"]),
        this.#plain("piece.angle", words.say("page.angle_typed"), shown, "piece.angle"),
        this.#length("piece.seam", words.say("page.seam"), shown, "piece.seam"),
      ),
    ];
  }

  #setting({ state, errors, words, quilt, choices }) {
    const say = (code) => words.say(`quilt_screen.${code}`);
    const named = (group, names) => names.map((name) => [name, words.say(`quilt.${group}.${name}`)]);
    return [
      h(
        "div",
        { class: "field" },
        h("span", { class: "label" }, say("setting")),
        chips(
          say("setting"),
          named(
            "setting",
            quilt.settings.map(({ code }) => code),
          ),
          state.setting,
          "setting",
        ),
        errors.setting && h("p", { class: "error", role: "alert" }, errors.setting),
      ),
      choices.joined_by.length > 0 &&
        chips(say("joined_by"), named("joined_by", choices.joined_by), state.joined_by, "joined_by"),
      chips(say("orientation"), named("orientation", quilt.orientations), state.orientation, "orientation"),
      h(
        "div",
        { class: "field" },
        h("span", { class: "label" }, say("edge")),
        chips(say("edge"), named("edge", choices.edges), state.edge, "edge"),
        errors.edge && h("p", { class: "error", role: "alert" }, errors.edge),
      ),
    ];
  }

  #sashing(shown) {
    const { state, errors, words } = shown;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    if (!shown.choices.sashing && !state.sashing.width) return null;
    const error = errors.sashing ?? errors["sashing.width"];
    return this.#folds.fold(
      "sashing",
      say(state.sashing.width ? "sashing_some" : "sashing_none", { width: state.sashing.width }),
      Boolean(error),
      this.#length(
        "sashing.width",
        say("sashing_width"),
        { ...shown, errors: { sash: error } },
        "sash",
        say("sashing_hint"),
      ),
      choiceField({
        name: "sashing.style",
        label: say("sash_style"),
        choices: shown.quilt.sash_styles.map((style) => [style, words.say(`quilt.sash_style.${style}`)]),
        taken: state.sashing.style,
      }),
      fabricField("sashing.fabric", say("fabric_for_sashing"), state.sashing.fabric, shown),
    );
  }

  #borders(shown) {
    const { state, errors, words } = shown;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    const wrong = Object.keys(errors).some((field) => /^(borders|top)/.test(field));
    const summary = state.borders.length
      ? say("borders_some", { n: state.borders.length, widths: words.list(state.borders.map(({ width }) => width)) })
      : say("borders_none");
    return this.#folds.fold(
      "borders",
      summary,
      wrong,
      errors.borders && h("p", { class: "error", role: "alert" }, errors.borders),
      state.edge === "pointed" && h("p", { class: "soft" }, say("borders_pointed")),
      state.borders.map((border, place) => this.#border(border, place, shown, say)),
      this.#top(shown, say),
      h(
        "button",
        { type: "button", class: "button", "data-key": "add-border", onclick: () => emit(this, "add-border") },
        say("border_add"),
      ),
    );
  }

  /** The sewn top, once it can be measured: what goes round it is cut to that. */
  #top(shown, say) {
    return h(
      "fieldset",
      { class: "part" },
      h("legend", {}, say("top")),
      h("p", { class: "soft" }, say("top_hint")),
      h(
        "div",
        { class: "beside" },
        this.#length("top.width", say("top_width"), shown),
        this.#length("top.height", say("top_height"), shown),
      ),
    );
  }

  #border(border, place, shown, say) {
    const corners = shown.quilt.border_corners.map((corner) => [corner, say(`corners.${corner}`)]);
    return h(
      "fieldset",
      { class: "part" },
      h("legend", {}, say("border_number", { number: place + 1 })),
      h(
        "div",
        { class: "beside" },
        this.#length(`borders.${place}.width`, say("border_width"), shown, `borders[${place}].width`),
        fabricField(`borders.${place}.fabric`, say("fabric"), border.fabric, shown),
      ),
      choiceField({
        name: `borders.${place}.corners`,
        label: say("border_corners"),
        choices: corners,
        taken: border.corners,
      }),
      choiceField({
        name: `borders.${place}.grain`,
        label: say("border_grain"),
        choices: shown.quilt.border_grains.map((grain) => [grain, say(`border_grains.${grain}`)]),
        taken: border.grain,
        hint: border.grain !== "any" && say("border_grain_hint"),
      }),
      border.corners === "mitered" &&
        this.#length(`borders.${place}.extra`, say("border_extra"), shown, `borders[${place}].extra`),
      h(
        "button",
        {
          type: "button",
          class: "button plain",
          "data-key": `remove-border-${place}`,
          onclick: () => emit(this, "remove-border", place),
        },
        say("border_remove"),
      ),
    );
  }

  #finishing(shown) {
    const { state, errors, words } = shown;
    const { binding, backing, batting } = state;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    const wrong = Object.keys(errors).some((field) => /^(binding|backing|batting)/.test(field));
    const parts = ["binding", "backing", "batting"].filter((name) => state[name].on).map((name) => say(name));
    return this.#folds.fold(
      "finishing",
      parts.length ? say("finishing_some", { parts: words.list(parts) }) : say("finishing_none"),
      wrong,
      tickField({ name: "binding.on", label: say("binding"), on: binding.on }),
      binding.on &&
        h(
          "div",
          { class: "beside" },
          this.#length(
            "binding.width",
            say("binding_width"),
            { ...shown, errors: { width: errors["binding.width"] ?? errors.binding } },
            "width",
          ),
          choiceField({
            name: "binding.grain",
            label: say("binding_grain"),
            choices: shown.quilt.binding.grains.map((grain) => [grain, words.say(`quilt.binding_grain.${grain}`)]),
            taken: binding.grain,
          }),
          choiceField({
            name: "binding.fold",
            label: say("binding_fold"),
            choices: shown.quilt.binding.folds.map((fold) => [fold, words.say(`quilt.binding_fold.${fold}`)]),
            taken: binding.fold,
          }),
          fabricField("binding.fabric", say("fabric"), binding.fabric, shown),
        ),
      tickField({ name: "backing.on", label: say("backing"), on: backing.on }),
      backing.on &&
        h(
          "div",
          { class: "beside" },
          this.#length("backing.overlap", say("overlap"), shown, "backing.overlap"),
          fabricField("backing.fabric", say("fabric"), backing.fabric, shown),
        ),
      tickField({ name: "batting.on", label: say("batting"), on: batting.on }),
      batting.on && this.#length("batting.overlap", say("overlap"), shown, "batting.overlap"),
    );
  }
}

/** What is typed at a path, such as "piece.text". */
function textAt(name, state) {
  return name.split(".").reduce((at, key) => at[key], state);
}

/** Which of the quilt's fabrics a part is of; one of its own unless chosen. */
function fabricField(name, label, taken, { state, words }) {
  return choiceField({
    name,
    label,
    taken,
    choices: [["", words.say("quilt_screen.fabric_own")], ...state.fabrics.map((fabric) => [fabric.id, fabric.name])],
  });
}

/** The usual angles, or the one that a setting is possible with. */
function anglesOf({ choices: { angle }, offered }) {
  return angle ? [String(angle)] : offered.angles;
}

customElements.define("quilt-form", QuiltForm);
