// Drawings of the core's geometry. Nothing is computed here but where a point given in inches falls on the screen.

import { svg } from "./dom.js";
import { wasteHatch } from "./hatch.js";

const LABEL = 15; // px of a label where a drawing stands on a phone
const ROOM = [330, 200]; // px that a drawing has there, whose sides are told beside it
const DESK = [640, 420]; // and the one picture of a desk's screen
const BAND = 2; // a cloth so many times as long as wide stands across the page

/** Whether a cloth is so long that its drawing takes the whole width of a page. */
export function isBand({ length, width }) {
  return Math.max(length, width) > BAND * Math.min(length, width);
}

/**
 * A cloth to scale with its strips and pieces, its longer side across the page; what no piece is of is hatched. Letters
 * are as large as on a phone where it is the `large` picture of a desk.
 */
export function clothDrawing(cloth, layout, words, description, large = false) {
  const turned = cloth.width > cloth.length;
  const [wide, high] = turned ? [cloth.width, cloth.length] : [cloth.length, cloth.width];
  const [across, up] = large ? DESK : ROOM;
  const unit = Math.max(wide / across, high / up);
  const room = LABEL * 1.5 * unit;
  const hatch = wasteHatch(unit, turned ? "turned" : "up");
  const shapes = svg(
    "g",
    { transform: turned ? "matrix(0 1 1 0 0 0)" : `matrix(1 0 0 -1 0 ${high})` },
    ...clothShapes(cloth, layout, hatch.fill),
  );
  return svg(
    "svg",
    {
      class: "drawing cloth-drawing",
      viewBox: `${-2 * unit} ${-2 * unit} ${wide + room + 2 * unit} ${high + room + 2 * unit}`,
      role: "img",
      "aria-label": description,
    },
    hatch.defs,
    shapes,
    label(wide / 2, high + room * 0.62, words.length(wide), unit),
    label(wide + room * 0.62, high / 2, words.length(high), unit, `rotate(90 ${wide + room * 0.62} ${high / 2})`),
  );
}

function clothShapes(cloth, layout, hatch) {
  const boxes = layout.strips.map(stripBox);
  return [
    svg("rect", { class: "whole", width: cloth.length, height: cloth.width }),
    ...boxes.map((box) => svg("rect", { class: "waste", ...box })),
    ...boxes.map((box) => svg("rect", { class: "strip-in-cloth", fill: hatch, ...box })),
    svg("path", {
      class: "piece",
      d: layout.strips
        .flatMap((strip) => strip.outlines)
        .map(closedPath)
        .join(""),
    }),
  ];
}

function stripBox({ x, y, along, run, size }) {
  return along === "length" ? { x, y, width: run, height: size } : { x, y, width: size, height: run };
}

function label(x, y, text, unit, transform) {
  return svg(
    "text",
    { x, y, transform, "font-size": LABEL * unit, "text-anchor": "middle", "dominant-baseline": "middle" },
    text,
  );
}

const DRAWN = 136; // px that a diamond is drawn wide
const SIZES = [17, 15]; // px of its label's letters, the smaller ones where the larger have no room
const [TOP, FOOT] = [0.9, 0.18]; // how far a label with a fraction reaches over and under its line, in its letters' size
const GAP = 4; // px around a label

/**
 * One diamond with its size marked between the parallel edges. The label stands in it: beside the line that marks the size
 * where there is room, else in a gap of that line; in a diamond that is too small for it, above, where that line leads to.
 */
export function diamondDrawing({ outline, size }, sizeText, description) {
  const width = Math.max(...outline.map(([x]) => x));
  const unit = width / DRAWN;
  const { letters, x, anchor, above = 0, line } = sizeLabel(outline, size, wideOf(sizeText), unit);
  const high = (TOP + FOOT) * letters;
  const foot = above ? size + above - high : (size - high) / 2; // over the lower edge
  return svg(
    "svg",
    {
      class: "drawing",
      viewBox: `${-3 * unit} ${-3 * unit - above} ${width + 6 * unit} ${size + above + 6 * unit}`,
      role: "img",
      "aria-label": description,
    },
    svg(
      "g",
      { transform: `matrix(1 0 0 -1 0 ${size})` },
      svg("path", { class: "piece", d: closedPath(outline) }),
      svg("path", { class: "dimension", d: line.map(openPath).join("") }),
    ),
    svg(
      "text",
      { class: "on-piece", x, y: size - foot - FOOT * letters, "font-size": letters, "text-anchor": anchor },
      sizeText,
    ),
  );
}

/**
 * How the label stands: {letters, x, anchor}, how far it makes the drawing reach `above` the piece, and the parts of the
 * line; `wide` is its width in its letters' size.
 */
