// The quilt on paper: drawn in its fabrics, in signs for black and white, or in lines to be colored in; and row by row.

import { h, svg } from "../lib/page/dom.js";
import { fabricName } from "../lib/words/cut-words.js";
import { fabricColour } from "../lib/quilt/fabric-colour.js";

const SEAM = 0.06; // inches of the quilt

/**
 * The drawing as SVG.
 * @param {object} answer of the ask `quilt`
 * @param {{fabrics: object[], look: "color"|"gray"|"lines", description: string}} how the quilt's fabrics as its screen has
 *   them, and how they are told apart
 */
export function quiltPicture({ drawing, fabrics: used }, { fabrics, look, description }) {
  const { width, height, shapes, pieces, clip, clipped } = drawing;
  const fills = used.map(({ id }, place) => fillOf(place, fabricColour(id, fabrics), look));
  const paths = pieces.map(([, fabric, shape, x, y]) =>
    svg("path", { d: pathOf(shapes[shape], x, y), fill: fills[fabric], stroke: "#000000", "stroke-width": SEAM }),
  );
  const [left, top, right, bottom] = clip ?? [];
  const box = { x: left, y: top, width: right - left, height: bottom - top };
  return svg(
    "svg",
    {
      class: "quilt-on-paper",
      viewBox: `${-SEAM} ${-SEAM} ${width + 2 * SEAM} ${height + 2 * SEAM}`,
      role: "img",
      "aria-label": description,
    },
    svg(
      "defs",
      {},
      look === "gray" && used.map((_, place) => pattern(place)),
      clip && svg("clipPath", { id: "trimmed" }, svg("rect", box)),
    ),
    paths.slice(clipped),
    clipped > 0 && svg("g", { "clip-path": "url(#trimmed)" }, paths.slice(0, clipped)),
  );
}

function pathOf(points, x, y) {
  return `M${points.map(([dx, dy]) => `${round(x + dx)} ${round(y + dy)}`).join("L")}Z`;
}

function round(number) {
  return Math.round(number * 1000) / 1000;
}

function fillOf(place, colour, look) {
  if (look === "lines") return "#ffffff";
  return look === "gray" ? `url(#sign-${place})` : colour;
}

// Signs that are told apart without color: [ground, what is drawn on it in a square of one inch].
const SIGNS = [
  ["#ffffff", ""],
  ["#ffffff", "M0.5 0.35A0.15 0.15 0 1 0 0.5 0.65A0.15 0.15 0 1 0 0.5 0.35Z"],
  ["#ffffff", "M0 0.4H1V0.5H0Z"],
  ["#ffffff", "M0.45 0H0.55V1H0.45Z"],
  ["#ffffff", "M0 0.45H1V0.55H0ZM0.45 0H0.55V1H0.45Z"],
  ["#bbbbbb", ""],
  ["#777777", ""],
  ["#bbbbbb", "M0 0.4H1V0.6H0Z"],
  ["#444444", ""],
];

function pattern(place) {
  const [ground, d] = SIGNS[place % SIGNS.length];
  return svg(
    "pattern",
    { id: `sign-${place}`, width: 1, height: 1, patternUnits: "userSpaceOnUse" },
    svg("rect", { width: 1, height: 1, fill: ground }),
    d && svg("path", { d, fill: "#000000" }),
  );
}

/** The fabrics with what stands for them, and how many pieces are of each. */
export function legend({ fabrics: used, drawing }, { fabrics, look, words }) {
  const count = (place) => drawing.pieces.filter(([, fabric]) => fabric === place).length;
  return h(
    "ul",
    { class: "sheet-legend" },
    used.map(
      ({ id }, place) =>
        count(place) > 0 &&
        h(
          "li",
          {},
          look !== "lines" && swatch(place, fabricColour(id, fabrics), look),
          h("span", {}, words.say("paper.fabric", { name: fabricName(id, fabrics, words), n: count(place) })),
        ),
    ),
  );
}

function swatch(place, colour, look) {
  return svg(
    "svg",
    { viewBox: "0 0 2 1", class: "sheet-swatch", "aria-hidden": "true" },
    svg("rect", { width: 2, height: 1, fill: fillOf(place, colour, look), stroke: "#000000", "stroke-width": 0.05 }),
  );
}

/** The rows by their letters, from the first to the last, with a box to tick for each. */
export function rowsSheet({ sewing, fabrics: used }, { fabrics, words, boxes }) {
  const { letters, rows, read } = sewing.layout;
  const say = (code, values) => words.say(`quilt_screen.${code}`, values);
  return [
    h("p", {}, words.say(`quilt.layout.${read}`)),
    h(
      "ul",
      { class: "sheet-legend" },
      letters.map(({ letter, fabric }) =>
        h("li", {}, say("layout_letter", { letter, name: fabricName(used[fabric].id, fabrics, words) })),
      ),
    ),
    h(
      "ol",
      { class: "sheet-rows" },
      rows.map(({ row, letters: told }) =>
        h("li", {}, boxes(1, words), " ", h("b", {}, say("layout_row", { row })), " ", told.join(" ")),
      ),
    ),
  ];
}
