// Drawings of the core's geometry. Nothing is computed here but where a point given in inches falls on the screen.

import { svg } from "./dom.js";

const LABEL = 15; // px of a label where a drawing stands on a phone
const ROOM = [330, 200]; // px that a drawing has there, whose sides are told beside it
const BAND = 2; // a cloth so many times as long as wide stands across the page
const THREAD = 5; // px between the lines that show waste

let patterns = 0;

/** Whether a cloth is so long that its drawing takes the whole width of a page. */
export function isBand({ length, width }) {
  return Math.max(length, width) > BAND * Math.min(length, width);
}

/** A cloth to scale with its strips and pieces, its longer side across the page; what no piece is of is hatched. */
export function clothDrawing(cloth, layout, words, description) {
  const turned = cloth.width > cloth.length;
  const [wide, high] = turned ? [cloth.width, cloth.length] : [cloth.length, cloth.width];
  const unit = Math.max(wide / ROOM[0], high / ROOM[1]);
  const room = LABEL * 1.5 * unit;
  const hatch = `waste-${(patterns += 1)}`;
  const shapes = svg(
    "g",
    { transform: turned ? "matrix(0 1 1 0 0 0)" : `matrix(1 0 0 -1 0 ${high})` },
    ...clothShapes(cloth, layout, `url(#${hatch})`),
  );
  return svg(
    "svg",
    {
      class: "drawing cloth-drawing",
      viewBox: `${-2 * unit} ${-2 * unit} ${wide + room + 2 * unit} ${high + room + 2 * unit}`,
      role: "img",
      "aria-label": description,
    },
    svg("defs", {}, hatching(hatch, THREAD * unit)),
    shapes,
    label(wide / 2, high + room * 0.62, words.length(wide), unit),
    label(wide + room * 0.62, high / 2, words.length(high), unit, `rotate(90 ${wide + room * 0.62} ${high / 2})`),
  );
}

function hatching(id, step) {
  return svg(
    "pattern",
    { id, width: step, height: step, patternUnits: "userSpaceOnUse", patternTransform: "rotate(30)" },
    svg("path", { class: "hatch", d: `M0 0V${step}` }),
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

/** One diamond with its size marked between the parallel edges. */
export function diamondDrawing({ outline, size }, sizeText, description) {
  const width = Math.max(...outline.map(([x]) => x));
  const unit = width / 136;
  const middle = (outline[0][0] + outline[2][0]) / 2;
  return svg(
    "svg",
    {
      class: "drawing",
      viewBox: `${-3 * unit} ${-3 * unit} ${width + 6 * unit} ${size + 6 * unit}`,
      role: "img",
      "aria-label": description,
    },
    svg(
      "g",
      { transform: `matrix(1 0 0 -1 0 ${size})` },
      svg("path", { class: "piece", d: closedPath(outline) }),
      svg("path", { class: "dimension", d: `M${middle} 0V${size}` }),
    ),
    svg(
      "text",
      { class: "on-piece", x: middle + 4 * unit, y: size / 2, "font-size": 17 * unit, "dominant-baseline": "middle" },
      sizeText,
    ),
  );
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

/**
 * The same with what belongs to a line: an outline of paper under it, an arrow head where a cut ends,
 * ticks at a dimension's ends.
 */
export function partsOf(shape) {
  const { role, points } = shape;
  if (!isLine(role) || role === "ruler-line") return [shapeOf(shape)];
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
