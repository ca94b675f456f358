// The quilt's fabrics: their colours or photographed swatches, and how they are placed over the pieces.

import { emit, h, refill } from "../lib/page/dom.js";
import { inOrder } from "../lib/quilt/quilt-state.js";
import { PRINTS } from "../lib/quilt/swatch.js";
import { chips } from "./chips.js";
import { choiceField, tickField } from "./choice-field.js";
import { oneWayMark } from "./fabric-mark.js";
import { lengthField, plainField } from "./length-field.js";

/**
 * Emits `put` {path, value}, `colour` {id, colour} while a colour is being picked, `photo` {place, file}, `add-fabric`,
 * `remove-fabric` with an id, `shuffle`, and `untap`.
 */
export class FabricList extends HTMLElement {
  #editing = null;
  #picking = false;

  constructor() {
    super();
    const put = (path, value) => emit(this, "put", { path, value });
    this.addEventListener("way", ({ detail }) => put(["colouring", "way"], detail));
    this.addEventListener("typed", ({ detail }) => put(detail.name.split("."), detail.text));
    this.addEventListener("chosen-one", ({ detail }) => put(detail.name.split("."), detail.value));
    this.addEventListener("ticked", ({ detail }) => put(detail.name.split("."), detail.on));
    this.addEventListener("edit-fabric", ({ detail }) => {
      this.#editing = this.#editing === detail ? null : detail;
      this.show(this.shown);
    });
  }

  show(shown) {
    this.shown = shown;
    if (this.#picking) return;
    const { state, errors, tapped, words } = shown;
    const say = (code, values) => words.say(`quilt_screen.${code}`, values);
    const error = errors.coloring ?? errors["coloring.fabrics"] ?? errors["coloring.way"] ?? errors.fabrics;
    refill(
      this,
      h(
        "div",
        { class: "card" },
        h(
          "div",
          { class: "field" },
          h("span", { class: "label" }, say("colouring")),
          chips(
            say("colouring"),
            offered(shown).map(({ way, name }) => [way, words.say(`quilt.colouring.${name}`)]),
            state.colouring.way,
            "way",
          ),
          error && h("p", { class: "error", role: "alert" }, error),
        ),
        h(
          "div",
          { class: "row" },
          state.colouring.way === "random" && button("shuffle", say("shuffle"), () => emit(this, "shuffle")),
          tapped > 0 && button("untap", say("untap", { n: tapped }), () => emit(this, "untap")),
        ),
        choiceField({
          name: "colouring.rest",
          label: say("rest"),
          taken: state.colouring.rest,
          choices: [["", say("rest_follows")], ...state.fabrics.map(({ id, name }) => [id, name])],
        }),
        state.setting === "stars" &&
          choiceField({
            name: "colouring.joining",
            label: say("joining"),
            taken: state.colouring.joining ?? "",
            choices: [["", say("rest_follows")], ...state.fabrics.map(({ id, name }) => [id, name])],
          }),
        h(
          "ul",
          { class: "list", "aria-label": say("fabrics") },
          state.fabrics.map((fabric, place) => this.#row(fabric, place, shown, say)),
        ),
        button("add-fabric", say("fabric_add"), () => emit(this, "add-fabric")),
      ),
    );
  }

  #row(fabric, place, shown, say) {
    const open = this.#editing === fabric.id;
    return h(
      "li",
      { class: "fabric" },
      h(
        "div",
        { class: "row" },
        this.#colour(fabric, place, say),
        fabric.one_way && oneWayMark(shown.words.say("page.one_way")),
        h("b", { class: "fabric-name" }, named(fabric, shown, say)),
        h(
          "button",
          {
            type: "button",
            class: "button plain",
            "aria-expanded": String(open),
            "data-key": `edit-${fabric.id}`,
            "aria-label": say("fabric_change_one", { name: fabric.name }),
            onclick: () => emit(this, "edit-fabric", fabric.id),
          },
          say("fabric_change"),
        ),
      ),
      fabric.one_way && stands(shown.standing[fabric.id], say),
      open && this.#editor(fabric, place, shown, say),
    );
  }

  /** While the system's colour picker is open nothing here is made anew: it would close. */
  #colour(fabric, place, say) {
    const picking = (event) => {
      this.#picking = true;
      emit(this, "colour", { place, colour: event.currentTarget.value });
    };
    const picked = (event) => {
      this.#picking = false;
      emit(this, "put", { path: ["fabrics", place, "colour"], value: event.currentTarget.value });
    };
    return h(
      "label",
      { class: "colour" },
      h("span", { class: "unseen" }, say("colour_of", { name: fabric.name })),
      h("input", {
        type: "color",
        value: fabric.colour,
        "data-key": `colour-${fabric.id}`,
        oninput: picking,
        onchange: picked,
      }),
    );
  }

