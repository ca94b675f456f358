// Making elements without a framework: h("button", { class: "wide", onclick: f }, "Cut").

const SVG = "http://www.w3.org/2000/svg";

/** An HTML element with attributes, listeners (names that start with "on") and children (nodes, texts, null, lists). */
export function h(name, attributes = {}, ...children) {
  return filled(document.createElement(name), attributes, children);
}

/** The same for SVG. */
export function svg(name, attributes = {}, ...children) {
  return filled(document.createElementNS(SVG, name), attributes, children);
}

function filled(element, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) set(element, key, value);
  element.append(...children.flat(3).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

function set(element, key, value) {
  if (value === null || value === undefined || value === false) return;
  if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
  else if (key === "value" && "value" in element) element.value = value;
  else element.setAttribute(key, value === true ? "" : value);
}

/**
 * Puts new children in place of the old ones, keeping the focus, and the caret, where its key (data-key) stands again.
 */
export function refill(element, ...children) {
  keepFocus(element, () =>
    element.replaceChildren(
      ...children.flat(3).filter((child) => child !== null && child !== undefined && child !== false),
    ),
  );
}

/**
 * Does a change within an element and gives the focus, and the caret, back to what has the same key
 * (data-key) afterwards. A part that is put into new surroundings loses its focus while they are made: then
 * this is to be around all of it.
 */
export function keepFocus(element, change) {
  const held = element.contains(document.activeElement) ? document.activeElement : null;
  const { selectionStart: from = null, selectionEnd: to = null } = held ?? {};
  change();
  if (!held?.dataset.key) return;
  const again = element.querySelector(`[data-key="${CSS.escape(held.dataset.key)}"]`);
  again?.focus({ preventScroll: true });
  if (from !== null) again?.setSelectionRange?.(from, to);
}

/** Sends an event up from an element; whoever wires the page listens. */
export function emit(element, type, detail) {
  element.dispatchEvent(new CustomEvent(type, { detail, bubbles: true }));
}

/** Calls `act` whenever letters of another shape have come, where the browser tells. */
export function whenLettersCome(act) {
  try {
    document.fonts.addEventListener("loadingdone", act);
  } catch {
    // They come without a word.
  }
}
