// A small picture of a step in sewing: the core's pieces, those that are added apart from those that are sewn already,
// and the seams of the step with a dot wherever one stops.

import { svg } from "../page/dom.js";

const WIDE = 132; // px that the picture takes at most
const DOT = 4; // px of a dot's radius

/** A step of the core's; `seam` is the allowance in inches, which is drawn round the pieces. */
export function stepPicture({ pieces, seams }, seam, description) {
  const points = pieces.flatMap(({ outline }) => outline);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [wide, high] = [Math.max(...xs) - left, Math.max(...ys) - top];
  const unit = Math.max(wide, high) / WIDE;
  const room = 3 * seam + 2 * DOT * unit;
  return svg(
    "svg",
    {
      class: "step-picture",
      viewBox: [left - room, top - room, wide + 2 * room, high + 2 * room].join(" "),
      role: "img",
      "aria-label": description,
    },
    pieces.map(({ outline }) => svg("path", { class: "allowance", d: closed(outline), "stroke-width": 2 * seam })),
    pieces.map(({ outline, group }) =>
      svg("path", { class: group ? "added" : "sewn", d: closed(outline), "stroke-width": unit }),
    ),
    seams.map(({ line: [[x1, y1], [x2, y2]] }) =>
      svg("line", { class: "stitches", x1, y1, x2, y2, "stroke-width": 2.5 * unit }),
    ),
    seams.flatMap(({ line, stops }) =>
      line.map(([cx, cy], end) => stops[end] && svg("circle", { class: "stop", cx, cy, r: DOT * unit })),
    ),
  );
}

function closed(outline) {
  return `M${outline.map((point) => point.join(" ")).join("L")}Z`;
}
