// How the pattern page is put together: parts with a title, and in each of them examples with a line of what they show.

import { h, refill } from "../lib/page/dom.js";

/** A part of the page, to be led to by its id. */
export function part(id, title, ...examples) {
  const name = `${id}-title`;
  return h(
    "section",
    { id, class: "pattern-part", "aria-labelledby": name },
    h("h2", { id: name, class: "pattern-title" }, title),
    h("div", { class: "pattern-grid" }, examples),
  );
}

/** What is shown, under a line of what it is. */
export function example(note, ...content) {
  return h("div", { class: "pattern" }, h("p", { class: "pattern-note" }, note), content);
}

/** The same over the whole width. */
export function wide(note, ...content) {
  const made = example(note, ...content);
  made.classList.add("pattern-wide");
  return made;
}

/** An element with what it is to show. */
export function made(name, ...shown) {
  const element = document.createElement(name);
  element.show(...shown);
  return element;
}

/** What is drawn of a state; what it emits changes that, so that it can be tried. */
export function live(state, draw, events) {
  const place = h("div", { class: "pattern-live" });
  const show = () => {
    refill(place, draw(state));
    apart(place);
  };
  for (const [type, take] of Object.entries(events)) {
    place.addEventListener(type, ({ detail }) => {
      Object.assign(state, take(detail));
      show();
    });
  }
  show();
  return place;
}

/**
 * A dialog that stands in the page. Opened as it is at work it would lie over everything; `open` does that, and then it is
 * opened once more where it stands.
 */
export function standing(note, name, open) {
  const element = document.createElement(name);
  const shown = example(note, element);
  shown.classList.add("pattern-dialog");
  shown.stand = () => {
    open(element);
    const dialog = element.querySelector("dialog");
    dialog.close();
    dialog.show();
    document.activeElement?.blur();
  };
  return shown;
}

const REFERRING = ["for", "aria-labelledby", "aria-describedby", "aria-controls"];
let number = 0;

/** Gives ids of their own to what stands in a place: on a screen each component is there once. */
export function apart(place) {
  const own = (number += 1);
  const named = [...place.querySelectorAll("[id]")].filter((element) => !element.closest("svg"));
  const ids = new Map(named.map(({ id }) => [id, `${id}-${own}`]));
  for (const element of named) element.id = ids.get(element.id);
  for (const name of REFERRING)
    for (const element of place.querySelectorAll(`[${name}]`))
      element.setAttribute(
        name,
        element
          .getAttribute(name)
          .split(" ")
          .map((id) => ids.get(id) ?? id)
          .join(" "),
      );
}
