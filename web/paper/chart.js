// The yield chart: how many pieces of each size each kind of cloth gives, both ways and at best, with the reason. Every
// number is the core's (the ask `chart`).

import { h } from "../lib/page/dom.js";

const SURE = 0.5; // inches that a cloth may be smaller each way with the number that is sure, as the core tells it

/** The content of the sheet that the core answered. */
export function chartSheet({ piece, sizes, cloths, cells }, words) {
  const say = (code, values) => words.say(`handout.${code}`, values);
  const notes = [];
  const noteOf = (cell) => {
    const said = noted(cell, say, words);
    if (!notes.includes(said)) notes.push(said);
    return notes.indexOf(said) + 1;
  };
  const shape = say(`shape.${piece.shape.replace("-", "_")}`, { angle: piece.angle });
  const table = h(
    "table",
    { class: "chart" },
    h("caption", {}, say("chart_legend", { by: SURE })),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", { scope: "col" }, shape),
        cloths.map((cloth) => head(cloth, say, words)),
      ),
    ),
    h(
      "tbody",
      {},
      sizes.map((size, row) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, say("size", { size })),
          cells[row].map((cell) => cellOf(cell, noteOf(cell), say)),
        ),
      ),
    ),
  );
  return [
    table,
    h(
      "ol",
      { class: "chart-notes" },
      notes.map((note) => h("li", {}, note)),
    ),
  ];
}

function head({ code, length, width }, say, words) {
  const sides = length === null ? say("as_wide", { length: width }) : say("cloth_sides", { length, width });
  return h("th", { scope: "col" }, h("b", {}, words.say(`cloth.${code ?? "scrap"}.name`)), h("span", {}, sides));
}

function cellOf({ along_length: length, along_width: width, best, sure }, note, say) {
  return h(
    "td",
    {},
    h("b", {}, String(best.pieces)),
    h("sup", {}, `(${note})`),
    h("span", {}, say("both_ways", { length: length.pieces, width: width.pieces }), " · ", say("sure", { sure })),
  );
}

function noted({ reason, lacks }, say, words) {
  return words.sentences(
    say(`reason.${reason.code}`, reason.values),
    lacks && say(`lacks.${lacks.code}`, lacks.values),
  );
}