  #editor(fabric, place, { state, errors, words }, say) {
    const at = (name) => `fabrics.${place}.${name}`;
    return h(
      "div",
      { class: "part section" },
      plainField({
        name: at("name"),
        label: say("fabric_name"),
        text: fabric.name,
        error: errors[`fabrics[${place}].id`],
      }),
      tickField({ name: at("used"), label: say("fabric_used"), on: fabric.used }),
      choiceField({
        name: at("print"),
        label: say("print"),
        taken: fabric.print,
        choices: PRINTS.map((print) => [print, say(`prints.${print}`)]),
      }),
      tickField({ name: at("one_way"), label: words.say("page.one_way"), on: fabric.one_way }),
      fabric.one_way && h("p", { class: "soft small" }, say("one_way_hint")),
      this.#photo(fabric, place, say),
      fabric.photo &&
        lengthField({
          name: at("photo_width"),
          label: say("photo_width"),
          hint: say("photo_width_hint"),
          text: fabric.photo_width,
          error: errors[at("photo_width")],
        }),
      state.fabrics.length > 1 &&
        button(
          `remove-${fabric.id}`,
          say("fabric_remove"),
          () => emit(this, "remove-fabric", fabric.id),
          "button plain",
        ),
    );
  }

  #photo(fabric, place, say) {
    const id = `photo-${fabric.id}`;
    const chosen = (event) =>
      event.currentTarget.files[0] && emit(this, "photo", { place, file: event.currentTarget.files[0] });
    return h(
      "div",
      { class: "field" },
      h("label", { for: id }, say(fabric.photo ? "photo_other" : "photo")),
      h("input", { id, type: "file", accept: "image/*", capture: "environment", class: "entry", onchange: chosen }),
      fabric.photo &&
        button(
          `no-photo-${fabric.id}`,
          say("photo_remove"),
          () => emit(this, "put", { path: ["fabrics", place, "photo"], value: null }),
          "button plain",
        ),
    );
  }
}

/** How the pieces of a print that runs one way stand in the quilt. */
function stands(standing, say) {
  if (!standing) return null;
  return h(
    "ul",
    { class: "facts", "data-standing": "" },
    h("li", {}, say("standing", standing)),
    standing.head_down > 0 && h("li", { class: "warn" }, say("head_down", { n: standing.head_down })),
  );
}

/** The ways that the setting offers; one that was chosen for another setting is kept in sight. */
function offered({ state, choices, words }) {
  const { way } = state.colouring;
  const ways = (choices?.colorings ?? []).filter(({ name }) => words.has(`quilt.colouring.${name}`));
  return ways.some((one) => one.way === way) || way === "list" ? ways : [...ways, { way, name: way, roles: [] }];
}

/** A fabric's name, with what it is for in the way that is taken. */
function named(fabric, { state, choices, words }, say) {
  const roles = choices?.colorings.find(({ way }) => way === state.colouring.way)?.roles ?? [];
  const role = roles[inOrder(state).indexOf(fabric)];
  return role ? say("fabric_role", { name: fabric.name, role: words.say(`quilt.role.${role}`) }) : fabric.name;
}

function button(key, text, onclick, kind = "button") {
  return h("button", { type: "button", class: kind, "data-key": key, onclick }, text);
}

customElements.define("fabric-list", FabricList);