function sizeLabel(outline, size, wide, unit) {
  const middle = (outline[0][0] + outline[2][0]) / 2;
  const gap = GAP * unit;
  const upright = (from, to) => [from, to].map((y) => [middle, y]);
  for (const letters of SIZES.map((px) => px * unit)) {
    const half = ((TOP + FOOT) * letters + gap) / 2;
    const [low, top] = [size / 2 - half, size / 2 + half];
    const [left, right] = low > 0 ? spanOf(outline, low, top) : [middle, middle];
    if (middle + gap + wide * letters <= right - gap)
      return { letters, x: middle + gap, anchor: "start", line: [upright(0, size)] };
    if (Math.min(middle - left, right - middle) - gap / 2 >= (wide * letters) / 2)
      return { letters, x: middle, anchor: "middle", line: [upright(0, low), upright(top, size)] };
  }
  const letters = SIZES[0] * unit;
  const above = (TOP + FOOT) * letters + 3 * gap;
  return { letters, x: middle, anchor: "middle", above, line: [upright(0, size + 2 * gap)] };
}

/** How far a convex outline reaches to either side at every height from `low` to `top`. */
function spanOf(outline, low, top) {
  const [ours, theirs] = [low, top].map((y) => crossings(outline, y));
  return [Math.max(Math.min(...ours), Math.min(...theirs)), Math.min(Math.max(...ours), Math.max(...theirs))];
}

function crossings(outline, y) {
  return outline.flatMap(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length];
    return ay > y !== by > y ? [ax + ((y - ay) / (by - ay)) * (bx - ax)] : [];
  });
}

// How wide letters are in their own size, those that are narrower or wider than all others.
const WIDE = [
  [/[⁄]/, 0.14],
  [/[ il.,]/, 0.31],
  [/1/, 0.45],
  [/m/, 0.88],
  [/[a-z]/, 0.6],
  [/[½⅓¼⅛]/, 1.12],
  [/[¾⅔⅜⅝⅞]/, 1.27],
];

/** How wide a text is, in its letters' size and rather too wide than too narrow, as it is not drawn yet. */
function wideOf(text) {
  const wide = (letter) => WIDE.find(([letters]) => letters.test(letter))?.[1] ?? 0.66;
  return [...text].reduce((sum, letter) => sum + wide(letter), 0);
}

// Lines by their role. Those that have to be told apart from all that lies under them have an outline of
// paper, and some have ends.
const LINES = new Set([
  "cut",
  "angle-line",
  "measure-line",
  "ruler-line",
  "mark",
  "fold",
  "edge",
  "side",
  "last-cut",
  "grain",
]);
const ENDS = {
  cut: [["M9 0L-17 -12L-17 12Z", "end"]],
  grain: [
    ["M2 0L-14 -8L-14 8Z", "end"],
    ["M2 0L-14 -8L-14 8Z", "start"],
  ],
  side: [
    ["M0 -10V10", "end"],
    ["M0 -10V10", "start"],
  ],
};

/** Whether a role is a line's. */
export function isLine(role) {
  return LINES.has(role);
}

/** A shape of the core's: a line or an area by its role, which is also its class. */
export function shapeOf({ role, points }) {
  return svg("path", { class: role, d: isLine(role) ? openPath(points) : closedPath(points) });
}

/** An area of the core's with what shows what it is: waste is hatched, and a ruler has an edge of light. */
export function areaOf(shape, hatch) {
  const d = closedPath(shape.points);
  const over = { waste: () => hatch.over(d), ruler: () => svg("path", { class: "glint", d }) }[shape.role];
  return over ? [shapeOf(shape), over()] : [shapeOf(shape)];
}

/**
 * A shape with all that belongs to it; a line has an outline of paper under it, an arrow head where a cut ends,
 * ticks at a dimension's ends.
 */
export function partsOf(shape, hatch) {
  const { role, points } = shape;
  if (!isLine(role)) return areaOf(shape, hatch);
  if (role === "ruler-line") return [shapeOf(shape)];
  const ends = (ENDS[role] ?? []).map(([d, end]) => {
    const path = svg("path", { class: "end", "data-of": role, d });
    path.style.transform = atEnd(points, end);
    return path;
  });
  return [svg("path", { class: "casing", "data-of": role, d: openPath(points) }), shapeOf(shape), ...ends];
}

/** Draws the parts of a shape (`partsOf`) where these points are. */
export function redraw(parts, role, points) {
  const d = isLine(role) ? openPath(points) : closedPath(points);
  const ends = parts.filter((part) => part.matches(".end"));
  for (const part of parts) if (!ends.includes(part)) part.setAttribute("d", d);
  ends.forEach((part, i) => (part.style.transform = atEnd(points, ENDS[role][i][1])));
}

/**
 * Where a line's end lies, always of the same size on the screen: whoever fits the drawing sets --px, a pixel in the
 * drawing's units.
 */
function atEnd(points, end) {
  const [[fromX, fromY], [x, y]] = end === "end" ? points.slice(-2) : points.slice(0, 2).reverse();
  const turn = (Math.atan2(y - fromY, x - fromX) * 180) / Math.PI;
  return `translate(${round(x)}px, ${round(y)}px) rotate(${round(turn)}deg) scale(var(--px))`;
}

/** A path through points, closed. */
export function closedPath(points) {
  return `M${points.map(([x, y]) => `${round(x)} ${round(y)}`).join("L")}Z`;
}

/** A path through points, open. */
export function openPath(points) {
  return `M${points.map(([x, y]) => `${round(x)} ${round(y)}`).join("L")}`;
}

// A ten-thousandth of an inch is far finer than a screen, and keeps long drawings short.
function round(number) {
  return Math.round(number * 10000) / 10000;
}
