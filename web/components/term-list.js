// Trade words that a text uses, each to be opened: one line of meaning and a picture.

import { h, svg } from "../lib/page/dom.js";
import { shapeOf } from "../lib/page/drawing.js";
import { termsIn } from "../lib/words/terms.js";

/** The words of `text`, with `pictures` from the core by code. */
export function termList(text, pictures, words) {
  const terms = words.catalogue.terms;
  return h(
    "div",
    { class: "terms" },
    termsIn(text, terms).map((code) => term(terms[code], pictures[code])),
  );
}

function term({ name, meaning }, { view: [x, y, wide, high], shapes }) {
  return h(
    "details",
    {},
    h("summary", {}, name),
    h("p", {}, meaning),
    svg(
      "svg",
      { class: "drawing term-picture", viewBox: `${x} ${-y - high} ${wide} ${high}`, "aria-hidden": "true" },
      svg("g", { transform: "scale(1 -1)" }, shapes.map(shapeOf)),
    ),
  );
}
